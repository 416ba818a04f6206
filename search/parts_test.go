package search

import (
	"context"
	"testing"

	"pgregory.net/rapid"
)

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
			draws(t, 0.02, func(t *rapid.T) {
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
