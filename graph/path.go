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
	before := map[figures.Stance][]Move{from: nil} // the last figure, with its corner
	back := func(s figures.Stance) []Move {
		var moves []Move
		for {
			last := before[s]
			if last == nil {
				slices.Reverse(moves)
				return moves
			}
			for _, m := range slices.Backward(last) {
				moves = append(moves, m)
			}
			s = last[0].From
		}
	}
	for wave := []figures.Stance{from}; len(wave) > 0; {
		if slices.Contains(wave, to) {
			return back(to), true
		}
		for _, s := range wave {
			for _, c := range g.cornersFrom(s) {
				if c.To == to {
					return append(back(s), Move{nil, c.Eighths, s, to}), true
				}
			}
		}
		var next []figures.Stance
		visit := func(e Edge, corner []Move) {
			if _, ok := before[e.To]; !ok {
				before[e.To] = append(slices.Clone(corner), Move{e.Variant, 0, e.From, e.To})
				next = append(next, e.To)
			}
		}
		for _, s := range wave {
			for _, e := range g.from[s] {
				visit(e, nil)
			}
		}
		for _, s := range wave {
			for _, c := range g.cornersFrom(s) {
				for _, e := range g.from[c.To] {
					visit(e, []Move{{nil, c.Eighths, s, c.To}})
				}
			}
		}
		wave = next
	}
	return nil, false
}
