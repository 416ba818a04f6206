package sheet

import (
	"fmt"

	"lapwright/figures"
	"lapwright/figures/geometry"
)

// figureLook is how the sheet of a figure looks. Leader and follower differ in
// the shape of the shoe, in being filled or hatched and in the shape of the number's
// mark, so that a print in grey and a colour-blind reader tell them apart.
const figureLook = `
    text { font-family: "Helvetica Neue", Helvetica, Arial, "Liberation Sans", sans-serif; fill: #1d2a30 }
    .floor { fill: #fbf7ee; stroke: #d9d2c3; stroke-width: 0.008 }
    .wallside { stroke: #1d2a30; stroke-width: 0.045 }
    .dance { fill: none; stroke: #6a6454; stroke-width: 0.018; stroke-linecap: round; stroke-linejoin: round }
    .halo { fill: #fbf7ee; stroke: #fbf7ee; stroke-width: 0.036 }
    .placed.leader { fill: #0f4c75; stroke: #0f4c75; stroke-width: 0.008 }
    .placed.follower { fill: url(#hatch); stroke: #b8480c; stroke-width: 0.014 }
    .light.leader { fill: #9db8c9; stroke: #0f4c75; stroke-width: 0.012; stroke-dasharray: 0.03 0.015 }
    .light.follower { fill: #fff; stroke: #b8480c; stroke-width: 0.014; stroke-dasharray: 0.03 0.015 }
    .stands.leader { fill: #9db8c9; stroke: #0f4c75; stroke-width: 0.01 }
    .stands.follower { fill: #fff; stroke: #b8480c; stroke-width: 0.012 }
    .gone { fill: none; stroke-width: 0.008; stroke-dasharray: 0.012 0.016 }
    .gone.leader, .pivoted.leader { stroke: #0f4c75; fill: none }
    .gone.follower, .pivoted.follower { stroke: #b8480c; fill: none }
    .pivoted { stroke-width: 0.012 }
    .track { fill: none; stroke-width: 0.009; stroke-dasharray: 0.012 0.016 }
    .track.leader { stroke: #0f4c75 }
    .track.follower { stroke: #b8480c }
    .turn { fill: none; stroke-width: 0.016 }
    .turn.leader { stroke: #0f4c75 }
    .turn.follower { stroke: #b8480c; stroke-dasharray: 0.03 0.012 }
    .turnhead.leader { fill: #0f4c75 }
    .turnhead.follower { fill: #b8480c }
    .letterdisc { stroke: none }
    .letterdisc.leader, .letterdisc.stands.leader, .letterdisc.light.leader { fill: none; stroke: none }
    .letterdisc.follower, .letterdisc.stands.follower, .letterdisc.light.follower { fill: #fff; stroke: none }
    text.letter { font-weight: 700; stroke: none }
    text.letter.placed.leader { fill: #fff }
    text.letter.stands.leader, text.letter.light.leader { fill: #12303f }
    text.letter.follower { fill: #7d2f05 }
    .tag { stroke-width: 0.01 }
    .tag.leader { fill: #0f4c75; stroke: #fff }
    .tag.follower { fill: #fff; stroke: #b8480c; stroke-width: 0.014 }
    .tagline { stroke: #8b949a; stroke-width: 0.006 }
    text.number { font-weight: 700 }
    text.number.leader { fill: #fff }
    text.number.follower { fill: #7d2f05 }
    .name { font-weight: 600 }
    .small { fill: #33434b }
    .strong { fill: #1d2a30; font-weight: 600 }
    .place { fill: #6a6454 }
    .head { font-weight: 700 }
    .bar { fill: #1d2a30 }
    .hollow { fill: #fff; stroke: #1d2a30; stroke-width: 0.01 }
`

// entry is one line of the key: what is drawn, and what it means.
type entry struct {
	words string
	// show draws the example at a place, in a stretch of floor 0.6 m long.
	show func(p geometry.Point)
}

// figureKey explains the marks; it returns the y below it.
func (f *figureSheet) figureKey(y float64) float64 {
	f.put(`<g id="key">`)
	y += 0.1
	f.text(geometry.Point{Y: y + 0.1}, "name", "start", headFont, 0, "Key")
	y += 0.3
	show := func(who figures.Dancer, foot figures.Foot, class string) func(geometry.Point) {
		return func(p geometry.Point) {
			f.print(view{origin: p}, who, foot, figures.Footprint{}, class, 0)
		}
	}
	both := func(class string) func(geometry.Point) {
		return func(p geometry.Point) {
			show(figures.Leader, figures.RightFoot, class)(p.Sub(geometry.Point{X: 0.17}))
			show(figures.Follower, figures.RightFoot, class)(p.Add(geometry.Point{X: 0.15}))
		}
	}
	entries := []entry{
		{"leader: filled shoe, square number", func(p geometry.Point) {
			show(figures.Leader, figures.LeftFoot, "placed")(p.Sub(geometry.Point{X: 0.1}))
			f.numberMark(p.Add(geometry.Point{X: 0.17}), figures.Leader, "1")
		}},
		{"follower: hatched shoe, round number", func(p geometry.Point) {
			show(figures.Follower, figures.LeftFoot, "placed")(p.Sub(geometry.Point{X: 0.1}))
			f.numberMark(p.Add(geometry.Point{X: 0.17}), figures.Follower, "1")
		}},
		{"the foot that stands in this step", both("stands")},
		{"placed without weight", both("light")},
		{"where the foot comes from", both("gone")},
		{"where the foot is after a pivot", both("pivoted")},
		{"turn from the foot before to this one", func(p geometry.Point) {
			f.arc(view{origin: p.Add(geometry.Point{X: -0.05, Y: 0.1})}, figures.Leader, geometry.Point{}, 6, -4)
			f.arc(view{origin: p.Add(geometry.Point{X: 0.2, Y: 0.1})}, figures.Follower, geometry.Point{}, 6, -4)
		}},
		{"L, R: left foot, right foot; footwork: H heel, T toe, W whole foot, IE inside edge", nil},
		{"LOD line of dance, DC DW diagonal to centre and to wall, C W centre and wall, ALOD DCA DWA against the line of dance", nil},
	}
	const shown, font = 0.75, 0.1
	columns := max(1, int(f.width/2.9))
	place := 0
	for _, e := range entries {
		if e.show == nil { // words alone have a line of their own
			if place > 0 {
				place, y = 0, y+0.26
			}
			f.text(geometry.Point{X: 0.03, Y: y + 0.035}, "small", "start", font, 0, e.words)
			f.width = max(f.width, wide(e.words, font))
			y += 0.2
			continue
		}
		x := float64(place) * f.width / float64(columns)
		e.show(geometry.Point{X: x + 0.34, Y: y})
		f.text(geometry.Point{X: x + shown, Y: y + 0.035}, "small", "start", font, 0, e.words)
		if place++; place == columns {
			place, y = 0, y+0.26
		}
	}
	y += 0.1
	f.text(geometry.Point{Y: y}, "small", "start", 0.09, 0, "Build up fast turns slowly and keep to a clear floor; a licensed teacher decides what a couple is ready for.")
	f.put(`</g>`)
	return y
}

// document is the whole sheet of a figure.
func (f *figureSheet) document(title Title) []byte {
	const edge, pixels = 0.25, 1500.0
	var out svg
	size := geometry.Point{X: f.width + 2*edge, Y: f.bottom + 2*edge}
	out.put(`<?xml version="1.0" encoding="UTF-8"?>`)
	out.put(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="%s %s %s %s" width="%.0f" height="%.0f" role="img" aria-labelledby="title desc">`,
		num(-edge), num(-edge), num(size.X), num(size.Y), pixels, pixels*size.Y/size.X)
	out.put(`<title id="title">%s</title>`, plain(title.Name))
	out.put(`<desc id="desc">%s</desc>`, plain(fmt.Sprintf("The footprints of %s, both dancers, %d steps: two plans from above, and each step in a panel of its own with its count, alignments and turns. The line of dance runs to the right, the wall is below.",
		title.Name, len(f.steps))))
	out.put("<style>%s  </style>", figureLook)
	f.shoes(&out)
	out.put(`<rect x="%s" y="%s" width="%s" height="%s" fill="#fff"/>`, num(-edge), num(-edge), num(size.X), num(size.Y))
	out.Write(f.Bytes())
	out.put("</svg>")
	return out.Bytes()
}
