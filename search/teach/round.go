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
	Items []Item
	reach *search.Reach
	item  []int // by edge
	home  []search.State
	joins []link
	// good are the sets that are known to get round, none within another; bad those
	// that are known not to.
	good, bad []Set
	Tested    int // sets that were tried on the floor
}

// link is a figure from one stance to another, or the taking of a corner (item < 0).
type link struct {
	item     int
	from, to figures.Stance
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
	r := &Round{Items: items, reach: search.NewReach(states), item: make([]int, states.Edges())}
	for edge := range r.item {
		v, _ := states.Edge(edge)
		r.item[edge] = itemOf[v]
	}
	start := search.DefaultStart(own.Room, 0)
	for _, at := range states.StandingAt(0, floors.CellAt(*start.At)) {
		if search.CommonStart(states.Standing(at).Stance) {
			r.home = append(r.home, at)
		}
	}
	corners := make([]int, len(own.Room.Walls))
	for i := range corners {
		corners[i] = own.Room.Walls[i].Eighths
	}
	g := graph.New(own.Variants, corners...)
	for _, e := range g.Edges() {
		r.joins = append(r.joins, link{itemOf[e.Variant], e.From, e.To})
	}
	for _, c := range g.Corners() {
		r.joins = append(r.joins, link{-1, c.From, c.To})
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
	if !r.turns(set) {
		return false, nil
	}
	r.Tested++
	gets, err := r.lap(ctx, set)
	if err == nil && !gets {
		r.bad = append(r.bad, set)
	}
	return gets, err
}

// turns reports whether, leaving out the floor, the figures of a set lead from some
// stance round a corner and back to it, which every lap does.
func (r *Round) turns(set Set) bool {
	next := map[figures.Stance][]figures.Stance{}
	var corners []link
	for _, l := range r.joins {
		switch {
		case l.item < 0:
			corners = append(corners, l)
		case set.Has(l.item):
			next[l.from] = append(next[l.from], l.to)
		}
	}
	ends := map[figures.Stance]bool{}
	for _, list := range next {
		for _, to := range list {
			ends[to] = true
		}
	}
	turned := map[figures.Stance][]figures.Stance{}
	for _, c := range corners {
		if ends[c.from] && len(next[c.to]) > 0 {
			turned[c.from] = append(turned[c.from], c.to)
		}
	}
	// From each corner on: does the couple come back before it?
	for from, list := range turned {
		for _, to := range list {
			seen := map[figures.Stance]bool{}
			todo := []figures.Stance{to}
			for len(todo) > 0 {
				s := todo[len(todo)-1]
				todo = todo[:len(todo)-1]
				for _, n := range next[s] {
					if n == from {
						return true
					}
					for _, m := range append([]figures.Stance{n}, turned[n]...) {
						if !seen[m] {
							seen[m] = true
							todo = append(todo, m)
						}
					}
				}
			}
		}
	}
	return false
}

// lap reports whether there is a lap with the figures of a set.
func (r *Round) lap(ctx context.Context, set Set) (bool, error) {
	for _, home := range r.home {
		ok, err := r.reach.Lap(ctx, home, func(edge int) bool { return set.Has(r.item[edge]) })
		if ok || err != nil {
			return ok, err
		}
	}
	return false, nil
}
