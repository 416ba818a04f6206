package search

import (
	"cmp"
	"context"
	"slices"
)

// label is a partial lap in the beam search: a state with the way that led to
// it, from which what it has used can be told.
type label struct {
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
	barsGo *survey   // least number of bars to go
	price  int32     // cost of a bar
	queue  [][]label // by bars: the labels that end there and may be chosen
	labels []label   // those that were chosen
	must   map[int32]uint64
	all    uint64 // every figure that must be danced
	most   int32  // greatest number of bars

	counts []int32 // scratch: uses of each figure on the way to a label
	latest []int32 // scratch: bar in which its last use began
	found  bool
	best   label // closes the best lap, if one was found
	cost   int32 // of the best lap
}

// widths are the breadths of beam that are tried until a lap is found.
var widths = []int{600, 4000}

// slackBars is how many bars longer than the shortest lap a limited lap may be
// where no number of bars is asked for.
const slackBars = 48

// limited looks for a lap that keeps to the limits; plain is the best without.
func (s *searcher) limited(ctx context.Context, plain *Lap) error {
	l := s.problem.Limits
	barsGo, err := s.barsGo(ctx)
	if err != nil {
		return err
	}
	bound := max(plain.Costs.Total(), float64(l.MinBars)*inBars(hundredths(s.problem.Weights.Bars)))
	for _, width := range widths {
		b := newBeam(s, width, barsGo, int32(plain.Bars))
		if err := b.run(ctx, bound); err != nil {
			return err
		}
		if b.found {
			s.result.Lap = s.plan.lap(b.trail())
			s.result.Lap.Bound = bound
			s.result.Lap.Proven = s.result.Lap.Costs.Total() <= bound
			return nil
		}
	}
	s.result.Why = s.noLimited(ctx, plain)
	return ctx.Err()
}

// barsGo is the least number of bars to go, whatever they cost.
func (s *searcher) barsGo(ctx context.Context) (*survey, error) {
	bars := s.grouping.barsAlone()
	v := newSketch(s.grouping, bars, grain{roughAlong, roughAcross, s.grouping.slope(bars, roughAlong)}, false).survey(true, nil)
	s.fromEnds(v, s.starts)
	return v, v.run(ctx)
}

func newBeam(s *searcher, width int, barsGo *survey, plainBars int32) *beam {
	l := s.problem.Limits
	b := &beam{searcher: s, width: width, barsGo: barsGo, price: hundredths(s.problem.Weights.Bars), cost: unreachable,
		must: map[int32]uint64{}, counts: make([]int32, len(s.plan.figures)), latest: make([]int32, len(s.plan.figures))}
	for i, m := range l.Must {
		number := int32(slices.Index(s.plan.figures, m))
		b.must[number] |= 1 << i
		b.all |= 1 << i
	}
	b.most = int32(l.MaxBars)
	if b.most == 0 {
		b.most = max(plainBars, int32(l.MinBars)) + slackBars
	}
	b.queue = make([][]label, b.most+1)
	for i, t := range s.starts {
		b.add(label{place: int32(t.place), post: t.post, start: int32(i), parent: -1, edge: -1})
	}
	return b
}

// add queues a label unless it cannot close the lap in time.
func (b *beam) add(l label) {
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
func (b *beam) choose(labels []label) {
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
func (b *beam) used(at *label) uint64 {
	l := b.problem.Limits
	if l.Uses == 0 && l.Apart == 0 {
		return 0
	}
	b.recall(at)
	bar := at.bar
	h := uint64(14695981039346656037)
	for f := range b.counts {
		code := uint64(0)
		if l.Uses > 0 {
			code = uint64(b.counts[f]) << 32
		}
		if rest := b.latest[f] + int32(l.Apart) - bar; l.Apart > 0 && b.counts[f] > 0 && rest > 0 {
			code |= uint64(rest)
		}
		h = (h ^ code) * 1099511628211
	}
	return h
}

// recall fills counts and latest with a label's way.
func (b *beam) recall(at *label) {
	clear(b.counts)
	for ; at.parent >= 0; at = &b.labels[at.parent] {
		e := &b.plan.edges[at.edge]
		if b.counts[e.figure]++; b.counts[e.figure] == 1 {
			b.latest[e.figure] = at.bar - e.bars
		}
	}
}

// expand dances everything that the limits allow from a label.
func (b *beam) expand(i int32) {
	b.kernel.expanded++
	l := b.labels[i]
	ground := b.plan.ground
	final := int32(len(ground.layers) - 1)
	use := ground.layers[l.layer].usable[l.place]
	b.recall(&l)
	if use&inUse != 0 {
		b.follow(i, l.layer, b.plan.moves[0][l.post], false)
	}
	if l.layer < final && use&inCorner != 0 {
		b.follow(i, l.layer+1, b.plan.moves[b.plan.kindOf[l.layer]][l.post], true)
	}
}

func (b *beam) follow(i, layer int32, moves []move, corner bool) {
	from := b.labels[i]
	limits := b.problem.Limits
	at := &b.plan.ground.layers[layer]
	cell := b.plan.ground.layers[from.layer].cell(int(from.place))
	for _, m := range moves {
		e := &b.plan.edges[m.edge]
		bar := from.bar + e.bars
		if bar > b.most || limits.Uses > 0 && b.counts[e.figure] >= int32(limits.Uses) ||
			limits.Apart > 0 && b.counts[e.figure] > 0 && from.bar-b.latest[e.figure] < int32(limits.Apart) {
			continue
		}
		shape := &e.shapes[at.wall]
		to := cell.Add(shape.shift)
		if !at.holds(to) {
			continue
		}
		place := at.place(to)
		if at.usable[place] == 0 {
			continue
		}
		b.kernel.generated++
		crowd := b.plan.crowd(shape, cell)
		if crowd == blocked {
			continue
		}
		b.add(label{layer: layer, place: int32(place), post: m.to, start: from.start, bar: bar,
			cost:   from.cost + m.cost + (int32(at.lane[place])+crowd)*e.bars,
			parent: i, edge: m.edge, corner: corner, done: from.done | b.must[e.figure]})
	}
}

// close takes a label as a lap if it ends where and as it should.
func (b *beam) close(l *label) {
	start := b.starts[l.start]
	if l.post != start.post || l.done != b.all || l.bar < int32(b.problem.Limits.MinBars) {
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

// keeps reports whether a lap keeps to the limits that depend on the past.
func (s *searcher) keeps(t *trail) bool {
	l := s.problem.Limits
	uses, latest := map[int32]int{}, map[int32]int{}
	bar := 0
	for _, step := range t.steps {
		e := &s.plan.edges[step.edge]
		if l.Apart > 0 && uses[e.figure] > 0 && bar-latest[e.figure] < l.Apart {
			return false
		}
		uses[e.figure]++
		latest[e.figure] = bar
		if l.Uses > 0 && uses[e.figure] > l.Uses {
			return false
		}
		bar += int(e.bars)
	}
	for _, m := range l.Must {
		if uses[int32(slices.Index(s.plan.figures, m))] == 0 {
			return false
		}
	}
	return bar >= l.MinBars && (l.MaxBars == 0 || bar <= l.MaxBars)
}
