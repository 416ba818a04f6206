package search

import (
	"context"
	"slices"
)

// lapByLap is the best lap by itself that keeps to its share of some limits, danced as
// many times as laps are asked for. It is soon found and often good; but it need not be
// the best, since one lap may leave to another what it would rather not dance. It is nil
// where a single lap is asked for, where there is no such lap, or where that cannot be
// danced so many times.
func (s *searcher) lapByLap(ctx context.Context, limits *Limits) (*trail, error) {
	laps := s.problem.rounds()
	if laps == 1 {
		return nil, nil
	}
	own := *s.problem
	own.Laps, own.Limits, own.Count, own.Export = 1, limits.share(laps), 1, false
	// What a lap drifts it drifts again in each; where that is too much in the end, one
	// is looked for that hardly drifts.
	for _, gap := range []float64{min(mostWeight, own.Weights.Gap*float64(laps)), mostWeight} {
		own.Weights.Gap = gap
		once, of, err := s.once(ctx, &own)
		if once == nil || err != nil {
			return nil, err
		}
		if t := s.again(once, of, laps); t != nil {
			return t, nil
		}
	}
	return nil, nil
}

// once is the best lap of a problem of one lap, with the plan in which it was found; nil
// where there is none.
func (s *searcher) once(ctx context.Context, p *Problem) (*trail, *plan, error) {
	one, err := prepare(ctx, p, nil)
	if err != nil {
		// A share of the limits may make no sense.
		return nil, nil, ctx.Err()
	}
	if len(one.starts) == 0 {
		return nil, nil, nil
	}
	best, _, err := one.plain(ctx)
	if err == nil && best != nil && !one.keepsPast(best) {
		a := newAnswer(one, *best)
		err = a.search(ctx)
		best = a.trail
	}
	s.kernel.expanded += one.kernel.expanded
	s.kernel.generated += one.kernel.generated
	return best, one.plan, err
}

// share is what a lap has of limits on so many, if all have the same.
func (l *Limits) share(laps int) Limits {
	own := *l
	own.MinBars = (l.MinBars + laps - 1) / laps
	own.MaxBars = l.MaxBars / laps
	own.Uses = l.Uses / laps
	if l.Uses > 0 {
		own.Uses = max(1, own.Uses)
	}
	own.Fixed = nil
	own.Caps = slices.Clone(l.Caps)
	for i := range own.Caps {
		own.Caps[i].Most /= laps
	}
	return own
}

// again is a lap of another plan of the same room and figures danced so many times one
// after the other, each from where the one before came out; nil where the couple has no
// room for that, or comes out too far from where it began.
func (s *searcher) again(once *trail, of *plan, laps int) *trail {
	pl := s.plan
	home := of.ground.layers[0].cell(once.start.place)
	t := &trail{start: target{pl.ground.layers[0].place(home), once.start.post}}
	layer, place, post := 0, t.start.place, t.start.post
	for range laps {
		for _, step := range once.steps {
			kind := 0
			if step.corner {
				kind = pl.kindOf[layer]
			}
			danced := false
			this := func(m *move, _ int) bool { return m.edge == step.edge }
			pl.dance(layer, place, pl.moves[kind][post], step.corner, this, func(m *move, to int, _ int32) bool {
				place, post, danced = to, m.to, true
				return false
			})
			if !danced {
				return nil
			}
			if step.corner {
				layer++
			}
			t.steps = append(t.steps, step)
		}
	}
	if _, near := pl.gap(pl.ground.layers[layer].cell(place), home); !near || post != t.start.post {
		return nil
	}
	return t
}
