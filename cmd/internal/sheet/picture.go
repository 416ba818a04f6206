package sheet

import (
	"fmt"

	"lapwright/figures/geometry"
)

// Picture is a drawing in metres, with y down: marks from the lowest to the highest.
// It can be written as SVG, or painted elsewhere by a [Painter].
type Picture struct {
	// Low and High are the corners of what is drawn.
	Low, High geometry.Point
	// Letters is the height of the letters of figures' names, in metres.
	Letters  float64
	title    Title
	words    string // what it shows, for who does not see it
	marks    []mark
	outlines []outline
}

// Painter draws the marks of a picture otherwise than as SVG. Places and lengths are in
// metres, y down; angles in degrees to the right.
type Painter interface {
	// Lines draws lines from place to place; closed ones are filled as the look says.
	Lines(look Look, closed bool, lines ...[]geometry.Point)
	Circle(look Look, centre geometry.Point, radius float64)
	// Curves draws a closed outline.
	Curves(look Look, curves []Curve)
	// Text writes words from their left end, middle or right end ("start", "middle",
	// "end"), font metres high and turned by degrees.
	Text(look Look, at geometry.Point, anchor string, font, degrees float64, words string)
}

// Curve is a piece of an outline: to where a new one begins, or from where the last
// piece ended by two Bézier control points to the end.
type Curve struct {
	Begins       bool
	First, Other geometry.Point // the control points
	To           geometry.Point
}

// kind says what a mark is.
type kind uint8

const (
	group kind = iota // until its end
	end
	told // what a group shows, in words
	polygon
	polyline
	strokes // several lines of one mark
	circle
	rect
	shoeMark
	text
)

// mark is one mark of a picture.
type mark struct {
	kind    kind
	class   string
	attrs   string // further attributes, as SVG has them
	lines   [][]geometry.Point
	at      geometry.Point
	size    geometry.Point // of a rectangle; X is the radius of a circle
	degrees float64
	font    float64
	anchor  string
	words   string
}

// outline is a closed shape that is drawn many times.
type outline struct {
	name   string
	curves []Curve
}

func (p *Picture) put(m mark) { p.marks = append(p.marks, m) }

// group begins a group of marks, with its attributes; end ends it.
func (p *Picture) group(format string, args ...any) {
	p.put(mark{kind: group, attrs: fmt.Sprintf(format, args...)})
}

func (p *Picture) end() { p.put(mark{kind: end}) }

// tell says in words what the group that was begun shows.
func (p *Picture) tell(words string) { p.put(mark{kind: told, words: words}) }

func (p *Picture) polygon(class string, points []geometry.Point) {
	p.put(mark{kind: polygon, class: class, lines: [][]geometry.Point{points}})
}

func (p *Picture) polyline(class string, points ...geometry.Point) {
	p.put(mark{kind: polyline, class: class, lines: [][]geometry.Point{points}})
}

func (p *Picture) strokes(class string, lines ...[]geometry.Point) {
	p.put(mark{kind: strokes, class: class, lines: lines})
}

func (p *Picture) circle(class string, centre geometry.Point, radius float64) {
	p.put(mark{kind: circle, class: class, at: centre, size: geometry.Point{X: radius}})
}

func (p *Picture) rect(class string, corner, size geometry.Point) {
	p.put(mark{kind: rect, class: class, at: corner, size: size})
}

// shoe draws one of the outlines at a place, turned.
func (p *Picture) shoe(name, class, attrs string, at geometry.Point, degrees float64) {
	p.put(mark{kind: shoeMark, words: name, class: class, attrs: attrs, at: at, degrees: degrees})
}

// text writes words from their left end, middle or right end ("start", "middle",
// "end"), turned by degrees to the right.
func (p *Picture) text(at geometry.Point, class, anchor string, font, degrees float64, words string) {
	p.put(mark{kind: text, at: at, class: class, anchor: anchor, font: font, degrees: degrees, words: words})
}

// Paint draws everything by a painter.
func (p *Picture) Paint(to Painter) {
	for i := range p.marks {
		m := &p.marks[i]
		look := lookOf(m.class)
		switch m.kind {
		case polygon:
			to.Lines(look, true, m.lines...)
		case polyline, strokes:
			to.Lines(look, false, m.lines...)
		case circle:
			to.Circle(look, m.at, m.size.X)
		case rect:
			to.Lines(look, true, []geometry.Point{m.at, {X: m.at.X + m.size.X, Y: m.at.Y}, m.at.Add(m.size), {X: m.at.X, Y: m.at.Y + m.size.Y}})
		case shoeMark:
			to.Curves(look, p.placed(m))
		case text:
			to.Text(look, m.at, m.anchor, m.font, m.degrees, m.words)
		}
	}
}

// placed is the outline of a shoe where it stands.
func (p *Picture) placed(m *mark) []Curve {
	var placed []Curve
	put := func(q geometry.Point) geometry.Point { return m.at.Add(q.Rotate(m.degrees * degree)) }
	for i := range p.outlines {
		if p.outlines[i].name != m.words {
			continue
		}
		for _, c := range p.outlines[i].curves {
			placed = append(placed, Curve{c.Begins, put(c.First), put(c.Other), put(c.To)})
		}
	}
	return placed
}
