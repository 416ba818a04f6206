package search

import (
	"math"
	"slices"

	"lapwright/figures/geometry"
	"lapwright/floors"
)

// shape is an edge laid along one wall, on the lattice.
type shape struct {
	shift  floors.Cell
	probes []probe
	// The box of the probes around the start, in cells.
	low, high floors.Cell
	// reach is the clearance in millimetres at the start from which no probe
	// can be crowded.
	reach int32
}

// probe is a disc of the sweep: where it lies in the field from the start, and
// the clearance in millimetres that the middle of its cell needs.
type probe struct {
	offset int32
	need   int32
}

// lay puts a displacement and a sweep that is turned by an angle along every
// wall.
func (pl *plan) lay(displacement geometry.Point, sweep []geometry.Disc, turned float64) []shape {
	g := pl.ground
	walls := pl.problem.Room.Walls
	shapes := make([]shape, len(walls))
	for i := range walls {
		w := &walls[i]
		if j := alike(walls, i); j < i {
			shapes[i] = shapes[j]
			continue
		}
		s := shape{shift: w.Shift(displacement), probes: make([]probe, 0, len(sweep))}
		seen := make(map[int32]int, len(sweep))
		for _, disc := range sweep {
			at := disc.Centre.Rotate(turned + w.Direction)
			c := floors.CellAt(at)
			s.low = floors.Cell{X: min(s.low.X, c.X), Y: min(s.low.Y, c.Y)}
			s.high = floors.Cell{X: max(s.high.X, c.X), Y: max(s.high.Y, c.Y)}
			// The field is exact at the cell and falls by at most a metre a
			// metre, so the rounding of the place is added to what is needed.
			need := disc.Radius + pl.margin + at.Sub(c.Point()).Len()
			pr := probe{int32(c.Y*g.field.Columns + c.X), int32(math.Ceil(need*1000 - 1e-6))}
			if k, ok := seen[pr.offset]; ok {
				s.probes[k].need = max(s.probes[k].need, pr.need)
			} else {
				seen[pr.offset] = len(s.probes)
				s.probes = append(s.probes, pr)
			}
			s.reach = max(s.reach, int32(math.Ceil((c.Point().Len()+need+Comfort)*1000))+1)
		}
		shapes[i] = s
	}
	return shapes
}

// alike is the first wall with the direction of a wall.
func alike(walls []floors.Wall, wall int) int {
	return slices.IndexFunc(walls, func(o floors.Wall) bool { return o.Direction == walls[wall].Direction })
}

// blocked is what crowd returns where the couple would touch something.
const blocked = math.MaxInt32

// crowd is the cost in hundredths of a bar, each bar, of dancing a shape from a
// cell so near to walls or obstacles; blocked where it does not fit.
func (pl *plan) crowd(s *shape, c floors.Cell) int32 {
	g := pl.ground
	x, y := c.X-g.origin.X, c.Y-g.origin.Y
	if x+s.low.X < 0 || y+s.low.Y < 0 || x+s.high.X >= g.field.Columns || y+s.high.Y >= g.field.Rows {
		return blocked
	}
	at := y*g.field.Columns + x
	if g.clear[at] >= s.reach {
		return 0
	}
	least := int32(comfort)
	for _, p := range s.probes {
		slack := g.clear[at+int(p.offset)] - p.need
		if slack < least {
			if slack < 0 {
				return blocked
			}
			least = slack
		}
	}
	return pl.crowding(least)
}

const comfort = Comfort * 1000

// crowding is the cost of a clearance in millimetres over the margin.
func (pl *plan) crowding(slack int32) int32 {
	return int32(math.Round(100 * pl.problem.Weights.Crowding * float64(comfort-slack) / comfort))
}
