package label

import (
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
const mostStates = 24 << 20

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
// whether its figure may not be danced next again.
func (t *togo) fill(n *network.Network, c *clock, prices []int32, soon []bool) {
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
	for {
		at, cost, ok := t.open.Pop()
		if !ok {
			return
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
			for _, h := range before[n.Ways[a.Way].Bars][hand] {
				if c.allows(h, &n.Ways[a.Way], n.Walls[node]) {
					relax(a.To*t.hands+h, cost+a.Cost+prices[a.Way], figure)
				}
			}
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
