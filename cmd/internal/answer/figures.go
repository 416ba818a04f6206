package answer

import (
	"slices"
	"strings"

	"lapwright/figures"
	"lapwright/figures/geometry"
	"lapwright/graph"
	"lapwright/graph/difficulty"
	"lapwright/search"
)

// Figures are the figures of a library. With the rooms, they hold what another
// solver needs to look for laps of its own.
type Figures struct {
	Dance   string         `json:"dance"`
	Class   *Class         `json:"class"` // that has been taught them; null where none is named
	Stride  Number         `json:"stride"`
	Scales  []Scale        `json:"scales"` // at which a figure may be danced
	Figures []FigureOfBook `json:"figures"`
}

// Scale is a share of the couple's stride.
type Scale struct {
	Share Number `json:"share"`
	Cost  Number `json:"cost"` // of a bar danced at it, in bars
}

// FigureOfBook is one figure of a library.
type FigureOfBook struct {
	Name       string    `json:"name"`
	Also       []string  `json:"also"`
	Dance      string    `json:"dance"`
	BeatsInBar int       `json:"beats_in_bar"`
	Levels     []Listing `json:"levels"`
	Family     string    `json:"family"`
	Note       string    `json:"note"`
	Source     string    `json:"source"`
	// ComesAfter and GoesOnWith are what the trade dances before and after it, of
	// the figures that may be danced.
	ComesAfter []string    `json:"comes_after"`
	GoesOnWith []string    `json:"goes_on_with"`
	Variations []Variation `json:"variations"`
}

// Listing is a figure's place in a syllabus.
type Listing struct {
	Style    string `json:"style"` // international, american or country; empty where it counts for all
	Level    string `json:"level"` // social, bronze, silver or gold
	Syllabus string `json:"syllabus"`
}

// Variation is one way of dancing a figure.
type Variation struct {
	Name    string `json:"name"`  // as a routine's file writes it
	Label   string `json:"label"` // empty for the figure as it is usually danced
	Counts  string `json:"counts"`
	Bars    int    `json:"bars"`
	Beats   Number `json:"beats"`
	Turn    string `json:"turn"`
	Awkward Number `json:"awkward"` // cost in bars of dancing it at all
	// Difficulty is how hard it is to dance, in points a bar.
	Difficulty Difficulty `json:"difficulty"`
	// AtCorner tells that the next wall's line of dance is to be taken right
	// after it.
	AtCorner bool         `json:"at_corner"`
	Entries  []Entry      `json:"entries"`
	Steps    []StepOfBook `json:"steps"` // danced from the first entry
	// AwkwardBefore names what it is awkward to dance right after it, of what
	// takes up its foot and hold in some alignment; UnlistedBefore names those
	// of them that are so because no list of the trade has the join.
	AwkwardBefore  []string `json:"awkward_before"`
	UnlistedBefore []string `json:"unlisted_before"`
	// NeverBefore names what the feet do not allow right after it, though the
	// stances do.
	NeverBefore []string `json:"never_before"`
}

// Entry is one stance from which a variation can be danced, and what comes of
// it.
type Entry struct {
	From   Stance  `json:"from"`
	To     Stance  `json:"to"`
	Danced []Moved `json:"danced"` // one for each scale
	// Measures are those of the couple's own stride.
	Measures Measures `json:"measures"`
}

// Moved is the ground that a variation covers at a scale.
type Moved struct {
	Scale Number `json:"scale"`
	// Displacement is how far the couple's centre moves: x along the line of
	// dance, y towards the centre. It is rounded to the floor's lattice of 5 cm
	// in the room's frame.
	Displacement Displacement `json:"displacement"`
	// Sweep is the floor that the couple takes on the way, as discs in the same
	// frame from where its centre began; empty unless asked for.
	Sweep []Disc `json:"sweep"`
}

// Displacement is how far a couple moves, in metres.
type Displacement struct {
	X Exact `json:"x"`
	Y Exact `json:"y"`
}

// Disc is a round piece of floor.
type Disc struct {
	X      Number `json:"x"`
	Y      Number `json:"y"`
	Radius Number `json:"radius"`
}

// StepOfBook is one step of a figure as it is computed, in the frame of the line
// of dance with the couple's centre at the beginning as the origin.
type StepOfBook struct {
	Number   int         `json:"number"` // from 1
	Count    string      `json:"count"`
	Beats    Number      `json:"beats"`
	Hold     string      `json:"hold"` // after it
	Rise     RiseAndFall `json:"rise"`
	Leader   *DancerStep `json:"leader"` // null when that dancer stands
	Follower *DancerStep `json:"follower"`
}

// RiseAndFall is both dancers' rise and fall on a step, also of one who stands;
// empty where not known.
type RiseAndFall struct {
	Leader   string `json:"leader"`
	Follower string `json:"follower"`
}

// DancerStep is one dancer's part of a step.
type DancerStep struct {
	Foot      string `json:"foot"`
	Direction string `json:"direction"` // forward, back, side, closes …
	Alignment string `json:"alignment"`
	Turn      string `json:"turn"`
	Alone     string `json:"alone"`  // what the dancer turns by himself or herself, of the turn; empty where nothing
	Length    Number `json:"length"` // from the standing foot
	Travel    Number `json:"travel"` // of the body
	Footwork  string `json:"footwork"`
	Sway      string `json:"sway"` // left, right or straight; empty where not known
	CBM       bool   `json:"cbm"`  // contra body movement
	CBMP      bool   `json:"cbmp"` // contra body movement position
	HeelTurn  bool   `json:"heel_turn"`
	Weight    bool   `json:"weight"` // false when the foot is placed without
	X         Number `json:"x"`      // the middle of the sole
	Y         Number `json:"y"`
	Toe       Number `json:"toe"` // degrees to the left of the line of dance

	// Short is the alignment as tables write it.
	Short string `json:"-"`
}

// BodyMovement is contra body movement and its position, as the charts shorten them; empty
// where there is neither.
func (s *DancerStep) BodyMovement() string {
	var words []string
	if s.CBM {
		words = append(words, "CBM")
	}
	if s.CBMP {
		words = append(words, "CBMP")
	}
	return strings.Join(words, ", ")
}

// FiguresAsked says what is wanted of [NewFigures].
type FiguresAsked struct {
	Dance    string
	Class    *Class // may be nil
	Couple   figures.Couple
	Variants []*figures.Variant
	Follows  *figures.Follows
	Sweep    bool
	// Listed says what the trade dances before and after a figure.
	Listed func(*figures.Figure) (before, after []string)
}

// NewFigures are the figures of a list of variants, in their order.
func NewFigures(ask FiguresAsked) Figures {
	all := Figures{Dance: ask.Dance, Class: ask.Class, Stride: Number(ask.Couple.Stride), Scales: []Scale{}, Figures: []FigureOfBook{}}
	for _, s := range search.DefaultScales {
		all.Scales = append(all.Scales, Scale{Number(s.Share), Number(s.Cost)})
	}
	var last *figures.Figure
	for _, v := range ask.Variants {
		if v.Figure != last {
			all.Figures = append(all.Figures, newFigureOfBook(v.Figure, ask))
			last = v.Figure
		}
		f := &all.Figures[len(all.Figures)-1]
		f.Variations = append(f.Variations, newVariation(v, ask))
	}
	return all
}

func newFigureOfBook(f *figures.Figure, ask FiguresAsked) FigureOfBook {
	levels := []Listing{}
	for _, l := range f.Levels {
		levels = append(levels, Listing{string(l.Style), string(l.Level), l.Syllabus})
	}
	var before, after []string
	if ask.Listed != nil {
		before, after = ask.Listed(f)
	}
	return FigureOfBook{f.Name, list(f.Also), f.Dance, f.Beats, levels, f.Family, f.Note, f.Source, list(before), list(after), []Variation{}}
}

func newVariation(v *figures.Variant, ask FiguresAsked) Variation {
	out := Variation{Name: v.Name(), Label: v.Label, Counts: figures.CountWords(v.Steps, v.Figure.Beats), Bars: v.Bars(), Beats: Number(v.Beats()),
		Turn: v.Turn().String(), Awkward: Number(v.Awkward), Difficulty: NewDifficulty(difficulty.Figure(v)), AtCorner: v.Corner, Entries: []Entry{}, AwkwardBefore: []string{}, UnlistedBefore: []string{}, NeverBefore: []string{},
		Steps: NewSteps(v.Dance(v.Entries[0], ask.Couple))}
	for _, e := range v.Entries {
		entry := Entry{From: NewStance(e), To: NewStance(v.Exit(e)), Danced: []Moved{}, Measures: NewMeasures(v.Dance(e, ask.Couple).Measures())}
		for _, s := range search.DefaultScales {
			d := v.Dance(e, ask.Couple.WithStride(ask.Couple.Stride*s.Share))
			m := Moved{Scale: Number(s.Share), Displacement: Displacement{Exact(d.Displacement.X), Exact(d.Displacement.Y)}, Sweep: []Disc{}}
			if ask.Sweep {
				for _, disc := range d.Sweep() {
					m.Sweep = append(m.Sweep, Disc{Number(disc.Centre.X), Number(disc.Centre.Y), Number(disc.Radius)})
				}
			}
			entry.Danced = append(entry.Danced, m)
		}
		out.Entries = append(out.Entries, entry)
	}
	for _, next := range ask.Variants {
		if !takesUp(v, next) {
			continue
		}
		switch graph.Awkward(ask.Follows, v, next) {
		case graph.Unlisted:
			out.UnlistedBefore = append(out.UnlistedBefore, next.Name())
			fallthrough
		case graph.TurnedBack:
			out.AwkwardBefore = append(out.AwkwardBefore, next.Name())
		}
		if _, refused := graph.CannotJoin(v, next, ask.Couple.WithStride(figures.UsualStride)); refused {
			out.NeverBefore = append(out.NeverBefore, next.Name())
		}
	}
	return out
}

// takesUp tells whether next can begin with the foot and in the hold in which v
// ends, whatever the alignment.
func takesUp(v, next *figures.Variant) bool {
	return slices.ContainsFunc(v.Entries, func(s figures.Stance) bool {
		end := v.Exit(s)
		return slices.ContainsFunc(next.Entries, func(e figures.Stance) bool { return e.Free == end.Free && e.Hold == end.Hold })
	})
}

// NewSteps are the steps of a variant as it was danced.
func NewSteps(d *figures.Danced) []StepOfBook {
	steps := []StepOfBook{}
	counts := strings.Fields(figures.CountWords(d.Variant.Steps, d.Variant.Figure.Beats))
	for i := range d.Steps {
		t := &d.Steps[i]
		steps = append(steps, StepOfBook{Number: i + 1, Count: counts[i], Beats: Number(t.Step.Beats), Hold: t.After.Hold.String(),
			Rise:   RiseAndFall{t.Step.Actions[figures.Leader].Rise.At(i + 1), t.Step.Actions[figures.Follower].Rise.At(i + 1)},
			Leader: dancerStep(d, i, figures.Leader), Follower: dancerStep(d, i, figures.Follower)})
	}
	return steps
}

// turnWords is the turn from foot to foot and what is turned once the foot has
// been placed: on it, or by the body over feet that point ahead already. What
// the dancer turns alone is part of the turn from foot to foot.
func turnWords(fall figures.Footfall, s *figures.Step, alone geometry.Turn) string {
	var words []string
	if fall.Turn != 0 || s.Pivot == 0 {
		words = append(words, fall.Turn.String())
	}
	switch alone {
	case 0:
	case fall.Turn:
		words[0] += " alone"
	default:
		words = append(words, "of it "+alone.String()+" alone")
	}
	if s.Pivot != 0 {
		words = append(words, "pivot "+s.Pivot.String())
	}
	if s.Completes != 0 {
		words = append(words, "body completes "+s.Completes.String())
	}
	return strings.Join(words, ", ")
}

func dancerStep(danced *figures.Danced, step int, d figures.Dancer) *DancerStep {
	t := &danced.Steps[step]
	fall := t.Falls[d]
	if fall.Foot == figures.NoFoot {
		return nil
	}
	a := t.Step.Actions[d]
	print := t.Placed.Foot(d, fall.Foot)
	alone := ""
	if a.Alone != 0 {
		alone = a.Alone.String()
	}
	return &DancerStep{Foot: fall.Foot.String(), Direction: fall.Word, Alignment: fall.Alignment.String(), Short: fall.Alignment.Short(), Turn: turnWords(fall, t.Step, a.Alone), Alone: alone,
		Length: Number(fall.Length), Travel: Number(fall.Travel), Footwork: a.Footwork, Sway: a.Sway, CBM: a.CBM, CBMP: danced.CBMP(step, d), HeelTurn: a.HeelTurn, Weight: !a.Weightless,
		X: Number(print.At.X), Y: Number(print.At.Y), Toe: Number(Degrees(print.Front.Radians()))}
}
