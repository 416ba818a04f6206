package teach

import (
	"context"
	"fmt"

	"lapwright/figures"
	"lapwright/floors"
	"lapwright/graph"
	"lapwright/search"
)

// Round finds out which sets of items get a couple right round a room: with which there
// is a lap, as [search.Find] means it – from where laps begin, in closed hold facing
// along the line of dance or diagonally off it, round every corner and back in the same
// stance within [search.Tolerance]. More figures never hurt.
//
// It remembers what it was asked, and is not to be used by several goroutines at once.
type Round struct {
	Items   []Item
	reach   *search.Reach
	item    []int // by edge
	home    []search.State
	stance  []figures.Stance          // by home
	from    map[figures.Stance][]link // figures from a stance
	corners []int                     // eighths added at each corner
	// good are the sets that are known to get round, none within another; bad those
	// that are known not to.
	good, bad []Set
	Tested    int // sets that were tried on the floor
}

// link is a figure of an item from a stance to another.
type link struct {
	item int
	to   figures.Stance
}

// NewRound prepares a room for some items. The error tells that the problem, whose variants do
// not count, makes no sense.
func NewRound(p *search.Problem, items []Item) (*Round, error) {
	if len(items) == 0 || len(items) > MostItems {
		return nil, fmt.Errorf("%d figures are to be looked at; 1 to %d can be", len(items), MostItems)
	}
	own := *p
	own.Variants = nil
	itemOf := map[*figures.Variant]int{}
	for i, item := range items {
		for _, v := range item.Variants {
			own.Variants = append(own.Variants, v)
			itemOf[v] = i
		}
	}
	states, err := search.NewStates(&own)
	if err != nil {
		return nil, err
	}
	r := &Round{Items: items, reach: search.NewReach(states), item: make([]int, states.Edges()), from: map[figures.Stance][]link{}}
	for edge := range r.item {
		v, _ := states.Edge(edge)
		r.item[edge] = itemOf[v]
	}
	start := search.DefaultStart(own.Room, 0)
	for _, at := range states.StandingAt(0, floors.CellAt(*start.At)) {
		if stance := states.Standing(at).Stance; search.CommonStart(stance) {
			r.home, r.stance = append(r.home, at), append(r.stance, stance)
		}
	}
	for _, w := range own.Room.Walls {
		r.corners = append(r.corners, w.Eighths)
	}
	for _, e := range graph.New(own.Variants).Edges() {
		r.from[e.From] = append(r.from[e.From], link{itemOf[e.Variant], e.To})
	}
	return r, nil
}

// Gets reports whether a set gets round.
func (r *Round) Gets(ctx context.Context, set Set) (bool, error) {
	for _, s := range r.good {
		if s.In(set) {
			return true, nil
		}
	}
	for _, s := range r.bad {
		if set.In(s) {
			return false, nil
		}
	}
	gets, err := r.lap(ctx, set)
	if err == nil && !gets {
		r.bad = append(r.bad, set)
	}
	return gets, err
}

// turns reports whether, leaving out the floor, the figures of a set lead from a stance
// round every corner and back to it.
func (r *Round) turns(home figures.Stance, set Set) bool {
	now := map[figures.Stance]bool{home: true} // with so many corners taken
	for wall := 0; ; wall++ {
		todo := make([]figures.Stance, 0, len(now))
		for s := range now {
			todo = append(todo, s)
		}
		for len(todo) > 0 {
			s := todo[len(todo)-1]
			todo = todo[:len(todo)-1]
			for _, l := range r.from[s] {
				if set.Has(l.item) && !now[l.to] {
					now[l.to] = true
					todo = append(todo, l.to)
				}
			}
		}
		if wall == len(r.corners) {
			return now[home]
		}
		next := map[figures.Stance]bool{}
		for s := range now {
			for _, l := range r.from[s.Turned(r.corners[wall])] {
				if set.Has(l.item) {
					next[l.to] = true
				}
			}
		}
		now = next
	}
}

// lap reports whether there is a lap with the figures of a set.
func (r *Round) lap(ctx context.Context, set Set) (bool, error) {
	for i, home := range r.home {
		if !r.turns(r.stance[i], set) {
			continue
		}
		r.Tested++
		ok, err := r.reach.Lap(ctx, home, func(edge int) bool { return set.Has(r.item[edge]) })
		if ok || err != nil {
			return ok, err
		}
	}
	return false, nil
}
