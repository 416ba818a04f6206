package search

import (
	"context"
	"errors"
	"fmt"

	"lapwright/search/export"
)

// Progress is how far a search has come.
type Progress struct {
	// Ahead is how much of the floor has been looked at from the end of the lap
	// backward, from 0 to 1, while that is what the search is about.
	Ahead    float64
	Expanded int
	Starts   int     // starts settled so far
	Of       int     // starts to be tried
	Least    float64 // no lap within the limits costs less, in bars
	Best     float64 // cost of the best lap within the limits so far in bars; 0: none yet
	Lap      *Lap    // that lap, told once, when it is new; nil otherwise
}

// Result is what a search found and what it took.
type Result struct {
	Lap       *Lap     // nil when there is none
	Laps      []*Lap   // the lap, and others that differ where several are asked for
	Spread    *Spread  // how much they differ; nil when there is no lap
	Why       []string // why there is none, in words
	Starts    int      // starts that could be tried
	States    uint64   // of the finite graph
	Posts     int      // stances, told apart by what the next join costs
	Edges     int      // variants × entries × scales
	Expanded  int
	Generated int
	// Instance is the graph of all laps that cost no more than the one found, where
	// that was asked for.
	Instance *export.Instance
	// Stopped tells that ctx ended before the search was through; the lap is the
	// best so far.
	Stopped bool
}

// searcher is one search under way.
type searcher struct {
	problem  *Problem
	plan     *plan
	grouping *grouping
	rough    *survey // backward, from where any lap may end; complete
	near     *survey // forward, from where the lap in hand may begin, guided by the rough one
	byPost   *sketch // as fine as the near survey, telling posts apart; nil until it is wanted
	kernel   *kernel
	kept     *trail // the best lap that keeps to the limits, of those that were found without them
	starts   []target
	placed   bool   // there is a place to start from
	first    *trail // a lap that is known before the search for the best; nil: none
	tell     func(Progress)
	shown    *trail // the lap that was told last
	result   *Result
}

// news is a lap that has not been told yet; nil where it has been, or there is none.
func (s *searcher) news(t *trail) *Lap {
	if t == nil || t == s.shown {
		return nil
	}
	s.shown = t
	return s.plan.lap(*t)
}

// Find looks for the best lap once round the room: it ends in the stance and,
// within [Tolerance], at the place in which it began, so that it can be danced
// again and again.
//
// Without limits the lap is the best of all that begin at the given or chosen
// starts, and proven so. With limits it is the best that was found, with what is
// proven of it beside it. When ctx ends, by a deadline or otherwise, the result is
// the best lap so far with its bound. The result has no lap when there is none, or
// none was found, and says why. An error means that the problem makes no sense, or
// that ctx ended before any lap was found.
func Find(ctx context.Context, p *Problem, tell func(Progress)) (*Result, error) {
	s, err := prepare(ctx, p, tell)
	if err != nil {
		return nil, err
	}
	if len(s.starts) == 0 {
		s.result.Why, err = s.noLapEver(ctx, s.noStart())
		return s.result, err
	}
	moves := s.problem.Limits.onlyMoves()
	if s.first, err = s.lapByLap(ctx, &moves); err != nil {
		return nil, err
	}
	best, bound, err := s.plain(ctx)
	switch {
	case best == nil && err != nil:
		return nil, err
	case best == nil:
		if s.result.Why, err = s.noLapEver(ctx, s.noLap()); err != nil {
			return nil, err
		}
	case err != nil && s.kept == nil:
		return nil, err
	case err != nil || s.keepsPast(best):
		best = s.kept
		lap := s.plan.lap(*best)
		s.result.Lap, lap.Bound = lap, inBars(bound)
		lap.Proven = lap.Costs.Total() <= lap.Bound
	default:
		if best, err = s.limited(ctx, *best); err != nil {
			return nil, err
		}
	}
	if s.result.Lap != nil {
		if err := s.several(ctx, *best); err != nil {
			return nil, err
		}
		if p.Export && ctx.Err() == nil {
			if err := s.export(ctx); err != nil {
				return nil, err
			}
		}
	}
	s.result.Expanded, s.result.Generated = s.kernel.expanded, s.kernel.generated
	s.result.Stopped = ctx.Err() != nil && s.result.Lap != nil && !s.result.Lap.Proven
	return s.result, nil
}

// prepare checks a problem and compiles it.
func prepare(ctx context.Context, p *Problem, tell func(Progress)) (*searcher, error) {
	p, err := p.settled()
	if err != nil {
		return nil, err
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if tell == nil {
		tell = func(Progress) {}
	}
	first := 0
	if p.Start != nil {
		first = p.Start.Wall
	}
	g := newGround(p.Room, p.Weights, first, p.rounds())
	pl := compile(p, g)
	states := g.states * uint64(len(pl.posts))
	if states >= maxStates {
		return nil, tooLarge(states, p.rounds())
	}
	s := &searcher{problem: p, plan: pl, tell: tell, result: &Result{States: states, Posts: len(pl.posts), Edges: len(pl.edges)}}
	s.grouping = newGrouping(pl)
	if err := s.findStarts(); err != nil {
		return nil, err
	}
	if err := s.survey(ctx); err != nil {
		return nil, err
	}
	s.sortStarts()
	s.result.Starts = len(s.starts)
	return s, nil
}

// The cells of the surveys in metres, along and across the lane.
const (
	roughAlong, roughAcross = 0.5, 0.1
	nearAlong, nearAcross   = 0.25, 0.05
)

// survey makes the rough survey, and makes the others ready.
func (s *searcher) survey(ctx context.Context) error {
	costs := s.grouping.costs()
	slope := s.grouping.slope(costs, roughAlong)
	s.rough = newSketch(s.grouping, costs, grain{roughAlong, roughAcross, slope}, false).survey(true, nil)
	s.fromEnds(s.rough, s.starts)
	last := len(s.plan.ground.layers) - 1
	s.rough.tell = func(layer int) {
		s.tell(Progress{Ahead: float64(last-layer) / float64(last+1), Of: len(s.starts)})
	}
	if err := s.rough.run(ctx); err != nil {
		return err
	}
	s.near = newSketch(s.grouping, costs, grain{nearAlong, nearAcross, slope}, false).survey(false, s.rough)
	s.kernel = newKernel(s.grouping)
	return nil
}

// look makes the near survey from some starts, for laps that cost a limit or less.
func (s *searcher) look(ctx context.Context, starts []target, limit int32) error {
	s.near.begin(limit)
	for _, t := range starts {
		s.near.from(0, t.place, t.post, 0)
	}
	return s.near.run(ctx)
}

// closer is a survey that tells posts apart, from starts from which the near survey
// has been made, with its limit; nil when no lap costs so little. The near survey
// guides one back from the ends, and that one guides it.
func (s *searcher) closer(ctx context.Context, starts, ends []target) (*survey, error) {
	back := s.near.sketch.survey(true, s.near)
	back.tell = s.near.tell
	back.begin(s.near.limit)
	s.fromEnds(back, ends)
	if err := back.run(ctx); err != nil {
		return nil, err
	}
	if len(back.touched) == 0 {
		return nil, nil
	}
	if s.byPost == nil {
		s.byPost = newSketch(s.grouping, s.grouping.costs(), s.near.grain, true)
	}
	closer := s.byPost.survey(false, back)
	closer.tell = s.near.tell
	closer.begin(s.near.limit)
	for _, t := range starts {
		closer.from(0, t.place, t.post, 0)
	}
	return closer, closer.run(ctx)
}

// fromEnds gives a survey the places and posts in which a lap may end.
func (s *searcher) fromEnds(v *survey, ends []target) {
	last := len(s.plan.ground.layers) - 1
	for _, t := range ends {
		s.plan.ends(t, func(place int, gap int32) { v.from(last, place, t.post, gap) })
	}
}

// maxStates is the size of the largest finite graph that is searched; its
// records are only touched where the search comes by.
const maxStates = 1 << 29

// tooLarge says so of a room and so many laps, and how many laps could be searched. All
// laps have as many states, and there are a few besides for the end.
func tooLarge(states uint64, laps int) error {
	if n := maxStates / (states / uint64(laps)); laps > 1 && n > 1 {
		return fmt.Errorf("%d laps of this room with so many figures are too many: %d places and stances, of which at most %d can be searched; ask for fewer than %d laps, or for fewer figures",
			laps, states, uint64(maxStates), min(n+1, uint64(laps)))
	}
	return fmt.Errorf("%w for so many figures: %d places and stances, of which at most %d can be searched", ErrTooLarge, states, uint64(maxStates))
}

// ErrTooLarge tells that a room has more places and stances than can be searched.
var ErrTooLarge = errors.New("the room is too large")

// closed is the cost of a trail, given when it begins in its own post, as one
// that begins in the post in which it ends.
func (pl *plan) closed(t trail, end int32, cost int32) int32 {
	if len(t.steps) == 0 || end == t.start.post {
		return cost
	}
	first, kind := t.steps[0], 0
	if first.corner {
		kind = pl.kindOf[0]
	} else if pl.posts[end].corner {
		return unreachable
	}
	was, _ := pl.step(t.start.post, kind, first.edge)
	is, _ := pl.step(end, kind, first.edge)
	return cost - pl.joinCost(was) + pl.joinCost(is)
}
