package figures

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// shortJoins are figures after which, with a stride shorter than the usual one,
// the first step of some figure lands on the edge of a foot that the partner is
// about to take away: the feet of the one end up to a hand's breadth from where
// the other begins, and the short step does not clear them. The couple takes that
// step a little longer. For each, the greatest overlap of the soles in metres.
var shortJoins = map[float64]map[string]float64{
	SocialStride: {
		"Running Finish":                         0.021,
		"Running Finish (to diagonal to centre)": 0.021,
	},
	CrowdedStride: {
		"Back Spot Turn":                         0.032,
		"Left Box (half box)":                    0.018,
		"Left Box (half turn)":                   0.044,
		"Left Box (second half)":                 0.044,
		"Left Cross Turn (1-3)":                  0.018,
		"Left Three-Eighths Turn (forward)":      0.056,
		"Natural Turn (4-6 turning 5/8)":         0.016,
		"Natural Turn (whole turn)":              0.016,
		"Quarter Turns on the Diagonal":          0.018,
		"Reverse Turn (1-3)":                     0.056,
		"Running Finish":                         0.04,
		"Running Finish (to diagonal to centre)": 0.04,
		"Wing":                                   0.016,
		"Wing (after an open impetus)":           0.016,
	},
}

// TestJoins dances every legal join of the whole library, along one wall and round
// a corner, from where the first figure really leaves the feet. With the usual
// stride and above all of them can be danced.
func TestJoins(t *testing.T) {
	all := BuiltIn().Variants()
	for _, stride := range strides {
		couple := DefaultCouple().WithStride(stride)
		joins := 0
		least, longest, stretch := math.Inf(1), 0.0, 0.0
		met := map[string]float64{}
		begins := map[Stance][]*Variant{}
		for _, v := range all {
			for _, e := range v.Entries {
				begins[e] = append(begins[e], v)
			}
		}
		// From another alignment a join is the same, but turned.
		type sort struct {
			v, next *Variant
			hold    Hold
		}
		known := map[sort]bool{}
		for _, v := range all {
			for _, e := range v.Entries {
				d := v.Dance(e, couple)
				for _, corner := range []int{0, -2} {
					if corner == 0 && v.Corner {
						continue
					}
					for _, next := range begins[d.Exit.Turned(corner)] {
						joins++
						if same := (sort{v, next, e.Hold}); known[same] {
							continue
						} else {
							known[same] = true
						}
						j, ok := d.Join(next, corner)
						if !ok {
							t.Fatalf("%s does not lead to %s", v.Name(), next.Name())
						}
						m := j.Measures()
						least = math.Min(least, m.SoleGap)
						longest = math.Max(longest, math.Max(m.LongestStep[Leader], m.LongestStep[Follower]))
						stretch = math.Max(stretch, m.Stretch)
						for _, fault := range j.Faults {
							most, excused := shortJoins[stride][v.Name()]
							met[v.Name()] = math.Max(met[v.Name()], -m.SoleGap)
							if !excused || -m.SoleGap > most+1e-9 {
								t.Errorf("%g m: %s, begun %s, then %s: %s", stride, v.Name(), e.Short(), next.Name(), fault)
							}
						}
					}
				}
			}
		}
		for name := range shortJoins[stride] {
			if _, ok := met[name]; !ok {
				t.Errorf("%g m: %s: take it off the exceptions", stride, name)
			}
		}
		t.Logf("stride %g m: %d joins, least clearance of the feet %.3f m, longest step %.2f m, hold stretched by %.3f m, %d figures with exceptions %v",
			stride, joins, least, longest, stretch, len(met), met)
	}
}

// TestJoinBeginsWhereTheFeetAre tells that nothing jumps between two figures.
func TestJoinBeginsWhereTheFeetAre(t *testing.T) {
	all := BuiltIn().Variants()
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.SampledFrom(all).Draw(t, "variant")
		d := v.Dance(rapid.SampledFrom(v.Entries).Draw(t, "entry"), DefaultCouple())
		corner := rapid.SampledFrom([]int{0, -2, 2}).Draw(t, "corner")
		// What follows is drawn more often than what does not.
		candidates := []*Variant{rapid.SampledFrom(all).Draw(t, "any")}
		for _, n := range all {
			if slices.Contains(n.Entries, d.Exit.Turned(corner)) {
				candidates = append(candidates, n)
			}
		}
		next := rapid.SampledFrom(candidates).Draw(t, "next")
		j, ok := d.Join(next, corner)
		if want := slices.Contains(next.Entries, d.Exit.Turned(corner)); ok != want {
			t.Fatalf("%s then %s is a join: %v", v.Name(), next.Name(), ok)
		}
		if !ok {
			return
		}
		last, first := d.Last(), &j.Danced.Start
		angle := j.Danced.Entry.Facing.Turn().Radians() - last.Front.Radians()
		for who := Leader; who <= Follower; who++ {
			for f := LeftFoot; f <= RightFoot; f++ {
				if want := last.Foot(who, f).At.Sub(last.Centre).Rotate(angle); first.Foot(who, f).At.Sub(want).Len() > 1e-9 {
					t.Fatalf("the %s's %s jumps from %v to %v", who, f, want, first.Foot(who, f).At)
				}
			}
			if first.Weight[who] != last.Weight[who] {
				t.Fatalf("the %s's weight changes", who)
			}
		}
		if j.Danced.Exit != next.Exit(j.Danced.Entry) || j.Steps < 1 || j.Steps > len(next.Steps) {
			t.Fatalf("it ends %v after %d steps", j.Danced.Exit, j.Steps)
		}
	})
}

// TestJoinThatCannotBeDanced finds a foot that lands on a foot because of how the
// figure before ended.
func TestJoinThatCannotBeDanced(t *testing.T) {
	l, err := BuiltIn().Extend("own.yaml", []byte(`dance: waltz
beats: 3
figures:
  - name: Late Outside
    levels: [social]
    family: hesitation
    from: DC
    hold: closed
    parts:
      - part: late
        facing: DC
        steps:
          - {foot: LF, travel: 0.9 DC}
          - {foot: RF, travel: 0.8 LOD, turn: 1/4 left}
          - {foot: LF, without weight: [leader, follower], hold: partner outside}
    variants: [{parts: late}]
  - name: Step Back
    levels: [social]
    family: change
    from: DCA
    hold: partner outside
    parts:
      - part: back
        facing: DCA
        steps:
          - {foot: LF, travel: 0.6 DW}
          - {foot: RF, travel: 0.6 DW}
          - {foot: LF, hold: closed}
    variants: [{parts: back}]
`), DefaultCouple())
	if err != nil {
		t.Fatal(err)
	}
	v, _ := l.Variant("Late Outside")
	next, _ := l.Variant("Step Back")
	j, ok := v.Dance(v.Entries[0], DefaultCouple()).Join(next, 0)
	if !ok || len(j.Faults) != 1 || j.Faults[0].Step != 1 {
		t.Fatalf("%v: %v", ok, j.Faults)
	}
	if got, want := j.Faults[0].Reason, fmt.Sprintf("the follower's right foot lands on the leader's right foot: the soles overlap by %.0f cm", -100*j.Measures().SoleGap); got != want {
		t.Errorf("it says %q, want %q", got, want)
	}
}
