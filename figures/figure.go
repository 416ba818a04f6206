// Package figures holds the figures of the dance as data, and computes how a
// couple dances them: both dancers' feet, bodies and alignments after every
// step, the stance in which a figure leaves them and the ground it covers.
//
// What lives here: steps, holds, alignments, levels, the library files under
// library/, and the checks that refuse a figure nobody can dance. What does not:
// rooms (package floors), what may follow what (graph), laps (search).
//
// A first use:
//
//	v, _ := figures.BuiltIn().Variant("Natural Turn")
//	d := v.Dance(v.Entries[0], figures.DefaultCouple())
//	fmt.Println(d.Exit, d.Displacement)
//
// Places are metres in the frame of the line of dance: x along it, y towards the
// centre. Turns are counted to the left.
package figures

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lapwright/figures/geometry"
)

// Level is a rung of a syllabus.
type Level string

// The levels. Social is the country and social floor: a figure may be in the
// social repertory as well as in a syllabus.
const (
	Social Level = "social"
	Bronze Level = "bronze"
	Silver Level = "silver"
	Gold   Level = "gold"
)

// Levels lists the levels, the syllabus' own in rising order.
var Levels = []Level{Social, Bronze, Silver, Gold}

// Includes reports whether somebody at level l knows the figures of level k:
// each level of the syllabus includes those below it; social stands by itself.
func (l Level) Includes(k Level) bool {
	if l == Social || k == Social {
		return l == k
	}
	rung := slices.Index(Levels, k)
	return rung >= 0 && rung <= slices.Index(Levels, l)
}

// Figure is one figure of the trade with all the ways of dancing it.
type Figure struct {
	Name  string
	Also  []string // other names that the trade uses
	Dance string
	// Beats is the number of beats in a bar of the dance's music.
	Beats int
	// Levels are the figure's places in the syllabi, in the order of the file.
	Levels []Listing
	// Family groups figures for limits: natural (turning right), reverse
	// (turning left), change, box, promenade …
	Family   string
	Note     string // a teaching note; may be empty
	Source   string // where the steps come from
	Variants []*Variant
	File     string
	Line     int
}

// Variant is one way of dancing a figure: whole or a part of it, with one amount
// of turn. It is what a routine is made of.
type Variant struct {
	Figure *Figure
	// Label tells the variant from the others, such as "1-3" or "whole turn";
	// it is empty for the figure as it is usually danced.
	Label string
	// Entries are the stances from which the variant can be danced. The
	// directions of its steps are written for the first of them; from another
	// alignment the whole variant is turned.
	Entries []Stance
	Steps   []Step
	// Awkward is a cost in bars for dancing this variant at all, over the time
	// it takes: for forms that the trade uses only where it must.
	Awkward float64
	// Corner tells that the variant is danced at a corner only: the next
	// wall's line of dance is taken right after it.
	Corner bool
	Line   int
}

// Name is the figure's name with the variant's label: "Natural Turn",
// "Natural Turn (1-3)".
func (v *Variant) Name() string {
	if v.Label == "" {
		return v.Figure.Name
	}
	return v.Figure.Name + " (" + v.Label + ")"
}

// Beats is the time the variant takes, in beats.
func (v *Variant) Beats() float64 {
	var beats float64
	for _, s := range v.Steps {
		beats += s.Beats
	}
	return beats
}

// Bars is the time the variant takes, in whole bars.
func (v *Variant) Bars() int { return int(v.Beats()) / v.Figure.Beats }

// Turn is the couple's net amount of turn over the variant.
func (v *Variant) Turn() geometry.Turn {
	var t geometry.Turn
	for _, s := range v.Steps {
		t += s.turns()
	}
	return t
}

// Exit is the stance in which the variant leaves a couple that entered it in
// the given stance.
func (v *Variant) Exit(entry Stance) Stance {
	h, _ := HeadingOf(entry.Facing.Turn() + v.Turn())
	out := Stance{Facing: h, Free: entry.Free, Hold: entry.Hold}
	for _, s := range v.Steps {
		out.Hold = s.holdAfter(out.Hold)
		if a := s.Actions[Leader]; a.Foot != NoFoot && !a.Weightless {
			out.Free = a.Foot.Other()
		}
	}
	return out
}

// Step is one slot of time in a variant, in which each dancer takes a step or
// stands.
type Step struct {
	Beats float64 // length in beats, a multiple of a quarter
	// Toward is the direction in which the couple's centre travels, as a turn
	// to the left from the line of dance, for the variant's first entry.
	Toward geometry.Turn
	// Strides is how far the centre travels, in strides. Where a dancer makes
	// a heel turn it is that dancer's body whose travel is given.
	Strides float64
	// Turn is how much the couple's bodies turn as the step is taken.
	Turn geometry.Turn
	// Pivot is how much the couple then turns on the foot that was placed.
	Pivot geometry.Turn
	// Completes is how much the bodies then turn over feet that already point
	// ahead of them, and so do not turn.
	Completes geometry.Turn
	// About is the dancer round whose body the partner goes; nil where both go
	// round the couple's centre, or a heel turn or a standing dancer decides.
	About *Dancer
	// Hold is the hold after the step.
	Hold Hold
	// KeepsHold tells that the step changes nothing about the hold. A couple
	// that entered the variant in another hold than its first entry's then has
	// that one still, whatever Hold says; [Moment.Hold] is what is danced.
	KeepsHold bool
	Actions   [2]Action
	Line      int // in the library file
}

// turns is how much the couple turns in the step, in all.
func (s *Step) turns() geometry.Turn { return s.Turn + s.Pivot + s.Completes }

// holdAfter is the hold that the step leads to from the hold before it.
func (s *Step) holdAfter(before Hold) Hold {
	if s.KeepsHold {
		return before
	}
	return s.Hold
}

// Action is what one dancer does in a step.
type Action struct {
	Foot       Foot // which foot moves; NoFoot when the dancer stands
	Weightless bool // placed without weight: the same foot is free after it
	HeelTurn   bool // the foot closes in a heel turn: the body stays in place
	Crosses    Cross
	// Points is how far the foot points ahead of the body, positive to the
	// left.
	Points geometry.Turn
	// Alone is how much the dancer's body turns by itself in the step, over
	// what the couple turns and the hold gives, as in a turn under the arm. In
	// a hold that joins the bodies, and at the end of a variant, what a dancer
	// has turned alone adds up to whole turns.
	Alone geometry.Turn
	// Shift moves the dancer's body from where the hold has it, in metres:
	// X ahead and Y to the left of the dancer. For steps that one dancer takes
	// on a path of the own.
	Shift geometry.Point
	Sway  string // left, right or straight, where known
	// CBM tells that the body turns against the stepping leg (contra body
	// movement), CBMP that the foot is placed on or across the line of the
	// other (contra body movement position); both as the charts give them.
	CBM, CBMP bool
	Footwork  string // T, H, HT … in a handbook's letters, where known
	Rise      Rise   // also of the dancer who stands; where known
}

// Cross is how a foot crosses the standing one, as in a lock.
type Cross int8

// The ways of crossing.
const (
	NoCross Cross = iota
	CrossesBehind
	CrossesInFront
)

// String is the crossing as charts write it.
func (c Cross) String() string { return [...]string{"", "crosses behind", "crosses in front"}[c] }

// Stays tells whether it is this dancer's body, not the couple's centre, that
// makes the travel of the step: the dancer who stands, who makes a heel turn, or
// about whom the partner is said to go round.
func (s *Step) Stays(d Dancer) bool {
	a, other := s.Actions[d], s.Actions[d.Other()]
	if a.Foot == NoFoot && other.Foot != NoFoot || a.HeelTurn {
		return true
	}
	return s.About != nil && *s.About == d && other.Foot != NoFoot && !other.HeelTurn
}

// CountWords writes the beats of the steps as a teacher counts them: "1 2 3",
// "1 2 & 3", "1 2-3". Each step is counted on the beat or the "&" on which it
// falls; one that is held for whole beats is counted through them.
func CountWords(steps []Step, beatsPerBar int) string {
	var words []string
	at := 0.0
	for _, s := range steps {
		word := countWord(at, beatsPerBar)
		if end := at + s.Beats; s.Beats >= 2 && at == math.Trunc(at) && end == math.Trunc(end) {
			word += "-" + countWord(end-1, beatsPerBar)
		}
		words = append(words, word)
		at += s.Beats
	}
	return strings.Join(words, " ")
}

// countWord is what is counted when a step falls at a time, in beats from the
// start of a bar.
func countWord(at float64, beatsPerBar int) string {
	whole := int(at)
	switch at - float64(whole) {
	case 0:
		return fmt.Sprint(whole%beatsPerBar + 1)
	case 0.5:
		return "&"
	}
	return "a"
}
