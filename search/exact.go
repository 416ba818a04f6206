package search

import (
	"lapwright/figures/geometry"
	"lapwright/floors"
)

// Exactly is the same graph with clearances measured exactly, as the checker measures
// them. Otherwise a clearance includes the rounding of its place, so that up to 7 cm more
// room is asked for than a figure takes.
func (s *States) Exactly() *States {
	e := *s
	e.sweeps = make([]lazySweep, len(s.plan.edges))
	return &e
}

// rounding is how many millimetres a probe may ask for over what the figure takes there:
// twice half the diagonal of a cell, and what whole millimetres round.
const rounding = 75

// fits reports whether an edge keeps clear of walls and obstacles along a wall.
func (s *States) fits(number int32, wall int, from floors.Cell) bool {
	shape := &s.plan.edges[number].shapes[wall]
	if s.plan.crowd(shape, from) != blocked {
		return true
	}
	if s.sweeps == nil || s.plan.lacks(shape, from) > rounding {
		return false
	}
	room := s.Room()
	at, direction := from.Point(), room.Walls[wall].Direction
	for _, disc := range s.sweep(number) {
		if room.Clearance(at.Add(disc.Centre.Rotate(direction))) < disc.Radius+s.plan.margin-hair {
			return false
		}
	}
	return true
}

// sweep is what an edge sweeps in its own frame. It is found when it is first asked for.
func (s *States) sweep(number int32) []geometry.Disc {
	lazy, e := &s.sweeps[number], &s.plan.edges[number]
	lazy.once.Do(func() {
		p := s.plan.problem
		lazy.discs = e.variant.Dance(e.entry, p.Couple.WithStride(p.Couple.Stride*p.Scales[e.scale].Share)).Sweep()
	})
	return lazy.discs
}

// lacks is how many millimetres of clearance a shape lacks from a cell, at its worst
// probe; very many where it leaves the floor's field.
func (pl *plan) lacks(s *shape, c floors.Cell) int32 {
	g := pl.ground
	x, y := c.X-g.origin.X, c.Y-g.origin.Y
	if x+s.low.X < 0 || y+s.low.Y < 0 || x+s.high.X >= g.field.Columns || y+s.high.Y >= g.field.Rows {
		return blocked
	}
	at, worst := y*g.field.Columns+x, int32(0)
	for _, p := range s.probes {
		worst = max(worst, p.need-g.clear[at+int(p.offset)])
	}
	return worst
}
