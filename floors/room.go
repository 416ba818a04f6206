package floors

import (
	"math"

	"lapwright/figures/geometry"
)

// Limits on what a room may be.
const (
	MaxCorners   = 20000 // corners of the outline, and of all obstacles together
	MaxObstacles = 1000
	MaxReach     = 200.0 // metres: coordinates lie within ± this
	MinSide      = 2.0   // metres: least width and length of a room
	MaxSide      = 200.0 // metres: greatest width and length of a room
	MaxMargin    = 5.0   // metres
	MaxCapacity  = 5000  // couples
	MaxWalls     = 64    // walls as dancers see them
)

// DefaultMargin is the margin in metres of a room whose file gives none:
// common practice, no source.
const DefaultMargin = 0.1

// CoupleRadius is the radius in metres of the free circle that one couple needs
// in order to dance at all, margin not counted: a couple's frame is about 1.3 m
// across. Common practice, no source.
const CoupleRadius = 0.75

// The space that one couple needs to move freely, in square metres: 16 to 20 by
// age and class. Source: translated sport ballroom rules ("Balls in sports
// bars", innovationsdance.org).
const (
	CloseSpace = 16.0
	FreeSpace  = 20.0
)

// Room is a dance floor. [Load] makes one; the functions of a Room that was
// not made by it find no free floor. A Room is not changed after it has been
// loaded and may be used from many goroutines.
type Room struct {
	Name      string
	Outline   []geometry.Point // counter-clockwise, whatever the file's order; the file's first corner first
	Obstacles []Obstacle
	Margin    float64 // metres to be kept free of walls and obstacles
	Capacity  int     // couples; posted by the venue; 0 = none posted
	Walls     []Wall  // in the order of the line of dance

	edges *edges // for clearance
}

// Obstacle is something that stands on the floor and that nobody dances
// through: a polygon or a circle.
type Obstacle struct {
	Name    string
	Outline []geometry.Point // counter-clockwise; nil when the obstacle is round
	Disc    geometry.Disc    // when Outline is nil
}

// Bounds are the corners of the smallest upright rectangle around the outline.
func (r *Room) Bounds() (min, max geometry.Point) { return bounds(r.Outline) }

// Couples is how many couples move freely, with [FreeSpace] for each, at least
// one and never more than the posted Capacity. It is a guide: the limit posted
// by the venue, local rules and the people responsible for the floor decide.
func (r *Room) Couples() int { return r.couples(FreeSpace) }

// CouplesAtMost is the same with [CloseSpace] for each couple: the tighter end
// of the published range.
func (r *Room) CouplesAtMost() int { return r.couples(CloseSpace) }

func (r *Room) couples(space float64) int {
	n := max(1, int(math.Floor(r.Area()/space+1e-9)))
	if r.Capacity > 0 {
		n = min(n, r.Capacity)
	}
	return n
}

func bounds(points []geometry.Point) (lo, hi geometry.Point) {
	if len(points) == 0 {
		return
	}
	lo, hi = points[0], points[0]
	for _, p := range points[1:] {
		lo = geometry.Point{X: math.Min(lo.X, p.X), Y: math.Min(lo.Y, p.Y)}
		hi = geometry.Point{X: math.Max(hi.X, p.X), Y: math.Max(hi.Y, p.Y)}
	}
	return lo, hi
}

// signedArea is the area of a polygon in m², positive when it runs
// counter-clockwise (the shoelace formula, taken about the first corner).
func signedArea(ring []geometry.Point) float64 {
	sum := 0.0
	for i := 1; i+1 < len(ring); i++ {
		sum += ring[i].Sub(ring[0]).Cross(ring[i+1].Sub(ring[0]))
	}
	return sum / 2
}

// counterClockwise returns the ring counter-clockwise with its first corner
// kept first, and whether it had to be turned round.
func counterClockwise(ring []geometry.Point) ([]geometry.Point, bool) {
	if signedArea(ring) >= 0 {
		return ring, false
	}
	turned := make([]geometry.Point, len(ring))
	for i, p := range ring {
		turned[(len(ring)-i)%len(ring)] = p
	}
	return turned, true
}
