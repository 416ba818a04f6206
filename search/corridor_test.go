package search

import (
	"context"
	"testing"

	"lapwright/figures"
	labels "lapwright/search/label"
)

// TestCorridor: the best lap of a corridor costs what the best lap costs, and a path
// of it, read as a lap, costs what its arcs say. Every wider corridor has the laps of
// the narrower ones.
func TestCorridor(t *testing.T) {
	s, err := prepare(context.Background(), problem(named(t, "studio"), atLevel(figures.Bronze)), nil)
	if err != nil {
		t.Fatal(err)
	}
	plain, _, err := s.plain(context.Background())
	if err != nil || plain == nil {
		t.Fatal("there is no lap", err)
	}
	best := hundredths(s.plan.lap(*plain).Costs.Total())
	nodes := 0
	for _, over := range []int32{0, 20, 60} {
		c, err := s.corridor(context.Background(), best+over, func(*figures.Variant) uint64 { return 0 })
		if err != nil || c == nil {
			t.Fatal("there is no corridor", err)
		}
		if c.Best() != best {
			t.Errorf("the best lap of the corridor to %d costs %d, not %d", best+over, c.Best(), best)
		}
		if c.Nodes() < nodes {
			t.Errorf("the corridor to %d has %d nodes, a narrower one %d", best+over, c.Nodes(), nodes)
		}
		nodes = c.Nodes()
		res, err := labels.Solve(context.Background(), c.Network, &labels.Limits{Uses: 4}, labels.Options{}, nil)
		if err != nil {
			t.Fatal(err)
		}
		if !res.Found {
			continue
		}
		if cost := hundredths(s.plan.lap(c.trail(res.Source, res.Arcs)).Costs.Total()); cost != res.Cost {
			t.Errorf("a path of %d is a lap of %d", res.Cost, cost)
		}
	}
	if nodes < 1000 {
		t.Errorf("only %d nodes; that shows little", nodes)
	}
}
