package search

import (
	"slices"
	"testing"

	"lapwright/figures"

	"pgregory.net/rapid"
)

const (
	mostFigures = 9 // of a closet
	mostCaps    = 4
)

// memory is what a lap that has been begun must remember, as far as its limits ask.
type memory struct {
	bars  int
	uses  [mostFigures]int
	rest  [mostFigures]int // bars in which a figure may not be danced again
	caps  [mostCaps]int
	right int // figures in a row that turn to the right
	fixed int // figures that began at their bars
}

// oneByOne looks at the laps of a closet one by one.
type oneByOne struct {
	*written
	limits *Limits
	// asked tells of each figure whether a limit asks how often it has been danced.
	asked  []bool
	barred []bool // by edge
}

// mostLooked is how many beginnings of laps are looked at before it is too much.
const mostLooked = 120_000

// oneByOne is the least cost of a lap that keeps to limits, which must cost less than
// so much; unreachable where there is none. It is not known when there are too many
// laps to look at. Laps are begun and gone on with in the order of what they cost with
// the rest of the way without limits. Only what is danced on the way from one state
// with one memory of the past to another is left out if it was met before.
func (w *written) oneByOne(l *Limits, under int32, barred []bool) (best int32, known bool) {
	o := &oneByOne{w, l, nil, barred}
	for _, f := range w.plan.figures {
		ordered := slices.ContainsFunc(l.Orders, func(x Order) bool { return x.First == f })
		o.asked = append(o.asked, l.Uses > 0 || l.Different > 0 || ordered || slices.Contains(l.Must, f))
	}
	best = under
	looked := 0
	for start := range w.starts {
		o.from(start, &best, &looked)
	}
	if best == under {
		best = unreachable
	}
	return best, looked < mostLooked
}

func (o *oneByOne) from(start int, best *int32, looked *int) {
	type beginning struct {
		state  int32
		memory memory
	}
	type waiting struct {
		beginning
		cost int32
	}
	togo := o.toEnd[start]
	var open queue[waiting]
	least := map[beginning]int32{}
	reach := func(b beginning, cost int32) {
		if togo[b.state] == unreachable || cost+togo[b.state] >= *best {
			return
		}
		if before, met := least[b]; !met || cost < before {
			least[b] = cost
			open.add(cost+togo[b.state], waiting{b, cost})
		}
	}
	reach(beginning{o.starts[start], memory{}}, 0)
	for open.Len() > 0 && *looked < mostLooked {
		key, at := open.take()
		if key >= *best {
			return
		}
		if at.cost > least[at.beginning] {
			continue
		}
		*looked++
		if gap, ends := o.gaps[start][at.state]; ends && o.mayEnd(&at.memory) {
			*best = min(*best, at.cost+gap)
		}
		for _, h := range o.hops[at.state] {
			if m, may := o.dance(at.memory, h); may {
				reach(beginning{h.to, m}, at.cost+h.cost)
			}
		}
	}
}

// dance is the memory after a figure, and whether it may be danced.
func (o *oneByOne) dance(m memory, h hop) (memory, bool) {
	l, e := o.limits, &o.plan.edges[h.edge]
	f := e.variant.Figure
	if o.barred != nil && o.barred[h.edge] {
		return m, false
	}
	if m.rest[e.figure] > 0 || l.Uses > 0 && m.uses[e.figure] == l.Uses {
		return m, false
	}
	for _, x := range l.Orders {
		if x.Then == f && m.uses[slices.Index(o.plan.figures, x.First)] == 0 {
			return m, false
		}
	}
	for _, x := range l.Fixed {
		if x.Bar == m.bars+1 {
			if x.Figure != f || x.Wall >= 0 && x.Wall != int(h.wall) {
				return m, false
			}
			m.fixed++
		}
	}
	for i, c := range l.Caps {
		if c.Has(e.variant) {
			if m.caps[i]++; m.caps[i] > c.Most {
				return m, false
			}
		}
	}
	if m.right++; e.variant.Turn() >= 0 || l.RightTurns == 0 {
		m.right = 0
	}
	if m.right > l.RightTurns {
		return m, false
	}
	if m.uses[e.figure]++; !o.asked[e.figure] {
		m.uses[e.figure] = 0
	} else if l.Uses == 0 {
		m.uses[e.figure] = 1
	}
	bars := int(e.bars)
	for i := range m.rest {
		m.rest[i] = max(0, m.rest[i]-bars)
	}
	m.rest[e.figure] = max(0, l.Apart-bars)
	if m.bars += bars; l.MaxBars > 0 && m.bars > l.MaxBars {
		return m, false
	}
	if l.MinBars == 0 && l.MaxBars == 0 && l.Phrase == 0 && len(l.Fixed) == 0 {
		m.bars = 0
	}
	return m, true
}

// mayEnd reports whether a lap may end.
func (o *oneByOne) mayEnd(m *memory) bool {
	l := o.limits
	different := 0
	for i, f := range o.plan.figures {
		different += min(1, m.uses[i])
		if m.uses[i] == 0 && slices.Contains(l.Must, f) {
			return false
		}
	}
	return different >= l.Different && m.bars >= l.MinBars && m.fixed == len(l.Fixed) && (l.Phrase == 0 || m.bars%l.Phrase == 0)
}

// tooLong tells of each edge whether a dancer takes a longer step in it than the limits
// let him or her.
func (w *written) tooLong(p *Problem) []bool {
	barred := make([]bool, len(w.plan.edges))
	for i, e := range w.plan.edges {
		for who, most := range [2]float64{p.Limits.LeaderStep, p.Limits.FollowerStep} {
			barred[i] = barred[i] || most > 0 && longest(p, e.variant, e.entry, p.Scales[e.scale], figures.Dancer(who)) > most+1e-6
		}
	}
	return barred
}

// answers counts how the answers of several searches came out.
type answers struct{ all, proven, none, bites, unknown int }

// compare holds what a search answers against what looking at laps one by one answers.
func (a *answers) compare(t faulty, c *closet, p *Problem) {
	t.Helper()
	a.all++
	w := c.in(t, p.rounds())
	if w.best == unreachable {
		a.none++
		return
	}
	under := 2 * w.best
	best, known := w.oneByOne(&p.Limits, under, w.tooLong(p))
	if !known {
		a.unknown++
	}
	if _, err := p.settled(); err != nil {
		if best != unreachable {
			t.Errorf("%s: there is a lap of cost %d, and the problem is refused: %s", c.name, best, err)
		}
		a.none++
		return
	}
	res := find(t, p)
	got, bound := int32(unreachable), int32(unreachable)
	if res.Lap != nil {
		if p.rounds() == 1 {
			judge(t, p, res.Lap)
		}
		for _, fault := range danced(p, res.Lap).Faults() {
			t.Errorf("the checker objects: %s", fault)
		}
		got, bound = hundredths(res.Lap.Costs.Total()), hundredths(res.Lap.Bound)
	}
	switch {
	case best != unreachable && (bound > best || res.Lap == nil):
		t.Errorf("%s: there is a lap of cost %d; %s, the search says, with a bound of %d", c.name, best, words(res.Lap), bound)
	case known && got < min(best, under):
		t.Errorf("%s: there is no lap of cost less than %d; the search has %s", c.name, min(best, under), words(res.Lap))
	}
	if res.Lap == nil {
		a.none++
		return
	}
	if res.Lap.Proven {
		a.proven++
	}
	if got > w.best {
		a.bites++
	}
}

// report fails where what was compared shows little.
func (a *answers) report(t *testing.T) {
	t.Helper()
	t.Logf("%+v", *a)
	if laps := a.all - a.none; a.all >= 8 && (10*a.proven < 9*laps || 6*a.bites < a.all || 10*a.unknown > 3*a.all) {
		t.Errorf("that shows little: of %d answers %d are no lap, %d laps are proven, %d are dearer than without limits, and %d were too many to look at one by one",
			a.all, a.none, a.proven, a.bites, a.unknown)
	}
}

// TestEachLimitOneByOne: with each limit alone the lap that is found is the best of all
// laps, which are looked at one by one.
func TestEachLimitOneByOne(t *testing.T) {
	var all answers
	for i, kind := range limitKinds {
		if slower > 1 && i%4 != 0 {
			continue
		}
		t.Run(kind.name, func(t *testing.T) {
			draws(t, 0.02, func(t *rapid.T) {
				c := someCloset(t)
				all.compare(t, c, telling(t, c, 1, func(p *Problem) { kind.draw(t, p) }))
			})
		})
	}
	all.report(t)
}

// TestLimitsTogetherOneByOne: the same with several limits together, in closets drawn
// anew.
func TestLimitsTogetherOneByOne(t *testing.T) {
	var all answers
	draws(t, 0.08, func(t *rapid.T) {
		c := drawCloset(t)
		if c.in(t, 1).best == unreachable {
			return
		}
		all.compare(t, c, telling(t, c, 1, func(p *Problem) {
			for _, i := range rapid.SliceOfNDistinct(rapid.IntRange(0, len(limitKinds)-1), 2, 3, rapid.ID).Draw(t, "kinds") {
				limitKinds[i].draw(t, p)
			}
		}))
	})
	all.report(t)
}

// TestSeveralLapsOneByOne: the same with routines that go round twice.
func TestSeveralLapsOneByOne(t *testing.T) {
	var all answers
	if slower > 1 {
		return
	}
	draws(t, 0.02, func(t *rapid.T) {
		c := someCloset(t)
		kind := rapid.SampledFrom(limitKinds).Draw(t, "kind")
		all.compare(t, c, telling(t, c, 2, func(p *Problem) { kind.draw(t, p) }))
	})
	all.report(t)
}
