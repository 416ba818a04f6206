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
const widening = 40

// limited looks for the best lap that keeps to the limits; plain is the best
// without. Corridors around what the best costs are searched with labels, each
// wider than the one before, until a lap is found or the corridor is too wide; then
// a beam search looks for a lap, with the bound that has been proven so far. When
// ctx ends the best lap so far is the answer, if there is one.
func (s *searcher) limited(ctx context.Context, plain trail) error {
	best := s.plan.lap(plain)
	a := &answer{searcher: s, cost: unreachable, bound: hundredths(best.Costs.Total())}
	err := a.search(ctx, best)
	if a.trail == nil && err == nil {
		s.result.Why, err = s.noLimited(ctx, best)
	}
	if a.trail == nil {
		return err
	}
	if err != nil && ctx.Err() == nil {
		return err
	}
	a.show()
	return nil
}

// search does the work of limited.
func (a *answer) search(ctx context.Context, plain *Lap) error {
	l := &a.problem.Limits
	if l.MinBars > 0 && a.mostBars() < l.MinBars {
		return nil
	}
	if l.MaxBars > 0 && plain.Bars > l.MaxBars {
		if _, fewest, err := a.fewestBars(ctx); err != nil || fewest.Bars > l.MaxBars {
			return err
		}
	}
	from, err := a.steer(ctx, plain)
	if err != nil {
		return err
	}
	a.raise(from.bound)
	limits, classes := from.labelLimits()
	for over := from.cost/widening + 1; ; over *= 2 {
		c, err := from.corridor(ctx, from.cost+over, classes)
		if errors.Is(err, errTooWide) {
			return a.beam(ctx, plain.Bars)
		}
		if err != nil || c == nil {
			return err
		}
		if err := from.unsteer(c); err != nil {
			return err
		}
		tell := func(p label.Progress) {
			cost := int32(unreachable)
			if p.Found {
				cost = p.Cost
			}
			a.report(from.kernel.expanded+p.Labels, cost)
		}
		res, err := label.Solve(ctx, c.Network, limits, label.Options{}, tell)
		if err != nil {
			return err
		}
		a.kernel.expanded += res.Expanded
		if res.Found {
			a.offer(c.trail(res.Source, c.path(res.Arcs)))
		}
		// What is not in the corridor costs more than it was made for.
		a.raise(min(res.Bound, from.real(from.cost+over+1)))
		a.report(from.kernel.expanded, unreachable)
		switch {
		case ctx.Err() != nil || res.Found:
			return ctx.Err()
		case !res.Exhausted:
			return a.beam(ctx, plain.Bars)
		}
	}
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
	trail *trail
	cost  int32
	bound int32 // no lap within the limits costs less
	told  int   // states expanded, as told last
}

// offer takes a lap if it is better.
func (a *answer) offer(t trail) {
	if cost := hundredths(a.plan.lap(t).Costs.Total()); cost < a.cost {
		a.trail, a.cost = &t, cost
	}
}

// raise takes a bound if it is better.
func (a *answer) raise(bound int32) { a.bound = max(a.bound, bound) }

// report tells how far the search has come; found is the cost of a lap that was
// found on the way, or unreachable.
func (a *answer) report(expanded int, found int32) {
	p := Progress{Expanded: max(a.told, expanded), Starts: len(a.starts) - 1, Of: len(a.starts), Least: inBars(a.bound)}
	if best := min(a.cost, found); best != unreachable {
		p.Best = inBars(best)
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

// beam looks for a lap by beam search.
func (a *answer) beam(ctx context.Context, plainBars int) error {
	barsGo, err := a.barsGo(ctx)
	if err != nil {
		return err
	}
	for _, width := range widths {
		b := newBeam(a.searcher, width, barsGo, int32(plainBars))
		err := b.run(ctx, inBars(a.bound))
		if b.found {
			a.offer(b.trail())
			return err
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// steered is a search in which a bar costs so much less or more that the best lap
// has about as many bars as are asked for: a Lagrangian multiplier on the number of
// bars (Held and Karp 1971, for another problem).
type steered struct {
	*searcher
	cost   int32 // of its best lap
	reward int32 // hundredths of a bar by which each bar is cheaper
	bars   int32 // the bars that a lap within the limits has at least, or at most
	bound  int32 // no lap within the limits costs less
}

// real is the least that a lap within the limits costs, when it costs so much in the
// steered search.
func (s *steered) real(cost int32) int32 { return cost + s.reward*s.bars }

// unsteer gives the arcs of a corridor their real costs again.
func (s *steered) unsteer(c *corridor) (err error) {
	if s.reward == 0 {
		return nil
	}
	extra := make([]int32, len(c.Ways))
	for i, w := range c.Ways {
		extra[i] = s.reward * w.Bars
	}
	c.Network, err = c.Dearer(extra)
	return err
}

// steps is how many times the cost of a bar is tried.
const steps = 5

// steer finds the cost of a bar that serves best.
func (s *searcher) steer(ctx context.Context, lap *Lap) (*steered, error) {
	cost := hundredths(lap.Costs.Total())
	best := &steered{searcher: s, cost: cost, bound: cost}
	l := &s.problem.Limits
	target, few := int32(l.MinBars), true
	if l.MaxBars > 0 && lap.Bars > l.MaxBars {
		target, few = int32(l.MaxBars), false
	} else if lap.Bars >= l.MinBars {
		return best, nil
	}
	// The cost of a bar is less than usual where a lap has too few, and more where
	// it has too many.
	usual := hundredths(s.problem.Weights.Bars)
	low, high := int32(0), usual-max(1, usual/20)
	if !few {
		low, high = -8*usual, 0
	}
	for range steps {
		reward := (low + high) / 2
		if reward == 0 {
			break
		}
		p := *s.problem
		p.Weights.Bars = inBars(usual - reward)
		other, err := prepare(ctx, &p, s.tell)
		if err != nil {
			return nil, err
		}
		found, _, err := other.plain(ctx)
		if err != nil {
			return nil, err
		}
		if found == nil {
			break
		}
		now := other.plan.lap(*found)
		cost := hundredths(now.Costs.Total())
		if bound := cost + reward*target; bound > best.bound {
			best = &steered{searcher: other, cost: cost, reward: reward, bars: target, bound: bound}
		}
		switch bars := int32(now.Bars); {
		case bars == target:
			return best, nil
		case bars < target:
			low = reward
		default:
			high = reward
		}
	}
	return best, nil
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
