package search

import (
	"cmp"
	"math"
	"slices"

	"lapwright/figures/geometry"
)

// sketch is a relaxed problem that is small enough to be solved: the couple's
// place is known to a cell of the floor only, posts from which the same figures can
// be danced are one group, and walls and obstacles block nothing.
//
// What a couple gains where its place is known so roughly is taken back by a slope:
// within a cell the cost rises along the wall at a steady rate, and a figure costs
// so much less, or more, as it ends lower or higher in its cell than it should.
// Over a lap these differences add up to no more than a cell's length is worth
// (potentials, as in Johnson 1977). Every move of the real problem is one of the
// sketch at no higher cost, so a sketch's costs are a consistent bound
// (abstraction heuristics, Culberson and Schaeffer 1998), and they say at once
// where no way is left.
type sketch struct {
	grouping *grouping
	grain
	// byPost tells that posts are told apart after all; then there are onward
	// ways only.
	byPost bool
	kinds  int // of couples at a place: groups, or posts
	layers []sketchLayer
	// onward lists, by wall, kind and group, where the figures danced from the
	// group lead; back, where those came from that lead to the group.
	onward, back [][][][]sketchWay
	size         int // costs of all layers
}

// grain is how fine a sketch is.
type grain struct {
	along, across float64 // size of a cell in metres
	slope         float64 // hundredths of a bar a metre
}

// fine is how many parts a hundredth of a bar has in a sketch, so that rounding
// loses nothing that counts.
const fine = 4096

type sketchLayer struct {
	first   int // number of the layer's first cost
	columns int // cells across, rim included
	cells   int
	cell    []int32 // by place: its cell on a grid with a rim around it
	rise    []int32 // by place: what the slope adds, in parts
	// lane is, by cell, the least lane cost in parts; shut where no couple
	// can be.
	lane []int32
	// turns are the corners from this layer into the next, by cell of this one;
	// turnsBack are the corners into this layer from the one before, by cell of
	// this one.
	turns, turnsBack turnTable
}

// shut is the lane cost of a cell in which no couple can be.
const shut = -1

// sketchTurn leads from a cell of a layer to one of the next, or back, that holds
// the same place, where the next wall may be taken.
type sketchTurn struct{ cell, cost int32 }

// turnTable holds turns by cell.
type turnTable struct {
	first []int32 // by cell: its first turn; one more at the end
	turns []sketchTurn
}

// at are the turns of a cell.
func (t *turnTable) at(cell int32) []sketchTurn {
	if t.first == nil {
		return nil
	}
	return t.turns[t.first[cell]:t.first[cell+1]]
}

// sketchWay is a figure that leads so many cells on, along and across, to or from
// another group or post.
type sketchWay struct {
	along, across int32
	kind          int32
	cost, bars    int32
	joins         int32 // where the joins' costs are, where posts are told apart
}

func newSketch(g *grouping, t tariff, size grain, byPost bool) *sketch {
	s := &sketch{grouping: g, grain: size, byPost: byPost, kinds: len(g.groups)}
	if byPost {
		s.kinds = len(g.plan.posts)
	}
	rimAlong, rimAcross := s.lay(t)
	s.layers = make([]sketchLayer, len(g.plan.ground.layers))
	for i := range s.layers {
		s.layers[i].first = s.size
		s.layers[i].lay(s, i, t.lane, rimAlong, rimAcross)
		s.size += s.layers[i].cells * s.kinds
	}
	for i := range s.layers[:len(s.layers)-1] {
		s.turn(i)
	}
	return s
}

// lay finds where figures lead, and how many cells they lead at most.
func (s *sketch) lay(t tariff) (rimAlong, rimAcross int) {
	pl := s.grouping.plan
	groups := s.grouping.groups
	table := func() [][][][]sketchWay {
		all := make([][][][]sketchWay, len(pl.problem.Room.Walls))
		for w := range all {
			all[w] = make([][][]sketchWay, len(pl.kinds))
			for k := range all[w] {
				all[w][k] = make([][]sketchWay, len(groups))
			}
		}
		return all
	}
	s.onward = table()
	if !s.byPost {
		s.back = table()
	}
	for w := range s.onward {
		if same := alike(pl.problem.Room.Walls, w); same < w {
			s.onward[w] = s.onward[same]
			if !s.byPost {
				s.back[w] = s.back[same]
			}
			continue
		}
		ahead := geometry.Unit(pl.problem.Room.Walls[w].Direction)
		for k := range pl.kinds {
			for g := range groups {
				var list []sketchWay
				for _, m := range s.grouping.from[k][g] {
					e := &pl.edges[m.edge]
					d := e.shapes[w].shift.Point()
					x, y := ahead.Dot(d), ahead.Cross(d)
					lowX, highX := either(x / s.along)
					lowY, highY := either(y / s.across)
					rimAlong, rimAcross = max(rimAlong, -lowX, highX), max(rimAcross, -lowY, highY)
					for a := lowX; a <= highX; a++ {
						tilt := fine * s.slope * (x - float64(a)*s.along)
						way := sketchWay{along: int32(a), kind: m.group, bars: e.bars, cost: fine*t.edges[m.edge] - int32(math.Ceil(tilt)) - 1}
						if s.byPost {
							way.kind, way.joins = pl.leads[m.edge], m.joins
						} else {
							way.cost += fine * t.join(m.least)
						}
						for c := lowY; c <= highY; c++ {
							way.across = int32(c)
							list = append(list, way)
						}
					}
				}
				if s.byPost {
					s.onward[w][k][g] = list
					continue
				}
				slices.SortFunc(list, func(a, b sketchWay) int {
					return cmp.Or(cmp.Compare(a.kind, b.kind), cmp.Compare(a.along, b.along),
						cmp.Compare(a.across, b.across), cmp.Compare(a.bars, b.bars), cmp.Compare(a.cost, b.cost))
				})
				list = slices.CompactFunc(list, func(a, b sketchWay) bool {
					b.cost = a.cost
					return a == b
				})
				s.onward[w][k][g] = list
				for _, m := range list {
					to := &s.back[w][k][m.kind]
					m.kind = int32(g)
					*to = append(*to, m)
				}
			}
		}
	}
	return rimAlong, rimAcross
}

// either returns the least and the greatest whole number by which a rounded-down
// distance can grow when d is added.
func either(d float64) (low, high int) {
	if near := math.Round(d); math.Abs(d-near) < 1e-6 {
		return int(near), int(near)
	}
	return int(math.Floor(d)), int(math.Floor(d)) + 1
}

// lay gives every place of a layer its cell.
func (o *sketchLayer) lay(s *sketch, number int, weight int32, rimAlong, rimAcross int) {
	l := &s.grouping.plan.ground.layers[number]
	if l.usable == nil {
		return
	}
	length, bands := whole(l.length, s.along)+1, whole(l.breadth, s.across)+1
	o.columns = bands + 2*rimAcross
	o.cells = o.columns * (length + 2*rimAlong)
	o.cell, o.rise = make([]int32, len(l.usable)), make([]int32, len(l.usable))
	o.lane = make([]int32, o.cells)
	for i := range o.lane {
		o.lane[i] = shut
	}
	for place, use := range l.usable {
		if use == 0 {
			continue
		}
		x, y := float64(l.along[place]), float64(l.across[place])
		a := whole(x, s.along)
		n := (a+rimAlong)*o.columns + whole(y, s.across) + rimAcross
		o.cell[place] = int32(n)
		o.rise[place] = int32(math.Round(fine * s.slope * (x - float64(a)*s.along)))
		if lane := fine * weight * int32(l.lane[place]); o.lane[n] == shut || lane < o.lane[n] {
			o.lane[n] = lane
		}
	}
}

// turn finds the corners from a layer into the next.
func (s *sketch) turn(layer int) {
	l, next := &s.grouping.plan.ground.layers[layer], &s.grouping.plan.ground.layers[layer+1]
	o, p := &s.layers[layer], &s.layers[layer+1]
	var all []cornerTurn
	for place, use := range l.usable {
		if use&inCorner == 0 {
			continue
		}
		if c := l.cell(place); next.holds(c) && next.usable[next.place(c)] != 0 {
			at := next.place(c)
			all = append(all, cornerTurn{o.cell[place], p.cell[at], o.rise[place] - p.rise[at]})
		}
	}
	slices.SortFunc(all, func(a, b cornerTurn) int {
		return cmp.Or(cmp.Compare(a.from, b.from), cmp.Compare(a.to, b.to), cmp.Compare(a.cost, b.cost))
	})
	all = slices.CompactFunc(all, func(a, b cornerTurn) bool { return a.from == b.from && a.to == b.to })
	o.turns = newTurnTable(o.cells, all)
	for i, t := range all {
		all[i].from, all[i].to = t.to, t.from
	}
	slices.SortStableFunc(all, func(a, b cornerTurn) int { return cmp.Compare(a.from, b.from) })
	p.turnsBack = newTurnTable(p.cells, all)
}

// cornerTurn is a turn from a cell to another.
type cornerTurn struct{ from, to, cost int32 }

// newTurnTable makes the table of turns that are in the order of their cells.
func newTurnTable(cells int, all []cornerTurn) turnTable {
	t := turnTable{first: make([]int32, cells+1)}
	for _, c := range all {
		t.first[c.from+1]++
		t.turns = append(t.turns, sketchTurn{c.to, c.cost})
	}
	for i := range cells {
		t.first[i+1] += t.first[i]
	}
	return t
}
