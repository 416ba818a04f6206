package label

import (
	"context"

	"lapwright/search/network"
)

// togo is the exact least cost from each node to the end, with prices on the ways,
// when the only limits are the clock's and that no figure follows itself too soon.
// For the latter each node knows two costs: the best, and the best that begins with
// another figure than that.
type togo struct {
	hands        int32 // 1 when the clock is left out
	best, second []int32
	first        []int32 // figure with which the best begins; -1: none
	done         []uint8
	open         network.Queue
}

// mostStates is the greatest number of nodes times hands that a togo is made for;
// above it the clock is left out.
const mostStates = 12 << 20

func newTogo(nodes int, hands int32) *togo {
	if int64(nodes)*int64(hands) > mostStates {
		hands = 1
	}
	size := nodes * int(hands)
	return &togo{
		hands: hands, best: make([]int32, size), second: make([]int32, size), first: make([]int32, size),
		done: make([]uint8, size),
	}
}

// fill finds the costs by uniform-cost search from the end. soon tells of each way
// whether its figure may not be danced next again. Where from is not nil it is the
// least cost from a source to each node, and what is not on a lap that costs less
// than so much is left out. It is false when ctx ended before. With the clock that is done
// for the bars from its last on only; below it, where bars go by one way, the costs
// follow bar by bar, from the back.
func (t *togo) fill(
	ctx context.Context, n *network.Network, c *clock, prices []int32, soon []bool, from []int32, under int32,
	threads int,
) bool {
	for i := range t.best {
		t.best[i], t.second[i], t.first[i] = network.Unreachable, network.Unreachable, -1
	}
	clear(t.done)
	t.open.Reset(0)
	before := make([][][]int32, 0, 16)
	if t.hands > 1 {
		for _, w := range n.Ways {
			for len(before) <= int(w.Bars) {
				before = append(before, c.before(int32(len(before))))
			}
		}
	}
	for hand := range t.hands {
		if t.hands == 1 || c.ends(hand) {
			t.best[n.End*t.hands+hand] = 0
			t.open.Push(n.End*t.hands+hand, 0)
		}
	}
	relax := func(to, cost, figure int32) {
		if from != nil && from[to/t.hands] >= under-cost {
			return
		}
		if cost < t.best[to] {
			if t.first[to] != figure {
				t.second[to], t.first[to] = t.best[to], figure
			}
			t.best[to] = cost
			t.open.Push(to, cost)
		} else if figure != t.first[to] && cost < t.second[to] {
			t.second[to] = cost
			t.open.Push(to, cost)
		}
	}
	for taken := 0; ; taken++ {
		at, cost, ok := t.open.Pop()
		if !ok {
			break
		}
		if taken%4096 == 4095 && ctx.Err() != nil {
			return false
		}
		node, hand := at, int32(0)
		if t.hands > 1 {
			node, hand = at/t.hands, at%t.hands
		}
		best := cost == t.best[at] && t.done[at] == 0
		if !best && (cost != t.second[at] || t.done[at] != 1) {
			continue
		}
		t.done[at]++
		first := t.first[at]
		for _, a := range n.Into(node) {
			if a.Way == network.Closing {
				relax(a.To*t.hands+hand, cost+a.Cost, -1)
				continue
			}
			figure := n.Ways[a.Way].Figure
			if best == (figure == first && soon[a.Way]) {
				continue
			}
			if t.hands == 1 {
				relax(a.To, cost+a.Cost+prices[a.Way], figure)
				continue
			}
			way, bit := &n.Ways[a.Way], c.bit[figure]
			set, then := hand%c.sets, cost+a.Cost+prices[a.Way]
			if set&bit != bit {
				continue
			}
			for _, bar := range before[way.Bars][hand/c.sets] {
				if bar < c.last {
					continue
				}
				h := bar*c.sets + set
				if c.allows(h, way, n.Walls[node]) {
					relax(a.To*t.hands+h, then, figure)
				}
				if bit != 0 && c.allows(h-bit, way, n.Walls[node]) {
					relax(a.To*t.hands+h-bit, then, figure)
				}
			}
		}
	}
	if t.hands == 1 {
		return true
	}
	half := int32(n.Nodes() / 2)
	for bar := c.last - 1; bar >= 0; bar-- {
		if ctx.Err() != nil {
			return false
		}
		together(threads, func() { t.bar(n, c, prices, soon, from, under, bar, 0, half) },
			func() { t.bar(n, c, prices, soon, from, under, bar, half, int32(n.Nodes())) })
	}
	return true
}

// bar fills the costs of one bar of the clock, for the nodes from one to another.
func (t *togo) bar(
	n *network.Network, c *clock, prices []int32, soon []bool, from []int32, under int32, bar, node, end int32,
) {
	for ; node < end; node++ {
		for hand := bar * c.sets; hand < (bar+1)*c.sets; hand++ {
			best, second, first := int32(network.Unreachable), int32(network.Unreachable), int32(-1)
			for _, a := range n.Arcs(node) {
				if a.Way == network.Closing || from != nil && from[a.To] == network.Unreachable {
					continue
				}
				way := &n.Ways[a.Way]
				if !c.allows(hand, way, n.Walls[a.To]) {
					continue
				}
				next, blocked := c.step(hand, way), int32(-1)
				if soon[a.Way] {
					blocked = way.Figure
				}
				cost := t.after(a.To, next, blocked)
				if cost == network.Unreachable {
					continue
				}
				cost += a.Cost + prices[a.Way]
				if from != nil && from[node] >= under-cost {
					continue
				}
				switch {
				case cost < best:
					if first != way.Figure {
						second, first = best, way.Figure
					}
					best = cost
				case way.Figure != first && cost < second:
					second = cost
				}
			}
			at := node*t.hands + hand
			t.best[at], t.second[at], t.first[at] = best, second, first
		}
	}
}

// after is the cost from a node at which a way ends that may not be danced next
// again; figure is -1 when any may be.
func (t *togo) after(node, hand, figure int32) int32 {
	if t.hands > 1 {
		node = node*t.hands + hand
	}
	if figure >= 0 && t.first[node] == figure {
		return t.second[node]
	}
	return t.best[node]
}
