package main

import (
	"strings"

	"lapwright/figures"
	"lapwright/graph"
)

// listed tells what the trade dances before and after a figure, of what may be
// danced: joins of its lists that some way of dancing makes, along a wall or round a
// corner.
func (r *repertory) listed(g *graph.Graph, f *figures.Figure) (before, after []string) {
	follows := r.library.Follows()
	joins := func(first, second *figures.Figure) bool {
		for _, v := range first.Variants {
			for _, next := range second.Variants {
				if follows.Of(v, next) == figures.Listed && (g.Follow(v, next) || g.FollowAtCorner(v, next)) {
					return true
				}
			}
		}
		return false
	}
	for i, v := range r.variants {
		other := v.Figure
		if i > 0 && r.variants[i-1].Figure == other {
			continue
		}
		if joins(other, f) {
			before = append(before, other.Name)
		}
		if joins(f, other) {
			after = append(after, other.Name)
		}
	}
	return before, after
}

// listedFacts tell the same in two lines.
func listedFacts(f *figures.Figure, r *repertory) []fact {
	before, after := r.listed(newGraph(r.variants), f)
	var facts []fact
	for _, list := range []struct {
		name  string
		names []string
	}{{"Comes after", before}, {"Goes on with", after}} {
		if len(list.names) > 0 {
			facts = append(facts, fact{list.name, folded(strings.Join(list.names, ", "), 100)})
		}
	}
	return facts
}
