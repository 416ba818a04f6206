package label

import (
	"context"
	"sync"

	"lapwright/search/network"
)

// Options say how far a search goes. The zero value is good for most.
type Options struct {
	// Labels is about the most labels that are made before the search gives up
	// the proof; 0: four million.
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
	o        Options
	clock    *clock
	blocks   []bool // by way: the figure may not be danced next again
	prices   *prices
	extra    []int32 // by way: prices
	total    int32   // what a lap that keeps the limits gets back
	togo     *togo
	barsToGo []int32
	longest  []int32 // by figure: most bars of a way
	upper    int32   // only laps that cost less are wanted
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
	return newSolver(n, l, o, tell).solve(ctx, effort{quick: 5_000_000, first: 200_000, narrow: 200, wide: 1500}), nil
}

func newSolver(n *network.Network, l *Limits, o Options, tell func(Progress)) *solver {
	s := &solver{n: n, l: l, o: o, clock: newClock(n, l), upper: network.Unreachable, tell: tell}
	if o.Under > 0 {
		s.upper = o.Under
	}
	if o.Labels <= 0 {
		s.o.Labels = 4 << 20
	}
	return s
}

// effort says how much work goes where.
type effort struct {
	quick        int64 // arcs times hands that are looked at without a second thought
	first        int   // labels made before more are looked at
	narrow, wide int   // of the beams
}

// solve works until the proof, or as far as it gets, and puts the result together.
func (s *solver) solve(ctx context.Context, e effort) *Result {
	s.work(ctx, e)
	res := &s.result
	switch {
	case !res.Proven:
		res.Bound = min(res.Bound, s.upper)
	case res.Found:
		res.Bound = res.Cost
	case s.o.Under > 0:
		res.Bound = s.o.Under
	default:
		res.Bound, res.Exhausted = network.Unreachable, true
	}
	return res
}

// work searches until the proof, or as far as it gets.
func (s *solver) work(ctx context.Context, e effort) {
	res := &s.result
	n := s.n
	if n.Best() == network.Unreachable || s.clock.impossible || int(s.l.Different) > n.Figures {
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
	// A first lap without prices, and the prices, have nothing to do with one
	// another.
	scout := s.scout()
	together(s.o.Threads, func() {
		scout.prices = newPrices(n, s.l)
		scout.extra, scout.total = scout.prices.ways(n, s.l)
		scout.togo = newTogo(n.Nodes(), 1)
		if scout.togo.fill(ctx, n, s.clock, scout.extra, s.blocks, nil, 0, 1) {
			scout.beam(ctx, e.narrow, 0)
		}
	}, func() { s.price(ctx, 12) })
	s.take(scout)
	s.extra, s.total = s.prices.ways(n, s.l)
	// The clock's own costs to go are the better bound, and take long: where they
	// would be large they wait until a search without them has been tried.
	hands := s.clock.size
	if int64(hands)*int64(n.Size()) > e.quick {
		s.togo = newTogo(n.Nodes(), 1)
		if !s.togo.fill(ctx, n, s.clock, s.extra, s.blocks, nil, 0, 1) {
			return
		}
		s.beam(ctx, e.narrow, 0)
		if s.rounds(ctx, min(s.o.Labels, res.Labels+e.first), e) || ctx.Err() != nil || res.Labels >= s.o.Labels {
			return
		}
	}
	s.togo = newTogo(n.Nodes(), hands)
	tuned, plain, filled := s.prices, newPrices(n, s.l), false
	if s.togo.hands > 1 && s.l.MinBars > 0 {
		// The prices were found without the clock, which may need none.
		tuned.short, tuned.long = 0, 0
		bare, ok := s.fill(ctx, plain)
		if !ok {
			return
		}
		priced, ok := s.fill(ctx, tuned)
		if !ok {
			return
		}
		if filled = priced > bare; !filled {
			tuned = plain
		}
	}
	if !filled {
		if _, ok := s.fill(ctx, tuned); !ok {
			return
		}
	}
	s.beam(ctx, e.narrow, 0)
	s.rounds(ctx, s.o.Labels, e)
}

// fill takes these prices and finds the costs to go with them, and the bound that
// they give. It is false when ctx ended before.
func (s *solver) fill(ctx context.Context, p *prices) (bound int32, ok bool) {
	s.prices = p
	s.extra, s.total = p.ways(s.n, s.l)
	from, under := s.n.FromSources(s.extra), int32(network.Unreachable)
	if s.upper < network.Unreachable {
		under = s.upper + s.total
	}
	if !s.togo.fill(ctx, s.n, s.clock, s.extra, s.blocks, from, under, s.o.Threads) {
		return 0, false
	}
	bound = s.upper
	for _, source := range s.n.Sources {
		if cost := s.togo.after(source, 0, -1); cost < network.Unreachable {
			bound = min(bound, cost-s.total)
		}
	}
	return bound, true
}

// newFigure is what the wide beam gives for a figure that has not been danced
// before: a bar.
const newFigure = 100

// scout is a solver for a beam beside the others.
func (s *solver) scout() *solver {
	scout := *s
	scout.result, scout.tell = Result{}, nil
	return &scout
}

// take takes over the lap of a scout, when it is better.
func (s *solver) take(scout *solver) {
	res, other := &s.result, &scout.result
	res.Labels += other.Labels
	if other.Found && other.Cost < s.upper {
		s.upper = other.Cost
		res.Found, res.Source, res.Arcs, res.Cost = true, other.Source, other.Arcs, other.Cost
		s.report()
	}
}

// together runs both at the same time, or one after the other on one thread.
func together(threads int, one, other func()) {
	if threads == 1 {
		one()
		other()
		return
	}
	var wait sync.WaitGroup
	wait.Go(one)
	other()
	wait.Wait()
}

// rounds searches round by round, until all in all so many labels have been made;
// it is true when that is the proof.
func (s *solver) rounds(ctx context.Context, most int, e effort) bool {
	res, counts := &s.result, newCounted(s.n, s.l, false)
	var r *round
	for first := true; ; first = false {
		r = newRound(s, counts).reuse(r)
		var out outcome
		if first && !res.Found {
			scout := s.scout()
			together(s.o.Threads, func() { scout.beam(ctx, e.wide, newFigure) }, func() { out = r.run(ctx, most-res.Labels) })
			s.take(scout)
		} else {
			out = r.run(ctx, most-res.Labels)
		}
		res.Labels += r.made
		res.Expanded += r.expanded
		res.Dominated += r.dominated
		res.Rounds++
		s.bound(out.bound)
		if out.stopped {
			return false
		}
		if out.end < 0 || res.Bound >= s.upper {
			res.Proven = true
			return true
		}
		if !s.refine(counts, r, out.end) {
			*counts = *newCounted(s.n, s.l, true)
		}
	}
}

// barsToGo is the least number of bars from each node to the end.
func barsToGo(n *network.Network) []int32 {
	togo := n.ToEnd(func(a network.Arc) int32 {
		if a.Way == network.Closing {
			return 0
		}
		return n.Ways[a.Way].Bars
	})
	for i := range togo {
		// So that bars can be added.
		togo[i] = min(togo[i], most)
	}
	return togo
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
	if l.MaxBars > 0 {
		more(s.prices.long > 0 && b != l.MaxBars, &counts.maxBars)
	}
	for _, price := range s.prices.varied {
		if price == 0 {
			continue
		}
		for f := range counts.different {
			more(true, &counts.different[f])
		}
	}
	return broken
}
