package floors

import (
	"math"

	"lapwright/figures/geometry"
)

// edges is every edge in the room, arranged for the question how far away the
// nearest one is.
type edges struct {
	outline   []geometry.Point
	walls     *tree // the sides of the outline, by the corner they start from
	things    *tree // the sides and circles of the obstacles
	covers    *tree // one box for each obstacle, as the diagonal of it
	obstacles []Obstacle
}

func newEdges(outline []geometry.Point, obstacles []Obstacle) *edges {
	e := &edges{outline: outline, walls: newTree(sides(outline)), obstacles: obstacles}
	var things, covers []shape
	for _, o := range obstacles {
		if o.Outline == nil {
			things = append(things, shape{a: o.Disc.Centre, radius: o.Disc.Radius, round: true})
		} else {
			things = append(things, sides(o.Outline)...)
		}
		b := o.box()
		covers = append(covers, shape{a: b.lo, b: b.hi})
	}
	e.things, e.covers = newTree(things), newTree(covers)
	return e
}

func sides(ring []geometry.Point) []shape {
	s := make([]shape, len(ring))
	for i, p := range ring {
		s[i] = shape{a: p, b: ring[(i+1)%len(ring)]}
	}
	return s
}

// Clearance is the distance in metres from p to the nearest wall or edge of an
// obstacle, exact for the outline as it was given. It is negative outside the
// outline and inside an obstacle. It is minus infinity for a place that is not
// a number and in a room that [Load] did not make.
func (r *Room) Clearance(p geometry.Point) float64 {
	if r.edges == nil || !finite(p) {
		return math.Inf(-1)
	}
	q := query{edges: r.edges, wall: -1, thing: -1}
	return q.clearance(p)
}

func finite(p geometry.Point) bool { return p.X-p.X == 0 && p.Y-p.Y == 0 }

// query asks for the clearance at one place after another. It remembers the
// nearest edges, which are most often the nearest ones of the next place too.
type query struct {
	*edges
	wall, thing int32 // the last nearest, or −1
}

func (q *query) clearance(p geometry.Point) float64 {
	gap2 := q.toWall(p)
	gap2 = q.toThing(p, gap2)
	gap := math.Sqrt(gap2)
	if !q.inOutline(p) || q.inObstacle(p) {
		return -gap
	}
	return gap
}

// toWall finds the nearest side of the outline and its squared distance.
func (q *query) toWall(p geometry.Point) (gap2 float64) {
	q.wall, gap2 = q.walls.nearest(p, q.wall, math.Inf(1))
	return gap2
}

// toThing is the squared distance to the nearest edge of an obstacle, or
// within2 when that is less.
func (q *query) toThing(p geometry.Point, within2 float64) float64 {
	near, gap2 := q.things.nearest(p, q.thing, within2)
	if near >= 0 {
		q.thing = near
	}
	return gap2
}

// inOutline tells the side on which p lies of the nearest side of the outline,
// which toWall has found. Where the nearest point is a corner, both sides that
// meet in it decide: at a corner that turns left p is inside when it is to the
// left of both, at one that turns right when it is to the left of either.
func (q *query) inOutline(p geometry.Point) bool {
	if q.wall < 0 { // p is so far away that no distance can be told
		return false
	}
	i := int(q.walls.order[q.wall])
	n := len(q.outline)
	a, b := q.outline[i], q.outline[(i+1)%n]
	along, length := p.Sub(a).Dot(b.Sub(a)), b.Sub(a).Dot(b.Sub(a))
	left := b.Sub(a).Cross(p.Sub(a)) > 0
	var before, corner, after geometry.Point
	switch {
	case along <= 0:
		before, corner, after = q.outline[(i+n-1)%n], a, b
	case along >= length:
		before, corner, after = a, b, q.outline[(i+2)%n]
	default:
		return left
	}
	in, out := corner.Sub(before), after.Sub(corner)
	leftIn, leftOut := in.Cross(p.Sub(corner)) > 0, out.Cross(p.Sub(corner)) > 0
	if in.Cross(out) >= 0 {
		return leftIn && leftOut
	}
	return leftIn || leftOut
}

func (q *query) inObstacle(p geometry.Point) bool {
	in := false
	q.covers.meeting(box{p, p}, func(i int) bool {
		in = q.obstacles[i].contains(p)
		return !in
	})
	return in
}

// fromOutline is the signed distance to the outline alone, positive inside.
func (e *edges) fromOutline(p geometry.Point) float64 {
	q := query{edges: e, wall: -1, thing: -1}
	gap := math.Sqrt(q.toWall(p))
	if !q.inOutline(p) {
		return -gap
	}
	return gap
}
