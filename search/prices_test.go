package search

import (
	"context"
	"testing"

	"lapwright/figures"
)

// TestPrices: the best lap with prices on, less what a lap within the limits gets back,
// costs no more than the best within the limits, and often more than the best without.
func TestPrices(t *testing.T) {
	for _, c := range []struct {
		name   string
		limits Limits
		better bool // the bound is better than without prices
	}{
		{"uses", Limits{Uses: 1}, true},
		{"least bars", Limits{MinBars: 16}, true},
		{"most bars", Limits{MaxBars: 9}, false},
		{"a figure that must be danced", Limits{Must: []*figures.Figure{figure(t, "Whisk")}}, false},
		{"a cap", Limits{Caps: []Cap{{Name: "turns to the right", Has: func(v *figures.Variant) bool { return v.Turn() < 0 }, Most: 1}}}, false},
	} {
		if slower > 1 && c.name != "uses" {
			continue
		}
		p := problem(rooms(t)[0], atLevel(figures.Bronze))
		p.Limits = c.limits
		res := find(t, p)
		if res.Lap == nil || !res.Lap.Proven {
			t.Errorf("%s: no lap is proven best: %v", c.name, res.Why)
			continue
		}
		best := hundredths(res.Lap.Costs.Total())
		s, err := prepare(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		plain, without, err := s.plain(context.Background())
		if err != nil || plain == nil {
			t.Fatal(c.name, err)
		}
		from, err := s.priced(context.Background())
		if err != nil {
			t.Fatal(c.name, err)
		}
		with, cost, err := from.plain(context.Background())
		if err != nil || with == nil {
			t.Fatal(c.name, err)
		}
		switch bound := from.real(cost); {
		case bound > best:
			t.Errorf("%s: with prices the bound is %d, and there is a lap of %d", c.name, bound, best)
		case bound <= without && c.better:
			t.Errorf("%s: with prices the bound is %d, and %d without; the best is %d", c.name, bound, without, best)
		}
	}
}
