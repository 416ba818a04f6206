package search

import (
	"cmp"
	"container/heap"
	"context"
	"math"
	"slices"

	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search/routine"
)

// wayList is ways of dancing a stretch.
type wayList struct {
	list []way
	all  bool // no place or stance was left out
}

// way is one of them.
type way struct {
	steps []routine.Step
	end   floors.Cell
}

// How much of the floor is looked at: so many places and stances after each bar, so
// many ways that differ in their figures, so many looks for them, and at first so many at
// tails with the same figures.
const (
	widestVaried = 6000
	mostWays     = 400
	mostLooks    = 400000
	mostAlike    = 16
)

// spot is a place, a stance and a number of bars danced, with all that leads to it.
type spot struct {
	layer, place, post int32
	cell               floors.Cell
	cost               int32 // the least to come here
	into               []cameBy
}

// cameBy is a figure that leads to a spot.
type cameBy struct {
	from   *spot
	edge   int32
	cost   int32
	corner bool
}

type spotKey struct{ layer, place, post int32 }

// findWays looks, bar by bar, at every place and stance in which the couple can be on
// its way to the end of a stretch (dynamic programming; where they are too many, the
// cheapest), and lists the cheapest ways that differ in their figures.
func (v *varying) findWays(ctx context.Context, k int, from, to stop, corners int, next *routine.Step, ends func(floors.Cell) bool) (*wayList, error) {
	out, s := &wayList{all: true}, &v.Stretches[k]
	pl := compile(v.problem, newGround(v.Room, v.problem.Weights, from.wall, 1))
	f := &wayFinder{plan: pl, from: from, to: to, last: int32(corners), next: next, ends: ends, problem: v.problem, stretch: s,
		tolerance: int(math.Floor(s.Tolerance/floors.Step + 1e-6)), queue: make([]map[spotKey]*spot, s.MaxBars+1), end: &spot{}}
	for i := range pl.edges {
		e := &pl.edges[i]
		for _, shape := range e.shapes {
			f.reach = math.Max(f.reach, shape.shift.Point().Len()/float64(e.bars))
		}
	}
	if k == 0 {
		f.opening, f.corner = v.Begin, v.BeginCorner
	}
	f.end.cost = unreachable
	f.pace = f.course(0, from.cell) / float64(s.MaxBars)
	back, err := f.newRejoining(ctx, f.ending(), NewReach(&States{plan: pl, posts: State(len(pl.posts)), walls: len(v.Room.Walls)}))
	if err != nil {
		return nil, err
	}
	f.back = back
	f.begin()
	for bar := 1; bar < len(f.queue); bar++ {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		list, all := f.choose(bar)
		out.all = out.all && all
		for _, at := range list {
			f.expand(at, bar)
		}
		f.queue[bar] = nil
	}
	out.list = f.cheapest(out)
	return out, nil
}

// wayFinder finds the ways of one stretch.
type wayFinder struct {
	plan      *plan
	problem   *Problem
	stretch   *Stretch
	from, to  stop
	last      int32                  // the layer in which it ends
	next      *routine.Step          // danced afterwards; nil at the end of the routine
	ends      func(floors.Cell) bool // tells whether what stays can be danced from a place
	tolerance int                    // in cells
	reach     float64                // metres that a figure travels at most in a bar
	pace      float64                // metres of the way that are to be gone in a bar
	back      *rejoining
	queue     []map[spotKey]*spot
	opening   []*figures.Variant // the figure that comes first; none: any
	corner    routine.Corner     // of that
	start     *spot
	end       *spot // all ways lead there
}

// ending are the places in which the stretch may end.
func (f *wayFinder) ending() []floors.Cell {
	l := &f.plan.ground.layers[f.last]
	var all []floors.Cell
	for y := -f.tolerance; y <= f.tolerance; y++ {
		for x := -f.tolerance; x <= f.tolerance; x++ {
			c := f.to.cell.Add(floors.Cell{X: x, Y: y})
			if x*x+y*y <= f.tolerance*f.tolerance && l.holds(c) && l.usable[l.place(c)] != 0 && f.ends(c) {
				all = append(all, c)
			}
		}
	}
	return all
}

// begin dances the first figures, which join what was danced before.
func (f *wayFinder) begin() {
	l := &f.plan.ground.layers[0]
	f.start = &spot{cell: f.from.cell}
	if !l.holds(f.from.cell) {
		return
	}
	f.start.place = int32(l.place(f.from.cell))
	for k, edges := range f.plan.ways(f.from.stance) {
		if k > 0 && k != f.plan.kindOf[0] || k == 0 && f.from.before != nil && f.from.before.Corner {
			continue
		}
		var moves []move
		for _, e := range edges {
			var code byte
			if f.from.before != nil {
				code = f.plan.joinCode(f.from.before, f.plan.edges[e].variant)
			}
			if code&joinRefused == 0 && f.opens(f.plan.edges[e].variant, k > 0) {
				moves = append(moves, move{e, f.plan.leads[e], f.plan.edges[e].cost + f.plan.joinCost(code)})
			}
		}
		f.dance(f.start, 0, moves, k > 0)
	}
}

// opens reports whether a stretch may begin with a figure, danced round a corner or not.
func (f *wayFinder) opens(v *figures.Variant, corner bool) bool {
	return len(f.opening) == 0 || slices.Contains(f.opening, v) &&
		(f.corner == routine.Unsaid || (f.corner == routine.Take) == corner)
}

// expand dances every figure that can follow.
func (f *wayFinder) expand(at *spot, bar int) {
	f.dance(at, bar, f.plan.moves[0][at.post], false)
	f.dance(at, bar, f.plan.moves[f.plan.kindOf[at.layer]][at.post], true)
}

// dance dances figures on, along the same wall or round its corner along the next.
func (f *wayFinder) dance(from *spot, bar int, moves []move, corner bool) {
	layer := from.layer
	if corner {
		layer++
	}
	if layer > f.last {
		return
	}
	l := &f.plan.ground.layers[layer]
	// off is how many cells a place is from where the stretch ends.
	off := func(place int) (dx, dy int) {
		cell := l.cell(place)
		return cell.X - f.to.cell.X, cell.Y - f.to.cell.Y
	}
	inTime := func(m *move, to int) bool {
		left := f.stretch.MaxBars - bar - int(f.plan.edges[m.edge].bars)
		dx, dy := off(to)
		return left >= 0 && math.Hypot(float64(dx), float64(dy))*floors.Step <= f.reach*float64(left)+f.stretch.Tolerance+floors.Step
	}
	f.plan.dance(int(from.layer), int(from.place), moves, corner, inTime, func(m *move, to int, cost int32) bool {
		f.arrive(cameBy{from, m.edge, cost, corner}, bar+int(f.plan.edges[m.edge].bars), spotKey{layer, int32(to), m.to}, off)
		return true
	})
}

// arrive notes that a figure ends at a spot after so many bars, and that the stretch
// may end with it.
func (f *wayFinder) arrive(by cameBy, bar int, key spotKey, off func(place int) (dx, dy int)) {
	e := &f.plan.edges[by.edge]
	dx, dy := off(int(key.place))
	if key.layer == f.last && bar >= f.stretch.MinBars && e.exit == f.to.stance && dx*dx+dy*dy <= f.tolerance*f.tolerance && f.goesOn(e.variant) && f.ends(f.plan.ground.layers[key.layer].cell(int(key.place))) {
		f.end.come(by)
	}
	if bar == f.stretch.MaxBars || !f.back.holds(f.stretch.MaxBars-bar, key, f.plan.ground.layers[key.layer].cell(int(key.place))) {
		return
	}
	if f.queue[bar] == nil {
		f.queue[bar] = map[spotKey]*spot{}
	}
	to := f.queue[bar][key]
	if to == nil {
		to = &spot{layer: key.layer, place: key.place, post: key.post, cell: f.plan.ground.layers[key.layer].cell(int(key.place)), cost: unreachable}
		f.queue[bar][key] = to
	}
	to.come(by)
}

// come notes a figure that leads to a spot.
func (s *spot) come(by cameBy) {
	s.into = append(s.into, by)
	s.cost = min(s.cost, by.from.cost+by.cost)
}

// goesOn reports whether what stays can be danced after a figure.
func (f *wayFinder) goesOn(v *figures.Variant) bool {
	if f.next == nil {
		return !v.Corner
	}
	return f.plan.joinCode(v, f.next.Variant)&joinRefused == 0 && (!v.Corner || f.next.Corner == routine.Take)
}

// offPace is the cost in hundredths of a bar of each metre that a couple is ahead of
// the pace of the routine, or behind, when the spots to go on from are chosen.
const offPace = 60

// choose lists the spots after so many bars, the same way each time: where they are
// too many, those that cost least and come nearest to the pace.
func (f *wayFinder) choose(bar int) (list []*spot, all bool) {
	ranks := map[*spot]int32{}
	for _, s := range f.queue[bar] {
		list = append(list, s)
		off := f.course(s.layer, s.cell) - f.pace*float64(f.stretch.MaxBars-bar)
		ranks[s] = s.cost + int32(offPace*math.Abs(off))
	}
	slices.SortFunc(list, func(a, b *spot) int {
		return cmp.Or(cmp.Compare(ranks[a], ranks[b]), cmp.Compare(a.layer, b.layer), cmp.Compare(a.place, b.place), cmp.Compare(a.post, b.post))
	})
	if len(list) > widestVaried {
		return list[:widestVaried], false
	}
	return list, true
}

// course is about how far in metres a couple still has to go to the end: from where
// the lanes of two walls meet to where the next ones do.
func (f *wayFinder) course(layer int32, cell floors.Cell) float64 {
	sum, at := 0.0, cell.Point()
	for ; layer < f.last; layer++ {
		meet := f.problem.Room.Walls[f.plan.ground.layers[layer].wall].Meet
		sum += meet.Sub(at).Len()
		at = meet
	}
	return sum + f.to.cell.Point().Sub(at).Len()
}

// tail is the end of a way, from a spot on.
type tail struct {
	at    *spot
	after *tail
	by    cameBy // the figure that leads from at to after
	cost  int32  // of the figures
	count int    // of tails found before
	names int    // number of its figures, which other tails may have too
}

// namesKey is a figure before those that have a number.
type namesKey struct {
	first *figures.Variant
	names int
}

// cheapest lists ways from the cheapest on, by going back from the end with the exact
// cost from the start (A*; Hart, Nilsson and Raphael 1968). Of ways with the same
// figures the cheapest is listed. Of tails with the same figures, which differ in strides
// and in where a corner is taken, only so many are looked at as long as there are others.
func (f *wayFinder) cheapest(out *wayList) (list []way) {
	numbers := map[namesKey]int{} // of the figures of tails
	looked := []int{0}            // by number: how many tails were looked at
	listed := map[int]bool{}      // by number
	open := &tails{{at: f.end}}
	found := 1
	var late tails
	alike := mostAlike
	for looks := 0; len(*open) > 0 || len(late) > 0; looks++ {
		if len(*open) == 0 {
			*open, late, alike = late, nil, 8*alike
			heap.Init(open)
		}
		if looks == mostLooks || len(list) == mostWays {
			out.all = false
			return list
		}
		t := heap.Pop(open).(*tail)
		if t.at == f.start {
			if !listed[t.names] {
				listed[t.names] = true
				list = append(list, f.way(t))
			}
			continue
		}
		if looked[t.names] >= alike {
			late = append(late, t)
			continue
		}
		looked[t.names]++
		for _, by := range t.at.into {
			if by.from.cost == unreachable {
				continue
			}
			key := namesKey{f.plan.edges[by.edge].variant, t.names}
			number, known := numbers[key]
			if !known {
				number = len(looked)
				numbers[key], looked = number, append(looked, 0)
			}
			heap.Push(open, &tail{by.from, t, by, t.cost + by.cost, found, number})
			found++
		}
	}
	return list
}

// way is a way from its start.
func (f *wayFinder) way(t *tail) way {
	w := way{end: f.from.cell}
	layer := 0
	for ; t.at != f.end; t = t.after {
		e := &f.plan.edges[t.by.edge]
		corner := routine.Stay
		if t.by.corner {
			corner = routine.Take
			layer++
		}
		w.steps = append(w.steps, routine.Step{Variant: e.variant, Scale: f.problem.Scales[e.scale].Share, Corner: corner})
		w.end = w.end.Add(e.shapes[f.plan.ground.layers[layer].wall].shift)
	}
	return w
}

// tails is the open list of ways, the cheapest on top.
type tails []*tail

func (t tails) Len() int { return len(t) }
func (t tails) Less(i, j int) bool {
	a, b := t[i].at.cost+t[i].cost, t[j].at.cost+t[j].cost
	return a < b || a == b && t[i].count > t[j].count
}
func (t tails) Swap(i, j int) { t[i], t[j] = t[j], t[i] }
func (t *tails) Push(x any)   { *t = append(*t, x.(*tail)) }
func (t *tails) Pop() any {
	last := (*t)[len(*t)-1]
	*t = (*t)[:len(*t)-1]
	return last
}
