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

// NewFeasible answers by the search for the plain problem and by one for the fewest
// bars, which prove; where that is not enough by a beam search, which finds laps but
// proves nothing, and last by a search with labels through all laps of the bars that
// are asked for, where these are few. It remembers what it has found out about the
// last problem it was asked about, which serves for other limits, and must not be used
// from several goroutines at once.
func NewFeasible() Feasible {
	a := &answerer{}
	return a.answer
}

// answerer remembers one problem, whatever its limits but for those on which
// moves there are.
type answerer struct {
	before   *answerer // the same problem with the limits on moves asked about before these; nil: none
	problem  *Problem
	searcher *searcher
	plain    *Lap      // nil where there is none
	fewest   *Lap      // the shortest lap; nil: not known yet
	short    *searcher // which found it: only bars cost anything
	bars     *survey   // least number of bars to go; nil: not known yet
}

// barsGo is the least number of bars to go, whatever they cost.
func (a *answerer) barsGo(ctx context.Context) (_ *survey, err error) {
	if a.bars == nil {
		a.bars, err = a.searcher.barsGo(ctx)
	}
	return a.bars, err
}

// shortest is a lap of the fewest bars.
func (a *answerer) shortest(ctx context.Context) (_ *Lap, err error) {
	if a.short == nil {
		a.short, a.fewest, err = a.searcher.fewestBars(ctx)
	}
	return a.fewest, err
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
	barsGo, err := a.barsGo(ctx)
	if err != nil {
		return conflict.Unknown, nil, err
	}
	if most := p.Limits.MaxBars; most > 0 {
		if a.searcher.leastBars(barsGo) > int32(most) {
			return conflict.Impossible, nil, nil
		}
		switch fewest, err := a.shortest(ctx); {
		case err != nil:
			return conflict.Unknown, nil, err
		case fewest.Bars > most:
			return conflict.Impossible, nil, nil
		case p.keepsAll(fewest):
			return conflict.Possible, fewest, nil
		}
	}
	other := *a.searcher
	other.problem = p
	b := newBeam(&other, narrowBeam, barsGo, int32(a.plain.Bars))
	if err := b.run(ctx, 0); err != nil {
		return conflict.Unknown, nil, err
	}
	if b.found {
		// The beam does not know of all limits.
		if lap := a.searcher.plan.lap(b.trail()); p.keepsAll(lap) {
			return conflict.Possible, lap, nil
		}
	}
	return a.exhaust(ctx, p)
}

// leastBars is a number of bars that every lap takes at least, known at once.
func (s *searcher) leastBars(barsGo *survey) int32 {
	least := int32(unreachable)
	for _, t := range s.starts {
		least = min(least, barsGo.at(0, t.place, s.grouping.groupOf[t.post]))
	}
	return least
}

// serves reports whether what is remembered serves a problem.
func (a *answerer) serves(p *Problem) bool {
	return a.searcher != nil && sameButLimits(a.problem, p) && a.problem.Limits.moves() == p.Limits.moves()
}

// prepare solves the problem with no limits but those on moves, unless that has been
// done already.
func (a *answerer) prepare(ctx context.Context, p *Problem) error {
	if a.serves(p) {
		return nil
	}
	var before *answerer
	if a.searcher != nil && sameButLimits(a.problem, p) {
		last := *a
		last.before, before = nil, &last
		if a.before != nil && a.before.serves(p) {
			*a = *a.before
			a.before = before
			return nil
		}
	}
	own := *p
	own.Limits = p.Limits.onlyMoves()
	s, err := prepare(ctx, &own, nil)
	if err != nil {
		return err
	}
	*a = answerer{before: before, problem: &own, searcher: s}
	if len(s.starts) == 0 {
		return nil
	}
	best, _, err := s.plain(ctx)
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
