package drill

import (
	"context"
	"fmt"
	"math"

	"lapwright/figures"
	"lapwright/search"
	"lapwright/search/routine"
)

// ground is what can be danced, with nothing in it that cannot be gone on with for ever:
// vertices, and from each some moves.
type ground interface {
	// begin is where drills begin.
	begin() uint32
	// each visits the moves from a vertex, in a fixed order.
	each(vertex uint32, visit func(m move))
	// longest is the most bars of a move.
	longest() int
	// reached notes what can be reached from the beginning in each number of bars up to
	// one, and reports in which numbers anything can. Layers need be right there only.
	reached(ctx context.Context, bars int) ([]bool, error)
	// layer counts for each vertex the routines of so many bars from there, by those of
	// fewer bars; ok tells that none of the counts is too large.
	layer(bars int, before func(bars int) layer) (l layer, ok bool)
	// size is about how many bytes a layer takes.
	size() int
	// joins visits what can be danced one after the other, and with nil before it what
	// drills can begin with; some more than once.
	joins(ctx context.Context, visit func(before, after *figures.Variant)) error
	// stance is the stance of a vertex.
	stance(vertex uint32) figures.Stance
	// steps are the figures of a path.
	steps(path []arc) []routine.Step
}

// move is a figure danced from a vertex.
type move struct {
	number  int // among the moves from the vertex
	to      uint32
	bars    int
	weight  uint64
	variant *figures.Variant
}

// arc is a move of a vertex by its number.
type arc struct {
	vertex uint32
	number int
}

// layer holds, by vertex, how many routines of so many bars there are from there, rounded
// down by no more than [rounding].
type layer interface{ at(vertex uint32) float64 }

// rounding is the share of a count that may be lost by one rounding, and more.
const rounding = search.Rounding

// count holds the layers for drills of so many bars. Where they would take too much
// memory, some are kept and those between are counted once more.
type count struct {
	ground ground
	bars   int
	reach  int       // the most bars of a move
	span   int       // layers of a block
	saved  [][]layer // by block: the last layers before it, the latest last
	first  int       // the number of the first layer of the block in hand
	low    int       // the same with the layers that it was counted from
	block  []layer   // from low on
	fills  bool      // anything can be reached in so many bars
}

// mostKept is how many bytes of layers are kept at once.
const mostKept = 450 << 20

// newCount counts the routines of so many bars, and of all lengths below.
func newCount(ctx context.Context, g ground, bars int) (*count, error) {
	c := &count{ground: g, bars: bars, reach: max(1, g.longest()), span: bars}
	reached, err := g.reached(ctx, bars)
	if err != nil {
		return nil, err
	}
	if c.fills = reached[bars]; !c.fills {
		return c, nil
	}
	if size := g.size() * bars; size > mostKept {
		c.span = max(c.reach, int(math.Ceil(math.Sqrt(float64(bars)*float64(c.reach)))))
	}
	for low := 0; low < bars; low += c.span {
		if err := c.load(ctx, low); err != nil {
			return nil, err
		}
	}
	return c, nil
}

// load counts the layers of the block that begins with a layer. That of all bars is not
// among them: it counts at the beginning only.
func (c *count) load(ctx context.Context, low int) error {
	if c.block != nil && low == c.first {
		return nil
	}
	index := low / c.span
	if index == len(c.saved) {
		// The last layers in hand are what the next block is counted from.
		keep := c.block[max(0, len(c.block)-c.reach):]
		c.saved = append(c.saved, append([]layer(nil), keep...))
	}
	c.first = low
	c.low, c.block = low-len(c.saved[index]), append([]layer(nil), c.saved[index]...)
	for k := low; k < low+c.span && k < c.bars; k++ {
		if err := ctx.Err(); err != nil {
			return err
		}
		next, ok := c.ground.layer(k, func(bars int) layer { return c.block[bars-c.low] })
		if !ok {
			return fmt.Errorf("there are too many drills of %d bars to count; ask for fewer bars", k)
		}
		c.block = append(c.block, next)
	}
	return nil
}

// ways is how many routines begin with a move, with so many bars to be danced from its
// beginning on.
func (c *count) ways(m *move, rest int) float64 {
	if rest < m.bars {
		return 0
	}
	return float64(m.weight) * c.block[rest-m.bars-c.low].at(m.to)
}

// all is how many routines there are, about.
func (c *count) all() (sum float64) {
	if c.fills {
		c.ground.each(c.ground.begin(), func(m move) { sum += c.ways(&m, c.bars) })
	}
	return sum
}
