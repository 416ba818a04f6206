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
	starts := []place{{stance: s}}
	for _, c := range g.cornersFrom(s) {
		starts = append(starts, place{c.To, true})
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
// in exactly one part, alone if nothing leads back to it. The largest part is
// first, and of equal ones that with the first stance.
//
// With corners a stance may be two places: one where a figure has ended and a
// corner may follow, and one where a corner was just taken and a figure must.
// It belongs to the part in which a figure leads back to it, and only if there
// is none to the part that comes back to it round a corner.
//
// The parts are found by Tarjan's algorithm (Depth-first search and linear graph
// algorithms, 1972).
func (g *Graph) Components() [][]figures.Stance {
	// The only error is a graph without directions, which this one has.
	found, _ := braun.StronglyConnectedComponents(g.net)
	part := map[string]int{} // of the places on a way back to themselves
	for i, keys := range found {
		for _, key := range keys {
			p, _ := g.net.Vertex(key)
			if len(keys) > 1 || len(g.Between(p.stance, p.stance)) > 0 && !p.turned {
				part[key] = i
			}
		}
	}
	parts := map[int][]figures.Stance{}
	for i, s := range g.stances {
		at, ok := part[place{stance: s}.key()]
		if !ok {
			at, ok = part[place{s, true}.key()]
		}
		if !ok {
			at = len(found) + i // alone
		}
		parts[at] = append(parts[at], s)
	}
	return slices.SortedFunc(maps.Values(parts), func(a, b []figures.Stance) int {
		return cmp.Or(cmp.Compare(len(b), len(a)), compareStances(a[0], b[0]))
	})
}

// DeadEnds lists the stances that a figure leads to and none leaves. A corner
// is a way on only if a figure leaves the stance after it.
func (g *Graph) DeadEnds() []figures.Stance {
	var ends []figures.Stance
	for _, s := range g.stances {
		if len(g.into[s]) > 0 && len(g.from[s]) == 0 && len(g.cornersFrom(s)) == 0 {
			ends = append(ends, s)
		}
	}
	return ends
}
