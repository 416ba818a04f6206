package repair_test

import (
	"math"
	"slices"
	"testing"

	"lapwright/figures"
	"lapwright/figures/geometry"
	"lapwright/graph"
	"lapwright/graph/difficulty"
	"lapwright/search/repair"
	"lapwright/search/routine"
)

// standing is what the order of repairs goes by, reckoned from the figures alone.
func standing(p *repair.Problem, w *repair.Way) (all [5]int) {
	for i, s := range w.Routine.Steps {
		if i > 0 && graph.Awkward(p.Follows, w.Routine.Steps[i-1].Variant, s.Variant) != graph.Easy {
			all[2]++
		}
	}
	hundredths := func(x float64) int { return int(math.Round(100 * x)) }
	for _, c := range w.Changes {
		var before, after routine.Step
		bars := 0
		if c.Was >= 0 {
			before = p.Routine.Steps[c.Was]
			bars -= before.Variant.Bars()
		}
		if c.Now >= 0 {
			after = w.Routine.Steps[c.Now]
			bars += after.Variant.Bars()
		}
		all[3] += max(bars, -bars)
		switch {
		case c.What == repair.Stays && before.Scale != after.Scale:
			all[0]++
			all[4] += hundredths(math.Abs(before.Scale - after.Scale))
		case c.What == repair.PutIn, c.What == repair.PutInPlace:
			all[4] += hundredths(difficulty.Figure(after.Variant).Total()*float64(after.Variant.Bars())) + hundredths(math.Abs(1-after.Scale))
		}
		if c.What == repair.Stays && before.Corner != routine.Unsaid && before.Corner != after.Corner {
			all[0]++
		}
		if c.What == repair.PutInPlace || c.What == repair.LeftOut {
			all[1]++
		}
	}
	return all
}

// TestOrder: repairs come in the order that is told, reckoned anew for each.
func TestOrder(t *testing.T) {
	decides := map[int]bool{}
	at := geometry.Point{X: 3, Y: 1.8}
	for _, routine := range [][]string{
		{"Natural Turn", "Reverse Turn"}, {"Natural Turn", "Reverse Turn", "Natural Turn"}, {"Natural Turn (1-3)", "Outside Change", "Natural Turn"},
		{"Natural Spin Turn", "Natural Turn", "Whisk"}, {"Natural Turn", "Natural Turn", "Natural Turn", "Natural Turn"},
	} {
		for _, y := range []float64{1.1, 1.15, 1.25, 1.8} {
			at.Y = y
			p := problem(t, at, "DW, RF, closed", routine...)
			if p.Count = repair.MostCount; y == 1.8 {
				p.Variants = figures.BuiltIn().Variants()
			}
			ways := find(t, p).Ways
			for i := 1; i < len(ways); i++ {
				before, now := standing(p, &ways[i-1]), standing(p, &ways[i])
				if slices.Compare(before[:], now[:]) > 0 {
					t.Errorf("%s comes before %s: %v, %v", names(ways[i-1].Routine.Steps), names(ways[i].Routine.Steps), before, now)
				}
				for k := range before {
					if before[k] != now[k] {
						decides[k] = true
						break
					}
				}
			}
		}
	}
	for k, what := range []string{"adjustments", "figures lost", "awkward joins", "bars", "how hard they are"} {
		if !decides[k] {
			t.Errorf("%s never decide", what)
		}
	}
}

// TestSamePlace: two figures that lead to the same place and stance are both offered.
func TestSamePlace(t *testing.T) {
	p := problem(t, geometry.Point{X: 6, Y: 2}, "DW, LF, closed", "Balance Steps", "Left Foot Closed Change")
	p.Variants = variants(t, "Hesitation (forward and back)", "Hesitation (to the left and to the right)")
	p.Allowed = func(v *figures.Variant) bool { return v.Figure.Name != "Balance Steps" }
	p.Count = 3
	if res := find(t, p); len(res.Ways) != 3 || res.AtLeast != 1 {
		t.Errorf("%d ways, with %d changes", len(res.Ways), res.AtLeast)
	}
}
