package label

import (
	"context"
	"slices"

	"lapwright/search/network"
)

// prices are what the use of a figure, of a way of a cap or a bar costs extra, or
// brings in, in place of a limit that is not counted: a lap that keeps the limit
// gets back as much as it pays, or more, so the cheapest lap with prices is a bound
// (Lagrangian relaxation; for labels, Carlyle, Royset and Wood 2008).
type prices struct {
	uses []int32 // by figure: of a use
	caps []int32 // by cap: of a use
	long int32   // of a bar, so that laps aren't too long
	// What a bar brings in, so that laps aren't too short, and each figure, so
	// that there are different ones enough.
	short  int32
	varied []int32
}

func newPrices(n *network.Network, l *Limits) *prices {
	return &prices{uses: make([]int32, n.Figures), caps: make([]int32, len(l.Caps)), varied: make([]int32, n.Figures)}
}

// ways are the prices by way, and what a lap gets back in all.
func (p *prices) ways(n *network.Network, l *Limits) (extra []int32, total int32) {
	extra = make([]int32, len(n.Ways))
	for w, way := range n.Ways {
		extra[w] = p.uses[way.Figure] - p.varied[way.Figure] + (p.long-p.short)*way.Bars
		for c, limit := range l.Caps {
			if way.Classes>>limit.Class&1 == 1 {
				extra[w] += p.caps[c]
			}
		}
	}
	for _, price := range p.uses {
		total += price * l.Uses
	}
	for c, price := range p.caps {
		total += price * l.Caps[c].Most
	}
	for _, f := range p.least(l) {
		total -= p.varied[f]
	}
	return extra, total + p.long*l.MaxBars - p.short*l.MinBars
}

// least are the figures that bring in least, as many as must be different.
func (p *prices) least(l *Limits) []int32 {
	all := make([]int32, len(p.varied))
	for f := range all {
		all[f] = int32(f)
	}
	if l.Different == 0 {
		return nil
	}
	slices.SortStableFunc(all, func(a, b int32) int { return int(p.varied[a]) - int(p.varied[b]) })
	return all[:min(int(l.Different), len(all))]
}

// loose are the prices of what a round does not count.
func (p *prices) loose(c *counted) *prices {
	free := func(all []int32, counted []bool) []int32 {
		left := make([]int32, len(all))
		for i, price := range all {
			if !counted[i] {
				left[i] = price
			}
		}
		return left
	}
	left := &prices{uses: free(p.uses, c.uses), caps: free(p.caps, c.caps), long: p.long, varied: p.varied}
	if c.maxBars {
		left.long = 0
	}
	if !slices.Contains(c.different, false) {
		left.varied = make([]int32, len(p.varied))
	}
	return left
}

// tally is what a lap uses up.
type tally struct {
	uses, caps []int32
	bars       int32
}

// cheapest counts up the cheapest lap with prices that togo knows of.
func (s *solver) cheapest(t *togo, extra []int32) (tally, int32) {
	count := tally{make([]int32, s.n.Figures), make([]int32, len(s.l.Caps)), 0}
	node, hand, last, cost := int32(-1), int32(0), int32(-1), int32(network.Unreachable)
	for _, source := range s.n.Sources {
		if c := t.after(source, 0, -1); c < cost {
			node, cost = source, c
		}
	}
	if node < 0 {
		return count, network.Unreachable
	}
	left := cost
	for node != s.n.End {
		for _, a := range s.n.Arcs(node) {
			if a.Way == network.Closing {
				if a.Cost == left && (t.hands == 1 || s.clock.ends(hand)) {
					node = s.n.End
					break
				}
				continue
			}
			way := &s.n.Ways[a.Way]
			if last == way.Figure || t.hands > 1 && !s.clock.allows(hand, way, s.n.Walls[a.To]) {
				continue
			}
			next, blocked := hand, int32(-1)
			if t.hands > 1 {
				next = s.clock.step(hand, way)
			}
			if s.blocks[a.Way] {
				blocked = way.Figure
			}
			then := t.after(a.To, next, blocked)
			if then == network.Unreachable || a.Cost+extra[a.Way]+then != left {
				continue
			}
			count.uses[way.Figure]++
			for c, limit := range s.l.Caps {
				count.caps[c] += int32(way.Classes >> limit.Class & 1)
			}
			count.bars += way.Bars
			node, hand, last, left = a.To, next, blocked, then
			break
		}
	}
	return count, cost
}

// price moves the prices step by step to where the bound is best (subgradient
// steps, Held and Karp 1971).
func (s *solver) price(ctx context.Context, steps int) {
	n, l := s.n, s.l
	s.prices = newPrices(n, l)
	if l.Uses == 0 && len(l.Caps) == 0 && l.MinBars == 0 && l.MaxBars == 0 && l.Different == 0 {
		return
	}
	figures, caps := n.Figures, len(l.Caps)
	perBar, perFigure := s.cheapestArcs()
	t := newTogo(n.Nodes(), 1)
	// What the prices are rounded from, and by how much each limit is overstepped.
	at, over := make([]float64, 2*figures+caps+2), make([]float64, 2*figures+caps+2)
	now := newPrices(n, l)
	best, reach, idle := int32(-1), 1.0, 0
	for range steps {
		extra, total := now.ways(n, l)
		if !t.fill(ctx, n, s.clock, extra, s.blocks, nil, 0, 1) {
			return
		}
		count, cost := s.cheapest(t, extra)
		if cost == network.Unreachable {
			return
		}
		bound := cost - total
		if bound > best {
			best, idle = bound, 0
			s.prices = now.clone()
			s.bound(bound)
		} else if idle++; idle > 2 {
			reach, idle = reach/2, 0
		}
		clear(over)
		for f, used := range count.uses {
			if l.Uses > 0 {
				over[f] = float64(used - l.Uses)
			}
			if l.Different > 0 {
				over[figures+caps+2+f] = float64(-used)
			}
		}
		for c, used := range count.caps {
			over[figures+c] = float64(used - l.Caps[c].Most)
		}
		if l.MaxBars > 0 {
			over[figures+caps] = float64(count.bars - l.MaxBars)
		}
		over[figures+caps+1] = float64(l.MinBars - count.bars)
		for _, f := range now.least(l) {
			over[figures+caps+2+int(f)]++
		}
		square := 0.0
		for i := range over {
			if over[i] > 0 || at[i] > 0 {
				square += over[i] * over[i]
			}
		}
		if square == 0 {
			return
		}
		goal := float64(bound) * 1.05
		if s.upper < network.Unreachable {
			goal = float64(s.upper)
		}
		step := reach * max(1, goal-float64(bound)) / square
		for i := range over {
			at[i] = min(maxPrice, max(0, at[i]+step*over[i]))
		}
		round := func(i int) int32 { return int32(at[i] + 0.5) }
		now.long = round(figures + caps)
		at[figures+caps+1] = min(at[figures+caps+1], float64(max(0, perBar-1)))
		now.short = round(figures + caps + 1)
		for f := range figures {
			now.uses[f] = round(f)
			// Every arc must cost more than it brings in.
			i := figures + caps + 2 + f
			at[i] = min(at[i], float64(max(0, perFigure[f]-now.short*s.longest[f]-1)))
			now.varied[f] = round(i)
		}
		for c := range caps {
			now.caps[c] = round(figures + c)
		}
	}
}

func (p *prices) clone() *prices {
	c := *p
	c.uses, c.caps, c.varied = slices.Clone(p.uses), slices.Clone(p.caps), slices.Clone(p.varied)
	return &c
}

// cheapestArcs is the least cost of an arc for each of its bars, and by figure.
func (s *solver) cheapestArcs() (perBar int32, perFigure []int32) {
	perBar, perFigure, s.longest = maxPrice, make([]int32, s.n.Figures), make([]int32, s.n.Figures)
	for f := range perFigure {
		perFigure[f] = maxPrice
	}
	for i := range s.n.Size() {
		a := s.n.Arc(i)
		if a.Way == network.Closing {
			continue
		}
		way := &s.n.Ways[a.Way]
		perBar = min(perBar, a.Cost/way.Bars)
		perFigure[way.Figure] = min(perFigure[way.Figure], a.Cost)
		s.longest[way.Figure] = max(s.longest[way.Figure], way.Bars)
	}
	return perBar, perFigure
}

// maxPrice keeps sums of prices far from the end of the whole numbers.
const maxPrice = 5000
