package graph_test

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"lapwright/figures"
	"lapwright/graph"
)

// Along a wall one figure follows another exactly where the stances and the feet allow it,
// for couples of any stride; with a long one the feet refuse some joins.
func TestAlongWall(t *testing.T) {
	every := figures.BuiltIn().Variants()
	rapid.Check(t, func(t *rapid.T) {
		var variants []*figures.Variant
		for _, i := range rapid.SliceOfNDistinct(rapid.IntRange(0, len(every)-1), 1, 25, rapid.ID).Draw(t, "figures") {
			variants = append(variants, every[i])
		}
		c := figures.DefaultCouple()
		c.Stride *= rapid.Float64Range(0.5, 1.6).Draw(t, "stride")
		g := graph.New(variants)
		w := g.AlongWall(c)
		for i, e := range w.Edges {
			if e.Variant.Corner {
				t.Fatalf("%s is danced round a corner", e.Variant.Name())
			}
			for k, o := range w.Edges {
				_, refused := graph.CannotJoin(e.Variant, o.Variant, c)
				want := e.To == o.From && g.Follow(e.Variant, o.Variant) && !refused
				if got := slices.Contains(w.Next[i], k); got != want {
					t.Fatalf("%s from %s, then %s from %s: %v, want %v", e.Variant.Name(), e.From, o.Variant.Name(), o.From, got, want)
				}
			}
		}
		begins := 0
		for s, list := range w.Begins {
			for _, i := range list {
				if begins++; w.Edges[i].From != s {
					t.Fatalf("%s begins in %s, not %s", w.Edges[i].Variant.Name(), w.Edges[i].From, s)
				}
			}
		}
		if begins != len(w.Edges) {
			t.Fatalf("%d edges, %d beginnings", len(w.Edges), begins)
		}
	})
}
