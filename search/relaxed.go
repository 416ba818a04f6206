package search

import (
	"math"
	"slices"

	"lapwright/figures/geometry"
	"lapwright/floors"
)

// relaxed is the relaxed problem laid out for a backward search. Stretches are
// numbered through all layers.
type relaxed struct {
	plan      *plan
	stretches int
	base      []int // by layer: number of its first stretch
	groups    []group
	// into lists, by kind and post, the edges that lead to the post.
	into [][][]intoMove
	// joins holds what the joins to an edge cost from each post of a group; see
	// [intoMove].
	joins []int32
	bars  []int32 // by edge
	// back lists, by stretch, the stretches of the layer before from which the
	// corner can be taken there.
	back [][]int32
	// isOpen tells, by stretch, whether a couple can be there, isCorner whether
	// it can have come there round the corner.
	isOpen, isCorner []bool
	// shift is, by wall and edge, what the edge adds to the stretch.
	shift [][]stretchShift
}

// group is a run of posts with one stance, from all of which the same edges can
// be danced.
type group struct{ first, count int32 }

// intoMove is an edge danced from any post of a group: from the i-th the join to
// it costs joins[i] of the table of joins.
type intoMove struct{ edge, group, joins int32 }

// stretchShift is what an edge adds to the numbers of a stretch, along and
// across: all whole numbers from low to high, which are two at most.
type stretchShift struct{ alongLow, alongHigh, acrossLow, acrossHigh int32 }

// tariff is what the relaxed problem counts.
type tariff struct {
	edges []int32 // by edge
	joins []int32 // as relaxed.joins
	lane  int32   // how many times the lane counts
}

// costs is the tariff of the search itself.
func (r *relaxed) costs() *tariff {
	p := &tariff{joins: r.joins, lane: 1}
	for i := range r.plan.edges {
		p.edges = append(p.edges, r.plan.edges[i].cost)
	}
	return p
}

// barsAlone is a tariff that counts bars and nothing else.
func (r *relaxed) barsAlone() *tariff {
	return &tariff{edges: r.bars, joins: make([]int32, len(r.joins))}
}

func newRelaxed(pl *plan) *relaxed {
	r := &relaxed{plan: pl}
	for i := range pl.edges {
		r.bars = append(r.bars, pl.edges[i].bars)
	}
	r.number()
	r.gather()
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

// number gives every stretch its number.
func (r *relaxed) number() {
	for _, l := range r.plan.ground.layers {
		r.base = append(r.base, r.stretches)
		r.stretches += l.length * l.bands
		for _, least := range l.leastLane {
			r.isOpen = append(r.isOpen, least != unused)
		}
	}
}

// gather finds the groups of posts and the edges that lead to each post.
func (r *relaxed) gather() {
	pl := r.plan
	groupOf := map[post]int32{}
	for i, p := range pl.posts {
		if g, ok := groupOf[p.group()]; ok {
			r.groups[g].count++
			continue
		}
		groupOf[p.group()] = int32(len(r.groups))
		r.groups = append(r.groups, group{int32(i), 1})
	}
	r.into = make([][][]intoMove, len(pl.kinds))
	for k := range pl.kinds {
		r.into[k] = make([][]intoMove, len(pl.posts))
		for number, g := range r.groups {
			place := map[int32]int32{} // of an edge's joins
			for _, m := range pl.moves[k][g.first] {
				place[m.edge] = int32(len(r.joins))
				r.into[k][m.to] = append(r.into[k][m.to], intoMove{m.edge, int32(number), int32(len(r.joins))})
				r.joins = append(r.joins, make([]int32, g.count)...)
			}
			for i := range g.count {
				for _, m := range pl.moves[k][g.first+i] {
					r.joins[place[m.edge]+i] = m.cost - pl.edges[m.edge].cost
				}
			}
		}
	}
}

// either returns the least and the greatest whole number by which a
// rounded-down distance can grow when d units are added. A d that is whole but
// for its last digits is taken as whole along an upright wall, where it is.
func either(d float64, upright bool) (low, high int32) {
	if near := math.Round(d); upright && math.Abs(d-near) < 1e-6 {
		return int32(near), int32(near)
	}
	return int32(math.Floor(d - 1e-6)), int32(math.Floor(d+1e-6)) + 1
}

// corners finds which stretches of two walls in turn hold the same place where
// the next wall may be taken.
func (r *relaxed) corners() {
	layers := r.plan.ground.layers
	r.back = make([][]int32, r.stretches)
	r.isCorner = make([]bool, r.stretches)
	for i := 0; i+1 < len(layers); i++ {
		l, next := &layers[i], &layers[i+1]
		for place, use := range l.usable {
			if use&inCorner == 0 {
				continue
			}
			c := l.cell(place)
			if !next.holds(c) || next.usable[next.place(c)] == 0 {
				continue
			}
			at := r.base[i+1] + int(next.stretch[next.place(c)])
			r.isCorner[at] = true
			if from := int32(r.base[i]) + l.stretch[place]; !slices.Contains(r.back[at], from) {
				r.back[at] = append(r.back[at], from)
			}
		}
	}
}
