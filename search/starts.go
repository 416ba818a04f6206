package search

import (
	"cmp"
	"math"
	"slices"

	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search/routine"
)

// findStarts lists the places and posts in which a lap may begin.
func (s *searcher) findStarts() error {
	pl := s.plan
	l := &pl.ground.layers[0]
	start := DefaultStart(s.problem.Room, l.wall)
	given := s.problem.Start != nil
	placed := given && s.problem.Start.At != nil
	if placed {
		start.At = s.problem.Start.At
	}
	c := floors.CellAt(*start.At)
	if !l.holds(c) || l.usable[l.place(c)]&inUse == 0 {
		if !placed {
			return nil
		}
		return notOnFloor(s.problem.Room, start)
	}
	s.placed = true
	for i, q := range pl.posts {
		if !given && CommonStart(q.stance) || given && q.stance == s.problem.Start.Stance {
			s.starts = append(s.starts, target{l.place(c), int32(i)})
		}
	}
	return nil
}

// DefaultStart is where a lap along a wall begins when no place is given: in the
// lane just out of the corner, or the nearest place to it where a couple has
// room to stand. Where there is none along the first half of the wall it is a
// place in the room's frame that is not on the floor.
func DefaultStart(room *floors.Room, wall int) routine.Start {
	w := &room.Walls[wall]
	enough := figures.FrameRadius() + room.Margin
	best := floors.CellAt(w.Place(0, -1)) // behind the wall
	clear := math.Inf(-1)
	for i := 0.0; clear < enough && i <= w.Length/2; i += 0.25 {
		for _, aside := range []float64{0, 0.25, -0.25, 0.5, 0.75, 1} {
			c := floors.CellAt(w.Place(math.Min(w.Length/2, w.Lane+1.5)+i, w.Lane+aside))
			if free := room.Clearance(c.Point()); room.InUse(wall, c.Point()) && clear < enough && free > clear {
				best, clear = c, free
			}
		}
	}
	at := best.Point()
	return routine.Start{Wall: wall, At: &at, Stance: figures.Stance{Facing: figures.DiagonalToWall, Free: figures.RightFoot}}
}

// CommonStart reports whether a stance is one in which a lap is usually begun:
// closed hold, facing along the line of dance or diagonally off it.
func CommonStart(s figures.Stance) bool {
	switch s.Facing {
	case figures.LineOfDance, figures.DiagonalToCentre, figures.DiagonalToWall:
		return s.Hold == figures.Closed
	}
	return false
}

// least is a rough bound at a start.
func (s *searcher) least(t target) int32 {
	return s.rough.at(0, t.place, s.grouping.groupOf[t.post])
}

// startsByStance puts the starts of one stance together; those with the least
// bound come first.
func (s *searcher) startsByStance() (groups [][]target) {
	number := map[figures.Stance]int{}
	for _, t := range s.starts {
		stance := s.plan.posts[t.post].stance
		i, known := number[stance]
		if !known {
			i = len(groups)
			number[stance] = i
			groups = append(groups, nil)
		}
		groups[i] = append(groups[i], t)
	}
	return groups
}

// sortStarts puts the starts with the least bounds first.
func (s *searcher) sortStarts() {
	slices.SortStableFunc(s.starts, func(a, b target) int { return cmp.Compare(s.least(a), s.least(b)) })
}
