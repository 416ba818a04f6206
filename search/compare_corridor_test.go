//go:build compare

package search

import (
	"lapwright/figures"
	"lapwright/search/network"
)

// classes are the sets of figures that limits of the comparison speak of.
var classes = []struct {
	name string
	has  func(*figures.Variant) bool
}{
	{"turns to the left", func(v *figures.Variant) bool { return v.Turn() > 0 }},
	{"figures above bronze", func(v *figures.Variant) bool { return !v.Figure.At(figures.International, figures.Bronze) }},
}

// corridor is the graph of all laps of a problem, from any of its starts, that cost
// no more than a cutoff. It is made without haste, so that there is something to hold
// the graph against with which a search is made fast: uniform-cost search
// from each start, in which what the bound says is too dear is left
// out, and after it what the exact cost to go says is.
func corridor(t faulty, s *searcher, cutoff int32) *network.Network {
	t.Helper()
	b := network.Builder{Network: network.Network{Figures: len(s.plan.figures), Cutoff: cutoff, Walls: []int16{-1}}}
	ways := map[network.Way]int32{}
	costs := []int32{0}
	for _, start := range s.starts {
		c := &corridorOf{searcher: s, start: start, b: &b, ways: ways, number: map[uint64]int32{}, queue: newOpenList()}
		c.spread()
		costs = append(costs, c.costs...)
	}
	if len(b.Sources) == 0 {
		t.Fatal("no lap is so cheap")
	}
	all, err := b.Build()
	if err != nil {
		t.Fatal(err)
	}
	return cut(t, all, costs)
}

// corridorOf is the part of a corridor that belongs to a start. Its nodes are numbered
// as they are found.
type corridorOf struct {
	*searcher
	start  target
	b      *network.Builder
	ways   map[network.Way]int32
	first  int32            // number of its first node in the corridor
	number map[uint64]int32 // of a state, from 0
	states []uint64
	costs  []int32 // least cost from the start
	queue  *openList
}

// stateOf is a place and a post in one number.
func (c *corridorOf) stateOf(layer, place int, post int32) uint64 {
	return (c.plan.ground.layers[layer].first+uint64(place))*uint64(len(c.plan.posts)) + uint64(post)
}

// reach finds a way to a state, and the number of its node; ok is false when the bound
// says that no lap in the corridor goes there.
func (c *corridorOf) reach(layer, place int, post, cost int32) (node int32, ok bool) {
	togo := c.bound.at(layer, c.plan.ground.layers[layer].stretch[place], post)
	if togo == unreachable || cost+togo > c.b.Cutoff {
		return 0, false
	}
	state := c.stateOf(layer, place, post)
	node, known := c.number[state]
	if !known {
		node = int32(len(c.states))
		c.number[state] = node
		c.states = append(c.states, state)
		c.costs = append(c.costs, unreachable)
		c.b.Walls = append(c.b.Walls, int16(c.plan.ground.layers[layer].wall))
	}
	if cost < c.costs[node] {
		c.costs[node] = cost
		c.queue.push(cost, uint32(node), cost)
	}
	return node, true
}

// spread finds the nodes and their arcs.
func (c *corridorOf) spread() {
	c.first = int32(len(c.b.Walls))
	if _, ok := c.reach(0, c.start.place, c.start.post, 0); !ok {
		return
	}
	c.b.Sources = append(c.b.Sources, c.first)
	done := map[uint32]bool{}
	for {
		cost, node, _, ok := c.queue.pop()
		if !ok {
			return
		}
		if !done[node] {
			done[node] = true
			c.expand(int32(node), cost)
		}
	}
}

// expand adds the arcs that leave a node.
func (c *corridorOf) expand(node, cost int32) {
	pl, posts := c.plan, uint64(len(c.plan.posts))
	number, post := c.states[node]/posts, int32(c.states[node]%posts)
	layer := pl.layerOf(uint32(number))
	l := &pl.ground.layers[layer]
	place := int(number - l.first)
	cell := l.cell(place)
	last := layer == len(pl.ground.layers)-1
	if last && post == c.start.post {
		home := pl.ground.layers[0].cell(c.start.place)
		if home.Point().Sub(cell.Point()).Len() <= Tolerance+1e-9 {
			c.b.Add(c.first+node, network.Arc{To: c.b.End, Way: network.Closing, Cost: pl.gapCost(cell.X-home.X, cell.Y-home.Y)})
		}
	}
	dance := func(layer int, moves []move) {
		l := &pl.ground.layers[layer]
		for _, m := range moves {
			e := &pl.edges[m.edge]
			to := cell.Add(e.shapes[l.wall].shift)
			if !l.holds(to) || l.usable[l.place(to)] == 0 {
				continue
			}
			crowd := pl.crowd(&e.shapes[l.wall], cell)
			if crowd == blocked {
				continue
			}
			price := m.cost + (int32(l.lane[l.place(to)])+crowd)*e.bars
			if next, ok := c.reach(layer, l.place(to), m.to, cost+price); ok {
				c.b.Add(c.first+node, network.Arc{To: c.first + next, Way: c.way(e), Cost: price})
			}
		}
	}
	if l.usable[place]&inUse != 0 {
		dance(layer, pl.moves[0][post])
	}
	if !last && l.usable[place]&inCorner != 0 {
		dance(layer+1, pl.moves[pl.kindOf[layer]][post])
	}
}

// way is the number of what limits can ask about an edge.
func (c *corridorOf) way(e *edge) int32 {
	w := network.Way{Figure: e.figure, Bars: e.bars, Right: e.variant.Turn() < 0}
	for i, class := range classes {
		if class.has(e.variant) {
			w.Classes |= 1 << i
		}
	}
	number, known := c.ways[w]
	if !known {
		number = int32(len(c.b.Ways))
		c.ways[w] = number
		c.b.Ways = append(c.b.Ways, w)
	}
	return number
}

// cut leaves out of a network what no lap in it that costs at most the cutoff goes
// along.
func cut(t faulty, n *network.Network, cost []int32) *network.Network {
	t.Helper()
	b := network.Builder{Network: network.Network{Ways: n.Ways, Figures: n.Figures, Cutoff: n.Cutoff}}
	number := make([]int32, n.Nodes())
	for node := range int32(n.Nodes()) {
		number[node] = -1
		if togo := n.ToGo(node); togo != network.Unreachable && cost[node]+togo <= n.Cutoff {
			number[node] = int32(len(b.Walls))
			b.Walls = append(b.Walls, n.Walls[node])
		}
	}
	for _, source := range n.Sources {
		if number[source] >= 0 {
			b.Sources = append(b.Sources, number[source])
		}
	}
	b.End = number[n.End]
	for node := range int32(n.Nodes()) {
		if number[node] < 0 {
			continue
		}
		for _, a := range n.Arcs(node) {
			if number[a.To] >= 0 && cost[node]+a.Cost+n.ToGo(a.To) <= n.Cutoff {
				b.Add(number[node], network.Arc{To: number[a.To], Way: a.Way, Cost: a.Cost})
			}
		}
	}
	less, err := b.Build()
	if err != nil {
		t.Fatal(err)
	}
	return less
}
