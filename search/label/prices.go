package label

import (
	"lapwright/search/network"
)

// prices are what the use of a figure, and of a way of a cap, costs extra in place
// of a limit that is not counted: a lap that keeps the limit gets back as much as it
// pays, or more, so the cheapest lap with prices is a bound (Lagrangian relaxation;
// for labels, Carlyle, Royset and Wood 2008).
type prices struct {
	uses []int32 // by figure
	caps []int32
}

func newPrices(n *network.Network, l *Limits) *prices {
	return &prices{make([]int32, n.Figures), make([]int32, len(l.Caps))}
}

// ways are the prices by way, and what a lap gets back in all.
func (p *prices) ways(n *network.Network, l *Limits) (extra []int32, total int32) {
	extra = make([]int32, len(n.Ways))
	for w, way := range n.Ways {
		extra[w] = p.uses[way.Figure]
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
	return extra, total
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
	return &prices{free(p.uses, c.uses), free(p.caps, c.caps)}
}

// tally is what a lap uses up.
type tally struct {
	uses, caps []int32
	cost       int32
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
					count.cost += a.Cost
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
				next = s.clock.step(hand, way.Bars)
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
			count.cost += a.Cost
			node, hand, last, left = a.To, next, blocked, then
			break
		}
	}
	return count, cost
}

// price moves the prices step by step to where the bound is best (subgradient
// steps, Held and Karp 1971) and fills the costs to go for the best ones.
func (s *solver) price(steps int) {
	s.prices = newPrices(s.n, s.l)
	t := newTogo(s.n.Nodes(), 1)
	at := make([]float64, s.n.Figures+len(s.l.Caps))
	now := newPrices(s.n, s.l)
	best, reach, idle := int32(-1), 1.0, 0
	priced := s.l.Uses > 0 || len(s.l.Caps) > 0
	for range steps {
		if !priced {
			break
		}
		extra, total := now.ways(s.n, s.l)
		t.fill(s.n, s.clock, extra, s.blocks)
		count, cost := s.cheapest(t, extra)
		if cost == network.Unreachable {
			break
		}
		bound := cost - total
		if bound > best {
			best, idle = bound, 0
			s.prices = &prices{append([]int32(nil), now.uses...), append([]int32(nil), now.caps...)}
		} else if idle++; idle > 2 {
			reach, idle = reach/2, 0
		}
		// How far each limit is overstepped is the direction of the step.
		over := make([]float64, 0, len(at))
		for _, used := range count.uses {
			if s.l.Uses == 0 {
				used = 0
			}
			over = append(over, float64(used-s.l.Uses))
		}
		for c, used := range count.caps {
			over = append(over, float64(used-s.l.Caps[c].Most))
		}
		square := 0.0
		for i := range over {
			if over[i] > 0 || at[i] > 0 {
				square += over[i] * over[i]
			}
		}
		if square == 0 {
			break
		}
		goal := float64(bound) * 1.05
		if s.upper < network.Unreachable {
			goal = float64(s.upper)
		}
		step := reach * max(1, goal-float64(bound)) / square
		for i := range over {
			at[i] = min(maxPrice, max(0, at[i]+step*over[i]))
			if i < s.n.Figures {
				now.uses[i] = int32(at[i] + 0.5)
			} else {
				now.caps[i-s.n.Figures] = int32(at[i] + 0.5)
			}
		}
	}
}

// maxPrice keeps sums of prices far from the end of the whole numbers.
const maxPrice = 5000
