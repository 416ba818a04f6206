package handout

import (
	"fmt"
	"math"

	"lapwright/cmd/internal/sheet"
	"lapwright/figures/geometry"
)

// painter paints a drawing on a page: a metre of it is so many millimetres.
type painter struct {
	*press
	x, y  float64 // of the drawing's origin on the page
	scale float64
	// turned by a quarter to the right, so that a long room lies along an upright page.
	turned bool
}

// at is a place of the drawing on the page.
func (p painter) at(q geometry.Point) (x, y float64) {
	if p.turned {
		q = geometry.Point{X: -q.Y, Y: q.X}
	}
	return p.x + q.X*p.scale, p.y + q.Y*p.scale
}

// begin takes the colours of a look, and tells how a path is drawn with them.
func (p painter) begin(look sheet.Look) (style string) {
	p.ink(look.Stroke, look.Fill, look.Width*p.scale)
	var dash []float64
	for _, d := range look.Dash {
		dash = append(dash, d*p.scale)
	}
	if dash == nil {
		dash = []float64{}
	}
	p.pdf.SetDashPattern(dash, 0)
	p.pdf.SetLineJoinStyle("round")
	p.pdf.SetLineCapStyle("butt")
	if look.Round {
		p.pdf.SetLineCapStyle("round")
	}
	if look.Fill != "" {
		style = "F"
	}
	if look.Stroke != "" {
		style += "D"
	}
	return style
}

func (p painter) Lines(look sheet.Look, closed bool, lines ...[]geometry.Point) {
	style := p.begin(look)
	for _, line := range lines {
		for i, q := range line {
			x, y := p.at(q)
			if i == 0 {
				p.pdf.MoveTo(x, y)
			} else {
				p.pdf.LineTo(x, y)
			}
		}
		if closed {
			p.pdf.ClosePath()
		}
	}
	p.pdf.DrawPath(style)
}

func (p painter) Circle(look sheet.Look, centre geometry.Point, radius float64) {
	style := p.begin(look)
	x, y := p.at(centre)
	p.pdf.Circle(x, y, radius*p.scale, style)
}

func (p painter) Curves(look sheet.Look, curves []sheet.Curve) {
	style := p.begin(look)
	for i, c := range curves {
		x, y := p.at(c.To)
		if c.Begins {
			if i > 0 {
				p.pdf.ClosePath()
			}
			p.pdf.MoveTo(x, y)
			continue
		}
		ax, ay := p.at(c.First)
		bx, by := p.at(c.Other)
		p.pdf.CurveBezierCubicTo(ax, ay, bx, by, x, y)
	}
	p.pdf.ClosePath()
	p.pdf.DrawPath(style)
}

func (p painter) Text(look sheet.Look, at geometry.Point, anchor string, font, degrees float64, words string) {
	size, w := font*p.scale/point, plain
	if look.Bold {
		w = bold
	}
	if p.turned {
		degrees += 90
	}
	x, y := p.at(at)
	width := p.width(words, size, w)
	left := x
	switch anchor {
	case "middle":
		left = x - width/2
	case "end":
		left = x - width
	}
	if degrees == 0 {
		p.put(left, y, size, w, look.Fill, words)
		return
	}
	p.pdf.TransformBegin()
	p.pdf.TransformRotate(math.Remainder(-degrees, 360), x, y)
	p.put(left, y, size, w, look.Fill, words)
	p.pdf.TransformEnd()
}

// paint paints a drawing with its corner at a place.
func (p *press) paint(picture *sheet.Picture, turned bool, x, y, scale float64) {
	corner := picture.Low
	if turned {
		corner = geometry.Point{X: -picture.High.Y, Y: picture.Low.X}
	}
	picture.Paint(painter{p, x - corner.X*scale, y - corner.Y*scale, scale, turned})
	p.pdf.SetDashPattern([]float64{}, 0)
	p.pdf.SetLineCapStyle("butt")
}

// part is a stretch of the routine that is drawn on a page.
type part struct {
	sheet.Plan
	picture *sheet.Picture
	scale   float64 // millimetres on paper for a metre of floor
}

// size is that of the drawing on paper, in metres.
func (d *part) size() geometry.Point {
	size := d.picture.High.Sub(d.picture.Low)
	if d.Turned {
		size.X, size.Y = size.Y, size.X
	}
	return size
}

// The sizes in points between which names on a floor are set, and how many figures are
// drawn together at the least and at the most.
const (
	leastName = 6.2
	usualName = 7.4
	fewNames  = 6
	manyNames = 60
)

// parts shares the routine among drawings in which the names can be read: a drawing for
// each time round the room, and more where there are too many names for one. The plan says
// how they are drawn; where it allows that they are turned, all are or none, whichever is
// larger, and all have the same scale.
func (h *Handout) parts(paper Paper, plan sheet.Plan) []part {
	mayTurn := plan.Turned
	plan.Turned = false
	best := h.shared(paper, plan)
	if plan.Turned = true; mayTurn {
		if turned := h.shared(paper, plan); len(turned) < len(best) || len(turned) == len(best) && turned[0].scale > best[0].scale*1.02 {
			best = turned
		}
	}
	return best
}

// shared shares the routine among drawings, all of one scale.
func (h *Handout) shared(paper Paper, plan sheet.Plan) (all []part) {
	from := 0
	for i := 1; i <= h.Danced; i++ {
		// A few figures over the end of a lap belong to it.
		round := i+fewNames < h.Danced && h.comesRound(i)
		if round || i == h.Danced {
			all = append(all, h.divided(paper, plan, from, i)...)
			from = i
		}
	}
	if h.Danced == 0 {
		all = h.divided(paper, plan, 0, 0)
	}
	least := all[0].scale
	for _, p := range all {
		least = math.Min(least, p.scale)
	}
	if len(all) > 1 { // each has a line over it
		least *= (paper.Height - headRoom - 8) / (paper.Height - headRoom)
	}
	for i := range all {
		all[i].scale = least
	}
	return all
}

// divided draws a stretch of the routine, or halves of it.
func (h *Handout) divided(paper Paper, plan sheet.Plan, from, to int) []part {
	own := plan
	own.From, own.To, own.Fault, own.Bare = from, to, h.Fault != nil && to == h.Danced, true
	p := h.lettered(paper, own)
	if p.Letters*p.scale/point >= leastName && to-from <= manyNames || to-from <= fewNames {
		return []part{p}
	}
	half := (from + to) / 2
	return append(h.divided(paper, plan, from, half), h.divided(paper, plan, half, to)...)
}

// headRoom is what a floor's page has above and below the drawing, in millimetres.
const headRoom = 88.0

// lettered draws a stretch with letters that are as large on paper as they are meant to
// be: the larger they are in the room, the smaller is the room on paper.
func (h *Handout) lettered(paper Paper, plan sheet.Plan) (best part) {
	plan.Letters = 0
	for range 6 {
		p := part{Plan: plan, picture: sheet.Lap(h.Report, sheet.Title{Name: h.Title}, plan)}
		p.Letters = p.picture.Letters
		size := p.size()
		p.scale = math.Min((paper.Width-2*margin)/size.X, (paper.Height-headRoom)/size.Y)
		set := p.Letters * p.scale / point
		if best.picture == nil || math.Min(set, usualName) > math.Min(best.Letters*best.scale/point, usualName)+0.05 {
			best = p
		}
		if set >= usualName-0.3 && set <= usualName+2 {
			return p
		}
		plan.Letters = usualName * point / p.scale
	}
	return best
}

// floors sets the pages with the floor.
func (h *Handout) floors(p *press) {
	parts := h.parts(p.paper, sheet.Plan{Turned: true, Width: func(words string, heavy bool) float64 {
		w := plain
		if heavy {
			w = bold
		}
		return p.width(words, 10, w) / (10 * point)
	}})
	for i := range parts {
		d := &parts[i]
		p.page()
		if i == 0 {
			h.head(p)
		}
		if len(parts) > 1 {
			p.line(margin, 13, bold, dark, h.partWords(d))
		}
		low := p.paper.Height - margin - footRoom - 18
		size := d.size()
		scale := math.Min(d.scale, math.Min(p.inner()/size.X, (low-p.y-3)/size.Y))
		p.paint(d.picture, d.Turned, margin+(p.inner()-size.X*scale)/2, p.y+3+(low-p.y-3-size.Y*scale)/2, scale)
		p.y = low + 2
		p.key(scale, d.Fault)
		p.text(margin, p.inner(), 7.5, plain, grey, sheet.Caution)
	}
}

// head is the title with the facts.
func (h *Handout) head(p *press) {
	lines := p.lines(h.Title, 20, bold, p.inner())
	if len(lines) > 2 { // a name is no page
		lines = []string{lines[0], p.cut(lines[1]+" "+lines[2], 20, bold, p.inner())}
	}
	for _, line := range lines {
		p.line(margin, 20, bold, dark, line)
	}
	p.y++
	for _, fact := range h.Facts() {
		p.line(margin, 9.5, plain, grey, p.cut(fact, 9.5, plain, p.inner()))
	}
	if h.Fault != nil {
		p.text(margin, p.inner(), 9.5, bold, dark, h.faultLine())
	}
	for _, words := range h.Whole {
		p.text(margin, p.inner(), 9.5, bold, dark, "Fault: "+words)
	}
}

// faultLine says up to where the routine is drawn.
func (h *Handout) faultLine() string {
	return fmt.Sprintf("Drawn up to the fault in bar %d, %s (×): %s", h.Fault.Bar, h.Fault.Figure, h.Fault.Words[0])
}

// partWords says which bars are drawn.
func (h *Handout) partWords(d *part) string {
	rows := h.Report.Rows[d.From:d.To]
	if len(rows) == 0 {
		return "The floor"
	}
	last := &rows[len(rows)-1]
	words := fmt.Sprintf("Bars %d to %d", rows[0].Bar, last.Bar+last.Variant.Bars()-1)
	if h.Report.Laps > 1 {
		words = fmt.Sprintf("Lap %d of %d: bars %d to %d", h.lapOf(d.From), h.Report.Laps, rows[0].Bar, last.Bar+last.Variant.Bars()-1)
	}
	return words
}

// comesRound tells whether the couple takes the wall on which it began, before a row.
func (h *Handout) comesRound(row int) bool {
	r := &h.Report.Rows[row]
	return r.NextWall && r.Wall == h.Report.Rows[0].Wall
}

// lapOf is the lap in which a row is danced, from 1.
func (h *Handout) lapOf(row int) int {
	lap := 1
	for i := 1; i <= row; i++ {
		if h.comesRound(i) {
			lap++
		}
	}
	return lap
}

// key explains the marks, with the scale.
func (p *press) key(scale float64, fault bool) {
	const shown, gap, size = 8.0, 5.0, 7.5
	x, y := margin, p.y
	// A bar of whole metres, about as long as a thumb.
	metres := math.Max(1, math.Round(25/scale))
	for i := range int(metres) {
		fill := sheet.Ink
		if i%2 == 1 {
			fill = "#ffffff"
		}
		p.ink(sheet.Ink, fill, 0.15)
		p.pdf.Rect(x+float64(i)*scale, y+1.4, scale, 1, "FD")
	}
	words := fmt.Sprintf("%g m; 1 : %.0f", metres, 1000/scale)
	p.put(x+metres*scale+1.5, y+2.8, size, plain, grey, words)
	x += metres*scale + p.width(words, size, plain) + 1.5 + gap
	for _, sign := range sheet.Signs(fault) {
		words := 0.0 // from the left end of the sign
		if sign.Picture != nil {
			words = shown
		}
		width := words + p.width(sign.Words, size, plain) + gap
		if x > margin && x+width-gap > p.paper.Width-margin {
			x, y = margin, y+4.6
		}
		if sign.Picture != nil {
			p.paint(sign.Picture, false, x, y-0.2, shown/0.85)
		}
		p.put(x+words, y+2.8, size, plain, grey, sign.Words)
		x += width
	}
	p.y = y + 5
}
