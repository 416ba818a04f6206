package drill

import (
	"context"
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
)

// Draw draws drills of exactly so many bars, from 1 to [MostBars], one for each seed. The same
// seed draws the same drill, whatever else is drawn. The error is [ErrLength], or that
// of ctx.
func (s *Source) Draw(ctx context.Context, bars int, seeds ...uint64) ([]Drill, error) {
	if bars < 1 || bars > MostBars {
		return nil, fmt.Errorf("a drill of %d bars cannot be drawn: 1 to %d can", bars, MostBars)
	}
	c, err := newCount(ctx, s.network, bars)
	if err != nil {
		return nil, err
	}
	all := c.table(bars).sum(s.network, s.network.start)
	if all == 0 {
		return nil, fmt.Errorf("%w: %d", ErrLength, bars)
	}
	draws := make([]*draw, len(seeds))
	for i, seed := range seeds {
		draws[i] = &draw{random: rand.New(rand.NewPCG(seed, stream)), rest: bars}
	}
	most := new(big.Rat).SetFloat64(all * math.Pow(1+rounding, float64(bars)+1))
	for waiting := draws; len(waiting) > 0; {
		for _, d := range waiting {
			d.begin(s.network.start, bars)
		}
		for low := bars / c.span * c.span; low >= 0; low -= c.span {
			if low != c.first {
				if err := c.load(ctx, low); err != nil {
					return nil, err
				}
			}
			for _, d := range waiting {
				for d.rest > low {
					d.take(c)
				}
			}
		}
		var again []*draw
		for _, d := range waiting {
			switch kept, err := d.kept(most); {
			case err != nil:
				return nil, err
			case !kept:
				again = append(again, d)
			}
		}
		if waiting = again; len(waiting) > 0 {
			if err := c.load(ctx, bars/c.span*c.span); err != nil {
				return nil, err
			}
		}
	}
	drills := make([]Drill, len(seeds))
	for i, d := range draws {
		drills[i] = Drill{Seed: seeds[i], Start: s.problem.Start, Steps: s.steps(d.path)}
	}
	return drills, nil
}

// stream tells the random numbers of drills from those of anything else with the same
// seed.
const stream = 0xd4111

// draw is one drill under way.
type draw struct {
	random *rand.Rand
	rest   int // bars still to be danced
	vertex uint32
	path   []arc
	// Its weight over the probability with which it was drawn is above / below.
	above, below *big.Int
	options      []uint64
}

func (d *draw) begin(start uint32, bars int) {
	d.rest, d.vertex, d.path = bars, start, d.path[:0]
	d.above, d.below = big.NewInt(1), big.NewInt(1)
}

// take draws the next figure.
func (d *draw) take(c *count) {
	n := c.network
	first, last := n.first[d.vertex], n.first[d.vertex+1]
	t := c.table(d.rest)
	most := 0.0
	for i := first; i < last; i++ {
		most = max(most, t.ways(n, i))
	}
	// Whole numbers in proportion, rounded up, so that none is lost.
	const scale = 1 << 50
	d.options = d.options[:0]
	sum := uint64(0)
	for i := first; i < last; i++ {
		whole := uint64(math.Ceil(t.ways(n, i) / most * scale))
		d.options = append(d.options, whole)
		sum += whole
	}
	at := d.random.Uint64N(sum)
	for i, whole := range d.options {
		if at >= whole {
			at -= whole
			continue
		}
		number := first + uint32(i)
		k := &n.kinds[n.kind[number]]
		d.above.Mul(d.above, new(big.Int).Mul(new(big.Int).SetUint64(sum), new(big.Int).SetUint64(k.weight)))
		d.below.Mul(d.below, new(big.Int).SetUint64(whole))
		d.path = append(d.path, arc{d.vertex, uint32(i)})
		d.vertex, d.rest = n.to[number], d.rest-k.bars
		return
	}
}

// kept decides whether what was drawn is kept: with a probability of its weight over
// the probability with which it was drawn, over the most that this can be.
func (d *draw) kept(most *big.Rat) (bool, error) {
	share := new(big.Rat).SetFrac(d.above, d.below)
	if share.Quo(share, most); share.Cmp(big.NewRat(1, 1)) > 0 {
		return false, fmt.Errorf("drill: a count was rounded by more than was allowed for")
	}
	u := new(big.Int).SetUint64(d.random.Uint64())
	u.Lsh(u, 64).Or(u, new(big.Int).SetUint64(d.random.Uint64()))
	at := new(big.Rat).SetFrac(u, new(big.Int).Lsh(big.NewInt(1), 128))
	return at.Cmp(share) < 0, nil
}

// Number is about how many drills of so many bars there are, to a thousandth; weighted
// where there is a focus. It is 0 where there are none, exactly.
func (s *Source) Number(ctx context.Context, bars int) (float64, error) {
	c, err := newCount(ctx, s.network, bars)
	if err != nil {
		return 0, err
	}
	return c.table(bars).sum(s.network, s.network.start), nil
}

// Lengths lists the numbers of bars, up to one, of which there are drills.
func (s *Source) Lengths(ctx context.Context, upTo int) ([]int, error) {
	var all []int
	// Whether a vertex can be reached in so many bars is all that counts.
	n := s.network
	reached := make([]map[uint32]bool, upTo+1)
	reached[0] = map[uint32]bool{n.start: true}
	for bars := range reached {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if bars > 0 && len(reached[bars]) > 0 {
			all = append(all, bars)
		}
		for v := range reached[bars] {
			for i := n.first[v]; i < n.first[v+1]; i++ {
				to := bars + n.kinds[n.kind[i]].bars
				if to > upTo {
					continue
				}
				if reached[to] == nil {
					reached[to] = map[uint32]bool{}
				}
				reached[to][n.to[i]] = true
			}
		}
		reached[bars] = nil
	}
	return all, nil
}
