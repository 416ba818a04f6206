package figures

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"lapwright/figures/geometry"
)

// Limits of what a body can do in one step.
const (
	// MostTurn is the greatest turn of a dancer's body in a step of its kind,
	// in sixteenths: 3/8 in an ordinary step, 1/2 in a heel turn. A pivot adds
	// up to 1/2 on the foot that was placed (amounts as in the published charts
	// of natural turn, double reverse spin and natural spin turn).
	MostTurn      geometry.Turn = 6
	MostHeelTurn  geometry.Turn = 8
	MostPivot     geometry.Turn = 8
	MostPointing  geometry.Turn = 4 // a foot from its body; from memory
	mostCompletes geometry.Turn = 4 // over feet that stay; from memory
	// mostShift is how far, in metres, the follower's body may move from the
	// leader's point of view within one step: between promenade and counter
	// promenade, but not from one side outside to the other. From memory.
	mostShift = 0.65
	// leastSole is the least gap, in metres, between the dancers' soles; soles
	// give a little at their edges.
	leastSole = -0.010001
)

// Fault is a reason why a variant cannot be danced.
type Fault struct {
	Step   int // counted from 1; 0 for the variant as a whole
	Reason string
}

// String writes the fault with its step: "step 2: the left foot …".
func (f Fault) String() string {
	if f.Step == 0 {
		return f.Reason
	}
	return fmt.Sprintf("step %d: %s", f.Step, f.Reason)
}

// after is the fault as it reads after a variant's name.
func (f Fault) after() string {
	if f.Step == 0 {
		return ": " + f.Reason
	}
	return ", " + f.String()
}

// Faults lists every reason why the couple cannot dance the variant, from any
// of its entries; none when it can.
func (v *Variant) Faults(c Couple) []Fault {
	var faults []Fault
	fail := func(step int, format string, args ...any) {
		faults = append(faults, Fault{step, fmt.Sprintf(format, args...)})
	}
	if len(v.Entries) == 0 {
		fail(0, "no stance is given from which it begins")
		return faults
	}
	beats := v.Beats()
	if bar := float64(v.Figure.Beats); bar > 0 && math.Mod(beats, bar) != 0 {
		fail(0, "the steps take %g beats, which does not fill whole bars of %g; change the beats of a step", beats, bar)
	}
	if _, exact := HeadingOf(v.Turn()); !exact {
		fail(0, "it turns %v in all and leaves between two alignments; a figure must leave on a whole eighth", v.Turn())
	}
	before := len(faults)
	if v.footOrder(fail); len(faults) > before {
		return faults // the geometry of such steps means nothing
	}
	bothStay := slices.ContainsFunc(v.Steps, func(s Step) bool { return s.Stays(Leader) && s.Stays(Follower) })
	// Entries in other alignments are the same but for a rotation.
	seen := map[Hold]bool{}
	told := map[Fault]bool{}
	for _, entry := range v.Entries {
		if seen[entry.Hold] {
			continue
		}
		seen[entry.Hold] = true
		once := func(step int, format string, args ...any) {
			if f := (Fault{step, fmt.Sprintf(format, args...)}); !told[f] {
				told[f] = true
				faults = append(faults, f)
			}
		}
		v.turns(entry.Hold, once)
		if !bothStay {
			v.Dance(entry, c).faults(once)
		}
	}
	slices.SortStableFunc(faults, func(a, b Fault) int { return cmp.Compare(a.Step, b.Step) })
	return faults
}

// footOrder checks that nobody steps with the foot that bears the weight.
func (v *Variant) footOrder(fail func(int, string, ...any)) {
	free := [2]Foot{v.Entries[0].Free, v.Entries[0].Free.Other()}
	for i, s := range v.Steps {
		if s.Actions[Leader].Foot == NoFoot && s.Actions[Follower].Foot == NoFoot && s.Strides > 0 {
			fail(i+1, "the couple travels, yet nobody takes a step")
		}
		for d := Leader; d <= Follower; d++ {
			a := s.Actions[d]
			if a.Foot == NoFoot {
				continue
			}
			if a.Foot != free[d] {
				fail(i+1, "the %s steps with the %s, which bears the weight; the %s is free", d, a.Foot, free[d])
				return
			}
			if !a.Weightless {
				free[d] = a.Foot.Other()
			}
		}
	}
	if free[Leader] == free[Follower] {
		fail(len(v.Steps), "both dancers end with the %s free; their feet must be opposite when a figure ends", free[Leader])
	}
}

// turns checks how much each body turns in each step, from a hold at entry.
func (v *Variant) turns(hold Hold, fail func(int, string, ...any)) {
	v.alone(hold, fail)
	for i, s := range v.Steps {
		after := s.holdAfter(hold)
		own := [2]geometry.Turn{s.Turn, s.Turn + (after.Shape().Turned - hold.Shape().Turned).Within()}
		hold = after
		for d := Leader; d <= Follower; d++ {
			own[d] += s.Actions[d].Alone
			most, kind := MostTurn, "an ordinary step"
			if s.Actions[d].HeelTurn {
				most, kind = MostHeelTurn, "a heel turn"
			}
			if own[d].Abs() > most {
				fail(i+1, "the %s's body turns %v; %s allows at most %s", d, own[d], kind, most.Amount())
			}
			if s.Actions[d].Points.Abs() > MostPointing {
				fail(i+1, "the %s's foot points %v of the body; at most %s can be held", d, s.Actions[d].Points, MostPointing.Amount())
			}
		}
		if s.Pivot.Abs() > MostPivot {
			fail(i+1, "the pivot turns %v; a pivoted step makes at most %s", s.Pivot, MostPivot.Amount())
		}
		if s.Completes.Abs() > mostCompletes {
			fail(i+1, "the bodies complete %v over feet that stay; at most %s can be made", s.Completes, mostCompletes.Amount())
		}
		if s.Stays(Leader) && s.Stays(Follower) {
			fail(i+1, "both dancers stay in place, by a heel turn, by standing or by \"about\"; only one of them can")
		}
	}
}

// Faults lists every reason why the couple cannot dance the variant as it was
// danced: what can be told from the steps alone is in [Variant.Faults].
func (d *Danced) Faults() []Fault {
	var faults []Fault
	d.faults(func(step int, format string, args ...any) {
		faults = append(faults, Fault{step, fmt.Sprintf(format, args...)})
	})
	return faults
}

// faults checks what can only be seen when the variant is danced.
func (d *Danced) faults(fail func(int, string, ...any)) {
	from := &d.Start
	for i := range d.Steps {
		t := &d.Steps[i]
		for who := Leader; who <= Follower; who++ {
			if f := t.Falls[who]; f.Foot != NoFoot && f.Length > d.Couple.LongestStep {
				fail(i+1, "the %s's %s lands %.2f m from the other foot; at most %.2f m is danced", who, f.Foot, f.Length, d.Couple.LongestStep)
			}
		}
		if stretch := t.Placed.stretch(); stretch > t.Placed.Hold.Shape().Tolerance {
			fail(i+1, "the hold is torn: the follower is %.2f m from the place that %s gives; at most %.2f m holds",
				stretch, t.Placed.Hold.Words(), t.Placed.Hold.Shape().Tolerance)
		}
		if moved := t.Placed.follower().Sub(from.follower()).Len(); moved > mostShift {
			fail(i+1, "the hold is torn: from %s to %s the follower moves %.2f m around the leader in one step; at most %.2f m holds",
				from.Hold.Words(), t.Placed.Hold.Words(), moved, mostShift)
		}
		if gap, words := t.soles(d.Couple); gap < leastSole {
			fail(i+1, "%s: the soles overlap by %.0f cm", words, -gap*100)
		}
		from = &t.After
	}
}

// follower is the follower's body as seen from the leader's along the couple's
// front.
func (m *Moment) follower() geometry.Point {
	return m.Bodies[Follower].At.Sub(m.Bodies[Leader].At).Rotate(-m.Front.Radians())
}

// stretch is how far the follower is from where the hold has her, in metres.
func (m *Moment) stretch() float64 {
	return m.follower().Sub(m.Hold.Shape().Follower).Len()
}

// soles is the least gap in metres between a foot that lands in this step and a
// foot of the partner's, with the words for a fault. A foot that has given up
// its weight has its heel off the floor: only its ball and toes count.
func (t *Taken) soles(c Couple) (least float64, words string) {
	least = math.Inf(1)
	for d := Leader; d <= Follower; d++ {
		a := t.Step.Actions[d]
		if a.Foot == NoFoot {
			continue
		}
		landing := sole(*t.Placed.Foot(d, a.Foot), c.Sole[d], false)
		for f := LeftFoot; f <= RightFoot; f++ {
			other := d.Other()
			raised := t.Placed.Weight[other] != f
			gap := landing.Gap(sole(*t.Placed.Foot(other, f), c.Sole[other], raised))
			if gap < least {
				least = gap
				words = fmt.Sprintf("the %s's %s lands on the %s's %s", d, a.Foot, other, f)
			}
		}
	}
	return least, words
}

// sole is the outline of a foot on the floor.
func sole(p Footprint, s Sole, raised bool) geometry.Capsule {
	front := p.Front.Radians()
	half := (s.Length - s.Breadth) / 2
	heel := -half
	if raised {
		heel = half / 2
	}
	return geometry.Capsule{
		A:      p.At.Add(geometry.Point{X: heel}.Rotate(front)),
		B:      p.At.Add(geometry.Point{X: half}.Rotate(front)),
		Radius: s.Breadth / 2,
	}
}
