package sheet

import (
	"fmt"
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

// outline adds the four shoes, which the drawing repeats.
func (d *drawing) outline() {
	couple := figures.DefaultCouple()
	for who := figures.Leader; who <= figures.Follower; who++ {
		for foot := figures.LeftFoot; foot <= figures.RightFoot; foot++ {
			across := couple.Sole[who].Breadth
			if foot == figures.LeftFoot {
				across = -across
			}
			d.outlines = append(d.outlines, outline{shoe(who, foot), curves(sole, couple.Sole[who].Length, across)})
		}
	}
}

// shoe is the name of a shoe's shape.
func shoe(who figures.Dancer, foot figures.Foot) string {
	return who.String() + "-" + foot.Short()
}

// couple draws the couple's path, the footprints, and which way the leader faces
// where a figure begins.
func (d *drawing) couple() {
	d.group(`id="path"`)
	var way []geometry.Point
	for i := range d.rows {
		row := &d.rows[i]
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
	d.trodden = append(d.trodden, way...)
	if len(way) > 0 {
		d.polyline("way", way...)
	}
	d.end()
	d.footprints()
	d.group(`id="alignments"`)
	for i := range d.rows {
		d.facing(&d.rows[i])
	}
	if d.fault != nil {
		d.cross(d.fault)
	}
	d.end()
}

// footprints draws both dancers' feet, each where it was placed, figure by figure.
func (d *drawing) footprints() {
	d.group(`id="footprints"`)
	for i := range d.rows {
		row := &d.rows[i]
		d.group(`data-bar="%d"`, row.Bar)
		d.tell(inWords(row))
		for who := figures.Leader; who <= figures.Follower && i == 0; who++ {
			for foot := figures.LeftFoot; foot <= figures.RightFoot; foot++ {
				d.footprint(row, 0, who, foot, row.Danced.Start.Foot(who, foot))
			}
		}
		for k := range row.Danced.Steps {
			t := &row.Danced.Steps[k]
			for who := figures.Leader; who <= figures.Follower; who++ {
				if foot := t.Falls[who].Foot; foot != figures.NoFoot {
					d.footprint(row, k+1, who, foot, t.Placed.Foot(who, foot))
				}
			}
		}
		d.end()
	}
	d.end()
}

// inWords says what is danced in a row, for who does not see it.
func inWords(row *check.Row) string {
	return fmt.Sprintf("Bar %d: %s; begins %s; ends %s", row.Bar, row.Variant.Name(), row.Entry, row.Exit)
}

// cross marks where a figure was to begin that is at fault.
func (d *drawing) cross(row *check.Row) {
	p := at(row.From)
	d.crossAt(p, 0.22)
	d.cover(p)
	d.trodden = append(d.trodden, p)
}

// crossAt draws a cross with arms of so many metres.
func (d *drawing) crossAt(p geometry.Point, arm float64) {
	a, b := geometry.Point{X: arm, Y: arm}, geometry.Point{X: arm, Y: -arm}
	d.strokes("fault", []geometry.Point{p.Sub(a), p.Add(a)}, []geometry.Point{p.Sub(b), p.Add(b)})
}

// footprint draws a foot where it was placed in a step, counted from 1; step 0 is
// how the couple stands before.
func (d *drawing) footprint(row *check.Row, step int, who figures.Dancer, foot figures.Foot, print *figures.Footprint) {
	p := at(row.Place(print.At))
	d.trodden = append(d.trodden, p)
	degrees := math.Mod(-row.Angle(print.Front)*180/math.Pi, 360)
	d.shoe(shoe(who, foot), who.String(), fmt.Sprintf(`data-figure="%d" data-step="%d"`, row.Number, step), p, degrees)
}

// reach is the length in metres of the arrow that shows where the leader faces.
const reach = 0.5

// facing draws where a figure begins, and an arrow for its alignment.
func (d *drawing) facing(row *check.Row) {
	p, direction := at(row.From), -row.Angle(row.Entry.Facing.Turn())
	d.arrow(p, direction, reach)
	d.trodden = append(d.trodden, p.Add(geometry.Unit(direction).Scale(reach)))
	d.circle("begins", p, 0.07)
}

// arrow draws an arrow; the direction is in the drawing's frame.
func (d *drawing) arrow(from geometry.Point, direction, length float64) {
	to := from.Add(geometry.Unit(direction).Scale(length))
	head := []geometry.Point{to.Add(geometry.Unit(direction + 2.6).Scale(0.17)), to, to.Add(geometry.Unit(direction - 2.6).Scale(0.17))}
	for _, class := range []string{"under", "facing"} {
		d.strokes(class, []geometry.Point{from, to}, head)
	}
}
