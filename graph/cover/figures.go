package cover

import (
	"cmp"
	"context"
	"slices"

	"lapwright/figures"
)

// mostFigures is the greatest number of figures that are told apart.
const mostFigures = len(set{}) * 64

// mostStates is how many ends of ways are looked at before only some are followed, and
// widest how many of those at each bar.
const (
	mostStates = 120_000
	widest     = 400
)

// Figures makes the shortest routine that has each figure in it, in any of its ways of
// dancing, or as many as one routine can. To find it is hard in general (a postman who
// need not go through every street), so all ways are followed bar by bar as long as they
// are few – two that end alike with the same figures behind them are one – which proves
// that none is shorter; where they are too many, those with the most figures are followed
// and Bound is what the figures take at the least. The error is that of ctx.
func Figures(ctx context.Context, variants []*figures.Variant) (*Cover, error) {
	n := newNet(variants)
	number := map[*figures.Figure]int{}
	var all []*figures.Figure
	for _, e := range n.edges {
		f := e.Variant.Figure
		if _, known := number[f]; !known && len(all) < mostFigures {
			number[f] = len(all)
			all = append(all, f)
		}
	}
	figureOf := make([]int, len(n.edges))
	for v, e := range n.edges {
		figureOf[v] = number[e.Variant.Figure]
	}
	out := &Cover{}
	target := n.mostTogether(figureOf)
	s := search{net: n, figureOf: figureOf, seen: map[state]bool{}, exact: true}
	last, err := s.run(ctx, target)
	if err != nil {
		return nil, err
	}
	var has set
	if last != nil {
		has = last.has
		var row []int
		for w := last; w != nil; w = w.before {
			row = append(row, w.vertex)
		}
		slices.Reverse(row)
		out.Routine, out.Bars = n.routine(row)
	}
	for i, f := range all {
		if !has.has(i) {
			out.LeftFigures = append(out.LeftFigures, f)
		}
	}
	out.Bound = n.leastBars(figureOf, len(all), target)
	if s.exact {
		out.Bound = out.Bars
	}
	out.Proven = out.Bars == out.Bound
	return out, nil
}

// leastBars is how many bars so many figures take at the least: the shortest ones, each
// in its shortest way.
func (n *net) leastBars(figureOf []int, count, many int) (sum int) {
	least := make([]int, count)
	for v := range n.edges {
		if f := figureOf[v]; least[f] == 0 || n.bars(v) < least[f] {
			least[f] = n.bars(v)
		}
	}
	slices.Sort(least)
	for _, bars := range least[:min(many, count)] {
		sum += bars
	}
	return sum
}

// mostTogether is how many figures one routine can have: the most on a row of parts.
func (n *net) mostTogether(figureOf []int) (most int) {
	reach := make([][]set, len(n.parts)) // by part: what can be had from it on
	for i := len(n.parts) - 1; i >= 0; i-- {
		var here set
		for _, v := range n.parts[i] {
			here = here.with(figureOf[v])
		}
		list := []set{here}
		for _, k := range n.follow[i] {
			for _, s := range reach[k] {
				list = append(list, s.or(here))
			}
		}
		reach[i] = largest(list)
		for _, s := range reach[i] {
			most = max(most, s.len())
		}
	}
	return most
}

// largest leaves out sets that lie within others.
func largest(list []set) (kept []set) {
	slices.SortStableFunc(list, func(a, b set) int { return cmp.Compare(b.len(), a.len()) })
	for _, s := range list {
		if !slices.ContainsFunc(kept, func(k set) bool { return k.or(s) == k }) {
			kept = append(kept, s)
		}
	}
	return kept
}

// state is how a way ends, with the figures behind it.
type state struct {
	vertex int
	has    set
}

// way is a way under way.
type way struct {
	state
	before *way
}

// search follows all ways bar by bar.
type search struct {
	net      *net
	figureOf []int
	seen     map[state]bool
	exact    bool
	layers   [][]*way // by bars
}

// run is the end of a shortest way with so many figures.
func (s *search) run(ctx context.Context, target int) (*way, error) {
	for v := range s.net.edges {
		s.add(s.net.bars(v), v, nil)
	}
	for bars := 0; bars < len(s.layers); bars++ {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		layer := s.layers[bars]
		s.layers[bars] = nil
		for _, w := range layer {
			if w.has.len() == target {
				return w, nil
			}
		}
		if len(s.seen) > mostStates && len(layer) > widest {
			s.exact = false
			slices.SortStableFunc(layer, func(a, b *way) int { return cmp.Compare(b.has.len(), a.has.len()) })
			layer = layer[:widest]
		}
		for _, w := range layer {
			if s.seen[w.state] {
				continue
			}
			s.seen[w.state] = true
			for _, v := range s.net.next[w.vertex] {
				s.add(bars+s.net.bars(v), v, w)
			}
		}
	}
	return nil, nil
}

func (s *search) add(bars, vertex int, before *way) {
	w := &way{state: state{vertex: vertex}, before: before}
	if before != nil {
		w.has = before.has
	}
	if w.has = w.has.with(s.figureOf[vertex]); s.seen[w.state] {
		return
	}
	for len(s.layers) <= bars {
		s.layers = append(s.layers, nil)
	}
	s.layers[bars] = append(s.layers[bars], w)
}
