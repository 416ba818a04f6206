package figures

import (
	"fmt"
	"math"
	"testing"

	"lapwright/figures/geometry"
)

// TestMeasuresOfTheWholeLibrary holds every variant, from every hold in which it
// can begin and at every stride, to what bodies can do; the figures are refused at
// load where they break one of these.
func TestMeasuresOfTheWholeLibrary(t *testing.T) {
	danced := 0
	worst := Measures{SoleGap: math.Inf(1), Nearest: math.Inf(1)}
	for _, v := range BuiltIn().Variants() {
		eachHold(v, func(e Stance) {
			for _, stride := range strides {
				danced++
				d := v.Dance(e, DefaultCouple().WithStride(stride))
				m := d.Measures()
				at := fmt.Sprintf("%s from %s at %g m", v.Name(), e.Short(), stride)
				for who := Leader; who <= Follower; who++ {
					if m.LongestStep[who] > d.Couple.LongestStep {
						t.Errorf("%s: the %s steps %.2f m", at, who, m.LongestStep[who])
					}
					worst.LongestStep[who] = math.Max(worst.LongestStep[who], m.LongestStep[who])
				}
				if m.SoleGap < leastSole {
					t.Errorf("%s: soles overlap by %.3f m", at, -m.SoleGap)
				}
				for k := StepTurn; k < turnKinds; k++ {
					if m.MostOf[k] > k.Most() {
						t.Errorf("%s: %s %s", at, m.MostOf[k].Amount(), k)
					}
					worst.MostOf[k] = max(worst.MostOf[k], m.MostOf[k])
				}
				worst.SoleGap, worst.Stretch = math.Min(worst.SoleGap, m.SoleGap), math.Max(worst.Stretch, m.Stretch)
				worst.Nearest, worst.Farthest = math.Min(worst.Nearest, m.Nearest), math.Max(worst.Farthest, m.Farthest)
			}
		})
	}
	t.Logf("%d dances: least clearance of the feet %.3f m, longest steps %.2f and %.2f m, hold stretched by %.3f m, bodies %.2f to %.2f m apart, turns %v",
		danced, worst.SoleGap, worst.LongestStep[Leader], worst.LongestStep[Follower], worst.Stretch, worst.Nearest, worst.Farthest, worst.MostOf)
}

// TestBodiesKeepTheirDistance samples every step between its footfalls: the
// follower stays within the hold's tolerance of the way from the old place to the
// new one, and the bodies are never nearer or farther than the two holds and
// their tolerance give.
func TestBodiesKeepTheirDistance(t *testing.T) {
	const instants = 24
	for _, v := range BuiltIn().Variants() {
		eachHold(v, func(e Stance) {
			d := v.Dance(e, DefaultCouple())
			from := e.Hold
			for i := range d.Steps {
				to := d.Steps[i].After.Hold
				a, b := from.Shape(), to.Shape()
				from = to
				tolerance := math.Max(a.Tolerance, b.Tolerance)
				least := math.Min(a.Follower.Len(), b.Follower.Len()) - tolerance
				most := math.Max(a.Follower.Len(), b.Follower.Len()) + tolerance
				for _, p := range d.Poses(i, instants) {
					follower := p.Bodies[Follower].Sub(p.Bodies[Leader])
					if out := geometry.PointGap(follower.Rotate(-p.Front), a.Follower, b.Follower); out > tolerance {
						t.Errorf("%s from %s, step %d: the follower is %.2f m out of the hold; %.2f m holds", v.Name(), e.Short(), i+1, out, tolerance)
					}
					if apart := follower.Len(); apart < least || apart > most {
						t.Errorf("%s from %s, step %d: the bodies are %.2f m apart, not %.2f to %.2f", v.Name(), e.Short(), i+1, apart, least, most)
					}
				}
			}
		})
	}
}

// wider are turning steps in which the inner dancer's body goes farther than the
// outer one's, by variant and step. In all of them the hold changes with the step,
// and it is the inner dancer who moves to the new place.
var wider = map[string][]int{
	"Natural Turn (4-6 turning 5/8)":                        {2}, // begun with the follower outside
	"Progressive Chassé to Right":                           {2}, // begun outside on the left side
	"Outside Spin (underturned from backing line of dance)": {3},
	"Outside Spin (half turn)":                              {3},
	"Running Spin Turn":                                     {7},
	"Side Whisks":                                           {2, 3},
	"Side Whisks (to the left)":                             {2, 3},
	"Cross-Body Lead":                                       {6},
	"Twinkles Outside Partner":                              {5},
	"Twinkles Outside Partner (to the right side)":          {2},
	"Grapevine":                                             {3, 4},
}

// TestInnerDancerStepsShorter compares the two dancers on every step in which the
// couple travels and turns and both of them step: the one on the side to which it
// turns goes the shorter way.
func TestInnerDancerStepsShorter(t *testing.T) {
	compared := 0
	met := map[string]bool{}
	for _, v := range BuiltIn().Variants() {
		eachHold(v, func(e Stance) {
			d := v.Dance(e, DefaultCouple())
			from := &d.Start
			for i := range d.Steps {
				s := &d.Steps[i]
				inner, turning := s.inner(from)
				changes := s.Placed.Hold != from.Hold
				hands := s.Placed.Hold.Shape().HandsOnly || from.Hold.Shape().HandsOnly
				from = &s.After
				// Hand in hand, as in face to face, each turns alone.
				if !turning || hands {
					continue
				}
				compared++
				in, out := s.Falls[inner].Travel, s.Falls[inner.Other()].Travel
				if in < out {
					continue
				}
				excused := false
				for _, n := range wider[v.Name()] {
					excused = excused || n == i+1
				}
				if !excused || !changes {
					t.Errorf("%s from %s, step %d: the %s is on the inside, yet goes %.2f m against %.2f m", v.Name(), e.Short(), i+1, inner, in, out)
				}
				met[fmt.Sprint(v.Name(), i+1)] = true
			}
		})
	}
	for name, steps := range wider {
		for _, n := range steps {
			if !met[fmt.Sprint(name, n)] {
				t.Errorf("%s, step %d: take it off the exceptions", name, n)
			}
		}
	}
	t.Logf("%d turning steps compared, %d with the wider way inside", compared, len(met))
}

// inner is the dancer on the side to which the couple turns, as seen along its
// travel; false where it does not both turn and travel, or one dancer stands.
func (s *Taken) inner(from *Moment) (who Dancer, ok bool) {
	travel := s.Placed.Centre.Sub(from.Centre)
	leader := s.Placed.Bodies[Leader].At.Sub(s.Placed.Bodies[Follower].At).Add(from.Bodies[Leader].At.Sub(from.Bodies[Follower].At))
	side := travel.Cross(leader) // positive with the leader on the left
	if s.Step.Turn == 0 || travel.Len() < 0.02 || math.Abs(side) < 1e-9 || s.Falls[Leader].Foot == NoFoot || s.Falls[Follower].Foot == NoFoot {
		return Leader, false
	}
	if (side > 0) != (s.Step.Turn > 0) {
		return Follower, true
	}
	return Leader, true
}

// sameFoot are steps in which leader and follower use the same foot, and why: one
// of them takes a step more or less than the other on the way.
var sameFoot = map[string]int{
	"Double Reverse Spin":                           4, // four steps to the leader's three
	"Double Reverse Spin (from diagonal to centre)": 4,
	"Double Reverse Spin (whole turn)":              4,
	"Cross Hesitation":                              3, // the leader holds the second beat
	"Cross Hesitation (after an open impetus)":      3,
	"Wing":                         3,
	"Wing (after an open impetus)": 3,
	"Closed Wing":                  3,
	"Closed Wing (turning 1/4)":    3,
}

// TestFeetAreOpposite holds every step to opposite feet, and every figure to
// opposite feet at its end.
func TestFeetAreOpposite(t *testing.T) {
	met := map[string]bool{}
	for _, v := range BuiltIn().Variants() {
		for i, s := range v.Steps {
			lead, follow := s.Actions[Leader].Foot, s.Actions[Follower].Foot
			if lead == NoFoot || follow == NoFoot || lead != follow {
				continue
			}
			if sameFoot[v.Name()] != i+1 {
				t.Errorf("%s, step %d: both step with the %s", v.Name(), i+1, lead)
			}
			met[v.Name()] = true
		}
		eachHold(v, func(e Stance) {
			if last := v.Dance(e, DefaultCouple()).Last(); last.Weight[Leader] == last.Weight[Follower] {
				t.Errorf("%s from %s: both end on the %s", v.Name(), e.Short(), last.Weight[Leader])
			}
		})
	}
	for name := range sameFoot {
		if !met[name] {
			t.Errorf("%s: take it off the exceptions", name)
		}
	}
}

// TestMeasuresByKind compares the numbers of two figures with what their steps say.
func TestMeasuresByKind(t *testing.T) {
	for _, c := range []struct {
		name      string
		kinds     [TurnKinds]geometry.Turn // in a step, heel turn, pivot, completing
		near, far float64
		longest   float64 // at least
	}{
		// Closed hold has the bodies 0.36 m ahead and 0.11 m aside of each other.
		{"Natural Turn", [TurnKinds]geometry.Turn{4, 0, 0, 0}, 0.376, 0.377, 0.69},
		// The leader pivots half a turn on the fourth step.
		{"Natural Spin Turn", [TurnKinds]geometry.Turn{6, 0, 8, 0}, 0.376, 0.377, 0.68},
	} {
		v, ok := BuiltIn().Variant(c.name)
		if !ok {
			t.Fatal(c.name)
		}
		m := v.Dance(v.Entries[0], DefaultCouple()).Measures()
		if m.MostOf != c.kinds {
			t.Errorf("%s turns %v by kind, want %v", c.name, m.MostOf, c.kinds)
		}
		if m.Nearest < c.near || m.Farthest > c.far || m.Stretch > 1e-9 {
			t.Errorf("%s: bodies %.4f to %.4f m apart, stretched %.4f m", c.name, m.Nearest, m.Farthest, m.Stretch)
		}
		if m.LongestStep[Leader] < c.longest || m.LongestStep[Follower] < c.longest {
			t.Errorf("%s: longest steps %v", c.name, m.LongestStep)
		}
	}
}
