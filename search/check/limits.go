package check

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"lapwright/figures"
	"lapwright/figures/geometry"
	"lapwright/floors"
	"lapwright/graph"
	"lapwright/search/routine"
)

// known checks the limits that a single figure can break.
func (d *dancer) known(number int, s routine.Step, fault func(Kind, string)) {
	f := s.Variant.Figure
	if d.limits.Allowed != nil && !d.limits.Allowed(f) {
		fault(Limit, f.Name+" is not among the figures that may be used")
	}
	uses, last := 0, 0
	for _, row := range d.report.Rows {
		if row.Variant.Figure == f {
			uses++
			last = row.Bar
		}
	}
	if d.limits.Uses > 0 && uses >= d.limits.Uses {
		fault(Limit, fmt.Sprintf("this is use %d of %s; the most allowed is %d", uses+1, f.Name, d.limits.Uses))
	}
	if apart := d.bar - last; d.limits.Apart > 0 && uses > 0 && apart < d.limits.Apart {
		fault(Limit, fmt.Sprintf("%s comes again after %d bars; at least %d are asked for", f.Name, apart, d.limits.Apart))
	}
}

// whole checks the limits on the routine as a whole.
func (d *dancer) whole(r *routine.Routine) {
	bars := d.report.Bars
	if d.limits.MinBars > 0 && bars < d.limits.MinBars {
		d.fail(Fault{Kind: Limit, Words: fmt.Sprintf("the routine has %d bars; at least %d are asked for", bars, d.limits.MinBars)})
	}
	if d.limits.MaxBars > 0 && bars > d.limits.MaxBars {
		d.fail(Fault{Kind: Limit, Words: fmt.Sprintf("the routine has %d bars; at most %d are asked for", bars, d.limits.MaxBars)})
	}
	for _, must := range d.limits.Must {
		danced := false
		for _, s := range r.Steps {
			danced = danced || s.Variant.Figure == must
		}
		if !danced {
			d.fail(Fault{Kind: Limit, Words: must.Name + " must be danced and is not"})
		}
	}
}

// could names what can be danced from here in this room, along the wall in use
// or, at a corner, along the next one: first what is easy to join.
func (d *dancer) could() []string {
	corner := d.room.InCorner(d.wall, d.cell.Point())
	next := (d.wall + 1) % len(d.room.Walls)
	turned := d.stance.Turned(d.room.Walls[d.wall].Eighths)
	var before *figures.Variant
	if n := len(d.report.Rows); n > 0 {
		before = d.report.Rows[n-1].Variant
	}
	var easy, awkward []string
	for _, v := range d.limits.Library {
		if d.limits.Allowed != nil && !d.limits.Allowed(v.Figure) {
			continue
		}
		if begins(d.stance, v) && d.fits(d.wall, d.stance, v) ||
			corner && begins(turned, v) && d.fits(next, turned, v) {
			if graph.Awkward(d.limits.Follows, before, v) == graph.Easy {
				easy = append(easy, v.Name())
			} else {
				awkward = append(awkward, v.Name())
			}
		}
	}
	return append(easy, awkward...)
}

func begins(s figures.Stance, v *figures.Variant) bool { return graph.WhyNot(s, v) == nil }

// touches says what the couple runs into.
func (d *dancer) touches(row *Row) string {
	best := d.room.Clearance(row.ClearAt)
	what := d.nearestWall(row.ClearAt)
	for i, o := range d.room.Obstacles {
		if o.Gap(row.ClearAt) <= best+hair {
			what = "the " + o.Name
			if o.Name == "" {
				what = fmt.Sprintf("obstacle %d", i+1)
			}
		}
	}
	if row.Clear < 0 {
		return fmt.Sprintf("the couple runs into %s near %s, by %.0f cm", what, place(row.ClearAt), -row.Clear*100)
	}
	return fmt.Sprintf("the couple comes within %.0f cm of %s near %s; %.0f cm are to be kept", row.Clear*100, what,
		place(row.ClearAt), d.margin*100)
}

// nearestWall is the name of the wall nearest to a place.
func (d *dancer) nearestWall(p geometry.Point) string {
	near := slices.MinFunc(d.room.Walls, func(a, b floors.Wall) int {
		return cmp.Compare(geometry.PointGap(p, a.From, a.To), geometry.PointGap(p, b.From, b.To))
	})
	return d.wallName(near.Index)
}

// wallName is a wall's name as a sentence uses it: "wall 2", "the stage end".
func (d *dancer) wallName(wall int) string {
	name := d.room.Walls[wall].Name
	if strings.HasPrefix(name, "wall ") {
		return name
	}
	return "the " + name
}

// where says how far along a wall the couple is.
func (d *dancer) where(wall int) string {
	along, across := d.room.Walls[wall].Locate(d.cell.Point())
	return fmt.Sprintf("%.1f m along %s and %.1f m from it", along, d.wallName(wall), across)
}

// place writes a place in the room.
func place(p geometry.Point) string { return fmt.Sprintf("(%.2f, %.2f)", p.X, p.Y) }
