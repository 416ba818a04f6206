package search

import (
	"context"
	"math/bits"

	"lapwright/floors"
)

// Reach answers again and again whether a lap can be danced with some of the figures of
// a room's states. It keeps, for each figure along each wall, the places from which it
// can be danced as a bit each; where a couple can come to is then a matter of a few
// shifts of whole rows of the floor. It is not to be used by several goroutines at once.
type Reach struct {
	states *States
	layers []sheet // once round, and the first wall again
	can    [][]grid
	places [][]places // by layer and post
	rows   grid       // the places in hand
}

// places are where the couple can come to in a post of a layer.
type places struct {
	at    grid // nil where it has not been yet
	fresh grid // those that have not been followed yet
	// The rows from low to under high hold all that is fresh.
	low, high int
}

// grid is a bit for each place of a layer, row by row, each row from a new word on.
type grid []uint64

// sheet is the shape of a layer's grids.
type sheet struct {
	low   floors.Cell
	cols  int
	rows  int
	words int // of a row
}

func (s *sheet) size() int { return s.words * s.rows }

func (s *sheet) bit(place int) (word int, bit uint64) {
	x, y := place%s.cols, place/s.cols
	return y*s.words + x/64, 1 << (x % 64)
}

// NewReach finds from where each figure can be danced, on all cores.
func NewReach(s *States) *Reach {
	r := &Reach{states: s}
	for i := range s.plan.ground.layers {
		l := &s.plan.ground.layers[i]
		r.layers = append(r.layers, sheet{l.low, int(l.cols), int(l.rows), (int(l.cols) + 63) / 64})
	}
	n := len(r.layers) - 1
	// A figure is danced along its layer's wall, or round the corner along the next.
	r.can = make([][]grid, 2*n)
	for i := range r.can {
		r.can[i] = make([]grid, s.Edges())
	}
	onAllCores(2*n*s.Edges(), func(i int) {
		which, edge := i/s.Edges(), i%s.Edges()
		r.can[which][edge] = r.from(which/2, which%2 == 1, edge)
	})
	for range r.layers {
		r.places = append(r.places, make([]places, s.posts))
	}
	return r
}

// from are the places from where a figure can be danced in a layer.
func (r *Reach) from(layer int, turns bool, edge int) grid {
	pl := r.states.plan
	from, to, use := &pl.ground.layers[layer], &pl.ground.layers[layer], uint8(inUse)
	if turns {
		to, use = &pl.ground.layers[layer+1], inCorner
	}
	shape := &pl.edges[edge].shapes[to.wall]
	out := make(grid, r.layers[layer].size())
	for place, usable := range from.usable {
		if usable&use == 0 {
			continue
		}
		cell := from.cell(place)
		into := cell.Add(shape.shift)
		if to.holds(into) && to.usable[to.place(into)] != 0 && pl.crowd(shape, cell) != blocked {
			word, bit := r.layers[layer].bit(place)
			out[word] |= bit
		}
	}
	return out
}

// Lap reports whether a couple can dance from a state round every corner, and back into
// the same post within [Tolerance] of where it began, with the edges that are allowed.
// All that can be reached is found, whatever the order. The error is that of ctx.
func (r *Reach) Lap(ctx context.Context, home State, allowed func(edge int) bool) (bool, error) {
	for i := range r.places {
		for post := range r.places[i] {
			p := &r.places[i][post]
			clear(p.at)
			clear(p.fresh)
			p.low, p.high = 0, 0
		}
	}
	layer, place, post := r.states.unpack(home)
	if layer != 0 {
		return false, nil
	}
	word, bit := r.layers[0].bit(place)
	r.come(0, post, word/r.layers[0].words, word%r.layers[0].words, bit)
	for i := range r.layers {
		// Within a layer until nothing is new; from one to the next once.
		for again := true; again; {
			again = false
			for p := range r.places[i] {
				if r.places[i][p].low == r.places[i][p].high {
					continue
				}
				if err := ctx.Err(); err != nil {
					return false, err
				}
				again = true
				r.follow(i, int32(p), allowed)
			}
		}
	}
	return r.closes(place, post), nil
}

// follow dances on from all fresh places of a post.
func (r *Reach) follow(layer int, post int32, allowed func(edge int) bool) {
	from := &r.places[layer][post]
	low, high := from.low, from.high
	r.rows = append(r.rows[:0], from.fresh[low*r.layers[layer].words:high*r.layers[layer].words]...)
	clear(from.fresh[low*r.layers[layer].words : high*r.layers[layer].words])
	from.low, from.high = 0, 0
	pl := r.states.plan
	wall := layer % r.states.walls
	for turns := range 2 {
		kind, to := 0, layer
		if turns == 1 {
			kind, to = pl.kindOf[wall], layer+1
			if to == len(r.layers) {
				return
			}
		}
		for _, m := range pl.moves[kind][post] {
			if allowed(int(m.edge)) {
				shift := pl.edges[m.edge].shapes[pl.ground.layers[to].wall].shift
				r.dance(layer, to, low, r.can[2*wall+turns][m.edge], shift, m.to)
			}
		}
	}
}

// dance moves the places in hand, from a row on, to where a figure leads.
func (r *Reach) dance(layer, to, low int, can grid, by floors.Cell, post int32) {
	from, into := &r.layers[layer], &r.layers[to]
	right, down := from.low.X+by.X-into.low.X, from.low.Y+by.Y-into.low.Y
	can = can[low*from.words:]
	for i, places := range r.rows {
		word := places & can[i]
		if word == 0 {
			continue
		}
		// The word's first bit may be left of the sheet it moves to.
		x, y := 64*(i%from.words)+right, low+i/from.words+down
		if x < 0 {
			word, x = word>>(-x), 0
		}
		r.come(to, post, y, x/64, word<<(x%64))
		if high := word >> (64 - x%64); x%64 > 0 && high != 0 {
			r.come(to, post, y, x/64+1, high)
		}
	}
}

// come notes where the couple can be: bits of a word of a row.
func (r *Reach) come(layer int, post int32, y, word int, bits uint64) {
	p := &r.places[layer][post]
	if p.at == nil {
		p.at, p.fresh = make(grid, r.layers[layer].size()), make(grid, r.layers[layer].size())
	}
	i := y*r.layers[layer].words + word
	bits &^= p.at[i]
	if bits == 0 {
		return
	}
	p.at[i] |= bits
	p.fresh[i] |= bits
	if p.low == p.high {
		p.low, p.high = y, y+1
	} else {
		p.low, p.high = min(p.low, y), max(p.high, y+1)
	}
}

// closes reports whether the couple can end near a place of the first layer.
func (r *Reach) closes(place int, post int32) bool {
	last := len(r.layers) - 1
	at := r.places[last][post].at
	if at == nil {
		return false
	}
	l := &r.states.plan.ground.layers[last]
	home := r.states.plan.ground.layers[0].cell(place)
	for w, word := range at {
		for ; word != 0; word &= word - 1 {
			x, y := w%r.layers[last].words*64+bits.TrailingZeros64(word), w/r.layers[last].words
			if _, near := r.states.plan.gap(l.cell(y*r.layers[last].cols+x), home); near {
				return true
			}
		}
	}
	return false
}
