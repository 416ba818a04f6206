package floors

import (
	"math"
	"runtime"
	"sync"

	"lapwright/figures/geometry"
)

// Limits of a field.
const (
	fieldAround = 1.5     // metres beyond the bounds
	fieldCells  = 1 << 25 // most lattice points
	fieldStep   = 0.05    // metres, when the step asked for is none
)

// Field is the clearance on a lattice, for the search.
type Field struct {
	Origin        geometry.Point // whole multiples of Step
	Step          float64        // metres
	Columns, Rows int
	// Clear holds, row by row, the clearance in metres of [Room.Clearance] at
	// Origin + (column × Step, row × Step).
	Clear []float32
}

// Field computes the clearance on a lattice of a step in metres that covers the
// bounds of the room and 1.5 m all round. Lattice points are whole multiples of
// the step in the room's frame. A step that is not a positive number counts as
// 0.05; one that would need more than 33 million points is doubled until it
// does not. The answer does not depend on the number of processors.
func (r *Room) Field(step float64) *Field {
	if !(step > 0) || math.IsInf(step, 1) {
		step = fieldStep
	}
	lo, hi := r.Bounds()
	f := &Field{}
	for ; ; step *= 2 {
		x0, y0 := math.Floor((lo.X-fieldAround)/step), math.Floor((lo.Y-fieldAround)/step)
		columns := math.Ceil((hi.X+fieldAround)/step) - x0 + 1
		rows := math.Ceil((hi.Y+fieldAround)/step) - y0 + 1
		if columns*rows > fieldCells {
			continue
		}
		f.Origin, f.Step = geometry.Point{X: x0 * step, Y: y0 * step}, step
		f.Columns, f.Rows = int(columns), int(rows)
		break
	}
	f.Clear = make([]float32, f.Columns*f.Rows)
	workers := min(runtime.GOMAXPROCS(0), f.Rows)
	var wait sync.WaitGroup
	for w := range workers {
		wait.Go(func() {
			for row := w; row < f.Rows; row += workers {
				r.fieldRow(f, row)
			}
		})
	}
	wait.Wait()
	return f
}

// fieldRow fills one row. Whether a place is inside an obstacle can only change
// from one point to the next where an edge of an obstacle is within a step.
func (r *Room) fieldRow(f *Field, row int) {
	clear := f.Clear[row*f.Columns : (row+1)*f.Columns]
	if r.edges == nil {
		for i := range clear {
			clear[i] = float32(math.Inf(-1))
		}
		return
	}
	q := query{edges: r.edges, wall: -1, thing: -1}
	blocked, known := false, false
	for column := range clear {
		p := f.Place(column, row)
		gap := math.Sqrt(q.toThing(p, q.toWall(p)))
		if !known {
			blocked = q.inObstacle(p)
		}
		known = gap > 1.01*f.Step
		if blocked || !q.inOutline(p) {
			gap = -gap
		}
		clear[column] = float32(gap)
	}
}

// Place is the point of the room at a column and row of the lattice.
func (f *Field) Place(column, row int) geometry.Point {
	return geometry.Point{
		X: f.Origin.X + float64(column)*f.Step,
		Y: f.Origin.Y + float64(row)*f.Step,
	}
}

// At is the clearance in metres at a column and row, and minus infinity off the
// lattice.
func (f *Field) At(column, row int) float64 {
	if column < 0 || row < 0 || column >= f.Columns || row >= f.Rows {
		return math.Inf(-1)
	}
	return float64(f.Clear[row*f.Columns+column])
}
