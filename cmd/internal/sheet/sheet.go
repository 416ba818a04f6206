// Package sheet draws as SVG: a room from above, with a routine danced in it, and
// one figure's footprints step by step.
//
// What lives here: walls, obstacles, lane, footprints, the couple's path, names
// and the key, and where they go on the sheet. What does not: how anything is
// computed; a room's drawing shows a checker's report, a figure's the figure as it
// was danced.
//
// One unit of the drawing is a metre: x is the room's x, and y the room's y with
// the sign changed, because a drawing's y runs down. Leader and follower differ
// in colour and, for a print in black and white, in being filled or not.
//
// A first use:
//
//	report := check.Dance(room, couple, &r, limits)
//	data := sheet.Draw(report, sheet.Title{Name: "Evening lap"})
package sheet

import (
	"fmt"
	"math"

	"lapwright/figures/geometry"
	"lapwright/floors"
	"lapwright/search/check"
)

// Title is what stands over a drawing.
type Title struct {
	Name string
	Line string // a line under the name; may be empty
}

// Draw draws a routine as it was danced.
func Draw(report *check.Report, title Title) []byte {
	d := newDrawing(report.Room)
	d.report = report
	d.letter(labelled(report))
	d.floor()
	d.couple()
	d.labels()
	d.wallNames()
	d.frame(title)
	return d.document(title)
}

// DrawRoom draws an empty room.
func DrawRoom(room *floors.Room) []byte {
	d := newDrawing(room)
	d.letter(nil)
	d.floor()
	d.wallNames()
	title := Title{Name: room.Name, Line: fmt.Sprintf("%.1f m² to dance on, %.1f m once round", room.Area(), room.LapLength())}
	d.frame(title)
	return d.document(title)
}

// drawing gathers a drawing, from the lowest layer to the highest.
type drawing struct {
	svg
	room    *floors.Room
	report  *check.Report // nil for an empty room
	font    float64       // height of the letters of a figure's name, in metres
	low     geometry.Point
	high    geometry.Point      // of everything drawn so far, in the drawing's own frame
	boxes   []box               // of what has been written
	marks   []geometry.Point    // feet and path
	threads [][2]geometry.Point // from figures to their names
}

func newDrawing(room *floors.Room) *drawing {
	low, high := room.Bounds()
	d := &drawing{room: room, low: geometry.Point{X: low.X, Y: -high.Y}, high: geometry.Point{X: high.X, Y: -low.Y}}
	return d
}

// size is the greater of the room's length and breadth, in metres.
func (d *drawing) size() float64 {
	low, high := d.room.Bounds()
	return math.Max(high.X-low.X, high.Y-low.Y)
}

// letter chooses the size of the letters: readable on a sheet that shows the whole
// room, and small enough for the names along each wall; walls holds how many
// figures begin along each.
func (d *drawing) letter(walls []int) {
	d.font = math.Max(0.2, math.Min(0.45, 0.1+0.011*d.size()))
	for i, n := range walls {
		if n > 0 {
			d.font = math.Min(d.font, (d.room.Walls[i].Length+1)/(float64(n)*pitch))
		}
	}
	d.font = math.Max(0.1, d.font)
}

// at turns a place in the room into one in the drawing.
func at(p geometry.Point) geometry.Point { return geometry.Point{X: p.X, Y: -p.Y} }

// cover widens the sheet so that a place in the drawing is on it.
func (d *drawing) cover(p geometry.Point) {
	d.low = geometry.Point{X: math.Min(d.low.X, p.X), Y: math.Min(d.low.Y, p.Y)}
	d.high = geometry.Point{X: math.Max(d.high.X, p.X), Y: math.Max(d.high.Y, p.Y)}
}

// labelled counts the figures that begin along each wall.
func labelled(report *check.Report) []int {
	n := make([]int, len(report.Room.Walls))
	for i := range report.Rows {
		n[report.Rows[i].Wall]++
	}
	return n
}
