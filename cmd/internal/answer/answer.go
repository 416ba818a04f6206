// Package answer holds the program's answers as the data that --json prints and
// that tables and drawings show.
//
// What lives here: the shapes, with the names and the order of their fields, and
// how they are filled from what the other packages computed. What does not: how
// anything is computed, and how it looks on a screen.
//
// Fields keep their names, order and meaning. Lengths are in metres, times in
// seconds or beats as the name says, costs in bars; an empty list is [] and
// never null.
//
// A first use:
//
//	report := check.Dance(room, couple, &r, limits)
//	json.NewEncoder(os.Stdout).Encode(answer.NewRoutine(report, &r))
package answer

import (
	"encoding/json"
	"io"
	"math"
	"strconv"

	"lapwright/figures"
	"lapwright/figures/geometry"
)

// Write writes an answer as JSON, indented, with a line break at the end.
func Write(w io.Writer, answer any) error {
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	return enc.Encode(answer)
}

// Number is a number with as many digits as mean something: lengths to a tenth
// of a millimetre. Sums that differ in their last digits only are the same.
type Number float64

// MarshalJSON writes the number as short as it can be.
func (n Number) MarshalJSON() ([]byte, error) {
	x := math.Round(float64(n)*1e4)/1e4 + 0 // no minus zero
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return []byte("null"), nil
	}
	return strconv.AppendFloat(nil, x, 'f', -1, 64), nil
}

// Exact is a number with all digits that can matter to a solver that rounds it
// by itself.
type Exact float64

// MarshalJSON writes the number as short as it can be.
func (e Exact) MarshalJSON() ([]byte, error) {
	return strconv.AppendFloat(nil, math.Round(float64(e)*1e9)/1e9+0, 'f', -1, 64), nil
}

// Point is a place or a displacement in metres.
type Point struct {
	X Number `json:"x"`
	Y Number `json:"y"`
}

func point(p geometry.Point) Point { return Point{Number(p.X), Number(p.Y)} }

func points(list []geometry.Point) []Point {
	all := make([]Point, len(list))
	for i, p := range list {
		all[i] = point(p)
	}
	return all
}

// Stance is how a couple stands: the leader's alignment, which of the leader's
// feet is free, and the hold, in words.
type Stance struct {
	Alignment string `json:"alignment"`
	FreeFoot  string `json:"free_foot"`
	Hold      string `json:"hold"`
}

// NewStance is a stance in words; the leader is said to face.
func NewStance(s figures.Stance) Stance { return stance(s, figures.Facing) }

func stance(s figures.Stance, way figures.Way) Stance {
	return Stance{aligned(s.Facing, way).String(), s.Free.String(), s.Hold.String()}
}

func stances(list []figures.Stance) []Stance {
	all := make([]Stance, len(list))
	for i, s := range list {
		all[i] = NewStance(s)
	}
	return all
}

// aligned is a front in the trade's words: who is about to go backward backs the
// opposite direction.
func aligned(front figures.Heading, way figures.Way) figures.Alignment {
	if way == figures.Backing {
		return figures.Alignment{Way: figures.Backing, Heading: front.Add(figures.Headings / 2)}
	}
	return figures.Alignment{Way: figures.Facing, Heading: front}
}

// list is never nil, so that JSON has [] and not null.
func list[T any](items []T) []T {
	if items == nil {
		return []T{}
	}
	return items
}

// Degrees is an angle in degrees, from 0 to under 360.
func Degrees(radians float64) float64 {
	d := math.Mod(radians*180/math.Pi, 360)
	if d < -1e-9 {
		d += 360
	}
	return math.Abs(d)
}
