package floors

import (
	"math"

	"lapwright/figures/geometry"
)

// Step is the spacing in metres of the lattice on which couples are placed:
// every figure begins and ends with the couple's centre on a whole multiple of
// it in the room's frame.
const Step = 0.05

// Cell is a place of the lattice, in steps from the origin of the room's frame.
type Cell struct{ X, Y int }

// Add returns the cell that lies d further on.
func (c Cell) Add(d Cell) Cell { return Cell{c.X + d.X, c.Y + d.Y} }

// Point is the cell's place in the room, in metres.
func (c Cell) Point() geometry.Point {
	return geometry.Point{X: float64(c.X) * Step, Y: float64(c.Y) * Step}
}

// CellAt is the cell nearest to a place.
func CellAt(p geometry.Point) Cell {
	return Cell{int(math.Round(p.X / Step)), int(math.Round(p.Y / Step))}
}

// snapBias settles displacements that lie halfway between two cells, so that
// the last digits of a sum cannot.
const snapBias = 1e-7

// Shift is the displacement that a couple makes along this wall, given in metres
// in the frame of its line of dance, rounded to the lattice.
func (w *Wall) Shift(d geometry.Point) Cell {
	r := d.Rotate(w.Direction)
	return Cell{int(math.Floor(r.X/Step + 0.5 + snapBias)), int(math.Floor(r.Y/Step + 0.5 + snapBias))}
}
