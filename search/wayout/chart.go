package wayout

import (
	"cmp"
	"slices"

	"lapwright/figures"
	"lapwright/search"
)

// spot is a state with the bars danced until then.
type spot struct {
	at   search.State
	bars int
}

// chart is what can be reached from a state in so many bars.
type chart struct {
	finder *Finder
	from   search.State
	layers [][]search.State // by bars
	met    map[spot]bool
	good   func(search.State) bool
	// last tells that a way ends where it comes to a good state.
	last  bool
	moves map[search.State][]search.Move
}

func (f *Finder) chart(from search.State, last bool, good func(search.State) bool) *chart {
	c := &chart{finder: f, from: from, met: map[spot]bool{}, good: good, last: last, moves: map[search.State][]search.Move{}}
	c.meet(spot{from, 0})
	return c
}

func (c *chart) meet(s spot) {
	if !c.met[s] {
		for len(c.layers) <= s.bars {
			c.layers = append(c.layers, nil)
		}
		c.met[s] = true
		c.layers[s.bars] = append(c.layers[s.bars], s.at)
	}
}

// ends reports whether a way has come to a good state.
func (c *chart) ends(s spot) bool { return s.bars > 0 && c.good(s.at) }

// from lists what can be danced from a state.
func (c *chart) movesFrom(at search.State) []search.Move {
	list, known := c.moves[at]
	if !known {
		list = slices.Collect(c.finder.states.Moves(at))
		c.moves[at] = list
	}
	return list
}

// dance adds what can be reached from the states of a layer; it reports whether one of
// them is good.
func (c *chart) dance(bars int) (found bool) {
	if bars >= len(c.layers) {
		return false
	}
	for _, at := range c.layers[bars] {
		if c.ends(spot{at, bars}) {
			if found = true; c.last {
				continue
			}
		}
		for _, m := range c.movesFrom(at) {
			c.meet(spot{m.To, bars + m.Bars})
		}
	}
	return found
}

// label is a way as far as a spot.
type label struct {
	spot
	first  int // number of its first move
	floor  Floor
	move   search.Move
	before *label
}

// ways lists the ways to good states in at most so many bars, of which the layers must
// have been danced: for each first figure, number of bars and stance at the end the one
// for which less is least.
//
// A way that takes all the floor of another one from the same first figure to the same
// state in as many bars is not followed (label setting with dominance): whatever comes
// after, it takes no less.
func (c *chart) ways(bars int, less func(a, b Floor) int) []Way {
	leads := c.leads(bars)
	begin := c.finder.states.Standing(c.from)
	seen := begin.Wall
	type run struct {
		spot
		first int
	}
	kept := map[run][]*label{}
	order := make([][]run, bars+1)
	put := func(l *label) {
		r := run{l.spot, l.first}
		list, known := kept[r]
		if !known {
			order[l.bars] = append(order[l.bars], r)
		}
		if slices.ContainsFunc(list, func(o *label) bool { return o.floor.within(l.floor) }) {
			return
		}
		kept[r] = append(slices.DeleteFunc(list, func(o *label) bool { return l.floor.within(o.floor) }), l)
	}
	kept[run{spot{c.from, 0}, -1}] = []*label{{spot: spot{c.from, 0}, first: -1, floor: standing}}
	order[0] = []run{{spot{c.from, 0}, -1}}
	type kind struct {
		variant *figures.Variant
		turns   bool
		bars    int
		stance  figures.Stance
	}
	best := map[kind]*label{}
	var kinds []kind
	firsts := c.movesFrom(c.from)
	for b := 0; b <= bars; b++ {
		for i := 0; i < len(order[b]); i++ {
			r := order[b][i]
			ends := c.ends(r.spot)
			standing := c.finder.states.Standing(r.at)
			for _, l := range kept[r] {
				if ends {
					first := &firsts[l.first]
					k := kind{first.Variant, first.Turns, b, standing.Stance}
					old, known := best[k]
					if !known {
						kinds = append(kinds, k)
					}
					if !known || less(l.floor, old.floor) < 0 {
						best[k] = l
					}
				}
			}
			if ends && c.last || b == bars {
				continue
			}
			for n, m := range c.movesFrom(r.at) {
				next := spot{m.To, b + m.Bars}
				if !leads[next] {
					continue
				}
				taken := c.finder.taken(standing, &m, seen, begin.At())
				for _, l := range kept[r] {
					first := l.first
					if b == 0 {
						first = n
					}
					put(&label{spot: next, first: first, floor: l.floor.with(taken), move: m, before: l})
				}
			}
		}
	}
	ways := make([]Way, len(kinds))
	for i, k := range kinds {
		ways[i] = best[k].way(c.finder.states)
	}
	slices.SortStableFunc(ways, func(a, b Way) int { return cmp.Or(cmp.Compare(a.Bars, b.Bars), less(a.Floor, b.Floor)) })
	return ways
}

// standing is less than any floor.
var standing = Floor{-1e9, -1e9, -1e9, -1e9}

// leads tells from which spots a good state is reached within so many bars.
func (c *chart) leads(bars int) map[spot]bool {
	leads := map[spot]bool{}
	for b := min(bars, len(c.layers)-1); b >= 0; b-- {
		for _, at := range c.layers[b] {
			s := spot{at, b}
			if c.ends(s) {
				if leads[s] = true; c.last {
					continue
				}
			}
			leads[s] = leads[s] || b < bars && slices.ContainsFunc(c.movesFrom(at), func(m search.Move) bool { return leads[spot{m.To, b + m.Bars}] })
		}
	}
	return leads
}

// way is the whole way that ends in a label.
func (l *label) way(states *search.States) Way {
	w := Way{Bars: l.bars, To: l.at, Ends: states.Standing(l.at), Floor: l.floor}
	for ; l.before != nil; l = l.before {
		w.Moves = append(w.Moves, l.move)
	}
	slices.Reverse(w.Moves)
	return w
}
