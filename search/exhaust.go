package search

import (
	"context"
	"errors"
	"slices"

	"lapwright/figures"
	"lapwright/search/conflict"
	labels "lapwright/search/label"
	"lapwright/search/network"
)

// mostTracked is how many labels are made at most before a proof is given up, and
// longestTracked by how many bars laps may be longer than the shortest one.
const (
	mostTracked    = 400_000
	longestTracked = 2
)

// exhaust looks at every lap of no more bars than are asked for, in the corridor
// where nothing but bars costs anything: either one keeps to the limits of the
// problem, or it is proven that none does. Where there are too many laps it does not
// know.
func (a *answerer) exhaust(ctx context.Context, p *Problem) (conflict.Answer, *Lap, error) {
	if p.Limits.MaxBars == 0 || p.Limits.MaxBars > a.fewest.Bars+longestTracked || len(p.Limits.Caps) > 64 {
		return conflict.Unknown, nil, nil
	}
	limits, classes := a.short.pastLimits(&p.Limits)
	c, err := a.short.corridor(ctx, hundredths(float64(p.Limits.MaxBars)), classes)
	switch {
	case errors.Is(err, errTooWide):
		return conflict.Unknown, nil, nil
	case err != nil:
		return conflict.Unknown, nil, err
	case c == nil:
		return conflict.Impossible, nil, nil
	}
	res, err := labels.Solve(ctx, c.Network, limits, labels.Options{Labels: mostTracked}, nil)
	switch {
	case err != nil:
		return conflict.Unknown, nil, err
	case res.Exhausted:
		return conflict.Impossible, nil, nil
	case !res.Found:
		return conflict.Unknown, nil, ctx.Err()
	}
	path := make([]network.Arc, len(res.Arcs))
	for i, n := range res.Arcs {
		path[i] = c.Arc(int(n))
	}
	// Labels do not know of all limits.
	if lap := a.short.plan.lap(c.trail(res.Source, path)); p.keepsAll(lap) {
		return conflict.Possible, lap, nil
	}
	return conflict.Unknown, nil, nil
}

// pastLimits are limits on the past in numbers, and the classes of variants that they
// speak of.
func (s *searcher) pastLimits(l *Limits) (*labels.Limits, func(*figures.Variant) uint64) {
	number := func(f *figures.Figure) int32 { return int32(slices.Index(s.plan.figures, f)) }
	n := &labels.Limits{MinBars: int32(l.MinBars), MaxBars: int32(l.MaxBars), Phrase: int32(l.Phrase), Uses: int32(l.Uses),
		Apart: int32(l.Apart), Different: int32(l.Different), RightTurns: int32(l.RightTurns)}
	for i, c := range l.Caps {
		n.Caps = append(n.Caps, labels.Cap{Class: uint8(i), Most: int32(c.Most)})
	}
	for _, m := range l.Must {
		n.Must = append(n.Must, number(m))
	}
	for _, o := range l.Orders {
		n.Orders = append(n.Orders, labels.Order{First: number(o.First), Then: number(o.Then)})
	}
	for _, f := range l.Fixed {
		n.Fixed = append(n.Fixed, labels.Fixed{Figure: number(f.Figure), Bar: int32(f.Bar), Wall: int16(f.Wall)})
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
