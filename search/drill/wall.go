package drill

import (
	"context"

	"lapwright/figures"
	"lapwright/graph"
	"lapwright/search"
	"lapwright/search/routine"
)

// wall is an endless wall without corners, with what can be danced along it. A vertex is
// a figure that has just been danced; the last one is the beginning.
type wall struct {
	start figures.Stance
	edges []graph.Edge
	moves [][]move
}

// list is a layer of the wall, by vertex.
type list []float64

func (l list) at(v uint32) float64 { return l[v] }

func newWall(p *Problem) (*wall, error) {
	w := &wall{start: p.Start.Stance.Turned(0)}
	for _, e := range graph.New(p.Room.Variants).Edges() {
		if !e.Variant.Corner {
			w.edges = append(w.edges, e)
		}
	}
	start := uint32(len(w.edges))
	marked := p.marks()
	usual := p.Room.Couple.WithStride(figures.UsualStride)
	follows := make([][]uint32, len(w.edges)+1)
	for i := range follows {
		for k, e := range w.edges {
			switch {
			case uint32(i) == start && e.From != p.Start.Stance.Turned(0):
			case uint32(i) != start && (w.edges[i].To != e.From || refused(w.edges[i].Variant, e.Variant, usual)):
			default:
				follows[i] = append(follows[i], uint32(k))
			}
		}
	}
	if len(follows[start]) == 0 {
		return nil, search.ErrNothingBegins
	}
	dead := make([]bool, len(follows))
	for gone := true; gone; {
		gone = false
		for i, list := range follows {
			on := false
			for _, k := range list {
				on = on || !dead[k]
			}
			if !on && !dead[i] {
				dead[i], gone = true, true
			}
		}
	}
	if dead[start] {
		return nil, ErrDeadEnd
	}
	w.moves = make([][]move, len(follows))
	for i, list := range follows {
		for _, k := range list {
			if dead[i] || dead[k] {
				continue
			}
			v := w.edges[k].Variant
			mark := marked != nil && uint32(i) != start && marked(w.edges[i].Variant, v)
			w.moves[i] = append(w.moves[i], move{len(w.moves[i]), k, v.Bars(), p.weight(v, mark), v})
		}
	}
	return w, nil
}

func refused(before, after *figures.Variant, c figures.Couple) bool {
	_, refused := graph.CannotJoin(before, after, c)
	return refused
}

func (w *wall) begin() uint32 { return uint32(len(w.edges)) }

func (w *wall) each(v uint32, visit func(m move)) {
	for _, m := range w.moves[v] {
		visit(m)
	}
}

func (w *wall) longest() (most int) {
	for _, e := range w.edges {
		most = max(most, e.Variant.Bars())
	}
	return most
}

func (w *wall) size() int { return 8 * len(w.moves) }

func (w *wall) reached(ctx context.Context, bars int) ([]bool, error) {
	at := make([][]bool, bars+1)
	for i := range at {
		at[i] = make([]bool, len(w.moves))
	}
	at[0][w.begin()] = true
	any := make([]bool, bars+1)
	for now := range at {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		for v, here := range at[now] {
			if !here {
				continue
			}
			any[now] = true
			for _, m := range w.moves[v] {
				if then := now + m.bars; then <= bars {
					at[then][m.to] = true
				}
			}
		}
	}
	return any, nil
}

func (w *wall) layer(bars int, before func(bars int) layer) (layer, bool) {
	out := make(list, len(w.moves))
	ok := true
	for v := range out {
		if bars == 0 {
			out[v] = 1
		}
		for _, m := range w.moves[v] {
			if m.bars <= bars {
				out[v] += float64(m.weight) * before(bars-m.bars).at(m.to)
			}
		}
		ok = ok && out[v] < 1e300
	}
	return out, ok
}

func (w *wall) stance(v uint32) figures.Stance {
	if v == w.begin() {
		return w.start
	}
	return w.edges[v].To
}

func (w *wall) joins(_ context.Context, visit func(before, after *figures.Variant)) error {
	for _, v := range w.from(w.begin()) {
		var before *figures.Variant
		if v != w.begin() {
			before = w.edges[v].Variant
		}
		for _, m := range w.moves[v] {
			visit(before, m.variant)
		}
	}
	return nil
}

// from lists the vertices that can be reached from one, which is the first of them.
func (w *wall) from(v uint32) []uint32 {
	seen := make([]bool, len(w.moves))
	seen[v] = true
	all := []uint32{v}
	for i := 0; i < len(all); i++ {
		for _, m := range w.moves[all[i]] {
			if !seen[m.to] {
				seen[m.to] = true
				all = append(all, m.to)
			}
		}
	}
	return all
}

func (w *wall) steps(path []arc) (steps []routine.Step) {
	for _, a := range path {
		steps = append(steps, routine.Step{Variant: w.edges[w.moves[a.vertex][a.number].to].Variant, Scale: 1, Corner: routine.Stay})
	}
	return steps
}
