package graph

import (
	"slices"

	"lapwright/figures"
)

// Move is a figure danced or a corner taken.
type Move struct {
	Variant  *figures.Variant // nil for a corner
	Corner   int              // eighths added to the heading; 0 for a figure
	From, To figures.Stance
}

// Path returns a way from one stance to another with as few figures as can be,
// and false if there is none. Corners are taken where they help, under the rule
// of [Graph.Reachable]. It is empty where the two stances are the same.
//
// Of several ways with the same number of figures it is always the same one.
// That, and the corners that cost nothing, are why it does not come from the
// library, whose shortest path is an arbitrary one.
func (g *Graph) Path(from, to figures.Stance) ([]Move, bool) {
	from, to = tidy(from), tidy(to)
	start := place{from, anything}
	trail := trail{start: {}}
	for wave := []place{start}; len(wave) > 0; {
		for _, p := range wave {
			if p.stance == to {
				return trail.back(p), true
			}
		}
		for _, p := range wave {
			for _, c := range g.cornersFrom(p.stance) {
				if c.To == to {
					return append(trail.back(p), Move{nil, c.Eighths, p.stance, to}), true
				}
			}
		}
		var next []place
		visit := func(p place, e Edge, corner ...Move) {
			if _, ok := trail[after(e)]; !ok {
				trail[after(e)] = arrival{p, append(corner, Move{e.Variant, 0, e.From, e.To})}
				next = append(next, after(e))
			}
		}
		for _, p := range wave {
			if p.next == cornerOnly {
				continue
			}
			for _, e := range g.from[p.stance] {
				visit(p, e)
			}
		}
		for _, p := range wave {
			for _, c := range g.cornersFrom(p.stance) {
				for _, e := range g.from[c.To] {
					visit(p, e, Move{nil, c.Eighths, p.stance, c.To})
				}
			}
		}
		wave = next
	}
	return nil, false
}

// trail tells for each place that was found how the couple came to it.
type trail map[place]arrival

// arrival is the last figure on the way to a place, with the corner before it if
// one was taken, and the place where they began. It is empty at the start.
type arrival struct {
	from  place
	moves []Move
}

// back lists the moves from the start to a place.
func (t trail) back(p place) []Move {
	var moves []Move
	for len(t[p].moves) > 0 {
		moves = append(slices.Clone(t[p].moves), moves...)
		p = t[p].from
	}
	return moves
}
