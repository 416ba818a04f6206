package graph

import "lapwright/figures"

// Wall is what may follow what along one endless wall: the edges of a graph but for
// figures of a corner, and for each of them the edges that can be danced right after it.
// It is made by [Graph.AlongWall].
type Wall struct {
	Edges []Edge
	// Next lists, by the number of an edge, the numbers of those that can follow it, in
	// their order.
	Next [][]int
	// Begins lists, by stance, the numbers of the edges that can be danced from it first.
	Begins map[figures.Stance][]int
}

// AlongWall lists what the couple can dance after what along one endless wall. A join
// that its feet refuse is none; that is as [CannotJoin] says, but each two ways of
// dancing are tried once, which for a whole library takes a good tenth of a second on one
// core.
func (g *Graph) AlongWall(c figures.Couple) *Wall {
	w := &Wall{Begins: map[figures.Stance][]int{}}
	for _, e := range g.edges {
		if !e.Variant.Corner {
			w.Begins[e.From] = append(w.Begins[e.From], len(w.Edges))
			w.Edges = append(w.Edges, e)
		}
	}
	enders := map[*figures.Variant]*ending{}
	w.Next = make([][]int, len(w.Edges))
	for i, e := range w.Edges {
		end := enders[e.Variant]
		if end == nil {
			end = newEnding(e.Variant, c)
			enders[e.Variant] = end
		}
		for _, k := range w.Begins[e.To] {
			if !end.refuses(w.Edges[k].Variant) {
				w.Next[i] = append(w.Next[i], k)
			}
		}
	}
	return w
}

// ending is how a variant leaves the couple, danced once from each hold in which it may
// begin, and what was found to be refused after it.
type ending struct {
	danced  []*figures.Danced
	refused map[*figures.Variant]bool
}

func newEnding(v *figures.Variant, c figures.Couple) *ending {
	end := &ending{refused: map[*figures.Variant]bool{}}
	tried := map[figures.Hold]bool{}
	for _, from := range entries(v) {
		if !tried[from.Hold] {
			tried[from.Hold] = true
			end.danced = append(end.danced, v.Dance(from, c))
		}
	}
	return end
}

func (end *ending) refuses(next *figures.Variant) bool {
	refused, known := end.refused[next]
	if !known {
		_, refused = end.fault(next)
		end.refused[next] = refused
	}
	return refused
}

// fault is the first fault of next danced right after, if there is one.
func (end *ending) fault(next *figures.Variant) (figures.Fault, bool) {
	for _, d := range end.danced {
		for _, to := range entries(next) {
			if to.Free != d.Exit.Free || to.Hold != d.Exit.Hold {
				continue
			}
			// From another alignment it is the same, but turned.
			if j, ok := d.Join(next, int(to.Facing-d.Exit.Facing)); ok && len(j.Faults) > 0 {
				return j.Faults[0], true
			}
			break
		}
	}
	return figures.Fault{}, false
}
