package sheet

import (
	"fmt"
	"math"

	"lapwright/cmd/internal/answer"
	"lapwright/figures"
	"lapwright/figures/geometry"
)

// The sheet of one figure. On top stand two plans, true to scale: where the
// leader's feet go, and where the follower's do. Steps that turn lie across each
// other, so both dancers together are shown step by step below: a row for each
// bar, a panel for each step, all looked at the same way, with the line of dance
// to the right.
const (
	bandWidth = 0.85 // left of each row: the bar, the wall and the centre
	panelGap  = 0.12
	panelHead = 0.16  // above the feet in a panel: its number and count
	lineFont  = 0.088 // the words below a panel
	lineStep  = 0.125
	headFont  = 0.13
)

// DrawFigure draws the footprints of a figure as it was danced.
func DrawFigure(d *figures.Danced, title Title) []byte {
	f := &figureSheet{danced: d, steps: answer.NewSteps(d)}
	f.layout()
	y := f.title(title)
	y = f.plans(y)
	for i := range f.bars {
		y = f.row(i, y)
	}
	f.bottom = f.figureKey(y)
	return f.document(title)
}

// figureSheet gathers the drawing of one figure.
type figureSheet struct {
	svg
	danced *figures.Danced
	steps  []answer.StepOfBook
	bars   [][]int        // the steps of each bar, from 0
	panel  geometry.Point // the size of every panel
	width  float64        // of the sheet, without its edge
	bottom float64
}

// layout sorts the steps into bars and finds the size of a panel that holds any
// of them.
func (f *figureSheet) layout() {
	beats, at := float64(f.danced.Variant.Figure.Beats), 0.0
	for i, s := range f.danced.Variant.Steps {
		bar := int(at / beats)
		for len(f.bars) <= bar {
			f.bars = append(f.bars, nil)
		}
		f.bars[bar] = append(f.bars[bar], i)
		at += s.Beats
	}
	columns := 1
	for _, bar := range f.bars {
		columns = max(columns, len(bar))
	}
	// The words under a panel need 2 m.
	f.panel = geometry.Point{X: 2.05, Y: 1.3}
	for i := range f.danced.Steps {
		low, high := bounds(f.stepPrints(i))
		f.panel.X = math.Max(f.panel.X, high.X-low.X+0.6)
		f.panel.Y = math.Max(f.panel.Y, high.Y-low.Y+0.6+panelHead)
	}
	f.width = bandWidth + float64(columns)*(f.panel.X+panelGap)
	f.width = math.Max(f.width, 7)
	f.width = math.Max(f.width, f.planSize().X+0.3)
}

// before is the moment at which step i begins.
func (f *figureSheet) before(i int) *figures.Moment {
	if i == 0 {
		return &f.danced.Start
	}
	return &f.danced.Steps[i-1].After
}

// stepPrints lists the places of all feet that a step's panel shows.
func (f *figureSheet) stepPrints(i int) (all []geometry.Point) {
	for _, m := range []*figures.Moment{f.before(i), &f.danced.Steps[i].Placed, &f.danced.Steps[i].After} {
		for who := range m.Feet {
			for foot := range m.Feet[who] {
				all = append(all, m.Feet[who][foot].At)
			}
		}
	}
	return all
}

func bounds(all []geometry.Point) (low, high geometry.Point) {
	low, high = all[0], all[0]
	for _, p := range all {
		low = geometry.Point{X: math.Min(low.X, p.X), Y: math.Min(low.Y, p.Y)}
		high = geometry.Point{X: math.Max(high.X, p.X), Y: math.Max(high.Y, p.Y)}
	}
	return low, high
}

// view shows a piece of floor somewhere on the sheet, with the line of dance to
// the right and the centre of the room above.
type view struct {
	origin geometry.Point // on the sheet: the middle of what is shown
	middle geometry.Point // on the floor
}

// at is a place of the floor on the sheet.
func (v view) at(p geometry.Point) geometry.Point {
	return v.origin.Add(at(p.Sub(v.middle)))
}

// title writes the figure's name, how it is counted, and its two ends; it returns
// the y below.
func (f *figureSheet) title(title Title) float64 {
	y := 0.3
	f.text(geometry.Point{Y: y}, "head", "start", 0.26, 0, title.Name)
	f.width = math.Max(f.width, bold(title.Name, 0.26))
	v := f.danced.Variant
	lines := []string{
		fmt.Sprintf("Counted %s. Begins %s.", figures.CountWords(v.Steps, v.Figure.Beats), f.danced.Entry),
		fmt.Sprintf("Turns %s in all. Ends %s.", v.Turn(), f.danced.Exit),
	}
	if v.Turn() == 0 {
		lines[1] = fmt.Sprintf("No turn in all. Ends %s.", f.danced.Exit)
	}
	if title.Line != "" {
		lines = append(lines, title.Line)
	}
	for _, line := range lines {
		y += 0.19
		f.text(geometry.Point{Y: y}, "small", "start", headFont, 0, line)
		f.width = math.Max(f.width, wide(line, headFont))
	}
	return y + 0.25
}

// planMargin is the floor that a plan shows around the feet, in metres.
const planMargin = 0.4

// planBounds are those of all feet in the figure.
func (f *figureSheet) planBounds() (low, high geometry.Point) {
	var all []geometry.Point
	for i := range f.danced.Steps {
		all = append(all, f.stepPrints(i)...)
	}
	return bounds(all)
}

// planSize is the size of one plan.
func (f *figureSheet) planSize() geometry.Point {
	low, high := f.planBounds()
	return geometry.Point{X: math.Max(3.2, high.X-low.X+2*planMargin), Y: math.Max(1.2, high.Y-low.Y+2*planMargin)}
}

// plans draws the leader's and the follower's plan, side by side where the sheet
// is wide enough; it returns the y below.
func (f *figureSheet) plans(y float64) float64 {
	size := f.planSize()
	low, high := f.planBounds()
	beside := 2*size.X+0.3 <= f.width
	x := 0.0
	for who := figures.Leader; who <= figures.Follower; who++ {
		words := "The leader's feet"
		if who == figures.Follower {
			words = "The follower's feet"
		}
		f.put(`<g id="plan-%s">`, who)
		f.text(geometry.Point{X: x, Y: y + 0.15}, "name", "start", headFont, 0, words)
		top := y + 0.25
		f.floorPiece(geometry.Point{X: x, Y: top}, size, true)
		v := view{geometry.Point{X: x + size.X/2, Y: top + size.Y/2}, low.Between(high, 0.5)}
		f.plan(v, who)
		f.put(`</g>`)
		if below := top + size.Y + 0.35; beside && who == figures.Leader {
			x = size.X + 0.3
		} else {
			x, y = 0, below
		}
	}
	f.scaleBar(0, y)
	return y + 0.35
}

// floorPiece draws the frame of a plan or a panel: the wall side below. Named, it
// says so, and which way the line of dance goes.
func (f *figureSheet) floorPiece(p, size geometry.Point, named bool) {
	f.put(`<rect class="floor" x="%s" y="%s" width="%s" height="%s"/>`, num(p.X), num(p.Y), num(size.X), num(size.Y))
	f.wallSide(p.X, p.Y+size.Y, size.X)
	if !named {
		return
	}
	f.text(geometry.Point{X: p.X + 0.06, Y: p.Y + 0.14}, "place", "start", 0.1, 0, "centre of the room")
	f.text(geometry.Point{X: p.X + 0.06, Y: p.Y + size.Y + 0.17}, "place", "start", 0.1, 0, "wall")
	f.danceArrow(geometry.Point{X: p.X + size.X - 1.45, Y: p.Y + size.Y + 0.14})
}

// wallSide draws the wall: a thick line with strokes behind it.
func (f *figureSheet) wallSide(x, y, length float64) {
	f.put(`<line class="wallside" x1="%s" y1="%s" x2="%s" y2="%s"/>`, num(x), num(y), num(x+length), num(y))
}

// danceArrow draws the line of dance with its name.
func (f *figureSheet) danceArrow(p geometry.Point) {
	tip := p.Add(geometry.Point{X: 0.55})
	f.put(`<path class="dance" d="M%s L%s M%s"/>`, xy(p), xy(tip),
		line([]geometry.Point{tip.Add(geometry.Point{X: -0.07, Y: -0.05}), tip, tip.Add(geometry.Point{X: -0.07, Y: 0.05})}))
	f.text(tip.Add(geometry.Point{X: 0.06, Y: 0.035}), "place", "start", 0.1, 0, "line of dance")
}

// scaleBar draws a metre in quarters.
func (f *figureSheet) scaleBar(x, y float64) {
	for i := range 4 {
		class := "bar"
		if i%2 == 1 {
			class = "hollow"
		}
		f.put(`<rect class="%s" x="%s" y="%s" width="0.25" height="0.05"/>`, class, num(x+0.25*float64(i)), num(y))
	}
	f.text(geometry.Point{X: x, Y: y + 0.17}, "small", "start", 0.1, 0, "0")
	f.text(geometry.Point{X: x + 1, Y: y + 0.17}, "small", "middle", 0.1, 0, "1 m")
	f.text(geometry.Point{X: x + 1.2, Y: y + 0.06}, "small", "start", 0.1, 0,
		fmt.Sprintf("the same for plans and steps, with a stride of %g m", f.danced.Couple.Stride))
}

// row draws the steps of a bar, counted from 0; it returns the y below.
func (f *figureSheet) row(bar int, y float64) float64 {
	if len(f.bars[bar]) == 0 {
		return y
	}
	f.put(`<g id="bar-%d">`, bar+1)
	top := y + 0.1
	f.text(geometry.Point{Y: top + 0.14}, "name", "start", headFont, 0, fmt.Sprintf("Bar %d", bar+1))
	f.text(geometry.Point{X: bandWidth - 0.08, Y: top + 0.32}, "place", "end", 0.09, 0, "centre")
	f.text(geometry.Point{X: bandWidth - 0.08, Y: top + f.panel.Y}, "place", "end", 0.09, 0, "wall")
	f.rowArrow(top + f.panel.Y/2)
	x, lines := bandWidth, 0
	for _, i := range f.bars[bar] {
		lines = max(lines, f.step(i, geometry.Point{X: x, Y: top}))
		x += f.panel.X + panelGap
	}
	f.put(`</g>`)
	return top + f.panel.Y + 0.12 + float64(lines)*lineStep + 0.15
}

// rowArrow draws the line of dance beside a row.
func (f *figureSheet) rowArrow(y float64) {
	from, tip := geometry.Point{X: 0.08, Y: y}, geometry.Point{X: bandWidth - 0.15, Y: y}
	f.put(`<path class="dance" d="M%s L%s M%s"/>`, xy(from), xy(tip),
		line([]geometry.Point{tip.Add(geometry.Point{X: -0.07, Y: -0.05}), tip, tip.Add(geometry.Point{X: -0.07, Y: 0.05})}))
	f.text(geometry.Point{X: 0.08, Y: y + 0.14}, "place", "start", 0.09, 0, "line of")
	f.text(geometry.Point{X: 0.08, Y: y + 0.25}, "place", "start", 0.09, 0, "dance")
}
