package search

import (
	"math"
	"sync"

	"lapwright/figures/geometry"
	"lapwright/floors"
)

// ground is the floor as the search sees it: for every layer of a lap the
// places where a couple may be. Layer i is the part of the lap danced along
// wall i; one layer more stands for the first wall reached again, so that the
// walls are passed in order. Where a routine goes round several times, so do the
// layers.
type ground struct {
	room   *floors.Room
	field  *floors.Field
	clear  []int32 // clearance in whole millimetres, rounded down, by field index
	origin floors.Cell
	layers []layer
	states uint64 // places of all layers
}

// layer is a box of lattice places around the strip of one wall.
type layer struct {
	number     int // the layer's place in the lap
	wall       int
	low        floors.Cell // the box's least corner
	cols, rows int32
	first      uint64 // number of the first place of this layer
	// usable says, by place, whether the couple's centre may be there: bit 0
	// the wall is in use, bit 1 the next wall may be taken.
	usable []uint8
	// lane is the cost in hundredths of a bar, each bar, of a place's distance
	// from the middle of the lane.
	lane []uint16
	// along and across are a place's distances in metres from the box's first
	// place along the wall and, toward the centre, across the lane.
	along, across   []float32
	length, breadth float64 // the greatest of them
}

const (
	inUse    = 1
	inCorner = 2
)

// newGround lays out the floor for a lap that begins along the first wall given,
// that goes round so many times.
func newGround(room *floors.Room, w Weights, first, laps int) *ground {
	g := &ground{room: room, field: room.Field(floors.Step)}
	g.origin = floors.CellAt(g.field.Origin)
	g.clear = make([]int32, len(g.field.Clear))
	for i, c := range g.field.Clear {
		// Half a micrometre is more than the last digit of a float32 and less
		// than what the checker forgives.
		g.clear[i] = int32(math.Floor(float64(c)*1000 + 5e-4))
	}
	n := len(room.Walls)
	g.layers = make([]layer, n*laps+1)
	var all sync.WaitGroup
	for i := range g.layers[:n] {
		all.Go(func() { g.layers[i] = g.newLayer((first+i)%n, w) })
	}
	all.Wait()
	for i := range g.layers {
		g.layers[i] = g.layers[i%n]
		g.layers[i].number = i
		g.layers[i].first = g.states
		g.states += uint64(g.layers[i].cols) * uint64(g.layers[i].rows)
	}
	return g
}

// newLayer finds the places along one wall where a couple's centre can be.
func (g *ground) newLayer(wall int, w Weights) layer {
	l := layer{wall: wall}
	low, high := floors.Cell{X: math.MaxInt, Y: math.MaxInt}, floors.Cell{X: math.MinInt, Y: math.MinInt}
	type spot struct {
		cell floors.Cell
		use  uint8
	}
	var spots []spot
	for row := range g.field.Rows {
		for col := range g.field.Columns {
			if g.clear[row*g.field.Columns+col] < leastClear {
				continue
			}
			c := g.origin.Add(floors.Cell{X: col, Y: row})
			p := c.Point()
			var use uint8
			if g.room.InUse(wall, p) {
				use |= inUse
			}
			if g.room.InCorner(wall, p) {
				use |= inCorner
			}
			if use == 0 {
				continue
			}
			spots = append(spots, spot{c, use})
			low = floors.Cell{X: min(low.X, c.X), Y: min(low.Y, c.Y)}
			high = floors.Cell{X: max(high.X, c.X), Y: max(high.Y, c.Y)}
		}
	}
	if len(spots) == 0 {
		return l
	}
	l.low, l.cols, l.rows = low, int32(high.X-low.X+1), int32(high.Y-low.Y+1)
	n := int(l.cols) * int(l.rows)
	l.usable, l.lane = make([]uint8, n), make([]uint16, n)
	l.along, l.across = make([]float32, n), make([]float32, n)
	at := &g.room.Walls[wall]
	ahead := geometry.Unit(at.Direction)
	leastX, leastY := math.Inf(1), math.Inf(1)
	for _, s := range spots {
		from := floors.Cell{X: s.cell.X - low.X, Y: s.cell.Y - low.Y}.Point()
		leastX, leastY = min(leastX, ahead.Dot(from)), min(leastY, ahead.Cross(from))
	}
	for _, s := range spots {
		// Distances are from the box's corner, so that along an upright wall each
		// is a whole number of steps.
		from := floors.Cell{X: s.cell.X - low.X, Y: s.cell.Y - low.Y}.Point()
		x, y := ahead.Dot(from)-leastX, ahead.Cross(from)-leastY
		l.length, l.breadth = max(l.length, x), max(l.breadth, y)
		place := l.place(s.cell)
		l.usable[place] = s.use
		l.along[place], l.across[place] = float32(x), float32(y)
		_, off := at.Locate(s.cell.Point())
		l.lane[place] = uint16(math.Min(60000, math.Round(100*w.Lane*math.Abs(off-at.Lane))))
	}
	return l
}

// whole is a distance in units, rounded down; a hair is added so that the last
// digits of a float32 do not count.
func whole(metres, unit float64) int { return int(math.Floor((metres + 1e-5) / unit)) }

// LeastClear is the clearance in metres below which no couple's centre can be
// anywhere: half the depth of the two bodies.
const LeastClear = 0.3

// leastClear is the same in millimetres.
const leastClear = 1000 * LeastClear

// place is the number of a cell in its layer; the cell must be in the box.
func (l *layer) place(c floors.Cell) int {
	return (c.Y-l.low.Y)*int(l.cols) + c.X - l.low.X
}

// cell is the cell of a place.
func (l *layer) cell(place int) floors.Cell {
	return floors.Cell{X: l.low.X + place%int(l.cols), Y: l.low.Y + place/int(l.cols)}
}

// holds reports whether a cell lies in the layer's box.
func (l *layer) holds(c floors.Cell) bool {
	x, y := c.X-l.low.X, c.Y-l.low.Y
	return x >= 0 && y >= 0 && x < int(l.cols) && y < int(l.rows)
}

// locate is the layer in which the place of a number lies, and its place there.
func (g *ground) locate(number uint32) (layer, place int) {
	layer = len(g.layers) - 1
	for uint64(number) < g.layers[layer].first {
		layer--
	}
	return layer, int(uint64(number) - g.layers[layer].first)
}

// index is the number of a cell in the field.
func (g *ground) index(c floors.Cell) int {
	return (c.Y-g.origin.Y)*g.field.Columns + c.X - g.origin.X
}
