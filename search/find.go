package search

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search/export"
	"lapwright/search/routine"
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
	placed   bool  // there is a place to start from
	guess    int32 // a limit that is worth trying first; 0: none
	tell     func(Progress)
	result   *Result
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
	if s.guess, err = s.lapByLap(ctx); err != nil {
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

// sortStarts puts the starts with the least bounds first.
func (s *searcher) sortStarts() {
	slices.SortStableFunc(s.starts, func(a, b target) int { return cmp.Compare(s.least(a), s.least(b)) })
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

// leap is the part of the rough bound by which a first limit is above it.
const leap = 20

// endurance is how many states are expanded before a closer bound is made.
const endurance = 100_000

// patience is how many limits are tried before the steps between them grow.
const patience = 4

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
	return fmt.Errorf("the room is too large for so many figures: %d places and stances, of which at most %d can be searched", states, uint64(maxStates))
}

// findStarts lists the places and posts in which a lap may begin.
func (s *searcher) findStarts() error {
	pl := s.plan
	l := &pl.ground.layers[0]
	start := DefaultStart(s.problem.Room, l.wall)
	given := s.problem.Start != nil
	placed := given && s.problem.Start.At != nil
	if placed {
		start.At = s.problem.Start.At
	}
	c := floors.CellAt(*start.At)
	if !l.holds(c) || l.usable[l.place(c)]&inUse == 0 {
		if !placed {
			return nil
		}
		return notOnFloor(s.problem.Room, start)
	}
	s.placed = true
	for i, q := range pl.posts {
		if !given && commonStart(q.stance) || given && q.stance == s.problem.Start.Stance {
			s.starts = append(s.starts, target{l.place(c), int32(i)})
		}
	}
	return nil
}

// DefaultStart is where a lap along a wall begins when no place is given: in the
// lane just out of the corner, or the nearest place to it where a couple has
// room to stand. Where there is none along the first half of the wall it is a
// place in the room's frame that is not on the floor.
func DefaultStart(room *floors.Room, wall int) routine.Start {
	w := &room.Walls[wall]
	enough := figures.FrameRadius() + room.Margin
	best := floors.CellAt(w.Place(0, -1)) // behind the wall
	clear := math.Inf(-1)
	for i := 0.0; clear < enough && i <= w.Length/2; i += 0.25 {
		for _, aside := range []float64{0, 0.25, -0.25, 0.5, 0.75, 1} {
			c := floors.CellAt(w.Place(math.Min(w.Length/2, w.Lane+1.5)+i, w.Lane+aside))
			if free := room.Clearance(c.Point()); room.InUse(wall, c.Point()) && clear < enough && free > clear {
				best, clear = c, free
			}
		}
	}
	at := best.Point()
	return routine.Start{Wall: wall, At: &at, Stance: figures.Stance{Facing: figures.DiagonalToWall, Free: figures.RightFoot}}
}

// commonStart reports whether a stance is one in which a lap is usually begun:
// closed hold, facing along the line of dance or diagonally off it.
func commonStart(s figures.Stance) bool {
	switch s.Facing {
	case figures.LineOfDance, figures.DiagonalToCentre, figures.DiagonalToWall:
		return s.Hold == figures.Closed
	}
	return false
}

// least is a rough bound at a start.
func (s *searcher) least(t target) int32 {
	return s.rough.at(0, t.place, s.grouping.groupOf[t.post])
}

// plain finds the best lap from any of the starts without regard to limits that
// depend on the past; nil when there is none. No lap costs less than the bound. When
// ctx ends before, the best so far comes with its error.
func (s *searcher) plain(ctx context.Context) (best *trail, bound int32, err error) {
	r := &race{searcher: s, cost: unreachable, keptCost: unreachable}
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

// lapByLap is a little more than what a routine of several laps costs if each is as good as the
// best lap by itself; 0 for one lap, or where there is none. It costs little to find,
// and a limit that is just above what there is spares most of the work.
func (s *searcher) lapByLap(ctx context.Context) (int32, error) {
	laps := int32(s.problem.rounds())
	if laps == 1 {
		return 0, nil
	}
	one := *s.problem
	one.Laps, one.Limits, one.Count, one.Export = 1, Limits{}, 1, false
	lap, err := prepare(ctx, &one, nil)
	if err != nil || len(lap.starts) == 0 {
		return 0, err
	}
	_, cost, err := lap.plain(ctx)
	if err != nil || cost == unreachable {
		return 0, err
	}
	s.kernel.expanded += lap.kernel.expanded
	s.kernel.generated += lap.kernel.generated
	return laps*cost + 1, nil
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
		switch {
		case n == 1 && r.guess > limit:
			limit = r.guess
		default:
			limit += ahead
		}
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
		p.Best = inBars(r.keptCost)
	}
	r.tell(p)
}

// startsByStance puts the starts of one stance together; those with the least
// bound come first.
func (s *searcher) startsByStance() (groups [][]target) {
	number := map[figures.Stance]int{}
	for _, t := range s.starts {
		stance := s.plan.posts[t.post].stance
		i, known := number[stance]
		if !known {
			i = len(groups)
			number[stance] = i
			groups = append(groups, nil)
		}
		groups[i] = append(groups[i], t)
	}
	return groups
}

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
