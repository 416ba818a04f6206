package future

import (
	"container/heap"

	"lapwright/search"
)

// round finds out whether a couple can still get right round the room.
type round struct {
	states *search.States
	walls  int
	// known says, by state and corners still to take, whether that can be done.
	known map[leg]bool
}

// leg is a state with the corners that are still to be taken.
type leg struct {
	at      search.State
	corners int8
}

func newRound(states *search.States) round {
	return round{states: states, walls: len(states.Room().Walls), known: map[leg]bool{}}
}

// Round reports whether a couple can get right round the room from a state: take as many
// corners as the room has walls. The legs nearest to the next corner are looked at first
// (best-first search); where there is no way, all that can be reached have been looked
// at. What was found out serves later questions.
func (f *Future) Round(at search.State) bool { return f.round.can(at) }

// waiting is a leg that waits to be looked at, the most promising on top.
type waiting struct {
	leg
	before int     // index of the leg it was reached from; -1: none
	along  float64 // metres along its wall
}

type openList struct {
	seen []waiting
	heap []int
}

func (o *openList) Len() int { return len(o.heap) }
func (o *openList) Less(i, j int) bool {
	a, b := &o.seen[o.heap[i]], &o.seen[o.heap[j]]
	switch {
	case a.corners != b.corners:
		return a.corners < b.corners
	case a.along != b.along:
		return a.along > b.along
	}
	return o.heap[i] > o.heap[j]
}
func (o *openList) Swap(i, j int) { o.heap[i], o.heap[j] = o.heap[j], o.heap[i] }
func (o *openList) Push(x any)    { o.heap = append(o.heap, x.(int)) }
func (o *openList) Pop() any {
	last := o.heap[len(o.heap)-1]
	o.heap = o.heap[:len(o.heap)-1]
	return last
}

func (r *round) can(at search.State) bool {
	begin := leg{at, int8(r.walls)}
	if can, known := r.known[begin]; known {
		return can
	}
	open := &openList{}
	seen := map[leg]bool{begin: true}
	add := func(l leg, before int) {
		seen[l] = true
		s := r.states.Standing(l.at)
		along, _ := r.states.Room().Walls[s.Wall].Locate(s.At())
		open.seen = append(open.seen, waiting{l, before, along})
		heap.Push(open, len(open.seen)-1)
	}
	add(begin, -1)
	for open.Len() > 0 {
		i := heap.Pop(open).(int)
		l := open.seen[i].leg
		if can, known := r.known[l]; l.corners == 0 || known && can {
			// All that led here can do it.
			for ; i >= 0; i = open.seen[i].before {
				r.known[open.seen[i].leg] = true
			}
			return true
		} else if known {
			continue
		}
		for m := range r.states.Moves(l.at) {
			next := leg{m.To, l.corners}
			if m.Turns {
				next.corners--
			}
			if !seen[next] {
				add(next, i)
			}
		}
	}
	for l := range seen {
		r.known[l] = false
	}
	return false
}
