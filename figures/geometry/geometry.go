// Package geometry holds the plane geometry that a dancing couple and a dance
// floor share: points in metres, turns in sixteenths of a circle, and the
// distances between feet, bodies and walls.
//
// All frames are right-handed: x runs along the line of dance (or along a
// room's first axis), y to the left of it, towards the centre. Turns to the
// left, counter-clockwise, are positive. Nothing here knows a figure, a hold or
// a room.
package geometry

import "math"

// Point is a place or a displacement on the floor, in metres.
type Point struct{ X, Y float64 }

// Add returns p moved by q.
func (p Point) Add(q Point) Point { return Point{p.X + q.X, p.Y + q.Y} }

// Sub returns the displacement that leads from q to p.
func (p Point) Sub(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// Scale returns p made k times as long.
func (p Point) Scale(k float64) Point { return Point{p.X * k, p.Y * k} }

// Len is the length of p as a displacement, in metres.
func (p Point) Len() float64 { return math.Hypot(p.X, p.Y) }

// Dot is the scalar product of p and q.
func (p Point) Dot(q Point) float64 { return p.X*q.X + p.Y*q.Y }

// Cross is the area of the parallelogram of p and q, positive when q lies to
// the left of p.
func (p Point) Cross(q Point) float64 { return p.X*q.Y - p.Y*q.X }

// Rotate returns p turned to the left by an angle in radians.
func (p Point) Rotate(radians float64) Point {
	s, c := math.Sincos(radians)
	return Point{c*p.X - s*p.Y, s*p.X + c*p.Y}
}

// Angle is the direction of p in radians, counter-clockwise from the x axis, in
// (−π, π].
func (p Point) Angle() float64 { return math.Atan2(p.Y, p.X) }

// Between returns the point a share t of the way from p to q.
func (p Point) Between(q Point, t float64) Point {
	return Point{p.X + (q.X-p.X)*t, p.Y + (q.Y-p.Y)*t}
}

// Unit is the displacement of one metre in a direction given in radians.
func Unit(radians float64) Point {
	s, c := math.Sincos(radians)
	return Point{c, s}
}

// Disc is a round piece of floor: a centre and a radius in metres.
type Disc struct {
	Centre Point
	Radius float64
}

// Capsule is the floor within Radius metres of the segment from A to B: the
// shape of a sole, or of a frame of arms seen from above.
type Capsule struct {
	A, B   Point
	Radius float64
}

// Gap is the distance between the edges of two capsules, in metres; it is
// negative where they overlap.
func (c Capsule) Gap(d Capsule) float64 {
	return SegmentGap(c.A, c.B, d.A, d.B) - c.Radius - d.Radius
}

// PointGap is the distance in metres from p to the segment from a to b.
func PointGap(p, a, b Point) float64 {
	ab := b.Sub(a)
	l := ab.Dot(ab)
	if l == 0 {
		return p.Sub(a).Len()
	}
	t := p.Sub(a).Dot(ab) / l
	return p.Sub(a.Between(b, math.Max(0, math.Min(1, t)))).Len()
}

// SegmentGap is the least distance in metres between the segments from a to b
// and from c to d; zero where they cross.
func SegmentGap(a, b, c, d Point) float64 {
	if Crosses(a, b, c, d) {
		return 0
	}
	return math.Min(
		math.Min(PointGap(a, c, d), PointGap(b, c, d)),
		math.Min(PointGap(c, a, b), PointGap(d, a, b)))
}

// Crosses reports whether the segments from a to b and from c to d have a point
// in common.
func Crosses(a, b, c, d Point) bool {
	side := func(p, q, r Point) int {
		switch x := q.Sub(p).Cross(r.Sub(p)); {
		case x > 0:
			return 1
		case x < 0:
			return -1
		}
		return 0
	}
	within := func(p, q, r Point) bool {
		return math.Min(p.X, q.X) <= r.X && r.X <= math.Max(p.X, q.X) &&
			math.Min(p.Y, q.Y) <= r.Y && r.Y <= math.Max(p.Y, q.Y)
	}
	abc, abd, cda, cdb := side(a, b, c), side(a, b, d), side(c, d, a), side(c, d, b)
	if abc != abd && cda != cdb {
		return true
	}
	return abc == 0 && within(a, b, c) || abd == 0 && within(a, b, d) ||
		cda == 0 && within(c, d, a) || cdb == 0 && within(c, d, b)
}
