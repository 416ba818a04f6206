package sheet

import (
	"math"
	"strconv"
	"strings"

	"lapwright/figures"
	"lapwright/figures/geometry"
	"lapwright/floors"
)

// WallLabel is a wall's number and name, and whether it is long or short.
func WallLabel(w *floors.Wall) string { return wallLabels(w)[0] }

// wallLabels say which wall it is, and whether it is long or short, in fewer and fewer
// letters.
func wallLabels(w *floors.Wall) []string {
	number, length := strconv.Itoa(w.Index+1), "short"
	if w.Long {
		length = "long"
	}
	if w.Name == "wall "+number {
		return []string{w.Name + ", " + length, number + "  " + length, number}
	}
	named := number + "  " + w.Name + ", " + length
	return []string{named + " wall", named, number + "  " + length, number}
}

// explained is one line of the key, what is drawn and what it means.
type explained struct {
	words string
	// show draws the example at a place, in a stretch of floor 0.6 m long; nil where
	// words are enough.
	show func(d *drawing, p geometry.Point)
}

// frame writes what is around the drawing: the title above it, key, scale and
// caution below.
func (d *drawing) frame(title Title) {
	const edge = 0.5
	left, right := d.Low.X, d.High.X
	head := math.Max(0.45, 1.7*d.font)
	// Nothing that is written is to be wider than the sheet.
	right = math.Max(right, left+bold(title.Name, head))
	d.group(`id="title-and-key"`)
	top := d.Low.Y - 0.5
	if title.Line != "" {
		d.text(geometry.Point{X: left, Y: top}, "small", "start", 0.55*head, 0, title.Line)
		right = math.Max(right, left+wide(title.Line, 0.55*head))
		top -= 0.95 * head
	}
	d.text(geometry.Point{X: left, Y: top}, "head", "start", head, 0, title.Name)
	d.cover(geometry.Point{X: left, Y: top - head})
	bottom := d.scale(left, d.High.Y+0.7, head)
	if d.report != nil {
		bottom = d.key(left, right, bottom+0.2, 0.5*head)
		bottom = d.caution(left, right, bottom, 0.42*head)
	}
	d.end()
	d.cover(geometry.Point{X: right, Y: bottom})
	d.Low = d.Low.Sub(geometry.Point{X: edge, Y: edge})
	d.High = d.High.Add(geometry.Point{X: edge, Y: edge})
}

// scale draws a bar of whole metres; it returns the y below it.
func (d *drawing) scale(x, y, head float64) float64 {
	metres := 2
	if d.size() > 12 {
		metres = 5
	}
	for i := range metres {
		class := "bar"
		if i%2 == 1 {
			class = "hollow"
		}
		d.rect(class, geometry.Point{X: x + float64(i), Y: y}, geometry.Point{X: 1, Y: 0.1})
	}
	font := 0.45 * head
	for i := 0; i <= metres; i++ {
		words, anchor := strconv.Itoa(i), "middle"
		switch i {
		case 0:
			anchor = "start"
		case metres:
			words += " m"
		}
		d.text(geometry.Point{X: x + float64(i), Y: y + 0.15 + font}, "small", anchor, font, 0, words)
	}
	return y + 0.2 + 1.4*font
}

// Sign is one sign of a drawing, and what it means.
type Sign struct {
	Words string
	// Picture shows it, in a stretch of floor 0.75 m long and 0.4 m high; nil where
	// words are enough.
	Picture *Picture
}

// Signs explain a lap's drawing, in which a fault may be marked.
func Signs(fault bool) (all []Sign) {
	for _, e := range signs {
		if e.words == faultSign && !fault {
			continue
		}
		sign := Sign{Words: e.words}
		if e.show != nil {
			d := &drawing{Picture: Picture{High: geometry.Point{X: 0.75, Y: 0.4}}}
			d.outline()
			e.show(d, geometry.Point{X: 0.08, Y: 0.2})
			sign.Picture = &d.Picture
		}
		all = append(all, sign)
	}
	return all
}

// faultSign explains the mark of a fault, where there is one.
const faultSign = "here the next figure is at fault"

// signs are the lines of the key.
var signs = []explained{
	{"leader's feet", func(d *drawing, p geometry.Point) { d.example(p, figures.Leader) }},
	{"follower's feet", func(d *drawing, p geometry.Point) { d.example(p, figures.Follower) }},
	{"a figure begins, and the way the leader faces", func(d *drawing, p geometry.Point) {
		d.arrow(p, 0, reach)
		d.circle("begins", p, 0.07)
	}},
	{"the couple's path", func(d *drawing, p geometry.Point) {
		d.polyline("way", p, p.Add(geometry.Point{X: 0.6}))
	}},
	{"middle of the lane, along the line of dance", func(d *drawing, p geometry.Point) {
		d.polyline("lane", p, p.Add(geometry.Point{X: 0.6}))
		d.chevron(p.Add(geometry.Point{X: 0.3}), 0, 0.2)
	}},
	{"the number before a name is the bar in which it begins", nil},
	{faultSign, func(d *drawing, p geometry.Point) { d.crossAt(p.Add(geometry.Point{X: 0.3}), 0.15) }},
}

// key explains the marks, in as many lines as the sheet's width asks for; it
// returns the y below it.
func (d *drawing) key(left, right, y, font float64) float64 {
	const shown, space = 0.75, 0.45
	mid := geometry.Point{Y: -0.3 * font}
	x := left
	y += 1.2 * font
	for _, e := range signs {
		if e.words == faultSign && d.fault == nil {
			continue
		}
		length := wide(e.words, font) + space
		if e.show != nil {
			length += shown
		}
		if x > left && x+length-space > right {
			x, y = left, y+1.9*font
		}
		from := x
		if e.show != nil {
			e.show(d, geometry.Point{X: x + 0.08, Y: y}.Add(mid))
			from += shown
		}
		d.text(geometry.Point{X: from, Y: y}, "small", "start", font, 0, e.words)
		x += length
	}
	return y + 1.5*font
}

// example draws a pair of feet for the key.
func (d *drawing) example(p geometry.Point, who figures.Dancer) {
	d.shoe(shoe(who, figures.LeftFoot), who.String(), "", p.Add(geometry.Point{X: 0.14, Y: -0.07}), 0)
	d.shoe(shoe(who, figures.RightFoot), who.String(), "", p.Add(geometry.Point{X: 0.4, Y: 0.07}), 0)
}

// Caution is what every plan of a lap should say.
const Caution = "A plan for an empty floor: leave room for other couples, build up fast turns slowly, and keep to the limits that the venue posts and to local rules; licensed teachers decide."

// caution writes it; it returns the y below it.
func (d *drawing) caution(left, right, y, font float64) float64 {
	at := ""
	flush := func() {
		d.text(geometry.Point{X: left, Y: y + font}, "small", "start", font, 0, at)
		y += 1.35 * font
		at = ""
	}
	for _, w := range strings.Fields(Caution) {
		if at != "" && wide(at+" "+w, font) > right-left {
			flush()
		}
		at = strings.TrimSpace(at + " " + w)
	}
	flush()
	return y + 0.3*font
}
