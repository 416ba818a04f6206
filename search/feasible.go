package search

import (
	"context"
	"slices"

	"lapwright/search/conflict"
)

// Feasible says whether a problem has a lap that keeps to its limits, and shows one
// where it has: the answer is possible only with a lap. It returns ctx's error when
// that ends before it knows.
type Feasible func(ctx context.Context, p *Problem) (conflict.Answer, *Lap, error)

// NewFeasible answers by the search for the plain problem, which proves, and where
// that is not enough by a beam search, which does not. It remembers what it has found
// out about the last problem it was asked about, which serves for other limits, and must not be used from
// several goroutines at once.
func NewFeasible() Feasible {
	a := &answerer{}
	return a.answer
}

// answerer remembers one problem, whatever its limits.
type answerer struct {
	problem  *Problem
	searcher *searcher
	plain    *Lap // nil where there is none
	fewest   *Lap // the shortest lap; nil: not known yet
	barsGo   *survey
}

func (a *answerer) answer(ctx context.Context, p *Problem) (conflict.Answer, *Lap, error) {
	p, err := p.settled()
	if err != nil {
		return conflict.Unknown, nil, err
	}
	if err := a.prepare(ctx, p); err != nil {
		return conflict.Unknown, nil, err
	}
	if a.plain == nil {
		return conflict.Impossible, nil, nil
	}
	if p.keepsAll(a.plain) {
		return conflict.Possible, a.plain, nil
	}
	if p.Limits.MaxBars > 0 {
		if a.fewest == nil {
			if a.fewest, err = a.searcher.fewestBars(ctx); err != nil {
				return conflict.Unknown, nil, err
			}
		}
		switch {
		case a.fewest == nil || a.fewest.Bars > p.Limits.MaxBars:
			return conflict.Impossible, nil, nil
		case p.keepsAll(a.fewest):
			return conflict.Possible, a.fewest, nil
		}
	}
	if a.barsGo == nil {
		if a.barsGo, err = a.searcher.barsGo(ctx); err != nil {
			return conflict.Unknown, nil, err
		}
	}
	other := *a.searcher
	other.problem = p
	b := newBeam(&other, widths[0], a.barsGo, int32(a.plain.Bars))
	if err := b.run(ctx, 0); err != nil || !b.found {
		return conflict.Unknown, nil, err
	}
	// The beam does not know of all limits.
	if lap := a.searcher.plan.lap(b.trail()); p.keepsAll(lap) {
		return conflict.Possible, lap, nil
	}
	return conflict.Unknown, nil, nil
}

// prepare solves the plain problem, unless it is the last one that was solved.
func (a *answerer) prepare(ctx context.Context, p *Problem) error {
	if a.searcher != nil && sameButLimits(a.problem, p) {
		return nil
	}
	own := *p
	own.Limits = Limits{}
	s, err := prepare(ctx, &own, nil)
	if err != nil {
		return err
	}
	*a = answerer{problem: &own, searcher: s}
	if len(s.starts) == 0 {
		return nil
	}
	best, err := s.plain(ctx)
	if err != nil {
		*a = answerer{}
		return err
	}
	if best != nil {
		a.plain = s.plan.lap(*best)
	}
	return nil
}

// sameButLimits reports whether two problems differ in their limits at most.
func sameButLimits(a, b *Problem) bool {
	return a.Room == b.Room && slices.Equal(a.Variants, b.Variants) && a.Follows == b.Follows && a.Couple == b.Couple &&
		a.Weights == b.Weights && slices.Equal(a.Scales, b.Scales) && a.Start == b.Start && a.Laps == b.Laps && a.Margin == b.Margin && a.Seed == b.Seed
}
