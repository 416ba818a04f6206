package sheet

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"math"
	"strconv"
	"strings"

	"lapwright/cmd/internal/wording"
	"lapwright/figures/geometry"
)

// svg writes the elements of a drawing.
type svg struct {
	bytes.Buffer
	prefix string // before names
}

// put writes an element on a line of its own.
func (s *svg) put(format string, args ...any) {
	fmt.Fprintf(&s.Buffer, format, args...)
	s.WriteByte('\n')
}

// num writes a length to the millimetre.
func num(x float64) string {
	return strconv.FormatFloat(math.Round(x*1000)/1000+0, 'f', -1, 64)
}

// xy writes a place.
func xy(p geometry.Point) string { return num(p.X) + "," + num(p.Y) }

// line is the points of a path, from one to the next.
func line(points []geometry.Point) string {
	words := make([]string, len(points))
	for i, p := range points {
		words[i] = xy(p)
	}
	return strings.Join(words, " ")
}

// plain is a text as XML has it.
func plain(s string) string {
	var b bytes.Buffer
	xml.EscapeText(&b, []byte(s))
	return b.String()
}

// Widths of letters in the height of the letters: those of a wide plain face, so
// that the sheet is large enough for whatever face there is.
const (
	letterWidth = 0.59
	boldWidth   = 0.68
)

// wide is about how wide a text is at a height of letters, in metres.
func wide(s string, font float64) float64 { return float64(len([]rune(s))) * letterWidth * font }

// bold is the same for heavy letters.
func bold(s string, font float64) float64 { return float64(len([]rune(s))) * boldWidth * font }

// text writes a text from its left end, middle or right end ("start", "middle",
// "end"), turned by degrees to the right. Letters are set in centimetres: many
// programs draw letters less than one unit high badly.
func (s *svg) text(p geometry.Point, class, anchor string, font, degrees float64, words string) {
	turn := ""
	if degrees != 0 {
		turn = fmt.Sprintf(" rotate(%s)", num(degrees))
	}
	s.put(`<text class="%s" transform="translate(%s %s)%s scale(0.01)" font-size="%s" text-anchor="%s">%s</text>`,
		class, num(p.X), num(p.Y), turn, num(100*font), anchor, plain(words))
}

// SVG writes the picture as a file.
func (p *Picture) SVG() []byte {
	return append([]byte("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"), p.Inline("")...)
}

// Inline writes the picture as a part of a page; before names, which a page may have
// only once, stands a prefix.
func (p *Picture) Inline(prefix string) []byte {
	out := svg{prefix: prefix}
	size := p.High.Sub(p.Low)
	const pixels = 1500.0
	scope := ""
	if prefix != "" {
		scope = fmt.Sprintf(` id="%sdrawing"`, prefix)
	}
	out.put(`<svg%s xmlns="http://www.w3.org/2000/svg" viewBox="%s %s %s %s" width="%.0f" height="%.0f" role="img" aria-labelledby="%stitle %sdesc">`,
		scope, num(p.Low.X), num(p.Low.Y), num(size.X), num(size.Y), pixels, pixels*size.Y/size.X, prefix, prefix)
	out.put(`<title id="%stitle">%s</title>`, prefix, plain(p.title.Name))
	out.put(`<desc id="%sdesc">%s</desc>`, prefix, plain(p.words))
	out.put("<style>%s  </style>", css(prefix))
	if len(p.outlines) > 0 {
		out.put("<defs>")
		for _, o := range p.outlines {
			out.put(`<path id="%s%s" d="%s"/>`, prefix, o.name, data(o.curves))
		}
		out.put("</defs>")
	}
	out.put(`<rect x="%s" y="%s" width="%s" height="%s" fill="#fff"/>`, num(p.Low.X), num(p.Low.Y), num(size.X), num(size.Y))
	for i := range p.marks {
		out.mark(&p.marks[i])
	}
	out.put("</svg>")
	return out.Bytes()
}

// mark writes a mark.
func (s *svg) mark(m *mark) {
	switch m.kind {
	case group:
		s.put("<g %s>", strings.Replace(m.attrs, `id="`, `id="`+s.prefix, 1))
	case end:
		s.put("</g>")
	case told:
		s.put("<title>%s</title>", plain(m.words))
	case polygon:
		s.put(`<polygon class="%s" points="%s"/>`, m.class, line(m.lines[0]))
	case polyline:
		s.put(`<polyline class="%s" points="%s"/>`, m.class, line(m.lines[0]))
	case strokes:
		words := make([]string, len(m.lines))
		for i, points := range m.lines {
			words[i] = "M" + line(points)
		}
		s.put(`<path class="%s" d="%s"/>`, m.class, strings.Join(words, " "))
	case circle:
		s.put(`<circle class="%s" cx="%s" cy="%s" r="%s"/>`, m.class, num(m.at.X), num(m.at.Y), num(m.size.X))
	case rect:
		s.put(`<rect class="%s" x="%s" y="%s" width="%s" height="%s"/>`, m.class, num(m.at.X), num(m.at.Y), num(m.size.X), num(m.size.Y))
	case shoeMark:
		attrs := m.attrs
		if attrs != "" {
			attrs += " "
		}
		s.put(`<use href="#%s%s" class="%s" %stransform="translate(%s %s) rotate(%s)"/>`, s.prefix, m.words, m.class, attrs, num(m.at.X), num(m.at.Y), num(m.degrees))
	case text:
		s.text(m.at, m.class, m.anchor, m.font, m.degrees, m.words)
	}
}

// describe says in words what the drawing shows.
func (d *drawing) describe(title Title) string {
	words := fmt.Sprintf("The floor of %s from above, in metres: %s, %s, the lane along the line of dance.",
		d.room.Name, wording.Many(len(d.room.Walls), "wall"), wording.Many(len(d.room.Obstacles), "obstacle"))
	if d.report != nil {
		words += fmt.Sprintf(" A routine of %s in %s: both dancers' footprints, the couple's path, and the name of each figure where it begins.",
			wording.Many(len(d.report.Rows), "figure"), wording.Many(d.report.Bars, "bar"))
	}
	if d.fault != nil {
		words += fmt.Sprintf(" It is drawn up to bar %d, where %s is at fault.", d.fault.Bar, d.fault.Variant.Name())
	}
	if title.Line != "" {
		words += " " + wording.Sentence(title.Line)
	}
	return words
}
