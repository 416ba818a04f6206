package graph

import (
	"slices"

	"lapwright/figures"
)

// LooseEnds lists the stances in which the variant ends and no other variant
// begins, along the same wall or at a corner of the graph's. After one of these
// the couple can do nothing but dance the same again, if that.
func (g *Graph) LooseEnds(v *figures.Variant) []figures.Stance {
	return g.loose(v, v.Exit, func(s figures.Stance) []Edge {
		var all []Edge
		if !v.Corner {
			all = g.from[s]
		}
		for _, n := range g.corners {
			all = append(slices.Clone(all), g.from[s.Turned(n)]...)
		}
		return all
	})
}

// LooseBeginnings lists the stances in which the variant begins and no other
// variant ends, along the same wall or before a corner of the graph's.
func (g *Graph) LooseBeginnings(v *figures.Variant) []figures.Stance {
	return g.loose(v, func(s figures.Stance) figures.Stance { return s }, func(s figures.Stance) []Edge {
		var all []Edge
		for _, e := range g.into[s] {
			if !e.Variant.Corner {
				all = append(all, e)
			}
		}
		for _, n := range g.corners {
			all = append(all, g.into[s.Turned(-n)]...)
		}
		return all
	})
}

// loose lists, of the stances that come of the variant's entries, those at which
// no other variant meets it.
func (g *Graph) loose(v *figures.Variant, end func(figures.Stance) figures.Stance, meets func(figures.Stance) []Edge) []figures.Stance {
	var all []figures.Stance
	for _, s := range entries(v) {
		s = end(s)
		another := func(e Edge) bool { return e.Variant != v }
		if !slices.Contains(all, s) && !slices.ContainsFunc(meets(s), another) {
			all = append(all, s)
		}
	}
	return all
}
