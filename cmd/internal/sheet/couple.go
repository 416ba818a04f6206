package sheet

import (
	"math"

	"lapwright/figures"
	"lapwright/figures/geometry"
	"lapwright/search/check"
)

// steps is how many places of the couple's path are drawn for each step.
const steps = 6

// sole is a right shoe seen from above, in lengths and breadths of itself: x ahead,
// y to the right. The heel is a piece of its own.
const sole = "M-0.16,-0.37 C-0.04,-0.33 0.05,-0.38 0.18,-0.45 C0.34,-0.52 0.5,-0.36 0.5,-0.1 C0.5,0.2 0.36,0.48 0.17,0.5 C0.02,0.5 -0.06,0.42 -0.16,0.37 Z " +
	"M-0.24,-0.38 C-0.4,-0.42 -0.5,-0.26 -0.5,0 C-0.5,0.26 -0.4,0.42 -0.24,0.38 Z"

// shapes are the four shoes, which the drawing repeats.
func (d *drawing) shapes(out *svg) {
	couple := figures.DefaultCouple()
	out.put("<defs>")
	for who := figures.Leader; who <= figures.Follower; who++ {
		for foot := figures.LeftFoot; foot <= figures.RightFoot; foot++ {
			across := couple.Sole[who].Breadth
			if foot == figures.LeftFoot {
				across = -across
			}
			out.put(`<path id="%s" d="%s"/>`, shoe(who, foot), scaled(sole, couple.Sole[who].Length, across))
		}
	}
	out.put("</defs>")
}

// shoe is the name of a shoe's shape.
func shoe(who figures.Dancer, foot figures.Foot) string {
	return who.String() + "-" + foot.Short()
}

// couple draws the couple's path, the footprints, and which way the leader faces
// where a figure begins.
func (d *drawing) couple() {
	rows := d.report.Rows
	if len(rows) == 0 {
		return
	}
	d.put(`<g id="path">`)
	var way []geometry.Point
	for i := range rows {
		row := &rows[i]
		way = append(way, at(row.From))
		for k := range row.Danced.Steps {
			for _, pose := range row.Danced.Poses(k, steps) {
				way = append(way, at(row.Place(pose.Centre)))
			}
		}
	}
	for _, p := range way {
		d.cover(p)
	}
	d.marks = append(d.marks, way...)
	d.put(`<polyline class="way" points="%s"/>`, line(way))
	d.put(`</g>`)
	d.put(`<g id="footprints">`)
	first := &rows[0]
	for who := figures.Leader; who <= figures.Follower; who++ {
		for foot := figures.LeftFoot; foot <= figures.RightFoot; foot++ {
			d.footprint(first, 0, who, foot, first.Danced.Start.Foot(who, foot))
		}
	}
	for i := range rows {
		row := &rows[i]
		for k := range row.Danced.Steps {
			t := &row.Danced.Steps[k]
			for who := figures.Leader; who <= figures.Follower; who++ {
				if foot := t.Falls[who].Foot; foot != figures.NoFoot {
					d.footprint(row, k+1, who, foot, t.Placed.Foot(who, foot))
				}
			}
		}
	}
	d.put(`</g>`)
	d.put(`<g id="alignments">`)
	for i := range rows {
		d.facing(&rows[i])
	}
	d.put(`</g>`)
}

// footprint draws a foot where it was placed in a step, counted from 1; step 0 is
// how the couple stands before.
func (d *drawing) footprint(row *check.Row, step int, who figures.Dancer, foot figures.Foot, print *figures.Footprint) {
	p := at(row.Place(print.At))
	d.marks = append(d.marks, p)
	degrees := math.Mod(-row.Angle(print.Front)*180/math.Pi, 360)
	d.put(`<use href="#%s" class="%s" data-figure="%d" data-step="%d" transform="translate(%s %s) rotate(%s)"/>`,
		shoe(who, foot), who, row.Number, step, num(p.X), num(p.Y), num(degrees))
}

// reach is the length in metres of the arrow that shows where the leader faces.
const reach = 0.5

// facing draws where a figure begins, and an arrow for its alignment.
func (d *drawing) facing(row *check.Row) {
	p, direction := at(row.From), -row.Angle(row.Entry.Facing.Turn())
	d.arrow(p, direction, reach)
	d.marks = append(d.marks, p.Add(geometry.Unit(direction).Scale(reach)))
	d.put(`<circle class="begins" cx="%s" cy="%s" r="0.07"/>`, num(p.X), num(p.Y))
}

// arrow draws an arrow; the direction is in the drawing's frame.
func (d *drawing) arrow(from geometry.Point, direction, length float64) {
	to := from.Add(geometry.Unit(direction).Scale(length))
	head := []geometry.Point{to.Add(geometry.Unit(direction + 2.6).Scale(0.17)), to, to.Add(geometry.Unit(direction - 2.6).Scale(0.17))}
	for _, class := range []string{"under", "facing"} {
		d.put(`<path class="%s" d="M%s L%s M%s"/>`, class, xy(from), xy(to), line(head))
	}
}
