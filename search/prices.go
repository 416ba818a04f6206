package search

import (
	"context"
	"slices"
)

// quota is a limit that counts something of a whole lap: so much of it at most, or
// at least.
type quota struct {
	of    []int32 // by edge: how much it counts
	most  bool
	bound int32
}

// pricing puts prices on quotas: what a limit counts costs so much more or less. A
// lap that keeps the limits gets back as much as it pays, or more, so that the
// cheapest lap with prices is a bound (Lagrangian relaxation; Held and Karp 1971, for
// another problem).
type pricing struct {
	*searcher
	quotas []quota
	prices []float64
}

// rounds is how many prices are tried.
const rounds = 16

// The cells in which prices are found, in metres.
const coarseAlong, coarseAcross = 0.5, 0.5

// quotas are those limits that count something of a whole lap.
func (s *searcher) quotas() (all []quota) {
	pl, l := s.plan, &s.problem.Limits
	add := func(most bool, bound int, count func(e *edge) int32) {
		d := quota{make([]int32, len(pl.edges)), most, int32(min(bound, maxStates))}
		for i := range pl.edges {
			d.of[i] = count(&pl.edges[i])
		}
		all = append(all, d)
	}
	is := func(yes bool) int32 {
		if yes {
			return 1
		}
		return 0
	}
	for f := range pl.figures {
		if l.Uses > 0 {
			add(true, l.Uses, func(e *edge) int32 { return is(e.figure == int32(f)) })
		}
		use := func(e *edge) int32 { return is(e.figure == int32(f)) }
		fixed := 0
		for _, x := range l.Fixed {
			fixed += int(is(x.Figure == pl.figures[f]))
		}
		if fixed > 0 || slices.Contains(l.Must, pl.figures[f]) {
			add(false, max(1, fixed), use)
		}
	}
	for _, c := range l.Caps {
		add(true, c.Most, func(e *edge) int32 { return is(c.Has(e.variant)) })
	}
	if l.MaxBars > 0 {
		add(true, l.MaxBars, func(e *edge) int32 { return e.bars })
	}
	if l.MinBars > 0 {
		add(false, l.MinBars, func(e *edge) int32 { return e.bars })
	}
	return all
}

// price moves the prices step by step to where the bound of a coarse sketch is best
// (subgradient steps).
func (s *searcher) price(ctx context.Context) (*pricing, error) {
	p := &pricing{searcher: s, quotas: s.quotas()}
	p.prices = make([]float64, len(p.quotas))
	best := slices.Clone(p.prices)
	top, reach, idle := int32(-1), 1.0, 0
	for range rounds {
		extra, total := p.extra()
		cost, danced, err := s.coarse(ctx, extra)
		if err != nil {
			return nil, err
		}
		if cost == unreachable {
			break
		}
		if bound := cost - total; bound > top {
			top, idle = bound, 0
			copy(best, p.prices)
		} else if idle++; idle > 2 {
			reach, idle = reach/2, 0
		}
		over := make([]float64, len(p.quotas))
		square := 0.0
		for i, d := range p.quotas {
			counted := int32(0)
			for _, e := range danced {
				counted += d.of[e]
			}
			over[i] = float64(counted - d.bound)
			if !d.most {
				over[i] = -over[i]
			}
			if over[i] > 0 || p.prices[i] > 0 {
				square += over[i] * over[i]
			}
		}
		if square == 0 {
			break
		}
		step := reach * 0.05 * float64(max(top, 100)) / square
		for i := range p.prices {
			p.prices[i] = min(maxPrice, max(0, p.prices[i]+step*over[i]))
		}
	}
	p.prices = best
	return p, nil
}

// maxPrice keeps costs far from the end of the whole numbers, in hundredths of a bar.
const maxPrice = 500

// extra is what each edge costs more with the prices, and what a lap gets back. Where
// an edge would cost next to nothing the prices that lower it are scaled down.
func (p *pricing) extra() (extra []int32, total int32) {
	edges := p.plan.edges
	extra = make([]int32, len(edges))
	scale := 1.0
	for e := range edges {
		lower := 0.0
		for i, d := range p.quotas {
			if !d.most {
				lower += p.prices[i] * float64(d.of[e])
			}
		}
		if room := 0.9 * float64(edges[e].cost); lower > room {
			scale = min(scale, room/lower)
		}
	}
	for i, d := range p.quotas {
		price := int32(p.prices[i] + 0.5)
		if !d.most {
			price = -int32(p.prices[i] * scale)
		}
		total += price * d.bound
		for e, of := range d.of {
			extra[e] += price * of
		}
	}
	return extra, total
}

// coarse is the least cost of a lap in a coarse sketch, with so much more on each
// edge, and the edges of the lap.
func (s *searcher) coarse(ctx context.Context, extra []int32) (cost int32, danced []int32, err error) {
	costs := s.grouping.costs()
	for e := range extra {
		costs.edges[e] += extra[e]
	}
	v := newSketch(s.grouping, costs, grain{coarseAlong, coarseAcross, s.grouping.slope(costs, coarseAlong)}, false).survey(true, nil)
	s.fromEnds(v, s.starts)
	if err := v.run(ctx); err != nil {
		return 0, nil, err
	}
	best, cost := target{}, int32(unreachable)
	for _, t := range s.starts {
		if c := v.at(0, t.place, s.grouping.groupOf[t.post]); c < cost {
			best, cost = t, c
		}
	}
	if cost == unreachable {
		return cost, nil, nil
	}
	return cost, v.path(best), nil
}

// path is the edges of the cheapest way on from a place of the first layer.
func (v *survey) path(from target) (edges []int32) {
	ground := v.grouping.plan.ground
	layer, cell, kind := 0, v.layers[0].cell[from.place], v.kind(from.post)
	for {
		at := v.cost[v.layers[layer].first+int(cell)*v.kinds+int(kind)]
		// dance takes the figure that lies on the way, if there is one.
		dance := func(layer int, from, cost int32, ways []sketchWay) (to int32, m *sketchWay) {
			o := &v.layers[layer]
			for i := range ways {
				m := &ways[i]
				to := from + m.along*int32(o.columns) + m.across
				if o.lane[to] == shut {
					continue
				}
				if c := v.cost[o.first+int(to)*v.kinds+int(m.kind)]; c != 0 && cost == c+m.cost+m.bars*o.lane[to] {
					return to, m
				}
			}
			return 0, nil
		}
		to, m := dance(layer, cell, at, v.onward[ground.layers[layer].wall][0][kind])
		if m == nil && layer+1 < len(v.layers) {
			for _, t := range v.layers[layer].turns.at(cell) {
				if to, m = dance(layer+1, t.cell, at-t.cost, v.onward[ground.layers[layer+1].wall][v.grouping.plan.kindOf[layer]][kind]); m != nil {
					layer++
					break
				}
			}
		}
		if m == nil {
			return edges
		}
		edges = append(edges, m.edge)
		cell, kind = to, m.kind
	}
}

// dearer is the search for the same laps in which each edge costs so much more, or
// less.
func (s *searcher) dearer(ctx context.Context, extra []int32) (*searcher, error) {
	pl, g := *s.plan, *s.grouping
	pl.edges = slices.Clone(pl.edges)
	for e := range pl.edges {
		pl.edges[e].cost += extra[e]
	}
	pl.moves = make([][][]move, len(s.plan.moves))
	for k, kind := range s.plan.moves {
		pl.moves[k] = make([][]move, len(kind))
		for post, moves := range kind {
			moves = slices.Clone(moves)
			for i := range moves {
				moves[i].cost += extra[moves[i].edge]
			}
			pl.moves[k][post] = moves
		}
	}
	g.plan = &pl
	other := &searcher{problem: s.problem, plan: &pl, grouping: &g, starts: slices.Clone(s.starts), placed: s.placed, tell: s.tell, result: &Result{}}
	if err := other.survey(ctx); err != nil {
		return nil, err
	}
	other.sortStarts()
	return other, nil
}
