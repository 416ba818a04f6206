package graph_test

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"lapwright/figures"
	"lapwright/graph"
)

// Every entry of every variant is an edge, once, and From, Into, Between and
// Stances say the same as Edges.
func TestGraphHoldsEveryFigure(t *testing.T) {
	forLibraries(t, func(t rapid.TB, variants []*figures.Variant, _ []int, g *graph.Graph) {
		want := map[graph.Edge]bool{}
		stances := map[figures.Stance]bool{}
		for _, v := range variants {
			for _, s := range v.Entries {
				e := graph.Edge{Variant: v, From: s, To: v.Exit(s)}
				want[e] = true
				stances[e.From], stances[e.To] = true, true
			}
		}
		var from, into, between []graph.Edge
		for _, s := range g.Stances() {
			if !stances[s] {
				t.Errorf("%s is in no figure", s)
			}
			from = append(from, g.From(s)...)
			into = append(into, g.Into(s)...)
			for _, to := range g.Stances() {
				between = append(between, g.Between(s, to)...)
			}
		}
		if len(g.Stances()) != len(stances) {
			t.Errorf("%d stances, want %d", len(g.Stances()), len(stances))
		}
		for what, edges := range map[string][]graph.Edge{"Edges": g.Edges(), "From": from, "Into": into, "Between": between} {
			got := map[graph.Edge]bool{}
			for _, e := range edges {
				if !want[e] || got[e] {
					t.Errorf("%s: %s from %s: in the library %v, seen before %v", what, e.Variant.Name(), e.From, want[e], got[e])
				}
				got[e] = true
			}
			if len(got) != len(want) {
				t.Errorf("%s: %d edges, want %d", what, len(got), len(want))
			}
		}
	})
}

// The answers do not hang on the order in which figures are given, nor on the
// library underneath, which answers in random order.
func TestOrderIsFixed(t *testing.T) {
	names := func(edges []graph.Edge) (all []string) {
		for _, e := range edges {
			all = append(all, e.From.Short()+" "+e.Variant.Name()+" "+e.To.Short())
		}
		return all
	}
	variants := figures.BuiltIn().Variants()
	g := graph.New(variants, -2, 2)
	for range 5 {
		slices.Reverse(variants)
		h := graph.New(append(variants, variants[:7]...), 2, -2, 6, 0)
		if !slices.Equal(names(g.Edges()), names(h.Edges())) {
			t.Error("Edges differ")
		}
		if !slices.Equal(g.Stances(), h.Stances()) {
			t.Error("Stances differ")
		}
		if !slices.Equal(g.Corners(), h.Corners()) {
			t.Error("Corners differ")
		}
		if !slices.EqualFunc(g.Components(), h.Components(), slices.Equal[[]figures.Stance]) {
			t.Error("Components differ")
		}
		for _, s := range g.Stances() {
			if !slices.Equal(g.Reachable(s), h.Reachable(s)) {
				t.Errorf("Reachable from %s differs", s)
			}
		}
	}
}

// Two figures may lead from one stance to the same other.
func TestParallelFigures(t *testing.T) {
	g := graph.New(figures.BuiltIn().Variants())
	var got []string
	for _, e := range g.Between(stance(t, "ALOD, LF, closed"), stance(t, "LOD, RF, promenade")) {
		got = append(got, e.Variant.Name())
	}
	if want := []string{"Heel Turn to Promenade", "Open Impetus"}; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

// What reads as one alignment along the old wall is another along the new one.
// Diagonal to centre becomes diagonal to wall (BallroomDancers forum, Diagonal
// to centre?, 2017; the others by arithmetic).
func TestCornersOfARightAngle(t *testing.T) {
	want := map[figures.Heading]figures.Heading{
		figures.DiagonalToCentre:        figures.DiagonalToWall,
		figures.LineOfDance:             figures.Wall,
		figures.DiagonalToWall:          figures.DiagonalToWallAgainst,
		figures.Centre:                  figures.LineOfDance,
		figures.DiagonalToCentreAgainst: figures.DiagonalToCentre,
		figures.AgainstLineOfDance:      figures.Centre,
		figures.DiagonalToWallAgainst:   figures.DiagonalToCentreAgainst,
		figures.Wall:                    figures.AgainstLineOfDance,
	}
	corners := graph.New(figures.BuiltIn().Variants(), -2).Corners()
	seen := map[figures.Heading]bool{}
	for _, c := range corners {
		seen[c.From.Facing] = true
		if c.Eighths != -2 || c.To.Facing != want[c.From.Facing] || c.To.Free != c.From.Free || c.To.Hold != c.From.Hold {
			t.Errorf("the corner from %s leads to %s by %d", c.From, c.To, c.Eighths)
		}
	}
	if len(seen) < 7 {
		t.Errorf("corners are taken from %d alignments only", len(seen))
	}
}

func TestCornersAreTidied(t *testing.T) {
	for _, c := range []struct {
		name    string
		corners []int
		want    []int
	}{
		{"none", nil, nil},
		{"a right angle", []int{-2}, []int{-2}},
		{"the same angle three times", []int{-2, 6, -10}, []int{-2}},
		{"a full turn is no corner", []int{0, 8, -16}, nil},
		{"half a turn either way", []int{4, -4}, []int{4}},
		{"a re-entrant corner too", []int{2, -2}, []int{-2, 2}},
	} {
		// Boxes of every alignment, so that every corner leads on.
		var box figures.Variant
		box.Figure = &figures.Figure{Name: "Box", Beats: 3}
		for h := range figures.Headings {
			box.Entries = append(box.Entries, figures.Stance{Facing: figures.Heading(h), Free: figures.LeftFoot})
		}
		var got []int
		for _, corner := range graph.New([]*figures.Variant{&box}, c.corners...).Corners() {
			if corner.From.Facing == figures.LineOfDance {
				got = append(got, corner.Eighths)
			}
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: got %v, want %v", c.name, got, c.want)
		}
	}
}

// What is no figure and no stance is left out and never a crash.
func TestWhatCannotBeDancedIsLeftOut(t *testing.T) {
	nobody := &figures.Variant{Label: "nobody's", Entries: []figures.Stance{{}, {Free: 9}, {Free: figures.LeftFoot, Hold: -1}, {Free: figures.LeftFoot, Hold: 99}}}
	endsNowhere := &figures.Variant{Entries: []figures.Stance{{Free: figures.LeftFoot}}, Steps: []figures.Step{{Hold: 99}}}
	empty := &figures.Variant{}
	g := graph.New([]*figures.Variant{nil, nobody, empty, endsNowhere}, -2)
	if len(g.Stances()) != 0 || len(g.Edges()) != 0 || len(g.Components()) != 0 || len(g.DeadEnds()) != 0 {
		t.Errorf("stances %v, edges %v", g.Stances(), g.Edges())
	}
	natural := variant(t, "Natural Turn")
	for _, v := range []*figures.Variant{nil, nobody, empty} {
		if g.Follow(natural, v) || g.Follow(v, natural) || g.FollowAtCorner(natural, v) || g.FollowAtCorner(v, natural) {
			t.Errorf("%v follows", v)
		}
		if why := graph.WhyNot(natural.Entries[0], v); len(why) != 1 || why[0].String() == "" {
			t.Errorf("why not %v: %v", v, why)
		}
	}
	for _, s := range []figures.Stance{{}, {Facing: -9, Free: -1, Hold: -1}, {Facing: 99, Free: 99, Hold: 99}} {
		if len(g.From(s)) != 0 || len(g.Into(s)) != 0 || len(g.Between(s, s)) != 0 || len(g.Reachable(s)) != 1 {
			t.Errorf("%+v is in the graph", s)
		}
		if why := graph.WhyNot(s, natural); len(why) != 3 && len(why) != 2 {
			t.Errorf("why not from %+v: %v", s, why)
		}
	}
}

// A heading counted past a full turn is the same heading.
func TestHeadingsAreTidied(t *testing.T) {
	g := graph.New(figures.BuiltIn().Variants(), -2)
	s := stance(t, "DW, RF, closed")
	past := s
	past.Facing += figures.Headings
	if !slices.Equal(g.From(past), g.From(s)) || !slices.Equal(g.Reachable(past), g.Reachable(s)) {
		t.Error("a full turn more makes a difference")
	}
	if why := graph.WhyNot(past, variant(t, "Natural Turn")); why != nil {
		t.Error(why)
	}
}

// Nobody can change the graph through what it gave out.
func TestAnswersAreCopies(t *testing.T) {
	g := graph.New(figures.BuiltIn().Variants())
	s := g.Stances()[0]
	g.Stances()[0] = figures.Stance{}
	g.Edges()[0] = graph.Edge{}
	g.From(s)[0] = graph.Edge{}
	to := g.From(s)[0].To
	g.Between(s, to)[0] = graph.Edge{}
	g.Into(to)[0] = graph.Edge{}
	if g.Stances()[0] != s || g.Edges()[0].Variant == nil || g.From(s)[0].Variant == nil ||
		g.Between(s, to)[0].Variant == nil || g.Into(to)[0].Variant == nil {
		t.Error("the graph has changed")
	}
}
