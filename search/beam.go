package search

import (
	"cmp"
	"context"
	"slices"
)

// partial is a partial lap in the beam search: a state with the way that led to
// it, from which what it has used can be told.
type partial struct {
	layer  int32
	place  int32
	post   int32
	start  int32 // number of the start
	bar    int32 // bars danced
	cost   int32
	least  int32 // cost and bound to go
	parent int32 // number in beam.labels of the label before; -1 at a start
	edge   int32
	corner bool
	done   uint64 // which of the figures that must be danced have been
}

// beam is a beam search (Lowerre 1976) by bars: of all partial laps that have
// taken the same number of bars, only the most promising go on.
type beam struct {
	*searcher
	width  int
	barsGo *survey     // least number of bars to go
	price  int32       // least cost of a bar
	queue  [][]partial // by bars: the labels that end there and may be chosen
	labels []partial   // those that were chosen
	must   map[int32]uint64
	all    uint64 // every figure that must be danced
	most   int32  // greatest number of bars

	way   *keeper // scratch: what was danced on the way to a label
	whole *keeper // scratch: the same of one that may close the lap
	past  []int32 // scratch: its edges
	found bool
	best  partial // closes the best lap, if one was found
	cost  int32   // of the best lap
}

// slackBars is how many bars longer than the shortest lap a limited lap may be
// where no number of bars is asked for.
const slackBars = 48

// barsGo is the least number of bars to go, whatever they cost.
func (s *searcher) barsGo(ctx context.Context) (*survey, error) {
	bars := s.grouping.barsAlone()
	v := newSketch(s.grouping, bars, grain{roughAlong, roughAcross, s.grouping.slope(bars, roughAlong)}, false).survey(true, nil)
	s.fromEnds(v, s.starts)
	return v, v.run(ctx)
}

func newBeam(s *searcher, width int, barsGo *survey, plainBars int32) *beam {
	l := s.problem.Limits
	b := &beam{searcher: s, width: width, barsGo: barsGo, price: unreachable, cost: unreachable,
		must: map[int32]uint64{}, way: newKeeper(s), whole: newKeeper(s)}
	for i, m := range l.Must {
		number := int32(slices.Index(s.plan.figures, m))
		b.must[number] |= 1 << i
		b.all |= 1 << i
	}
	for i := range s.plan.edges {
		e := &s.plan.edges[i]
		b.price = min(b.price, e.cost/e.bars)
	}
	b.most = int32(l.MaxBars)
	if b.most == 0 {
		b.most = max(plainBars, int32(l.MinBars)) + slackBars
	}
	b.queue = make([][]partial, b.most+1)
	for i, t := range s.starts {
		b.add(partial{place: int32(t.place), post: t.post, start: int32(i), parent: -1, edge: -1})
	}
	return b
}

// add queues a label unless it cannot close the lap in time.
func (b *beam) add(l partial) {
	group := b.grouping.groupOf[l.post]
	togo, bars := b.rough.at(int(l.layer), int(l.place), group), b.barsGo.at(int(l.layer), int(l.place), group)
	if togo == unreachable || bars == unreachable || l.bar+bars > b.most {
		return
	}
	if short := int32(b.problem.Limits.MinBars) - l.bar; short > 0 {
		togo = max(togo, short*b.price)
	}
	l.least = l.cost + togo
	if l.least >= b.cost {
		return
	}
	b.queue[l.bar] = append(b.queue[l.bar], l)
	if int(l.layer) == len(b.plan.ground.layers)-1 {
		b.close(&l)
	}
}

func (b *beam) run(ctx context.Context, bound float64) error {
	for bar := range b.queue {
		first := len(b.labels)
		b.choose(b.queue[bar])
		b.queue[bar] = nil
		for i := first; i < len(b.labels); i++ {
			if b.labels[i].least < b.cost {
				b.expand(int32(i))
			}
		}
		if err := ctx.Err(); err != nil {
			return err
		}
		p := Progress{Expanded: b.kernel.expanded, Starts: bar, Of: len(b.queue), Least: bound}
		if b.found {
			p.Best = inBars(b.cost)
		}
		b.tell(p)
	}
	return nil
}

// choose keeps the most promising of the labels that have taken the same number
// of bars: the cheapest of those that stand alike, half the beam by their least
// cost and half spread over the room and over what has still to be danced.
func (b *beam) choose(labels []partial) {
	order := make([]int32, len(labels))
	for i := range order {
		order[i] = int32(i)
	}
	slices.SortFunc(order, func(x, y int32) int {
		p, q := &labels[x], &labels[y]
		return cmp.Or(cmp.Compare(p.least, q.least), cmp.Compare(q.cost, p.cost), cmp.Compare(x, y))
	})
	type alike struct {
		layer, place, post, start int32
		done, used                uint64
	}
	type region struct {
		layer, metre int32
		done         uint64
	}
	seen := map[alike]bool{}
	quota := map[region]int{}
	kept := 0
	for _, i := range order {
		l := &labels[i]
		if l.least >= b.cost {
			continue
		}
		key := alike{l.layer, l.place, l.post, l.start, l.done, b.used(l)}
		if seen[key] {
			continue
		}
		layer := &b.plan.ground.layers[l.layer]
		metre := int32(layer.along[l.place])
		where := region{l.layer, metre, l.done}
		if kept >= b.width/2 && quota[where] >= max(4, b.width/64) {
			continue
		}
		seen[key] = true
		quota[where]++
		b.labels = append(b.labels, *l)
		if kept++; kept == b.width {
			return
		}
	}
}

// used is a fingerprint of what the limits will still remember of a label's way:
// the figures that are used up, and when those that must rest were danced.
func (b *beam) used(at *partial) uint64 {
	l := b.problem.Limits
	if !l.past() {
		return 0
	}
	b.recall(b.way, at)
	h := uint64(14695981039346656037)
	mix := func(code uint64) { h = (h ^ code) * 1099511628211 }
	counting := l.Uses > 0 || l.Different > 0 || len(l.Orders) > 0
	for f, uses := range b.way.counts {
		code := uint64(0)
		if counting {
			code = uint64(uses) << 32
		}
		if rest := b.way.latest[f] + int32(l.Apart) - at.bar; l.Apart > 0 && uses > 0 && rest > 0 {
			code |= uint64(rest)
		}
		mix(code)
	}
	for _, uses := range b.way.capped {
		mix(uint64(uses))
	}
	if l.RightTurns > 0 {
		mix(uint64(b.way.right))
	}
	return h
}

// recall has a keeper dance a label's way.
func (b *beam) recall(way *keeper, at *partial) {
	b.past = b.past[:0]
	for ; at.parent >= 0; at = &b.labels[at.parent] {
		b.past = append(b.past, at.edge)
	}
	way.restart()
	for i := len(b.past) - 1; i >= 0; i-- {
		way.dance(b.past[i])
	}
}

// expand dances everything that the limits allow from a label.
func (b *beam) expand(i int32) {
	b.kernel.expanded++
	l := b.labels[i]
	b.recall(b.way, &l)
	b.follow(i, l.layer, b.plan.moves[0][l.post], false)
	if int(l.layer) < len(b.plan.ground.layers)-1 {
		b.follow(i, l.layer+1, b.plan.moves[b.plan.kindOf[l.layer]][l.post], true)
	}
}

func (b *beam) follow(i, layer int32, moves []move, corner bool) {
	from := b.labels[i]
	wall := b.plan.ground.layers[layer].wall
	allowed := func(m *move, _ int) bool {
		ok := from.bar+b.plan.edges[m.edge].bars <= b.most && b.way.allows(m.edge, wall)
		if ok {
			b.kernel.generated++
		}
		return ok
	}
	b.plan.dance(int(from.layer), int(from.place), moves, corner, allowed, func(m *move, to int, cost int32) bool {
		e := &b.plan.edges[m.edge]
		b.add(partial{layer: layer, place: int32(to), post: m.to, start: from.start, bar: from.bar + e.bars, cost: from.cost + cost,
			parent: i, edge: m.edge, corner: corner, done: from.done | b.must[e.figure]})
		return true
	})
}

// close takes a label as a lap if it ends where and as it should.
func (b *beam) close(l *partial) {
	start := b.starts[l.start]
	if l.post != start.post || l.done != b.all || l.bar < int32(b.problem.Limits.MinBars) {
		return
	}
	if b.recall(b.whole, l); !b.whole.ends() {
		return
	}
	c, at := b.plan.ground.layers[0].cell(start.place), b.plan.ground.layers[l.layer].cell(int(l.place))
	gap, near := b.plan.gap(at, c)
	if cost := l.cost + gap; near && cost < b.cost {
		b.found, b.best, b.cost = true, *l, cost
	}
}

// trail is the best lap that was found.
func (b *beam) trail() trail {
	t := trail{start: b.starts[b.best.start]}
	for at := &b.best; at.parent >= 0; at = &b.labels[at.parent] {
		t.steps = append(t.steps, trailStep{at.edge, at.corner})
	}
	slices.Reverse(t.steps)
	return t
}
