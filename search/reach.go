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
	at     [][]grid // by layer and post: where the couple can come
	fresh  [][]grid // the same, what has not been followed yet
	waits  [][]bool
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
		r.can[which][edge] = r.places(which/2, which%2 == 1, edge)
	})
	for range r.layers {
		r.at, r.fresh = append(r.at, make([]grid, s.posts)), append(r.fresh, make([]grid, s.posts))
		r.waits = append(r.waits, make([]bool, s.posts))
	}
	return r
}

// places are where a figure can be danced from in a layer.
func (r *Reach) places(layer int, turns bool, edge int) grid {
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
	for i := range r.at {
		for post := range r.at[i] {
			r.at[i][post], r.fresh[i][post], r.waits[i][post] = nil, nil, false
		}
	}
	layer, place, post := r.states.unpack(home)
	if layer != 0 {
		return false, nil
	}
	start := make(grid, r.layers[0].size())
	word, bit := r.layers[0].bit(place)
	start[word] |= bit
	r.come(0, post, start)
	for i := range r.layers {
		// Within a layer until nothing is new; from one to the next once.
		for again := true; again; {
			again = false
			for p := range r.waits[i] {
				if !r.waits[i][p] {
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
	fresh := r.fresh[layer][post]
	r.fresh[layer][post], r.waits[layer][post] = nil, false
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
			if !allowed(int(m.edge)) {
				continue
			}
			shift := pl.edges[m.edge].shapes[pl.ground.layers[to].wall].shift
			if moved := r.shift(layer, to, fresh, r.can[2*wall+turns][m.edge], shift); moved != nil {
				r.come(to, m.to, moved)
			}
		}
	}
}

// shift moves the places from which something can be danced to where it leads; nil
// where there are none.
func (r *Reach) shift(layer, to int, places, can grid, by floors.Cell) grid {
	from, into := &r.layers[layer], &r.layers[to]
	right, down := from.low.X+by.X-into.low.X, from.low.Y+by.Y-into.low.Y
	var out grid
	for y := range from.rows {
		for w := range from.words {
			word := places[y*from.words+w] & can[y*from.words+w]
			if word == 0 {
				continue
			}
			if out == nil {
				out = make(grid, into.size())
			}
			// The word's first bit may be left of the sheet it moves to.
			x := 64*w + right
			row := (y + down) * into.words
			if x < 0 {
				word, x = word>>(-x), 0
			}
			out[row+x/64] |= word << (x % 64)
			if high := word >> (64 - x%64); x%64 > 0 && high != 0 {
				out[row+x/64+1] |= high
			}
		}
	}
	return out
}

// come notes where the couple can be.
func (r *Reach) come(layer int, post int32, places grid) {
	at, fresh := r.at[layer][post], r.fresh[layer][post]
	if at == nil {
		r.at[layer][post], r.fresh[layer][post], r.waits[layer][post] = places, append(grid(nil), places...), true
		return
	}
	any := uint64(0)
	for i, word := range places {
		news := word &^ at[i]
		if news == 0 {
			continue
		}
		any |= news
		at[i] |= news
		if fresh == nil {
			fresh = make(grid, len(places))
			r.fresh[layer][post] = fresh
		}
		fresh[i] |= news
	}
	r.waits[layer][post] = r.waits[layer][post] || any != 0
}

// closes reports whether the couple can end near a place of the first layer.
func (r *Reach) closes(place int, post int32) bool {
	last := len(r.layers) - 1
	at := r.at[last][post]
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
