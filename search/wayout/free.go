package wayout

import (
	"math"

	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search"
)

// Free is what a couple leaves of the floor beside it, straight across the line of dance:
// metres from the floor that it takes to the wall or an obstacle on one side, and on the
// other to an obstacle or to where the floor belongs to another line of dance.
type Free struct{ Wall, Centre float64 }

// Passing is how many metres another couple in hold needs to walk past: the width of the
// frame of its arms. With fast turns it is more.
func Passing() float64 { return 2 * figures.FrameRadius() }

// PassesWall reports whether another couple can pass between this one and the wall, with
// the margin kept to the wall.
func (f Free) PassesWall(margin float64) bool { return f.Wall >= Passing()+margin-hair }

// PassesCentre is the same on the side of the centre.
func (f Free) PassesCentre(margin float64) bool { return f.Centre >= Passing()+margin-hair }

// Free is what a way from a state leaves free for others.
func (f *Finder) Free(at search.State, floor Floor) Free {
	begin := f.states.Standing(at)
	room := f.states.Room()
	w := &room.Walls[begin.Wall]
	along, across := w.Locate(begin.At())
	next := (begin.Wall + 1) % len(room.Walls)
	// look is how far the floor is free from an edge of the rectangle.
	look := func(edge, way float64, theirs bool) float64 {
		least := math.Inf(1)
		for a := along - floor.Back; a < along+floor.Ahead+floors.Step; a += floors.Step {
			far := 0.0
			for ; ; far += floors.Step {
				p := w.Place(math.Min(a, along+floor.Ahead), edge+way*far)
				if room.Clearance(p) < 0 || !theirs && !room.InUse(begin.Wall, p) && !room.InUse(next, p) {
					break
				}
			}
			least = math.Min(least, math.Max(0, far-floors.Step))
		}
		return least
	}
	return Free{Wall: look(across-floor.Wall, -1, true), Centre: look(across+floor.Centre, 1, false)}
}
