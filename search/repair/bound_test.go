package repair

import (
	"context"
	"slices"
	"testing"

	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search"
	"lapwright/search/routine"
)

// lapOf is a lap of a room without some of its figures.
func lapOf(t *testing.T, name string, without ...int) *Problem {
	t.Helper()
	room, _ := floors.Named(name)
	var bronze []*figures.Variant
	for _, f := range figures.BuiltIn().Figures() {
		if f.At(figures.International, figures.Bronze) {
			bronze = append(bronze, f.Variants...)
		}
	}
	p := &Problem{Problem: search.Problem{Room: room, Variants: bronze, Follows: figures.BuiltIn().Follows(), Couple: figures.DefaultCouple(),
		Margin: -1, Weights: search.DefaultWeights()}, Count: 2}
	res, err := search.Find(context.Background(), &p.Problem, nil)
	if err != nil || res.Lap == nil {
		t.Fatalf("no lap: %v", err)
	}
	p.Routine = routine.Routine{Start: res.Lap.Start, Steps: slices.Clone(res.Lap.Steps)}
	for _, i := range without {
		p.Routine.Steps = slices.Delete(p.Routine.Steps, i, i+1)
	}
	return p
}

// TestConsistent: from a step of the search to the next the changes made and those still
// needed by the bounds never grow fewer. So each bound is at most what is needed in truth.
func TestConsistent(t *testing.T) {
	for _, c := range []struct {
		room    string
		closes  bool
		without []int
	}{
		{"village hall", true, []int{4, 10}}, {"village hall", false, []int{4, 10}}, {"studio", true, []int{1}}, {"clubroom", true, []int{3, 3, 8}},
	} {
		p := lapOf(t, c.room, c.without...)
		p.Closes, p.Most = c.closes, 60_000
		s, err := newSearch(p)
		if err != nil {
			t.Fatal(err)
		}
		if s.start, err = s.states.Start(p.Routine.Start); err != nil {
			t.Fatal(err)
		}
		if s.bound, err = newBound(context.Background(), s); err != nil {
			t.Fatal(err)
		}
		s.distance = newDistance(s)
		if _, err := s.run(context.Background(), nil); err != nil {
			t.Fatal(err)
		}
		byStances := func(n *node) int {
			return s.bound.of(int(n.key.done), s.corners-int(n.key.corners), s.post(n.key.at))
		}
		byDistance := func(n *node) int { return s.distance.of(s, n.key) }
		counted := 0
		for i := range s.nodes {
			n := &s.nodes[i]
			if n.parent < 0 {
				continue
			}
			before := &s.nodes[n.parent]
			for name, of := range map[string]func(*node) int{"the stances": byStances, "the distance": byDistance} {
				if was, is := int(before.edits)+of(before), int(n.edits)+of(n); is < was {
					t.Fatalf("%s: by %s %d changes are needed in all before figure %d, and %d after it", c.room, name, was, n.key.done, is)
				}
			}
			if n.cost < before.cost {
				t.Fatalf("%s: the cost falls from %d to %d", c.room, before.cost, n.cost)
			}
			if s.ends(n) && (byStances(n) > 0 || byDistance(n) > 0) {
				t.Fatalf("%s: a repair that ends needs more changes by a bound", c.room)
			}
			counted++
		}
		if counted < 50 {
			t.Errorf("%s: only %d steps were looked at", c.room, counted)
		}
	}
}

// TestCostUnits: each part of the cost stays below a unit of the next for all that a
// routine may have of it.
func TestCostUnits(t *testing.T) {
	for _, c := range []struct {
		name      string
		most      cost
		unit, top cost
	}{
		{"how hard the figures are that come in", (hardest + 100) * (MostChanges + 1), oneHard, oneBar},
		{"shares of the stride", 125 * MostFigures, oneHard, oneBar},
		{"bars", 4 * (MostFigures + MostChanges), oneBar, oneAwkward},
		{"awkward joins", MostFigures + MostChanges, oneAwkward, oneLost},
		{"figures lost", MostFigures, oneLost, oneAdjusted},
	} {
		if c.most*c.unit >= c.top {
			t.Errorf("%s: %d of them are not less than one of the next", c.name, c.most)
		}
	}
	if (oneAdjusted*2*MostFigures)/oneAdjusted != 2*MostFigures {
		t.Error("adjustments run over")
	}
}
