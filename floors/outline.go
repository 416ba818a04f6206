package floors

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"lapwright/figures/geometry"
)

// touch is the distance in metres within which things count as touching: a
// millimetre, which no tape measure tells apart.
const touch = 0.001

// mostFlaws is how many faults of one kind are told before the rest are left
// out.
const mostFlaws = 5

// flaw is a fault at one corner of a polygon.
type flaw struct {
	corner int
	text   string
}

// ringFlaws says what keeps the corners from being a simple polygon.
func ringFlaws(ring []geometry.Point) []flaw {
	n := len(ring)
	if n < 3 {
		return []flaw{{0, fmt.Sprintf("%d corners do not make an outline; give at least 3", n)}}
	}
	var flaws []flaw
	add := func(corner int, format string, args ...any) {
		flaws = append(flaws, flaw{corner, fmt.Sprintf(format, args...)})
	}
	seen := make(map[geometry.Point]int, n)
	for i, p := range ring {
		p = p.Add(geometry.Point{}) // −0 and 0 are one place
		first, again := seen[p]
		switch {
		case !again:
			seen[p] = i
		case len(flaws) >= mostFlaws:
		case i == n-1 && first == 0:
			add(i, "the last corner repeats the first, %s; leave it out, the outline closes by itself", place(p))
		default:
			add(i, "corner %d repeats corner %d, %s; give each corner once", i+1, first+1, place(p))
		}
	}
	if flaws != nil {
		return flaws
	}
	if inLine(ring) {
		return []flaw{{0, "the corners lie in one line and enclose no floor"}}
	}
	all := sides(ring)
	for i, s := range all {
		next := all[(i+1)%n]
		in, out := s.b.Sub(s.a), next.b.Sub(next.a)
		if in.Cross(out) == 0 && in.Dot(out) < 0 && len(flaws) < mostFlaws {
			add((i+1)%n, "the outline doubles back on itself at corner %d, %s; leave out the corner at the tip", (i+1)%n+1, place(next.a))
		}
	}
	if flaws != nil {
		return flaws
	}
	t := newTree(all)
	for i, s := range all {
		t.meeting(s.box(), func(j int) bool {
			if j > i+1 && (j+1)%n != i && geometry.Crosses(s.a, s.b, all[j].a, all[j].b) {
				add(i, "the outline crosses or touches itself: the side from corner %d to %d meets the side from corner %d to %d; list the corners in the order in which one walks round",
					i+1, i+2, j+1, (j+1)%n+1)
			}
			return len(flaws) < mostFlaws
		})
		if len(flaws) >= mostFlaws {
			break
		}
	}
	return flaws
}

// inLine reports whether all corners lie in one line.
func inLine(ring []geometry.Point) bool {
	for i := 1; i+1 < len(ring); i++ {
		if ring[i].Sub(ring[0]).Cross(ring[i+1].Sub(ring[0])) != 0 {
			return false
		}
	}
	return true
}

func place(p geometry.Point) string { return fmt.Sprintf("[%.6g, %.6g]", p.X, p.Y) }

// beyond is how far, in metres, the obstacle reaches out of the outline, and
// zero when it stays inside or touches it.
func (e *edges) beyond(o Obstacle) float64 {
	worst := 0.0
	measure := func(p geometry.Point, reach float64) {
		if d := reach - e.fromOutline(p); d > touch {
			worst = math.Max(worst, d)
		}
	}
	if o.Outline == nil {
		measure(o.Disc.Centre, o.Disc.Radius)
		return worst
	}
	for _, p := range o.Outline {
		measure(p, 0)
	}
	// A side may leave the outline between two corners that are inside: look
	// between the points where it meets sides of the outline.
	walls := e.walls
	given := sides(e.outline)
	for _, s := range sides(o.Outline) {
		along := s.b.Sub(s.a)
		cuts := []float64{0, 1}
		walls.meeting(s.box(), func(i int) bool {
			w := given[i]
			wall := w.b.Sub(w.a)
			if turn := along.Cross(wall); turn != 0 {
				if t := w.a.Sub(s.a).Cross(wall) / turn; t > 0 && t < 1 {
					cuts = append(cuts, t)
				}
			}
			return true
		})
		slices.SortFunc(cuts, cmp.Compare[float64])
		for i := range cuts[1:] {
			measure(s.a.Between(s.b, (cuts[i]+cuts[i+1])/2), 0)
		}
	}
	return worst
}
