package search

import (
	"context"
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

// longest is the longest step in metres that a dancer takes in a way of dancing, by the
// feet as they are placed.
func longest(p *Problem, v *figures.Variant, entry figures.Stance, scale Scale, who figures.Dancer) float64 {
	longest := 0.0
	for _, taken := range v.Dance(entry, p.Couple.WithStride(p.Couple.Stride*scale.Share)).Steps {
		if foot := taken.Falls[who].Foot; foot != figures.NoFoot {
			feet := taken.Placed
			longest = max(longest, feet.Foot(who, foot).At.Sub(feet.Foot(who, foot.Other()).At).Len())
		}
	}
	return longest
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

// limitKinds are the limits one by one.
var limitKinds = []struct {
	name string
	draw func(t *rapid.T, p *Problem)
}{
	{"uses of a figure", func(t *rapid.T, p *Problem) { p.Limits.Uses = rapid.IntRange(2, 4).Draw(t, "uses") }},
	{"uses of a family", func(t *rapid.T, p *Problem) {
		family := someFigure(t, p, "family of").Family
		addCap(t, p, 1, func(v *figures.Variant) bool { return v.Figure.Family == family })
	}},
	{"not again within bars", func(t *rapid.T, p *Problem) { p.Limits.Apart = rapid.IntRange(2, 4).Draw(t, "apart") }},
	{"different", func(t *rapid.T, p *Problem) { p.Limits.Different = rapid.IntRange(2, 5).Draw(t, "different") }},
	{"above a level", func(t *rapid.T, p *Problem) {
		addCap(t, p, 0, func(v *figures.Variant) bool { return v.Figure.Above(figures.International, figures.Bronze) })
	}},
	{"turns to a side", func(t *rapid.T, p *Problem) {
		side := rapid.SampledFrom([]func(*figures.Variant) bool{(*figures.Variant).TurnsLeft, (*figures.Variant).TurnsRight}).Draw(t, "side")
		addCap(t, p, 1, side)
	}},
	{"must", func(t *rapid.T, p *Problem) { p.Limits.Must = append(p.Limits.Must, someFigure(t, p, "must")) }},
	{"must not", func(t *rapid.T, p *Problem) {
		not := someFigure(t, p, "must not")
		p.Limits.Caps = append(p.Limits.Caps, Cap{not.Name, func(v *figures.Variant) bool { return v.Figure == not }, 0})
	}},
	{"order", func(t *rapid.T, p *Problem) {
		first, then := someFigure(t, p, "first"), someFigure(t, p, "then")
		if first != then {
			p.Limits.Orders = append(p.Limits.Orders, Order{first, then})
		}
	}},
	{"fixed figure", func(t *rapid.T, p *Problem) {
		p.Limits.Fixed = append(p.Limits.Fixed, Fixed{someFigure(t, p, "fixed"), rapid.IntRange(1, 7).Draw(t, "bar"), -1})
	}},
	{"fixed figure along a wall", func(t *rapid.T, p *Problem) {
		p.Limits.Fixed = append(p.Limits.Fixed, Fixed{someFigure(t, p, "fixed"), rapid.IntRange(3, 9).Draw(t, "bar"), rapid.IntRange(0, 3).Draw(t, "wall")})
	}},
	{"exact bars", func(t *rapid.T, p *Problem) {
		p.Limits.MinBars = rapid.IntRange(8, 16).Draw(t, "bars") * p.rounds()
		p.Limits.MaxBars = p.Limits.MinBars
	}},
	{"range of bars", func(t *rapid.T, p *Problem) {
		p.Limits.MinBars = rapid.IntRange(4, 14).Draw(t, "least") * p.rounds()
		p.Limits.MaxBars = p.Limits.MinBars + rapid.IntRange(2, 8).Draw(t, "more")
	}},
	{"phrase", func(t *rapid.T, p *Problem) { p.Limits.Phrase = rapid.SampledFrom([]int{2, 3, 4, 8}).Draw(t, "phrase") }},
	{"right turns in a row", func(t *rapid.T, p *Problem) { p.Limits.RightTurns = rapid.IntRange(1, 3).Draw(t, "in a row") }},
	{"leader's step", func(t *rapid.T, p *Problem) { p.Limits.LeaderStep = someStep(t, p, figures.Leader) }},
	{"follower's step", func(t *rapid.T, p *Problem) { p.Limits.FollowerStep = someStep(t, p, figures.Follower) }},
}

func someFigure(t *rapid.T, p *Problem, label string) *figures.Figure {
	return rapid.SampledFrom(figuresOf(p.Variants)).Draw(t, label)
}

func addCap(t *rapid.T, p *Problem, least int, has func(*figures.Variant) bool) {
	p.Limits.Caps = append(p.Limits.Caps, Cap{"set", has, rapid.IntRange(least, 4).Draw(t, "most")})
}

// someStep is the longest step of one of the figures that take the longest steps.
func someStep(t *rapid.T, p *Problem, who figures.Dancer) float64 {
	var steps []float64
	for _, v := range p.Variants {
		for _, scale := range p.Scales {
			steps = append(steps, longest(p, v, v.Entries[0], scale, who))
		}
	}
	slices.Sort(steps)
	steps = slices.Compact(steps)
	return rapid.SampledFrom(steps[len(steps)/2:]).Draw(t, "step")
}

// telling is a problem with limits drawn up to four times, until they make the best lap
// dearer and leave a lap.
func telling(t *rapid.T, c *closet, laps int, draw func(p *Problem)) *Problem {
	var p Problem
	for range 4 {
		p = *c.problem
		p.Laps = laps
		draw(&p)
		w := c.in(t, laps)
		if best, _ := w.oneByOne(&p.Limits, 2*w.best, w.tooLong(&p)); best > w.best && best != unreachable {
			break
		}
	}
	return &p
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
	draws(t, 0.12, func(t *rapid.T) {
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

// parts are the parts of a search within limits.
type parts struct {
	*answer
	from   *priced
	plain  int32 // the bound without limits
	least  int32 // the least cost of a lap with prices
	priced int32 // the bound that follows from it
}

// takeApart takes a search within limits apart.
func takeApart(t faulty, p *Problem) *parts {
	t.Helper()
	ctx := context.Background()
	s, err := prepare(ctx, p, nil)
	if err != nil {
		t.Fatal(err)
	}
	best, bound, err := s.plain(ctx)
	if err != nil || best == nil {
		t.Fatal("there is no lap", err)
	}
	a := &parts{plain: bound}
	a.answer = &answer{searcher: s, known: &answerer{problem: s.problem, searcher: s, plain: s.plan.lap(*best)}, cost: unreachable, bound: bound}
	if a.from, err = a.answer.priced(ctx); err != nil {
		t.Fatal(err)
	}
	if _, a.least, err = a.from.plain(ctx); err != nil {
		t.Fatal(err)
	}
	a.priced = a.from.real(a.least)
	return a
}

// TestBeamAboveTheBest: the bounds are never above the cost of the best lap, and the laps
// of a beam search never below it, whatever its breadth.
func TestBeamAboveTheBest(t *testing.T) {
	found, above, prices := 0, 0, 0
	draws(t, 0.12, func(t *rapid.T) {
		c := someCloset(t)
		p := telling(t, c, 1, func(p *Problem) {
			for _, i := range rapid.SliceOfNDistinct(rapid.IntRange(0, len(limitKinds)-3), 1, 2, rapid.ID).Draw(t, "kinds") {
				limitKinds[i].draw(t, p)
			}
		})
		w := c.in(t, 1)
		best, known := w.oneByOne(&p.Limits, 2*w.best, nil)
		if _, err := p.settled(); err != nil || !known {
			return
		}
		a := takeApart(t, p)
		if a.plain != w.best {
			t.Errorf("%s: without limits the bound is %d, the best lap costs %d", c.name, a.plain, w.best)
		}
		if a.priced > best {
			t.Errorf("%s: the bound by prices is %d, the best lap costs %d", c.name, a.priced, best)
		} else if a.priced > a.plain {
			prices++
		}
		for _, width := range []int{2, 20, narrowBeam} {
			b := *a.answer
			if err := b.beam(context.Background(), a.from, width); err != nil {
				t.Fatal(err)
			}
			if b.trail == nil {
				continue
			}
			judge(t, p, withBound(b.plan.lap(*b.trail)))
			if found++; b.cost < min(best, 2*w.best) {
				t.Errorf("%s: a beam of %d has a lap of cost %d; the best lap costs %d", c.name, width, b.cost, best)
			} else if b.cost > best {
				above++
			}
		}
	})
	t.Logf("%d laps of beams, %d of them above the best; %d bounds by prices above those without", found, above, prices)
	if slower == 1 && (found == 0 || prices == 0) {
		t.Error("that shows little")
	}
}

// TestCorridorsOneByOne: with each limit, the search with labels alone, of one corridor
// after the other, comes to the best of all laps, and no bound on the way there is above
// it. (In [Find] a beam search mostly finds it first.)
func TestCorridorsOneByOne(t *testing.T) {
	compared := 0
	for i, kind := range limitKinds[:len(limitKinds)-2] {
		if slower > 1 && i%5 != 0 {
			continue
		}
		t.Run(kind.name, func(t *testing.T) {
			draws(t, 0.03, func(t *rapid.T) {
				c := someCloset(t)
				p := telling(t, c, 1, func(p *Problem) { kind.draw(t, p) })
				w := c.in(t, 1)
				best, known := w.oneByOne(&p.Limits, 2*w.best, nil)
				if _, err := p.settled(); err != nil || !known || best == unreachable {
					return
				}
				compared++
				a := takeApart(t, p)
				proven, err := a.corridors(context.Background(), a.from, a.least)
				if err != nil {
					t.Fatal(err)
				}
				if !proven || a.cost != best || a.bound > best {
					t.Fatalf("%s, %+v: the best lap costs %d, the search says %d, with a bound of %d (proven: %t)", c.name, p.Limits, best, a.cost, a.bound, proven)
				}
				judge(t, p, withBound(a.plan.lap(*a.trail)))
			})
		})
	}
	if compared < 16/slower {
		t.Errorf("only %d laps were compared; that shows little", compared)
	}
}

// withBound is a lap that says that it is the best, for [judge].
func withBound(lap *Lap) *Lap {
	lap.Bound, lap.Proven = lap.Costs.Total(), true
	return lap
}
