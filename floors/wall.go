package floors

import (
	"math"

	"lapwright/figures/geometry"
)

// Wall is one wall as dancers see it: a stretch of the outline with one line of
// dance.
type Wall struct {
	Index     int            // its place in the order of the line of dance, from 0
	Name      string         // from the file, or "wall 1"
	From, To  geometry.Point // in the room's frame, along the line of dance
	Direction float64        // radians: the line of dance along this wall in the room's frame
	Length    float64        // metres from From to To
	// Long tells a long wall from a short one: it is at least as long as the
	// mean of the longest and the shortest wall of the room. All walls are long
	// when the shortest has 90 % of the longest or more. The rule is ours.
	Long bool
	// Lane is the distance in metres from the wall to the middle of the lane,
	// the line that a couple's centre follows: about 1.5 m, less in a narrow
	// room, more along a stage. Common practice, no source.
	Lane float64
	// Reach is how far from the wall, in metres, this wall is still the one in
	// use.
	Reach float64
	// Corner is the angle in radians by which the line of dance turns at the
	// corner at the end of the wall, left positive: π/2 at a normal corner,
	// −π/2 at a re-entrant one.
	Corner float64
	// Eighths is what is added to a couple's heading relative to the line of
	// dance on taking the next wall, in eighths of a turn, positive towards the
	// centre: −2 at a right-angled corner, +2 at a re-entrant one. Over all
	// walls they add up to −8, so that a heading is the same after a lap.
	Eighths int
	// Residual is the angle in radians that Eighths leaves over and the couple
	// adjusts by at the corner, left positive; zero at right angles.
	Residual float64
	// Meet is where the lanes of this wall and the next meet, in the room's
	// frame.
	Meet geometry.Point

	middle             float64 // metres from the wall to the middle of the room
	nearStart, nearEnd float64 // metres from the wall up to which the corners at its ends reach
	before, past       float64 // metres by which the strip in use runs over its ends
	// Where the line of dance turns right by much more than a right angle, as
	// round the end of a partition, the strip past the end is this much wider,
	// in metres, on the wall's side.
	underStart, underEnd float64
	bulge                float64 // metres by which the outline lies behind the wall's line
	round                float64 // metres from Meet up to which the corner reaches
}

// String is the wall's name and kind: "wall 1, long".
func (w *Wall) String() string {
	if w.Long {
		return w.Name + ", long"
	}
	return w.Name + ", short"
}

// Locate says where p lies along the wall: metres from the wall's start along
// the line of dance, and metres from the wall towards the centre.
func (w *Wall) Locate(p geometry.Point) (along, across float64) {
	d, u := p.Sub(w.From), w.heading()
	return u.Dot(d), u.Cross(d)
}

// Place is the reverse of [Wall.Locate].
func (w *Wall) Place(along, across float64) geometry.Point {
	u := w.heading()
	return w.From.Add(u.Scale(along)).Add(geometry.Point{X: -u.Y, Y: u.X}.Scale(across))
}

// heading is the line of dance as a displacement of one metre.
func (w *Wall) heading() geometry.Point {
	if w.Length > 0 {
		return w.To.Sub(w.From).Scale(1 / w.Length)
	}
	return geometry.Unit(w.Direction)
}

func (w *Wall) inUse(p geometry.Point) bool {
	along, across := w.Locate(p)
	least := -w.bulge
	switch {
	case along < 0:
		least = math.Min(least, -w.underStart)
	case along > w.Length:
		least = math.Min(least, -w.underEnd)
	}
	return across >= least-touch && across <= w.Reach &&
		along >= -w.before-touch && along <= w.Length+w.past+touch
}

// InUse reports whether a couple whose centre is at p may be dancing along the
// wall: p lies in the strip from the wall to its Reach, which at a re-entrant
// corner runs on past the wall's end until the lanes have met. Whether p is
// free of obstacles is [Room.Clearance]'s to say.
func (r *Room) InUse(wall int, p geometry.Point) bool {
	return wall >= 0 && wall < len(r.Walls) && r.Walls[wall].inUse(p)
}

// InCorner reports whether the next wall may be taken at p by a couple that
// dances along the given one: where both are in use, around the place where
// their lanes meet, no farther from either wall than 1.5 m past its lane (and
// never past the middle of a narrow room), or as far as it takes to get round
// what fills the corner. A room loads only if every corner
// has free floor there for a couple.
func (r *Room) InCorner(wall int, p geometry.Point) bool {
	if wall < 0 || wall >= len(r.Walls) {
		return false
	}
	w, next := &r.Walls[wall], r.next(wall)
	if !w.inUse(p) || !next.inUse(p) || p.Sub(w.Meet).Len() > w.round {
		return false
	}
	_, fromThis := w.Locate(p)
	_, fromNext := next.Locate(p)
	return fromThis <= w.nearEnd && fromNext <= next.nearStart
}

func (r *Room) next(wall int) *Wall { return &r.Walls[(wall+1)%len(r.Walls)] }

// WallsAt lists the walls that may be in use at p, by index: none in the middle
// of a large room, two at a corner.
func (r *Room) WallsAt(p geometry.Point) []int {
	var walls []int
	for i := range r.Walls {
		if r.Walls[i].inUse(p) {
			walls = append(walls, i)
		}
	}
	return walls
}

// LineOfDance is the wall whose lane is nearest to p, among those in use there
// if any, and the direction of its line of dance in radians in the room's
// frame. It answers at every place, the middle of the room and the outside
// included; the wall is −1 only in a room without walls.
func (r *Room) LineOfDance(p geometry.Point) (wall int, direction float64) {
	wall = -1
	best, used := math.Inf(1), false
	for i := range r.Walls {
		w := &r.Walls[i]
		from := r.Walls[(i+len(r.Walls)-1)%len(r.Walls)].Meet
		gap, use := geometry.PointGap(p, from, w.Meet), w.inUse(p)
		if wall < 0 || use && !used || use == used && gap < best-1e-9 {
			wall, direction, best, used = i, w.Direction, gap, use
		}
	}
	return wall, direction
}

// LapLength is the length in metres of the middle of the lanes once round: from
// each meeting of two lanes straight to the next.
func (r *Room) LapLength() float64 {
	sum := 0.0
	for i := range r.Walls {
		sum += r.next(i).Meet.Sub(r.Walls[i].Meet).Len()
	}
	return sum
}
