package label

import (
	"context"

	"lapwright/search/network"
)

// Options say how far a search goes. The zero value is good for most.
type Options struct {
	// Labels is the most labels that are made before the search gives up the
	// proof; 0: four million.
	Labels int
	// Under asks only for laps that cost less; 0: any.
	Under int32
	// Threads is how many threads may work; the answer is the same for any
	// number. 0: two.
	Threads int
}

// Progress is told whenever something better is known.
type Progress struct {
	Found       bool
	Cost, Bound int32 // as in [Result]
	Labels      int   // made so far
}

// Result is the answer of [Solve].
type Result struct {
	// Found tells that there is a lap: it begins at node Source and goes along
	// the arcs with these numbers.
	Found  bool
	Source int32
	Arcs   []int32
	Cost   int32 // of the lap, in hundredths of a bar
	// Bound is what no lap of the network that keeps the limits costs less than;
	// with [Options.Under], no lap that was asked for. [network.Unreachable] when
	// there is none.
	Bound int32
	// Proven tells that the search came to its end: the lap is a best one, or
	// there is none to be found.
	Proven bool
	// Exhausted tells that no lap of the network keeps the limits.
	Exhausted bool

	Labels, Expanded, Dominated, Rounds int
}

// solver is what one call of [Solve] knows.
type solver struct {
	n        *network.Network
	l        *Limits
	clock    *clock
	blocks   []bool // by way: the figure may not be danced next again
	prices   *prices
	extra    []int32 // by way: prices
	total    int32   // what a lap that keeps the limits gets back
	togo     *togo
	barsToGo []int32
	upper    int32 // only laps that cost less are wanted
	result   Result
	tell     func(Progress)
}

// Solve finds the cheapest lap of a network that keeps to limits. It is a search
// with labels and dominance in the order of a bound (A*); which limits the labels
// count grows from round to round with what the best lap of the round breaks
// (Boland, Dethridge and Dumitrescu 2006; Righini and Salani 2008), the others are
// priced. The cost of each round's lap is a bound, and the first one that keeps all
// limits at that cost is a best one.
//
// When ctx ends or the labels run out the result is the best lap so far with its
// bound; that is no error. An error tells of limits that are out of range. tell may
// be nil.
func Solve(ctx context.Context, n *network.Network, l *Limits, o Options, tell func(Progress)) (*Result, error) {
	if err := l.check(n); err != nil {
		return nil, err
	}
	s := &solver{n: n, l: l, clock: newClock(l), upper: network.Unreachable, tell: tell}
	if o.Under > 0 {
		s.upper = o.Under
	}
	if o.Labels <= 0 {
		o.Labels = 4 << 20
	}
	s.solve(ctx, o)
	res := &s.result
	switch {
	case !res.Proven:
		res.Bound = min(res.Bound, s.upper)
	case res.Found:
		res.Bound = res.Cost
	case o.Under > 0:
		res.Bound = o.Under
	default:
		res.Bound, res.Exhausted = network.Unreachable, true
	}
	return res, nil
}

// solve works until the proof, or as far as it gets.
func (s *solver) solve(ctx context.Context, o Options) {
	res := &s.result
	n := s.n
	if n.Best() == network.Unreachable || s.clock.impossible {
		res.Proven = true
		return
	}
	res.Bound = n.Best()
	s.blocks = make([]bool, len(n.Ways))
	for w, way := range n.Ways {
		s.blocks[w] = s.l.Apart > 1 && way.Bars < s.l.Apart
	}
	if s.l.MaxBars > 0 {
		s.barsToGo = barsToGo(n)
	}
	s.price(12)
	s.extra, s.total = s.prices.ways(n, s.l)
	s.togo = newTogo(n.Nodes(), s.clock.size)
	s.togo.fill(n, s.clock, s.extra, s.blocks)
	s.beam(ctx, 200)
	counts := newCounted(n, s.l, false)
	for {
		r := newRound(s, counts)
		out := r.run(ctx, o.Labels-res.Labels)
		res.Labels += r.made
		res.Expanded += r.expanded
		res.Dominated += r.dominated
		res.Rounds++
		s.bound(out.bound)
		if out.stopped {
			return
		}
		if out.end < 0 || res.Bound >= s.upper {
			res.Proven = true
			return
		}
		if !s.refine(counts, r, out.end) {
			*counts = *newCounted(n, s.l, true)
		}
	}
}

// barsToGo is the least number of bars from each node to the end.
func barsToGo(n *network.Network) []int32 {
	togo := make([]int32, n.Nodes())
	for i := range togo {
		togo[i] = most
	}
	togo[n.End] = 0
	var open network.Queue
	open.Push(n.End, 0)
	for {
		node, at, ok := open.Pop()
		if !ok {
			return togo
		}
		if at > togo[node] {
			continue
		}
		for _, a := range n.Into(node) {
			bars := at
			if a.Way != network.Closing {
				bars += n.Ways[a.Way].Bars
			}
			if bars < togo[a.To] {
				togo[a.To] = bars
				open.Push(a.To, bars)
			}
		}
	}
}

// bound takes note of a bound, and tells when it is better.
func (s *solver) bound(b int32) {
	if b > s.result.Bound {
		s.result.Bound = b
		s.report()
	}
}

// offer takes the lap of an end label when it keeps all limits and is the best.
func (s *solver) offer(r *round, end int32) {
	cost := r.labels[end].cost
	if cost >= s.upper {
		return
	}
	source, arcs := r.lap(end)
	if !Keeps(s.n, s.l, source, arcs) {
		return
	}
	s.upper = cost
	res := &s.result
	res.Found, res.Source, res.Arcs, res.Cost = true, source, arcs, cost
	s.report()
}

func (s *solver) report() {
	if s.tell != nil {
		res := &s.result
		s.tell(Progress{res.Found, res.Cost, res.Bound, res.Labels})
	}
}

// refine has the next round count what the lap of this one breaks or, when it
// breaks nothing, what it has paid for without need. It is false when there is
// nothing more to count.
func (s *solver) refine(counts *counted, r *round, end int32) bool {
	_, arcs := r.lap(end)
	n, l := s.n, s.l
	uses, began, caps := make([]int32, n.Figures), make([]int32, n.Figures), make([]int32, len(l.Caps))
	var b, right int32
	broken := false
	more := func(is bool, c *bool) {
		if is && !*c {
			*c, broken = true, true
		}
	}
	for _, number := range arcs {
		arc := n.Arc(int(number))
		if arc.Way == network.Closing {
			continue
		}
		way := n.Ways[arc.Way]
		f := way.Figure
		more(l.Apart > 0 && uses[f] > 0 && b+1-began[f] < l.Apart, &counts.apart[f])
		began[f] = b + 1
		uses[f]++
		more(l.Uses > 0 && uses[f] > l.Uses, &counts.uses[f])
		for c, limit := range l.Caps {
			caps[c] += int32(way.Classes >> limit.Class & 1)
			more(caps[c] > limit.Most, &counts.caps[c])
		}
		right++
		if !way.Right {
			right = 0
		}
		more(l.RightTurns > 0 && right > l.RightTurns, &counts.right)
		b += way.Bars
	}
	more(l.MaxBars > 0 && b > l.MaxBars, &counts.maxBars)
	different := int32(0)
	for _, k := range uses {
		different += min(k, 1)
	}
	if different < l.Different {
		for f, k := range uses {
			more(k > 1, &counts.different[f])
		}
	}
	if broken {
		return true
	}
	for f, price := range s.prices.uses {
		more(price > 0 && uses[f] != l.Uses, &counts.uses[f])
	}
	for c, price := range s.prices.caps {
		more(price > 0 && caps[c] != l.Caps[c].Most, &counts.caps[c])
	}
	return broken
}
