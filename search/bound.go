package search

import (
	"context"
	"math"
	"slices"

	"lapwright/figures/geometry"
	"lapwright/floors"
)

// bound is the exact cost to go of a relaxed problem, for every layer, stretch
// of floor and post. In the relaxed problem the couple dances the same figures
// in the same stances, but its place across the lane is known to a band only,
// the lane costs what the best place of a stretch costs, and walls and obstacles
// block no figure. Every move of the real problem is one of the relaxed problem
// at no higher cost, so the bound is consistent (abstraction heuristics, Culberson
// and Schaeffer 1998), and it says at once where no way is left.
type bound struct {
	posts int
	base  []int   // by layer: number of its first stretch
	togo  []int32 // by (stretch, post); unreachable where there is no way
}

const unreachable = math.MaxInt32

// at is the bound in a layer, on a stretch, in a post.
func (b *bound) at(layer int, stretch int32, post int32) int32 {
	return b.togo[(b.base[layer]+int(stretch))*b.posts+int(post)]
}

// target is where a lap may end: a place of the last layer, in a post.
type target struct {
	place int
	post  int32
}

// relaxed is the relaxed problem laid out for a backward search.
type relaxed struct {
	plan *plan
	// into lists, by kind and post, the moves that lead to the post.
	into [][][]intoMove
	// back lists, by layer and stretch, the stretches of the layer before from
	// which the corner can be taken there.
	back [][][]int32
	// shift is, by wall and edge, what the edge adds to the stretch.
	shift [][]stretchShift
}

type intoMove struct {
	from int32
	edge int32
	cost int32
}

// stretchShift is what an edge adds to the numbers of a stretch, along and
// across: all whole numbers from low to high, which are three at most.
type stretchShift struct{ alongLow, alongHigh, acrossLow, acrossHigh int16 }

func newRelaxed(pl *plan) *relaxed {
	r := &relaxed{plan: pl, into: make([][][]intoMove, len(pl.kinds))}
	for k := range pl.kinds {
		r.into[k] = make([][]intoMove, len(pl.posts))
		for from, list := range pl.moves[k] {
			for _, m := range list {
				r.into[k][m.to] = append(r.into[k][m.to], intoMove{int32(from), m.edge, m.cost})
			}
		}
	}
	r.shift = make([][]stretchShift, len(pl.problem.Room.Walls))
	for w := range r.shift {
		r.shift[w] = make([]stretchShift, len(pl.edges))
		ahead := geometry.Unit(pl.problem.Room.Walls[w].Direction)
		upright := math.Abs(ahead.X*ahead.Y) < 1e-9
		for e := range pl.edges {
			d := pl.edges[e].shapes[w].shift.Point()
			s := &r.shift[w][e]
			s.alongLow, s.alongHigh = either(ahead.Dot(d)/floors.Step, upright)
			s.acrossLow, s.acrossHigh = either(ahead.Cross(d)/band, upright)
		}
	}
	r.corners()
	return r
}

// either returns the least and the greatest whole number by which a
// rounded-down distance can grow when d units are added. A d that is whole but
// for its last digits is taken as whole along an upright wall, where it is.
func either(d float64, upright bool) (low, high int16) {
	if near := math.Round(d); upright && math.Abs(d-near) < 1e-6 {
		return int16(near), int16(near)
	}
	return int16(math.Floor(d - 1e-6)), int16(math.Floor(d+1e-6)) + 1
}

// corners finds which stretches of two walls in turn hold the same place where
// the next wall may be taken.
func (r *relaxed) corners() {
	layers := r.plan.ground.layers
	r.back = make([][][]int32, len(layers))
	for i := 0; i+1 < len(layers); i++ {
		l, next := &layers[i], &layers[i+1]
		back := make([][]int32, next.length*next.bands)
		for place, use := range l.usable {
			if use&inCorner == 0 {
				continue
			}
			c := l.cell(place)
			if !next.holds(c) || next.usable[next.place(c)] == 0 {
				continue
			}
			at := next.stretch[next.place(c)]
			if from := l.stretch[place]; !slices.Contains(back[at], from) {
				back[at] = append(back[at], from)
			}
		}
		r.back[i+1] = back
	}
}

// solve computes the bound for laps that end near any of the targets. The cost
// of a move comes from price and the weight of the lane from lane, so that the
// same search can count bars alone.
func (r *relaxed) solve(ctx context.Context, targets []target, price func(m *intoMove) int32, lane int32) (*bound, error) {
	pl := r.plan
	layers := pl.ground.layers
	b := &bound{posts: len(pl.posts)}
	stretches := 0
	for _, l := range layers {
		b.base = append(b.base, stretches)
		stretches += l.length * l.bands
	}
	b.togo = make([]int32, stretches*b.posts)
	for i := range b.togo {
		b.togo[i] = unreachable
	}
	// turned holds, like togo, the cost to go once the corner into a layer has
	// been taken in a post, before the figure that follows.
	turned := slices.Clone(b.togo)
	layerOf := make([]int8, stretches)
	for i := range layers {
		for j := range layers[i].length * layers[i].bands {
			layerOf[b.base[i]+j] = int8(i)
		}
	}
	open := newOpenList()
	reach := func(table []int32, tag uint32, at int, cost int32) {
		if cost < table[at] {
			table[at] = cost
			open.push(cost, uint32(at)<<1|tag, cost)
		}
	}
	last := len(layers) - 1
	for _, t := range targets {
		goal := layers[last].cell(t.place)
		for place, use := range layers[last].usable {
			c := layers[last].cell(place)
			if dx, dy := c.X-goal.X, c.Y-goal.Y; use != 0 && dx*dx+dy*dy <= toleranceCells*toleranceCells {
				reach(b.togo, 0, (b.base[last]+int(layers[last].stretch[place]))*b.posts+int(t.post), 0)
			}
		}
	}
	for n := 1; ; n++ {
		cost, tagged, _, ok := open.pop()
		if !ok {
			return b, nil
		}
		if n%checkEvery == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		at := int(tagged >> 1)
		stretch, post := at/b.posts, at%b.posts
		layer := int(layerOf[stretch])
		stretch -= b.base[layer]
		l := &layers[layer]
		if tagged&1 == 1 { // the corner into this layer was taken here
			if cost > turned[at] {
				continue
			}
			for _, from := range r.back[layer][stretch] {
				reach(b.togo, 0, (b.base[layer-1]+int(from))*b.posts+post, cost)
			}
			continue
		}
		if cost > b.togo[at] {
			continue
		}
		along, across := stretch/l.bands, stretch%l.bands
		here := lane * int32(l.leastLane[stretch])
		shifts := r.shift[l.wall]
		kinds := 1
		if layer > 0 {
			kinds = 2
		}
		for k := range kinds {
			table, tag, kind := b.togo, uint32(0), 0
			if k == 1 {
				table, tag, kind = turned, 1, pl.kindOf[layer-1]
			}
			into := r.into[kind][post]
			for i := range into {
				m := &into[i]
				s := &shifts[m.edge]
				togo := cost + price(m) + here*pl.edges[m.edge].bars
				for da := s.alongLow; da <= s.alongHigh; da++ {
					a := along - int(da)
					if a < 0 || a >= l.length {
						continue
					}
					for dc := s.acrossLow; dc <= s.acrossHigh; dc++ {
						c := across - int(dc)
						if c < 0 || c >= l.bands {
							continue
						}
						from := a*l.bands + c
						if l.leastLane[from] == unused || k == 1 && len(r.back[layer][from]) == 0 {
							continue
						}
						reach(table, tag, (b.base[layer]+from)*b.posts+int(m.from), togo)
					}
				}
			}
		}
	}
}
