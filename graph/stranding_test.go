package graph_test

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"lapwright/figures"
	"lapwright/graph"
)

func TestStranding(t *testing.T) {
	step := func(name, from, to string, corner bool) *figures.Variant {
		a, b := stance(t, from), stance(t, to)
		turn := b.Facing.Turn() - a.Facing.Turn()
		return &figures.Variant{Figure: &figures.Figure{Name: name, Beats: 3}, Entries: []figures.Stance{a}, Corner: corner,
			Steps: []figures.Step{{Beats: 3, Turn: turn, Hold: b.Hold, Actions: [2]figures.Action{{Foot: a.Free, Weightless: a.Free == b.Free}, {Foot: a.Free.Other(), Weightless: a.Free == b.Free}}}}}
	}
	for _, row := range []struct {
		what    string
		corners []int
		figures []*figures.Variant
		want    []string
	}{
		{"alone", nil, []*figures.Variant{step("A", "DW, RF", "DC, LF", false)}, []string{"A"}},
		{"goes on", nil, []*figures.Variant{step("A", "DW, RF", "DC, LF", false), step("B", "DC, LF", "DW, RF", false)}, nil},
		{"goes on into what does not", nil, []*figures.Variant{step("A", "DW, RF", "DC, LF", false), step("B", "DC, LF", "LOD, RF", false)}, []string{"B"}},
		{"another hold", nil, []*figures.Variant{step("A", "DW, RF", "DC, LF, promenade", false), step("B", "DC, LF", "DW, RF", false)}, []string{"A"}},
		{"round a corner", []int{-2}, []*figures.Variant{step("A", "DW, RF", "DC, RF", false)}, nil},
		{"no corner", nil, []*figures.Variant{step("A", "DW, RF", "DC, RF", false)}, []string{"A"}},
		{"only round a corner, and there is none", nil, []*figures.Variant{step("A", "DW, RF", "DW, RF", true)}, []string{"A"}},
		{"only round a corner, after which nothing goes", []int{-2}, []*figures.Variant{step("A", "DW, RF", "DW, RF", true)}, []string{"A"}},
		{"only round a corner", []int{-2}, []*figures.Variant{step("A", "DW, RF", "DC, RF", true)}, nil},
	} {
		var got []string
		for _, e := range graph.New(row.figures, row.corners...).Stranding() {
			got = append(got, e.Variant.Name())
		}
		if !slices.Equal(got, row.want) {
			t.Errorf("%s: %v, want %v", row.what, got, row.want)
		}
	}
}

// TestBuiltInFiguresGoOn: after every built-in figure something can be danced.
func TestBuiltInFiguresGoOn(t *testing.T) {
	for _, e := range graph.New(figures.BuiltIn().Variants(), -2).Stranding() {
		t.Errorf("after %s nothing begins %v", e.Variant.Name(), e.To)
	}
}

// TestStrandingIsIntoDeadEnds: whoever is stranded along one wall is in a dead
// end.
func TestStrandingIsIntoDeadEnds(t *testing.T) {
	forLibraries(t, func(t rapid.TB, _ []*figures.Variant, _ []int, g *graph.Graph) {
		ends := g.DeadEnds()
		for _, e := range g.Stranding() {
			if !e.Variant.Corner && !slices.Contains(ends, e.To) {
				t.Errorf("%s strands a couple %v, which is no dead end", e.Variant.Name(), e.To)
			}
		}
		for _, s := range ends {
			if !slices.ContainsFunc(g.Stranding(), func(e graph.Edge) bool { return e.To == s }) {
				t.Errorf("%v is a dead end, and no figure strands a couple there", s)
			}
		}
	})
}
