//go:build compare

package search

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"lapwright/figures/geometry"
	"lapwright/floors"

	"pgregory.net/rapid"
)

// laneBound is the simplest bound there is on a lap's cost to go: the metres left along
// the lane over the farthest that any figure comes along it for what it costs.
//
// It is consistent. Along a wall no figure, whose joins, lane and crowding only add to its
// cost, comes farther for its cost. Taking a corner at a place changes the metres left from
// what they are by this wall to what they are by the next; end puts the scales of the
// two walls together so that nowhere in the corner there are more of them before than after.
type laneBound struct {
	plan *plan
	// end is, by layer, where on the scale of its wall the lap ends.
	end []float64
	// reach is the farthest travel in metres for a hundredth of a bar.
	reach float64
}

func newLaneBound(pl *plan, starts []target) *laneBound {
	layers := pl.ground.layers
	last := len(layers) - 1
	b := &laneBound{plan: pl, end: make([]float64, len(layers))}
	b.end[last] = math.Inf(1)
	for _, s := range starts {
		home := b.along(last, layers[0].cell(s.place))
		b.end[last] = min(b.end[last], home-Tolerance-1e-6)
	}
	for i := last - 1; i >= 0; i-- {
		apart := math.Inf(1)
		for place, use := range layers[i].usable {
			if use&inCorner != 0 {
				cell := layers[i].cell(place)
				apart = min(apart, b.along(i, cell)-b.along(i+1, cell))
			}
		}
		b.end[i] = b.end[i+1] + apart
	}
	for i := range pl.edges {
		e := &pl.edges[i]
		for wall := range pl.problem.Room.Walls {
			ahead := geometry.Unit(pl.problem.Room.Walls[wall].Direction)
			b.reach = max(b.reach, ahead.Dot(e.shapes[wall].shift.Point())/float64(e.cost))
		}
	}
	b.reach *= 1 + 1e-9 // so that the last digits do not count
	return b
}

// along is how far a cell lies along the wall of a layer, from anywhere.
func (b *laneBound) along(layer int, cell floors.Cell) float64 {
	wall := &b.plan.problem.Room.Walls[b.plan.ground.layers[layer].wall]
	return geometry.Unit(wall.Direction).Dot(cell.Point())
}

// at is the bound in hundredths of a bar.
func (b *laneBound) at(layer int, cell floors.Cell) float64 {
	return max(0, b.end[layer]-b.along(layer, cell)) / b.reach
}

// lane is the lane bound as gonum asks for it on the whole graph.
func (s *searcher) lane(g *wholeGraph) bound {
	b := newLaneBound(s.plan, s.starts)
	return func(id int64) float64 {
		if id == outset || id == closed {
			return 0
		}
		layer, place, _ := g.decode(id)
		return b.at(layer, s.plan.ground.layers[layer].cell(place))
	}
}

// ahead is our own bound for gonum: the cost to go by a survey of the whole floor, as fine
// as the one with which our own search goes the other way; and how long making it took.
func (s *searcher) ahead(t faulty, g *wholeGraph) (_ bound, making time.Duration) {
	defer alone()()
	started := time.Now()
	costs := s.grouping.costs()
	fine := newSketch(s.grouping, costs, grain{nearAlong, nearAcross, s.grouping.slope(costs, nearAlong)}, false).survey(true, nil)
	s.fromEnds(fine, s.starts)
	if err := fine.run(context.Background()); err != nil {
		t.Fatal(err)
	}
	making = time.Since(started)
	return func(id int64) float64 {
		if id == outset || id == closed {
			return 0
		}
		layer, place, post := g.decode(id)
		return float64(fine.at(layer, place, fine.kind(post)))
	}, making
}

// TestCompareBoundsAreConsistent: over no arc of the graph that gonum is given, on the way
// from a start or anywhere else, does either of its bounds fall by more than the arc costs.
// Our own says something wherever a lap begins; of the lane's nothing may be left in a room
// that is hardly more than its corners.
func TestCompareBoundsAreConsistent(t *testing.T) {
	arcs, lanes := 0, 0
	draws(t, 0.2, func(t *rapid.T) {
		p := small(t)
		if rapid.Bool().Draw(t, "twice round") {
			p.Laps = 2
		}
		s, err := prepare(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		g := newWholeGraph(s.plan, s.starts)
		ahead, _ := s.ahead(t, g)
		bounds := map[string]bound{"lane": s.lane(g), "our own": ahead}
		look := func(id int64) []arc {
			all := g.leaving(id)
			for _, a := range all {
				for name, togo := range bounds {
					arcs++
					if here, there := togo(id), togo(a.to); here > a.cost+there {
						t.Fatalf("the %s bound falls from %g to %g over an arc that costs %g", name, here, there, a.cost)
					}
				}
			}
			return all
		}
		for _, a := range look(outset) {
			if rest := bounds["our own"](a.to); rest < 100 {
				t.Errorf("our own bound is %g where a lap begins, not even a bar", rest)
			}
			if bounds["lane"](a.to) > 100 {
				lanes++
			}
		}
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
		for range 20 {
			id := outset
			for range 60 {
				next := look(id)
				if len(next) == 0 {
					break
				}
				id = next[r.IntN(len(next))].to
			}
		}
		for range 1000 {
			layer := r.IntN(len(s.plan.ground.layers))
			usable := s.plan.ground.layers[layer].usable
			if place := r.IntN(len(usable)); usable[place] != 0 {
				look(g.node(r.IntN(len(s.starts)), layer, place, int32(r.IntN(len(s.plan.posts)))))
			}
		}
	})
	t.Logf("%d arcs were looked at, and at %d starts the lane bound is more than a bar", arcs, lanes)
	if arcs < 10000/slower || lanes == 0 {
		t.Error("that shows little")
	}
}
