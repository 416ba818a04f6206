package floors

import (
	"fmt"
	"math"

	"lapwright/figures/geometry"
)

// Stretched is the room with so many metres, up to [MaxSide], put in at the middle
// of a wall, right across: what lies beyond the middle, along the line of dance, is
// moved away by as much. An obstacle moves as a whole, with its middle; nothing else
// changes, so that a rectangle stays one. The room itself is not changed.
//
// An error says why the room cannot be stretched so: the wall's index or the metres
// are out of range, or what comes of it is no room.
func (r *Room) Stretched(wall int, metres float64) (*Room, error) {
	if wall < 0 || wall >= len(r.Walls) {
		return nil, fmt.Errorf("the room has no wall %d: its walls are numbered from 1 to %d", wall+1, len(r.Walls))
	}
	if !(metres >= 0 && metres <= MaxSide) {
		return nil, fmt.Errorf("a room cannot be stretched by %g m: 0 to %g m can be asked for", metres, MaxSide)
	}
	s := &Room{Name: r.Name, Margin: r.Margin, Capacity: r.Capacity, Outline: make([]geometry.Point, len(r.Outline))}
	for i, p := range r.Outline {
		s.Outline[i] = r.StretchedPlace(wall, metres, p)
	}
	if flaws := ringFlaws(s.Outline); flaws != nil {
		return nil, fmt.Errorf("stretched by %g m along %s: %s", metres, r.Walls[wall].Name, flaws[0].text)
	}
	lo, hi := s.Bounds()
	if size := hi.Sub(lo); math.Max(size.X, size.Y) > MaxSide {
		return nil, fmt.Errorf("stretched by %g m along %s the room is %.4g × %.4g m, more than the %g m that are planned for", metres, r.Walls[wall].Name, size.X, size.Y, MaxSide)
	}
	for _, o := range r.Obstacles {
		s.Obstacles = append(s.Obstacles, r.movedObstacle(wall, metres, o))
	}
	s.edges = newEdges(s.Outline, s.Obstacles)
	for _, o := range s.Obstacles {
		if s.edges.beyond(o) > 0 {
			return nil, fmt.Errorf("stretched by %g m along %s, the room no longer holds %s", metres, r.Walls[wall].Name, o.Name)
		}
	}
	if err := s.plan(nil); err != nil {
		return nil, fmt.Errorf("stretched by %g m along %s: %w", metres, r.Walls[wall].Name, err)
	}
	if len(s.Walls) == len(r.Walls) {
		for i := range s.Walls {
			s.Walls[i].Name = r.Walls[i].Name
		}
	}
	return s, nil
}

// StretchedPlace is where a place comes to lie when the room is stretched; see
// [Room.Stretched]. The wall must be one of the room's.
func (r *Room) StretchedPlace(wall int, metres float64, p geometry.Point) geometry.Point {
	w := &r.Walls[wall]
	if along, _ := w.Locate(p); along <= w.Length/2+touch {
		return p
	}
	return p.Add(w.heading().Scale(metres))
}

// movedObstacle is an obstacle where it comes to stand when the room is stretched.
func (r *Room) movedObstacle(wall int, metres float64, o Obstacle) Obstacle {
	if o.Outline == nil {
		o.Disc.Centre = r.StretchedPlace(wall, metres, o.Disc.Centre)
		return o
	}
	lo, hi := bounds(o.Outline)
	middle := lo.Between(hi, 0.5)
	by := r.StretchedPlace(wall, metres, middle).Sub(middle)
	moved := make([]geometry.Point, len(o.Outline))
	for i, p := range o.Outline {
		moved[i] = p.Add(by)
	}
	o.Outline = moved
	return o
}
