package search

import (
	"context"
	"math/rand/v2"
	"testing"

	"lapwright/figures/geometry"
	"lapwright/floors"
	"lapwright/search/check"
	"lapwright/search/routine"

	"pgregory.net/rapid"
)

// decode is the layer, place and post of a node.
func (g *plainGraph) decode(id int64) (layer, place int, post int32) {
	layer, place = g.ground.locate(uint32(id / int64(len(g.posts))))
	return layer, place, int32(id % int64(len(g.posts)))
}

// TestSurveysAreConsistent: over no move does the cost to go, by a survey made
// backward, fall by more than the move costs, nor does the cost so far, by one made
// forward, rise by more; neither on the way from a start nor anywhere else on the
// floor, however fine the survey.
func TestSurveysAreConsistent(t *testing.T) {
	arcs := 0
	draws(t, 0.3, func(t *rapid.T) {
		p := small(t)
		s, err := prepare(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		g := &plainGraph{plan: s.plan, start: rapid.SampledFrom(s.starts).Draw(t, "start post")}
		costs := s.grouping.costs()
		size := rapid.SampledFrom([][2]float64{{roughAlong, roughAcross}, {nearAlong, nearAcross}, {1, 0.3}}).Draw(t, "cells")
		near := newSketch(s.grouping, costs, grain{size[0], size[1], s.grouping.slope(costs, size[0])}, rapid.Bool().Draw(t, "by post")).survey(false, nil)
		for _, t := range s.starts {
			near.from(0, t.place, t.post, 0)
		}
		if err := near.run(context.Background()); err != nil || near.cut {
			t.Fatal("the survey is not complete", err)
		}
		at := func(v *survey, id int64) int64 {
			layer, place, post := g.decode(id)
			return int64(v.at(layer, place, v.kind(post)))
		}
		look := func(id int64) []arc {
			moves := g.leaving(id)
			for _, move := range moves {
				if move.to == closed {
					if rest := at(s.rough, id); rest > int64(move.cost) {
						t.Fatalf("the bound is %d where the lap ends at a cost of %g", rest, move.cost)
					}
					continue
				}
				arcs++
				here, there := at(s.rough, id), at(s.rough, move.to)
				if there != unreachable && here > int64(move.cost)+there {
					t.Fatalf("the cost to go falls from %d to %d over a move that costs %g", here, there, move.cost)
				}
				here, there = at(near, id), at(near, move.to)
				if here != unreachable && there > int64(move.cost)+here {
					t.Fatalf("the cost so far rises from %d to %d over a move that costs %g", here, there, move.cost)
				}
			}
			return moves
		}
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
		for range 20 {
			id := g.node(0, g.start.place, g.start.post)
			for range 30 {
				var next []int64
				for _, move := range look(id) {
					if move.to != closed {
						next = append(next, move.to)
					}
				}
				if len(next) == 0 {
					break
				}
				id = next[r.IntN(len(next))]
			}
		}
		for range 500 {
			layer := r.IntN(len(s.plan.ground.layers))
			place := r.IntN(len(s.plan.ground.layers[layer].usable))
			if s.plan.ground.layers[layer].usable[place] != 0 {
				look(g.node(layer, place, int32(r.IntN(len(s.plan.posts)))))
			}
		}
	})
	t.Logf("%d moves were looked at", arcs)
}

// TestGuidedSurvey: what a guided survey has settled costs what it costs in one
// that looks at everything, and nothing that lies on a lap of less is left out.
func TestGuidedSurvey(t *testing.T) {
	compared := 0
	draws(t, 0.3, func(t *rapid.T) {
		p := small(t)
		s, err := prepare(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		whole := s.near.sketch.survey(false, nil)
		for _, t := range s.starts {
			whole.from(0, t.place, t.post, 0)
		}
		if err := whole.run(context.Background()); err != nil {
			t.Fatal(err)
		}
		limit := s.least(s.starts[0])
		if limit == unreachable {
			return
		}
		limit = limit * 3 / 2
		if err := s.look(context.Background(), s.starts, limit); err != nil {
			t.Fatal(err)
		}
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
		for range 20000 {
			layer := r.IntN(len(s.plan.ground.layers))
			l := &s.plan.ground.layers[layer]
			place := r.IntN(len(l.usable))
			kind := int32(r.IntN(len(s.grouping.groups)))
			if l.usable[place] == 0 {
				continue
			}
			exact, rest := whole.at(layer, place, kind), s.rough.at(layer, place, kind)
			if exact == unreachable || rest == unreachable || exact+rest >= limit-1 {
				continue
			}
			compared++
			if got := s.near.at(layer, place, kind); got != exact {
				t.Fatalf("the guided survey has %d where it costs %d, on a lap of %d; the limit is %d", got, exact, exact+rest, limit)
			}
		}
	})
	t.Logf("%d costs were compared", compared)
	if compared < 100 && slower == 1 {
		t.Error("that shows little")
	}
}

// TestTablesAgreeWithTheChecker: what the tables let a couple dance anywhere on
// the floor the checker lets it dance too, to the same place and stance; and
// what they forbid for want of room comes within 7.5 cm of the margin. (A place
// of the sweep is tried at the nearest place of the lattice, up to 3.6 cm away,
// where there may be 3.6 cm less room, and as much more is asked for.)
func TestTablesAgreeWithTheChecker(t *testing.T) {
	allowed, forbidden := 0, 0
	draws(t, 0.2, func(t *rapid.T) {
		p := small(t)
		s, err := prepare(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		margin := p.Room.Margin
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
		for range 300 {
			l := &s.plan.ground.layers[r.IntN(len(p.Room.Walls))]
			place := r.IntN(len(l.usable))
			if l.usable[place] == 0 {
				continue
			}
			cell := l.cell(place)
			e := &s.plan.edges[r.IntN(len(s.plan.edges))]
			at := cell.Point()
			rep := check1(p, l.wall, at, e)
			row := &rep.Rows[0]
			to := cell.Add(e.shapes[l.wall].shift)
			if floors.CellAt(row.To) != to || row.Exit != e.exit {
				t.Fatalf("%s leads to %v %s; for the checker to %v %s", e.variant.Name(), to.Point(), e.exit, row.To, row.Exit)
			}
			fits := s.plan.crowd(&e.shapes[l.wall], cell) != blocked
			inside := l.holds(to) && l.usable[l.place(to)] != 0
			switch {
			case fits && inside:
				allowed++
				if faults := rep.Faults(); faults != nil {
					t.Errorf("%s from %v along %s: %s", e.variant.Name(), at, &p.Room.Walls[l.wall], faults)
				}
			case !fits:
				forbidden++
				if row.Clear > margin+0.075 {
					t.Errorf("%s from %v along %s is forbidden, and stays %.3f m clear", e.variant.Name(), at, &p.Room.Walls[l.wall], row.Clear)
				}
			case p.Room.InUse(l.wall, row.To):
				t.Errorf("%s from %v ends at %v, which is left out", e.variant.Name(), at, row.To)
			}
		}
	})
	t.Logf("%d moves were allowed, %d forbidden", allowed, forbidden)
	if (allowed < 1000 || forbidden < 1000) && slower == 1 {
		t.Errorf("%d moves were allowed and %d forbidden; that shows little", allowed, forbidden)
	}
}

// check1 dances one edge from a place.
func check1(p *Problem, wall int, at geometry.Point, e *edge) *check.Report {
	return check.Dance(p.Room, p.Couple, &routine.Routine{
		Start: routine.Start{Wall: wall, At: &at, Stance: e.entry},
		Steps: []routine.Step{{Variant: e.variant, Scale: p.Scales[e.scale].Share, Corner: routine.Stay}},
	}, check.Limits{Margin: p.Margin})
}
