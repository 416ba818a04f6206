package drill

import (
	"context"
	"fmt"
	"math"
)

// layer holds, by vertex, how many routines of so many bars there are from there, as
// the upper half of a 64-bit floating-point number: rounded down, by a millionth at
// most.
type layer []uint32

func (l layer) at(v uint32) float64 { return math.Float64frombits(uint64(l[v]) << 32) }

// rounding is the share of a count that may be lost by one rounding, and more.
const rounding = 1.0 / (1 << 19)

// count holds the layers for drills of so many bars. Where they would take too much
// memory, some are kept and those between are counted once more.
type count struct {
	network *network
	bars    int
	reach   int       // the most bars of an arc
	span    int       // layers of a block
	saved   [][]layer // by block: the last layers before it, the latest last
	first   int       // the number of the first layer of the block in hand
	low     int       // the same with the layers that it was counted from
	block   []layer   // from low on
}

// mostKept is how many bytes of layers are kept at once.
const mostKept = 256 << 20

// newCount counts the routines of so many bars, and of all lengths below.
func newCount(ctx context.Context, n *network, bars int) (*count, error) {
	c := &count{network: n, bars: bars, reach: max(1, n.longest()), span: bars + 1}
	if size := 4 * n.vertices() * (bars + 1); size > mostKept {
		c.span = max(c.reach, int(math.Ceil(math.Sqrt(float64(bars+1)*float64(c.reach)))))
	}
	for low := 0; low <= bars; low += c.span {
		if err := c.load(ctx, low); err != nil {
			return nil, err
		}
	}
	return c, nil
}

// load counts the layers of the block that begins with a layer.
func (c *count) load(ctx context.Context, low int) error {
	index := low / c.span
	if index == len(c.saved) {
		// The last layers in hand are what the next block is counted from.
		keep := c.block[max(0, len(c.block)-c.reach):]
		c.saved = append(c.saved, append([]layer(nil), keep...))
	}
	c.first = low
	c.low, c.block = low-len(c.saved[index]), append([]layer(nil), c.saved[index]...)
	for k := low; k < low+c.span && k <= c.bars; k++ {
		if err := ctx.Err(); err != nil {
			return err
		}
		next, err := c.next(k)
		if err != nil {
			return err
		}
		c.block = append(c.block, next)
	}
	return nil
}

// next is the layer of a number, counted from those before it.
func (c *count) next(k int) (layer, error) {
	n := c.network
	out := make(layer, n.vertices())
	const runs = 64
	over := make([]bool, runs)
	t := c.table(k)
	inParallel(runs, func(run int) {
		for v := len(out) * run / runs; v < len(out)*(run+1)/runs; v++ {
			sum := 1.0
			if k > 0 {
				sum = t.sum(n, uint32(v))
			}
			over[run] = over[run] || math.IsInf(sum, 0)
			out[v] = uint32(math.Float64bits(sum) >> 32)
		}
	})
	for _, o := range over {
		if o {
			return nil, fmt.Errorf("there are too many drills of %d bars to count; ask for fewer bars", k)
		}
	}
	return out, nil
}

// table is what an arc of each kind leads to, with so many bars to be danced from its
// beginning on.
type table struct {
	layers [256]layer // by kind; nil where too few bars are left for it
	weight [256]float64
}

func (c *count) table(k int) *table {
	t := &table{}
	for i, kind := range c.network.kinds {
		if k >= kind.bars {
			t.layers[i], t.weight[i] = c.block[k-kind.bars-c.low], float64(kind.weight)
		}
	}
	return t
}

// ways is how many routines begin with an arc.
func (t *table) ways(n *network, arc uint32) float64 {
	kind := n.kind[arc]
	if l := t.layers[kind]; l != nil {
		return t.weight[kind] * l.at(n.to[arc])
	}
	return 0
}

// sum is how many routines there are from a vertex.
func (t *table) sum(n *network, v uint32) (sum float64) {
	for i := n.first[v]; i < n.first[v+1]; i++ {
		sum += t.ways(n, i)
	}
	return sum
}
