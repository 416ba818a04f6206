package sheet

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"math"
	"strconv"
	"strings"

	"lapwright/figures/geometry"
)

// svg writes the elements of a drawing.
type svg struct{ bytes.Buffer }

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

// look is how everything looks. The colours of the two dancers are told apart by
// colour-blind people, and by grey alone.
const look = `
    text { font-family: "Helvetica Neue", Helvetica, Arial, "Liberation Sans", sans-serif; fill: #1d2a30 }
    .floor { fill: #fbf7ee }
    .wall { fill: none; stroke: #1d2a30; stroke-width: 0.09; stroke-linejoin: round }
    .stands { fill: #d9d2c3; stroke: #1d2a30; stroke-width: 0.03 }
    .lane { fill: none; stroke: #a39a85; stroke-width: 0.035; stroke-dasharray: 0.22 0.16 }
    .dance { fill: none; stroke: #a39a85; stroke-width: 0.06; stroke-linecap: round; stroke-linejoin: round }
    .way { fill: none; stroke: #5d6b72; stroke-width: 0.035; stroke-linejoin: round }
    .leader { fill: #0f4c75; stroke: #0f4c75; stroke-width: 0.012 }
    .follower { fill: #fff; stroke: #b8480c; stroke-width: 0.026 }
    .facing { fill: none; stroke: #1d2a30; stroke-width: 0.05; stroke-linecap: round; stroke-linejoin: round }
    .under { fill: none; stroke: #fbf7ee; stroke-width: 0.11; stroke-linecap: round; stroke-linejoin: round }
    .begins { fill: #fff; stroke: #1d2a30; stroke-width: 0.04 }
    .thread { fill: none; stroke: #8b949a; stroke-width: 0.018 }
    .name { font-weight: 600 }
    .small { fill: #44535b }
    .place { fill: #6a6454; letter-spacing: 0.04em }
    .head { font-weight: 700 }
    .bar { fill: #1d2a30 }
    .hollow { fill: #fff; stroke: #1d2a30; stroke-width: 0.02 }
`

// document is the whole drawing.
func (d *drawing) document(title Title) []byte {
	var out svg
	size := d.high.Sub(d.low)
	const pixels = 1500.0
	out.put(`<?xml version="1.0" encoding="UTF-8"?>`)
	out.put(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="%s %s %s %s" width="%.0f" height="%.0f" role="img" aria-labelledby="title desc">`,
		num(d.low.X), num(d.low.Y), num(size.X), num(size.Y), pixels, pixels*size.Y/size.X)
	out.put(`<title id="title">%s</title>`, plain(title.Name))
	out.put(`<desc id="desc">%s</desc>`, plain(d.describe(title)))
	out.put("<style>%s  </style>", look)
	d.shapes(&out)
	out.put(`<rect x="%s" y="%s" width="%s" height="%s" fill="#fff"/>`, num(d.low.X), num(d.low.Y), num(size.X), num(size.Y))
	out.Write(d.Bytes())
	out.put("</svg>")
	return out.Bytes()
}

// describe says in words what the drawing shows.
func (d *drawing) describe(title Title) string {
	words := fmt.Sprintf("The floor of %s from above, in metres: %d walls, %d obstacles, the lane along the line of dance.",
		d.room.Name, len(d.room.Walls), len(d.room.Obstacles))
	if d.report != nil {
		words += fmt.Sprintf(" A routine of %d figures in %d bars: both dancers' footprints, the couple's path, and the name of each figure where it begins.",
			len(d.report.Rows), d.report.Bars)
	}
	if title.Line != "" {
		words += " " + title.Line + "."
	}
	return words
}
