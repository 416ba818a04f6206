package search

import (
	"context"
	"errors"
	"math"
	"slices"

	"lapwright/figures"
	"lapwright/search/label"
)

// widening is the part of the best lap's cost by which the first corridor is wider.
const widening = 200

// widest is how many times the best lap's cost the widest corridor is wider.
const widest = 3

// near is how many times its bound a lap may cost for which no wide beam is worth it.
const near = 1.03

// limited looks for the best lap that keeps to the limits; plain is the best
// without. Corridors around what the best costs are searched with labels, each
// wider than the one before, until a lap is found or the corridor is too wide; then
// a beam search looks for a lap, with the bound that has been proven so far. When
// ctx ends the best lap so far is the answer, if there is one. It is returned as a
// trail, too.
func (s *searcher) limited(ctx context.Context, plain trail) (*trail, error) {
	a := newAnswer(s, plain)
	if s.kept != nil {
		a.offer(*s.kept)
	}
	err := a.search(ctx)
	if a.trail == nil && err == nil {
		s.result.Why, err = s.noLimited(ctx, a.known)
	}
	if a.trail == nil {
		return nil, err
	}
	if err != nil && ctx.Err() == nil {
		return nil, err
	}
	a.show()
	return a.trail, nil
}

// search does the work of limited.
func (a *answer) search(ctx context.Context) error {
	l := &a.problem.Limits
	if l.MinBars > 0 && a.mostBars() < l.MinBars {
		return nil
	}
	if l.MaxBars > 0 && a.known.plain.Bars > l.MaxBars {
		if fewest, err := a.known.shortest(ctx); err != nil || fewest.Bars > l.MaxBars {
			return err
		}
	}
	if l.MinBars > 0 && l.MinBars <= a.known.plain.Bars {
		if err := a.loose(ctx); err != nil || a.cost <= a.bound {
			return err
		}
	}
	if t, err := a.lapByLap(ctx, l); err != nil {
		return err
	} else if t != nil && a.keeps(t) {
		a.offer(*t)
		a.report(a.kernel.expanded, unreachable)
	}
	from, err := a.priced(ctx)
	if err != nil {
		return err
	}
	// What costs with prices on is nobody's business.
	from.tell = func(p Progress) { a.report(p.Expanded, unreachable) }
	if err := a.beam(ctx, from, narrowBeam); err != nil {
		return err
	}
	best, bound, err := from.plain(ctx)
	a.raise(from.real(bound))
	if err != nil || best == nil {
		return err
	}
	if a.keeps(best) {
		a.offer(*best)
	}
	proven, err := a.corridors(ctx, from, bound)
	if proven || err != nil || a.trail != nil && float64(a.cost) <= near*float64(a.bound) {
		return err
	}
	return a.beam(ctx, from, wideBeam)
}

// loose looks for the best lap with no least number of bars. Where the best lap without
// limits has more, that one mostly has, too, and it is far easier to find: of two ways
// to a place the shorter need not be kept beside the longer.
func (a *answer) loose(ctx context.Context) error {
	p, s := *a.problem, *a.searcher
	p.Limits.MinBars = 0
	if !p.Limits.past() {
		return nil
	}
	s.problem = &p
	// A lap that is too short is none.
	s.tell = func(p Progress) { a.report(p.Expanded, unreachable) }
	other := &answer{searcher: &s, known: a.known, cost: unreachable, bound: a.bound}
	err := other.search(ctx)
	a.raise(other.bound)
	if other.trail != nil && a.keeps(other.trail) {
		a.offer(*other.trail)
	}
	return err
}

// corridors looks through corridors from what the cheapest lap costs with prices on,
// each wider than the one before. It reports whether that has come to its end: the
// best lap is known, or there is none.
func (a *answer) corridors(ctx context.Context, from *priced, least int32) (proven bool, err error) {
	limits, classes := a.labelLimits()
	for over := least/widening + 1; a.cost > a.bound; over *= 2 {
		if over > widest*least {
			return false, nil
		}
		cutoff := least + over
		if a.trail != nil {
			// Better laps that keep the limits cost less than that with prices.
			cutoff = min(cutoff, a.cost-1+from.total)
		}
		c, err := from.corridor(ctx, cutoff, classes)
		switch {
		case errors.Is(err, errTooWide):
			return false, nil
		case err != nil:
			return false, err
		case c == nil:
			a.raise(from.real(cutoff + 1))
			continue
		}
		if err := from.unprice(c); err != nil {
			return false, err
		}
		under := int32(0)
		if a.trail != nil {
			under = a.cost
		}
		tell := func(p label.Progress) {
			cost := int32(unreachable)
			if p.Found {
				cost = p.Cost
			}
			a.report(from.kernel.expanded+p.Labels, cost)
		}
		res, err := label.Solve(ctx, c.Network, limits, label.Options{Under: under}, tell)
		if err != nil {
			return false, err
		}
		a.kernel.expanded += res.Expanded
		if res.Found {
			a.offer(c.trail(res.Source, res.Arcs))
		}
		// What is not in the corridor costs more than it was made for.
		a.raise(min(res.Bound, a.cost, from.real(cutoff+1)))
		a.report(from.kernel.expanded, unreachable)
		if ctx.Err() != nil || !res.Proven {
			return false, ctx.Err()
		}
	}
	return true, nil
}

// mostBars is a number of bars that no lap exceeds when no figure may be danced
// more than so often.
func (s *searcher) mostBars() int {
	uses := s.problem.Limits.Uses
	if uses == 0 {
		return math.MaxInt
	}
	longest := make([]int, len(s.plan.figures))
	for i := range s.plan.edges {
		e := &s.plan.edges[i]
		longest[e.figure] = max(longest[e.figure], int(e.bars))
	}
	sum := 0
	for _, bars := range longest {
		sum += bars
	}
	if sum > 0 && uses > math.MaxInt/sum {
		return math.MaxInt
	}
	return uses * sum
}

// answer is the best lap within the limits so far, and what has been proven.
type answer struct {
	*searcher
	known *answerer
	trail *trail
	cost  int32
	bound int32 // no lap within the limits costs less
	told  int   // states expanded, as told last
}

// newAnswer is where the search begins when the best lap without limits is known.
func newAnswer(s *searcher, plain trail) *answer {
	lap := s.plan.lap(plain)
	known := &answerer{problem: s.problem, searcher: s, plain: lap}
	return &answer{searcher: s, known: known, cost: unreachable, bound: hundredths(lap.Costs.Total())}
}

// offer takes a lap if it is better.
func (a *answer) offer(t trail) {
	if cost := hundredths(a.plan.lap(t).Costs.Total()); cost < a.cost {
		a.trail, a.cost = &t, cost
		a.report(a.told, unreachable)
	}
}

// raise takes a bound if it is better.
func (a *answer) raise(bound int32) { a.bound = max(a.bound, bound) }

// report tells how far the search has come; found is the cost of a lap that was
// found on the way, or unreachable.
func (a *answer) report(expanded int, found int32) {
	p := Progress{Expanded: max(a.told, expanded), Starts: len(a.starts) - 1, Of: len(a.starts), Least: inBars(a.bound)}
	if best := min(a.cost, found); best != unreachable {
		p.Best, p.Lap = inBars(best), a.news(a.trail)
	}
	a.told = p.Expanded
	a.tell(p)
}

// show makes the answer the result.
func (a *answer) show() {
	lap := a.plan.lap(*a.trail)
	lap.Bound = inBars(min(a.bound, a.cost))
	lap.Proven = a.cost <= a.bound
	a.result.Lap = lap
}

// The breadths of the beams: one that is soon done, and one that finds a lap where
// that is hard.
const narrowBeam, wideBeam = 300, 4000

// beam looks for a lap by beam search among the costs with prices on.
func (a *answer) beam(ctx context.Context, from *priced, width int) error {
	barsGo, err := a.known.barsGo(ctx)
	if err != nil {
		return err
	}
	b := newBeam(from.searcher, width, barsGo, int32(a.known.plain.Bars))
	if a.trail != nil {
		// Better laps that keep the limits cost less than that with prices.
		b.cost = a.cost + from.total
	}
	err = b.run(ctx, inBars(a.bound))
	if b.found {
		a.offer(b.trail())
		a.report(from.kernel.expanded, unreachable)
	}
	return err
}

// priced is a search with prices on.
type priced struct {
	*searcher
	extra []int32 // by edge
	total int32   // what a lap within the limits gets back, at least
}

// priced is the search with the prices that serve best.
func (s *searcher) priced(ctx context.Context) (*priced, error) {
	p, err := s.price(ctx)
	if err != nil {
		return nil, err
	}
	extra, total := p.extra()
	if !slices.ContainsFunc(extra, func(e int32) bool { return e != 0 }) {
		same := *s
		return &priced{&same, extra, total}, nil
	}
	other, err := s.dearer(ctx, extra)
	return &priced{other, extra, total}, err
}

// real is the least that a lap within the limits costs, when it costs so much with
// prices on.
func (p *priced) real(cost int32) int32 {
	if cost == unreachable {
		return cost
	}
	return cost - p.total
}

// unprice gives the arcs of a corridor their real costs again.
func (p *priced) unprice(c *corridor) (err error) {
	less := make([]int32, len(p.extra))
	for i, e := range p.extra {
		less[i] = -e
	}
	c.Network, err = c.Dearer(less)
	return err
}

// labelLimits are the limits on the past in numbers, and the classes of variants
// that they speak of.
func (s *searcher) labelLimits() (*label.Limits, func(*figures.Variant) uint64) {
	l := &s.problem.Limits
	number := func(f *figures.Figure) int32 { return int32(slices.Index(s.plan.figures, f)) }
	n := &label.Limits{MinBars: int32(l.MinBars), MaxBars: int32(l.MaxBars), Phrase: int32(l.Phrase), Uses: int32(l.Uses),
		Apart: int32(l.Apart), Different: int32(l.Different), RightTurns: int32(l.RightTurns)}
	for i, c := range l.Caps {
		n.Caps = append(n.Caps, label.Cap{Class: uint8(i), Most: int32(c.Most)})
	}
	for _, m := range l.Must {
		n.Must = append(n.Must, number(m))
	}
	for _, o := range l.Orders {
		n.Orders = append(n.Orders, label.Order{First: number(o.First), Then: number(o.Then)})
	}
	for _, f := range l.Fixed {
		n.Fixed = append(n.Fixed, label.Fixed{Figure: number(f.Figure), Bar: int32(f.Bar), Wall: int16(f.Wall)})
	}
	return n, func(v *figures.Variant) (classes uint64) {
		for i, c := range l.Caps {
			if c.Has(v) {
				classes |= 1 << i
			}
		}
		return classes
	}
}
