package teach

import (
	"context"
	"fmt"
	"slices"

	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search"
)

// Round finds out which sets of items get a couple right round a room: with which there
// is a lap, as [search.Find] means it – from where laps begin, in closed hold facing
// along the line of dance or diagonally off it, round every corner and back in the same
// stance within [search.Tolerance]. More figures never hurt.
//
// It may be used by several goroutines at once.
type Round struct {
	Items []Item
	// BothWays asks for laps in which the couple dances a figure that turns to the right
	// and one that turns to the left.
	BothWays bool
	reach    *search.Reach
	item     []int // by edge
	mark     []int // by edge
	homes    []home
	nodes    int
	links    []link // figures and corners, between nodes
}

// home is a state in which laps begin, with its node.
type home struct {
	at   search.State
	node int
}

// link is a figure from one stance to another, or the taking of a corner (item < 0). A
// stance is a node; so is a stance in which the corner was just taken, or must be taken.
type link struct{ item, mark, from, to int }

// The marks of figures.
const (
	right = 1 << iota
	left
)

// NewRound prepares a room for some items. The error tells that the problem, whose
// variants do not count, makes no sense.
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
	r := &Round{Items: items, reach: search.NewReach(states), item: make([]int, states.Edges()), mark: make([]int, states.Edges())}
	for edge := range r.item {
		v, _ := states.Edge(edge)
		r.item[edge], r.mark[edge] = itemOf[v], markOf(v)
	}
	node := r.weave(own.Room, own.Variants, itemOf)
	start := search.DefaultStart(own.Room, 0)
	for _, at := range states.StandingAt(0, floors.CellAt(*start.At)) {
		if s := states.Standing(at).Stance; search.CommonStart(s) {
			r.homes = append(r.homes, home{at, node(s)})
		}
	}
	return r, nil
}

// markOf is what a way of dancing counts as: a turn to the right, to the left, or none.
func markOf(v *figures.Variant) int {
	switch {
	case v.TurnsRight():
		return right
	case v.TurnsLeft():
		return left
	}
	return 0
}

// all are the marks that a lap must have.
func (r *Round) all() int {
	if r.BothWays {
		return right | left
	}
	return 0
}

// weave lays out the stances, without the floor. It returns the node of a stance.
func (r *Round) weave(room *floors.Room, variants []*figures.Variant, itemOf map[*figures.Variant]int) func(figures.Stance) int {
	type place struct {
		stance       figures.Stance
		taken, turns bool // the corner was just taken; it must be taken
	}
	number := map[place]int{}
	node := func(p place) int {
		i, known := number[p]
		if !known {
			i = len(number)
			number[p] = i
		}
		return i
	}
	seen := map[link]bool{}
	add := func(l link) {
		if !seen[l] {
			seen[l] = true
			r.links = append(r.links, l)
		}
	}
	var corners []int
	for _, w := range room.Walls {
		if !slices.Contains(corners, w.Eighths) {
			corners = append(corners, w.Eighths)
		}
	}
	for _, v := range variants {
		for _, e := range v.Entries {
			e = e.Turned(0)
			to := node(place{stance: v.Exit(e), turns: v.Corner})
			for _, from := range []int{node(place{stance: e}), node(place{stance: e, taken: true})} {
				add(link{itemOf[v], markOf(v), from, to})
			}
			for _, c := range corners {
				for _, turns := range []bool{false, true} {
					add(link{-1, 0, node(place{stance: e.Turned(-c), turns: turns}), node(place{stance: e, taken: true})})
				}
			}
		}
	}
	r.nodes = len(number)
	return func(s figures.Stance) int {
		if i, known := number[place{stance: s}]; known {
			return i
		}
		return -1
	}
}

// Core leaves of a set the items that a lap can have as far as stances go, whatever the
// floor: those that lead from a stance in which laps begin round corners and back to it,
// with the marks that are wanted. All else in a set serves no lap. It is empty where there
// is no such way.
func (r *Round) Core(set Set) (core Set) {
	for _, c := range r.cores(set) {
		for i := range c {
			core[i] |= c[i]
		}
	}
	return core
}

// cores are the items that laps from each home can have.
func (r *Round) cores(set Set) []Set {
	all := make([]Set, len(r.homes))
	next, before := make([][]link, r.nodes), make([][]link, r.nodes)
	for _, l := range r.links {
		if l.item < 0 || set.Has(l.item) {
			next[l.from], before[l.to] = append(next[l.from], l), append(before[l.to], l)
		}
	}
	reached := func(from int, links [][]link, end func(link) int) []bool {
		seen := make([]bool, r.nodes)
		seen[from] = true
		for todo := []int{from}; len(todo) > 0; {
			n := todo[len(todo)-1]
			todo = todo[:len(todo)-1]
			for _, l := range links[n] {
				if to := end(l); !seen[to] {
					seen[to] = true
					todo = append(todo, to)
				}
			}
		}
		return seen
	}
	for i, h := range r.homes {
		if h.node < 0 {
			continue
		}
		there := reached(h.node, next, func(l link) int { return l.to })
		back := reached(h.node, before, func(l link) int { return l.from })
		marks, turns := 0, false
		var items Set
		for n := range r.nodes {
			if !there[n] || !back[n] {
				continue
			}
			for _, l := range next[n] {
				switch {
				case !back[l.to]:
				case l.item < 0:
					turns = true
				default:
					items = items.With(l.item)
					marks |= l.mark
				}
			}
		}
		if turns && marks&r.all() == r.all() {
			all[i] = items
		}
	}
	return all
}

// Lap reports whether there is a lap with the figures of a set. The error is that of ctx.
func (r *Round) Lap(ctx context.Context, set Set) (bool, error) {
	return r.lap(ctx, set, func(core Set) bool { return core != Set{} })
}

// lap looks for a lap from those homes whose core will do. The usual stride, with which
// there is less to look at, is tried first.
func (r *Round) lap(ctx context.Context, set Set, serves func(core Set) bool) (bool, error) {
	var homes []search.State
	var core Set
	for i, c := range r.cores(set) {
		if serves(c) {
			homes = append(homes, r.homes[i].at)
			for k := range c {
				core[k] |= c[k]
			}
		}
	}
	if len(homes) == 0 {
		return false, nil
	}
	asked := search.Asked{Allowed: func(edge int) bool { return core.Has(r.item[edge]) },
		Mark: func(edge int) int { return r.mark[edge] }, Marks: r.all(), Usual: true}
	closes, err := r.reach.Lap(ctx, homes, asked)
	if !closes && err == nil {
		asked.Usual = false
		closes, err = r.reach.Lap(ctx, homes, asked)
	}
	return closes, err
}

// Shortest is how many bars the shortest lap of a set takes at the couple's usual stride;
// most where there is none of fewer bars. The error is that of ctx.
func (r *Round) Shortest(ctx context.Context, set Set, most int) (int, error) {
	for i, core := range r.cores(set) {
		if (core == Set{}) {
			continue
		}
		bars, err := r.reach.Shortest(ctx, r.homes[i].at, most-1, search.Asked{Allowed: func(edge int) bool { return core.Has(r.item[edge]) }, Usual: true})
		if err != nil {
			return 0, err
		}
		if bars > 0 {
			most = bars
		}
	}
	return most, nil
}

// Path is a lap with the figures of a set that dances each item of another, of the fewest
// bars at the usual stride, or else reaching and holding back; nil where there is none of
// at most so many bars. The error is that of ctx.
func (r *Round) Path(ctx context.Context, set, must Set, most int) (*search.Path, error) {
	bit := map[int]int{}
	for i, item := range must.Items() {
		bit[item] = 1 << i
	}
	asked := search.Asked{Mark: func(edge int) int { return bit[r.item[edge]] }, Marks: 1<<len(bit) - 1}
	for _, asked.Usual = range []bool{true, false} {
		var best *search.Path
		for i, core := range r.cores(set) {
			if core == (Set{}) || !must.In(core) {
				continue
			}
			asked.Allowed = func(edge int) bool { return core.Has(r.item[edge]) }
			p, err := r.reach.Path(ctx, r.homes[i].at, most, asked)
			if err != nil {
				return nil, err
			}
			if p != nil {
				best, most = p, p.Bars-1
			}
		}
		if best != nil {
			return best, nil
		}
	}
	return nil, nil
}
