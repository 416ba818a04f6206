package graph

// Stranding lists the edges after which a couple can dance nothing: no figure of
// the graph begins in the stance in which the edge leaves it, nor in that stance
// after a corner. After a figure that is danced at a corner only, the corner has
// to be a way on. The order is that of [Graph.Edges].
//
// It is a warning about a library and no fault: what comes next may be in another
// one.
func (g *Graph) Stranding() []Edge {
	var all []Edge
	for _, e := range g.edges {
		alongTheWall := !e.Variant.Corner && len(g.from[e.To]) > 0
		if !alongTheWall && len(g.cornersFrom(e.To)) == 0 {
			all = append(all, e)
		}
	}
	return all
}
