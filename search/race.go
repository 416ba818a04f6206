package search

import (
	"context"
	"errors"
)

// leap is the part of the rough bound by which a first limit is above it.
const leap = 20

// endurance is how many states are expanded before a closer bound is made.
const endurance = 100_000

// patience is how many limits are tried before the steps between them grow.
const patience = 4

// plain finds the best lap from any of the starts without regard to limits that
// depend on the past; nil when there is none. No lap costs less than the bound. When
// ctx ends before, the best so far comes with its error.
func (s *searcher) plain(ctx context.Context) (best *trail, bound int32, err error) {
	r := &race{searcher: s, cost: unreachable, keptCost: unreachable}
	if s.first != nil {
		r.take(*s.first, hundredths(s.plan.lap(*s.first).Costs.Total()))
	}
	stances := s.startsByStance()
	for i, starts := range stances {
		least := s.least(starts[0])
		if least >= r.cost {
			break
		}
		if r.others = r.leastOpen(unreachable); i+1 < len(stances) {
			r.others = min(r.others, s.least(stances[i+1][0]))
		}
		if err := r.try(ctx, starts); err != nil {
			return r.best, r.leastOpen(least), err
		}
		r.tried += len(starts)
	}
	// Where the lap of a stance begins in one post and ends in another, its cost
	// says how good the best can be; now each post is tried by itself.
	for n, o := range r.open {
		for i := 0; i < len(o.starts) && o.least < r.cost; i++ {
			one := o.starts[i : i+1]
			r.others = unreachable
			for j := n; j < len(r.open); j++ {
				if j > n || i+1 < len(o.starts) {
					r.others = min(r.others, r.open[j].least)
				}
			}
			start, cost, ok, err := r.settle(ctx, one, one)
			if err != nil {
				return r.best, r.leastOpen(r.cost), err
			}
			if ok {
				r.take(r.kernel.trail(start), cost)
			}
		}
	}
	return r.best, r.cost, nil
}

// race is the search for the best lap over several starts.
type race struct {
	*searcher
	best     *trail
	cost     int32 // of the best
	keptCost int32 // of the best that keeps to the limits
	tried    int   // starts that are settled, or of which the least cost is known
	open     []openStarts
	others   int32 // no lap costs less from the starts that are not tried at the moment, or as much as the best
	told     int32 // that no lap costs less, as told last
}

// take takes a lap, which is better than the best so far.
func (r *race) take(t trail, cost int32) {
	r.best, r.cost = &t, cost
	if cost < r.keptCost && r.keepsPast(&t) {
		r.kept, r.keptCost = &t, cost
		r.report(r.told)
	}
}

// openStarts are the starts of one stance of which only the least cost of a lap
// is known.
type openStarts struct {
	starts []target
	least  int32
}

// leastOpen is the least that a lap costs of the starts of which only that is known,
// or so much.
func (r *race) leastOpen(least int32) int32 {
	for _, o := range r.open {
		least = min(least, o.least)
	}
	return least
}

// try looks for a better lap from the starts of one stance: one that begins in
// the post of any of them and ends in that of any.
func (r *race) try(ctx context.Context, starts []target) error {
	start, found, ok, err := r.settle(ctx, starts, starts)
	if !ok || err != nil {
		return err
	}
	t := r.kernel.trail(start)
	end := r.plan.endPost(t)
	closed := r.plan.closed(t, end, found)
	if closed < r.cost {
		t.start.post = end
		r.take(t, closed)
	}
	if closed != found {
		r.open = append(r.open, openStarts{starts, found})
	}
	return nil
}

// settle finds the least cost of a lap from any of the starts to any of the ends,
// if that is better than the best so far.
func (r *race) settle(ctx context.Context, starts, ends []target) (start target, cost int32, ok bool, err error) {
	r.near.tell = func(int) { r.report(r.least(starts[0])) }
	// A lap costs less than the limit that is tried if there is any so cheap;
	// when none is found, more is tried. Where there is a lap already, only what
	// is cheaper is of use.
	limit := r.least(starts[0])
	for n, ahead := 1, limit/leap+1; ; n++ {
		if n > patience {
			ahead *= 2
		}
		limit += ahead
		if limit > r.cost || r.best != nil {
			limit = r.cost
		}
		if err := r.look(ctx, starts, limit); err != nil {
			return start, 0, false, err
		}
		r.kernel.begin(r.near, starts, ends, limit)
		r.kernel.most = r.kernel.expanded + endurance
		start, cost, ok, err = r.kernel.run(ctx, r.report)
		if errors.Is(err, errGivenUp) {
			var bound *survey
			if bound, err = r.closer(ctx, starts, ends); err == nil && bound != nil {
				r.kernel.begin(bound, starts, ends, limit)
				start, cost, ok, err = r.kernel.run(ctx, r.report)
			}
		}
		if ok || err != nil || limit == r.cost || !r.near.cut && !r.kernel.cut {
			return start, cost, ok, err
		}
	}
}

// report tells how far the race has come, when no lap costs less than so much from the
// starts that are tried.
func (r *race) report(least int32) {
	r.told = max(r.told, min(least, r.others, r.cost))
	p := Progress{Expanded: r.kernel.expanded, Starts: r.tried, Of: len(r.starts), Least: inBars(r.told)}
	if r.keptCost != unreachable {
		p.Best, p.Lap = inBars(r.keptCost), r.news(r.kept)
	}
	r.tell(p)
}
