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
	c, err := newCount(ctx, s.ground, bars)
	if err != nil {
		return nil, err
	}
	all := c.all()
	if all == 0 {
		return nil, fmt.Errorf("%w: %d", ErrLength, bars)
	}
	most := new(big.Rat).SetFloat64(all * math.Pow(1+rounding, float64(bars)+1))
	drills := make([]Drill, len(seeds))
	var waiting []int // indices of the seeds that have no drill yet
	for i := range seeds {
		waiting = append(waiting, i)
	}
	tries := 1
	if c.span < bars {
		tries = 16 // at a time, since the layers are counted anew for them
	}
	for try := 0; len(waiting) > 0; try += tries {
		if err := c.load(ctx, (bars-1)/c.span*c.span); err != nil {
			return nil, err
		}
		var draws []*draw // of each seed one after the other
		for _, i := range waiting {
			for k := range tries {
				draws = append(draws, newDraw(seeds[i], try+k, s.ground.begin(), bars))
			}
		}
		for low := (bars - 1) / c.span * c.span; low >= 0; low -= c.span {
			if err := c.load(ctx, low); err != nil {
				return nil, err
			}
			for _, d := range draws {
				for d.rest > low {
					d.take(c)
				}
			}
		}
		var again []int
		for n, i := range waiting {
			d, err := firstKept(draws[n*tries:(n+1)*tries], most)
			switch {
			case err != nil:
				return nil, err
			case d == nil:
				again = append(again, i)
			default:
				drills[i] = Drill{Seed: seeds[i], Start: s.problem.Start, Steps: s.ground.steps(d.path)}
			}
		}
		waiting = again
	}
	return drills, nil
}

// firstKept is the first of some draws that is kept; nil where none is.
func firstKept(draws []*draw, most *big.Rat) (*draw, error) {
	for _, d := range draws {
		if kept, err := d.kept(most); kept || err != nil {
			return d, err
		}
	}
	return nil, nil
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
	moves        []move
	ways         []float64
	options      []uint64
}

// newDraw begins a try to draw the drill of a seed. Each try has random numbers of its own,
// so that it does not matter how many are made at a time.
func newDraw(seed uint64, try int, start uint32, bars int) *draw {
	return &draw{random: rand.New(rand.NewPCG(seed, stream+uint64(try))), rest: bars, vertex: start, above: big.NewInt(1), below: big.NewInt(1)}
}

// take draws the next figure.
func (d *draw) take(c *count) {
	d.moves, d.ways = d.moves[:0], d.ways[:0]
	most := 0.0
	c.ground.each(d.vertex, func(m move) {
		if ways := c.ways(&m, d.rest); ways > 0 {
			d.moves, d.ways = append(d.moves, m), append(d.ways, ways)
			most = max(most, ways)
		}
	})
	// Whole numbers in proportion, rounded up, so that none is lost.
	const scale = 1 << 50
	d.options = d.options[:0]
	sum := uint64(0)
	for _, ways := range d.ways {
		whole := uint64(math.Ceil(ways / most * scale))
		d.options = append(d.options, whole)
		sum += whole
	}
	at := d.random.Uint64N(sum)
	for i, whole := range d.options {
		if at >= whole {
			at -= whole
			continue
		}
		m := &d.moves[i]
		d.above.Mul(d.above, new(big.Int).Mul(new(big.Int).SetUint64(sum), new(big.Int).SetUint64(m.weight)))
		d.below.Mul(d.below, new(big.Int).SetUint64(whole))
		d.path = append(d.path, arc{d.vertex, m.number})
		d.vertex, d.rest = m.to, d.rest-m.bars
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

// Number is about how many drills of so many bars there are, to a tenth for each
// ten bars; weighted where there is a focus. It is 0 where there are none, exactly.
func (s *Source) Number(ctx context.Context, bars int) (float64, error) {
	c, err := newCount(ctx, s.ground, bars)
	if err != nil {
		return 0, err
	}
	return c.all(), nil
}

// Lengths lists the numbers of bars, up to one, of which there are drills.
func (s *Source) Lengths(ctx context.Context, upTo int) ([]int, error) {
	reached, err := s.ground.reached(ctx, upTo)
	if err != nil {
		return nil, err
	}
	var all []int
	for bars, yes := range reached {
		if bars > 0 && yes {
			all = append(all, bars)
		}
	}
	return all, nil
}
