package search

import (
	"context"
	"errors"
	"slices"

	"lapwright/figures"
	"lapwright/search/label"
	"lapwright/search/network"
)

// widening is the part of the best lap's cost by which the first corridor is wider.
const widening = 40

// limited looks for the best lap that keeps to the limits; plain is the best
// without. Corridors around what the best costs are searched with labels, each
// wider than the one before, until a lap is found or the corridor is too wide; then
// a beam search looks for a lap, with the bound that has been proven so far.
func (s *searcher) limited(ctx context.Context, plain trail) error {
	a := &answer{searcher: s, cost: unreachable}
	defer a.show()
	from, err := s.steer(ctx, plain)
	if err != nil {
		return a.orElse(err)
	}
	a.bound = from.bound
	limits, classes := from.labelLimits()
	for over := from.cost/widening + 1; ; over *= 2 {
		c, err := from.corridor(ctx, from.cost+over, classes)
		switch {
		case errors.Is(err, errTooWide):
			return a.orElse(a.beam(ctx, s.plan.lap(plain).Bars))
		case err != nil:
			return a.orElse(err)
		case c == nil:
			continue
		}
		tell := func(p label.Progress) {
			s.tell(Progress{Expanded: s.kernel.expanded + p.Labels, Of: len(s.starts), Least: inBars(a.bound), Best: inBars(min(a.cost, from.real(p.Cost)))})
		}
		res, err := label.Solve(ctx, c.Network, limits, label.Options{}, tell)
		if err != nil {
			return err
		}
		s.kernel.expanded += res.Expanded
		if res.Found {
			t := c.trail(res.Source, c.path(res.Arcs))
			a.offer(t)
		}
		// What is not in the corridor costs more than it was made for.
		a.raise(from.real(min(res.Bound, from.cost+over+1)))
		switch {
		case a.cost <= a.bound || ctx.Err() != nil || res.Found:
			return a.orElse(ctx.Err())
		case !res.Exhausted:
			return a.orElse(a.beam(ctx, s.plan.lap(plain).Bars))
		}
	}
}

// answer is the best lap within the limits so far, and what has been proven.
type answer struct {
	*searcher
	trail *trail
	cost  int32
	bound int32 // no lap within the limits costs less
}

// offer takes a lap if it is better.
func (a *answer) offer(t trail) {
	if cost := hundredths(a.plan.lap(t).Costs.Total()); cost < a.cost {
		a.trail, a.cost = &t, cost
	}
}

// raise takes a bound if it is better.
func (a *answer) raise(bound int32) { a.bound = max(a.bound, bound) }

// orElse is the error, unless it is that the time is up and there is a lap.
func (a *answer) orElse(err error) error {
	if a.trail != nil && err != nil && (errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded)) {
		return nil
	}
	return err
}

// show makes the answer the result.
func (a *answer) show() {
	if a.trail == nil {
		return
	}
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
func (s *steered) real(cost int32) int32 {
	if cost == network.Unreachable {
		return cost
	}
	return cost + s.reward*s.bars
}

// steps is how many times the cost of a bar is tried.
const steps = 5

// steer finds the cost of a bar that serves best.
func (s *searcher) steer(ctx context.Context, plain trail) (*steered, error) {
	lap := s.plan.lap(plain)
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
		found, err := other.plain(ctx)
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
