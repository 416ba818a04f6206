package search

import (
	"context"
	"errors"

	"lapwright/search/conflict"
	"lapwright/search/label"
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
	own, short := *a.short.problem, *a.short
	own.Limits = p.Limits
	short.problem = &own
	limits, classes := short.labelLimits()
	c, err := short.corridor(ctx, hundredths(float64(p.Limits.MaxBars)), classes)
	switch {
	case errors.Is(err, errTooWide):
		return conflict.Unknown, nil, nil
	case err != nil:
		return conflict.Unknown, nil, err
	case c == nil:
		return conflict.Impossible, nil, nil
	}
	res, err := label.Solve(ctx, c.Network, limits, label.Options{Labels: mostTracked}, nil)
	switch {
	case err != nil:
		return conflict.Unknown, nil, err
	case res.Exhausted:
		return conflict.Impossible, nil, nil
	case !res.Found:
		return conflict.Unknown, nil, ctx.Err()
	}
	// Labels do not know of all limits.
	if lap := a.short.plan.lap(c.trail(res.Source, res.Arcs)); p.keepsAll(lap) {
		return conflict.Possible, lap, nil
	}
	return conflict.Unknown, nil, nil
}
