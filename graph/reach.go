package graph

import (
	"cmp"
	"maps"
	"slices"

	braun "github.com/dominikbraun/graph"

	"lapwright/figures"
)

// Reachable lists the stances that a couple standing in s can come to by any
// number of figures and corners, s itself included, in the order of
// [Graph.Stances]. The couple may begin with a corner, and the last stance may
// be the one after a corner; between two corners it dances at least one figure.
// From a stance that is strange to the graph that may be s alone.
func (g *Graph) Reachable(s figures.Stance) []figures.Stance {
	s = tidy(s)
	found := map[figures.Stance]bool{s: true}
	starts := []place{{s, anything}}
	for _, c := range g.cornersFrom(s) {
		starts = append(starts, place{c.To, figureOnly})
	}
	for _, start := range starts {
		// The only error is a start that is strange to the graph.
		_ = braun.BFS(g.net, start.key(), func(key string) bool {
			p, _ := g.net.Vertex(key)
			found[p.stance] = true
			return false
		})
	}
	return slices.SortedFunc(maps.Keys(found), compareStances)
}

// Components splits the stances of the graph into its strongly connected parts:
// between any two stances of a part the couple can go on and on. Each stance is
// in exactly one part, alone if nothing leads from it to another and back. The largest part is
// first, and of equal ones that with the first stance.
//
// A stance may be three places: one where figures and corners may follow, one
// where a corner was just taken and a figure must follow, and one where a figure
// of a corner has ended and the corner must. It belongs to the part of the first
// of these from which a round of other places leads back.
//
// The parts are found by Tarjan's algorithm (Depth-first search and linear graph
// algorithms, 1972).
func (g *Graph) Components() [][]figures.Stance {
	// The only error is a graph without directions, which this one has.
	found, _ := braun.StronglyConnectedComponents(g.net)
	part := map[string]int{} // of the places from which a round leads back by others
	for i, keys := range found {
		for _, key := range keys {
			if len(keys) > 1 {
				part[key] = i
			}
		}
	}
	parts := map[int][]figures.Stance{}
	for i, s := range g.stances {
		at := len(found) + i // alone
		for _, n := range []next{anything, figureOnly, cornerOnly} {
			if back, ok := part[place{s, n}.key()]; ok {
				at = back
				break
			}
		}
		parts[at] = append(parts[at], s)
	}
	return slices.SortedFunc(maps.Values(parts), func(a, b []figures.Stance) int {
		return cmp.Or(cmp.Compare(len(b), len(a)), compareStances(a[0], b[0]))
	})
}

// DeadEnds lists the stances that a figure leads to and none leaves. A corner
// is a way on only if a figure leaves the stance after it, and the only way on
// where nothing but figures of a corner lead to a stance.
func (g *Graph) DeadEnds() []figures.Stance {
	var ends []figures.Stance
	for _, s := range g.stances {
		if len(g.into[s]) == 0 || len(g.cornersFrom(s)) > 0 {
			continue
		}
		goesOn := func(e Edge) bool { return !e.Variant.Corner }
		if len(g.from[s]) == 0 || !slices.ContainsFunc(g.into[s], goesOn) {
			ends = append(ends, s)
		}
	}
	return ends
}
