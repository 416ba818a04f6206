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

// Plan says what of a routine is drawn, and how. The zero plan is all of it.
type Plan struct {
	// From and To are the figures that are drawn, as indexes of the report's rows; To 0
	// stands for the end.
	From, To int
	// Fault tells that the figure at To is at fault: where it was to begin is marked.
	Fault bool
	// Letters is the height of the letters of names in metres; 0 for what suits the room.
	Letters float64
	// Width is how wide words are in heights of their letters, where the type is known;
	// nil for that of whatever wide face there is.
	Width func(words string, heavy bool) float64
	// Turned tells that the drawing will be looked at turned by a quarter to the right, so
	// that letters are set to be read then.
	Turned bool
	// Bare leaves out title, key and caution, for a page that has its own; Key leaves the
	// key in, with the scale.
	Bare, Key bool
}

// Draw draws a routine as it was danced.
func Draw(report *check.Report, title Title) []byte { return Lap(report, title, Plan{}).SVG() }

// Lap draws a routine as it was danced.
func Lap(report *check.Report, title Title, plan Plan) *Picture {
	d := newDrawing(report.Room)
	d.report, d.rows = report, report.Rows[plan.From:]
	if plan.To > 0 || plan.Fault {
		d.rows = report.Rows[plan.From:plan.To]
	}
	if plan.Fault {
		d.fault = &report.Rows[plan.To]
	}
	d.width, d.turned = plan.Width, plan.Turned
	if d.font = plan.Letters; d.font == 0 {
		d.letter(d.labelled())
	} else {
		d.placeFont = 0.8 * d.font
	}
	d.outline()
	d.floor()
	d.couple()
	d.labels()
	d.wallNames()
	return d.done(title, plan)
}

// DrawRoom draws an empty room.
func DrawRoom(room *floors.Room) []byte {
	d := newDrawing(room)
	d.letter(nil)
	d.floor()
	d.wallNames()
	title := Title{Name: room.Name, Line: fmt.Sprintf("%.1f m² to dance on, %.1f m once round", room.Area(), room.LapLength())}
	return d.done(title, Plan{}).SVG()
}

// done is the picture, with what is around the drawing as the plan has it.
func (d *drawing) done(title Title, plan Plan) *Picture {
	d.title, d.words, d.Letters = title, d.describe(title), d.font
	if !plan.Bare {
		d.frame(title)
		return &d.Picture
	}
	if plan.Key {
		left, right := d.Low.X, math.Max(d.High.X, d.Low.X+12)
		d.group(`id="key"`)
		bottom := d.key(left, right, d.scale(left, d.High.Y+0.5, 2*d.placeFont)+0.2, 1.2*d.placeFont)
		d.end()
		d.cover(geometry.Point{X: right, Y: bottom})
	}
	const edge = 0.05
	d.Low, d.High = d.Low.Sub(geometry.Point{X: edge, Y: edge}), d.High.Add(geometry.Point{X: edge, Y: edge})
	return &d.Picture
}

// drawing gathers a drawing, from the lowest layer to the highest.
type drawing struct {
	Picture
	room      *floors.Room
	report    *check.Report                          // nil for an empty room
	rows      []check.Row                            // what of it is drawn
	turned    bool                                   // see [Plan]
	fault     *check.Row                             // the figure that is at fault, after these; may be nil
	font      float64                                // height of the letters of a figure's name, in metres
	placeFont float64                                // that of walls
	width     func(words string, heavy bool) float64 // see [Plan]
	boxes     []box                                  // of what has been written
	trodden   []geometry.Point                       // feet and path
	threads   [][2]geometry.Point                    // from figures to their names
}

func newDrawing(room *floors.Room) *drawing {
	low, high := room.Bounds()
	return &drawing{room: room, Picture: Picture{Low: geometry.Point{X: low.X, Y: -high.Y}, High: geometry.Point{X: high.X, Y: -low.Y}}}
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
	d.placeFont = math.Min(0.75*d.font, 0.28)
}

// long is how long words are when they are written.
func (d *drawing) long(words string, font float64, heavy bool) float64 {
	switch {
	case d.width != nil:
		return font * d.width(words, heavy)
	case heavy:
		return bold(words, font)
	}
	return wide(words, font)
}

// at turns a place in the room into one in the drawing.
func at(p geometry.Point) geometry.Point { return geometry.Point{X: p.X, Y: -p.Y} }

// cover widens the sheet so that a place in the drawing is on it.
func (d *drawing) cover(p geometry.Point) {
	d.Low = geometry.Point{X: math.Min(d.Low.X, p.X), Y: math.Min(d.Low.Y, p.Y)}
	d.High = geometry.Point{X: math.Max(d.High.X, p.X), Y: math.Max(d.High.Y, p.Y)}
}

// labelled counts the names along each wall.
func (d *drawing) labelled() []int {
	n := make([]int, len(d.room.Walls))
	for i := range d.rows {
		n[d.rows[i].Wall]++
	}
	if d.fault != nil {
		n[d.fault.Wall]++
	}
	return n
}
