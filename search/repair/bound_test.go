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

// TestDistanceFalls: whatever figure is put in anywhere, the distance asks for one change
// less at most; and it asks for some where there is far to go. All figures travel as far,
// so that each counts in full.
func TestDistanceFalls(t *testing.T) {
	p := lapOf(t, "village hall")
	natural, _ := figures.BuiltIn().Variant("Natural Turn (whole turn)")
	change, _ := figures.BuiltIn().Variant("Left Foot Closed Change")
	p.Variants, p.Closes, p.Scales = []*figures.Variant{natural, change}, true, []search.Scale{{Share: 1}}
	p.Routine.Steps = []routine.Step{{Variant: natural, Scale: 1}}
	s, err := newSearch(p)
	if err != nil {
		t.Fatal(err)
	}
	d := newDistance(s)
	asked, fell := 0, 0
	for at := 0; at < s.states.Count(); at += 7 {
		state := search.State(at)
		if !s.states.Usable(state) {
			continue
		}
		wall := s.states.Wall(state)
		corners := ((wall-p.Routine.Start.Wall)%len(p.Room.Walls) + len(p.Room.Walls)) % len(p.Room.Walls)
		before := d.of(s, key{at: state, corners: uint16(corners), done: 1})
		asked = max(asked, before)
		for number, o := range s.options[wall][s.post(state)] {
			to, _, ok := s.states.Leads(state, number)
			if !ok {
				continue
			}
			after := corners
			if o.Turns {
				after++
			}
			now := d.of(s, key{at: to, corners: uint16(after), done: 1})
			if now < before-1 {
				t.Fatalf("a figure that is put in lowers what is needed from %d to %d", before, now)
			}
			if now < before {
				fell++
			}
		}
	}
	if asked < 5 || fell == 0 {
		t.Errorf("at most %d changes are asked for, and %d figures lower that", asked, fell)
	}
}

// TestEndsAtACorner: a lap may end with a figure that is danced at a corner only where it
// begins with the corner.
func TestEndsAtACorner(t *testing.T) {
	p := lapOf(t, "village hall")
	p.Closes = true
	var atCorner *figures.Variant
	for _, v := range figures.BuiltIn().Variants() {
		if v.Corner && atCorner == nil {
			atCorner = v
		}
	}
	p.Variants = append(p.Variants, atCorner)
	p.Routine.Start.Stance = atCorner.Exit(atCorner.Entries[0])
	s, err := newSearch(p)
	if err != nil {
		t.Fatal(err)
	}
	at, err := s.states.After(p.Routine.Start, atCorner)
	if err != nil {
		t.Fatal(err)
	}
	n := node{key: key{at: at, done: uint16(len(p.Routine.Steps)), corners: uint16(s.corners)}}
	for how, want := range map[began]bool{nothingYet: false, alongTheWall: false, roundACorner: true} {
		if n.key.began = how; s.ends(&n) != want {
			t.Errorf("begun %d, it ends: %v", how, !want)
		}
	}
}
