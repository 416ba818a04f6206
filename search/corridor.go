package search

import (
	"context"
	"errors"

	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search/network"
)

// standing is where and how a couple stands.
type standing struct {
	cell  floors.Cell
	layer int
	post  int32
}

// corridor is the finite graph of all laps that cost no more than a cutoff, and
// where its nodes are on the floor.
type corridor struct {
	*network.Network
	plan  *plan
	nodes []standing // by node
}

// errTooWide tells that a corridor has more arcs than can be held.
var errTooWide = errors.New("search: the corridor is too wide")

// mostArcs is how many arcs of a corridor are held at most.
const mostArcs = 1 << 20

// corridor finds all laps that cost no more than a cutoff. It returns errTooWide
// when that takes too many arcs, and nil when there are none.
func (s *searcher) corridor(ctx context.Context, cutoff int32, classes func(*figures.Variant) uint64) (*corridor, error) {
	b := network.Builder{Network: network.Network{Figures: len(s.plan.figures), Cutoff: cutoff}}
	for i := range s.plan.edges {
		e := &s.plan.edges[i]
		b.Ways = append(b.Ways, network.Way{Figure: e.figure, Bars: e.bars, Classes: classes(e.variant), Right: e.variant.Turn() < 0})
	}
	// Node 0 is the end.
	c := &corridor{plan: s.plan, nodes: []standing{{}}}
	b.Walls = append(b.Walls, -1)
	for _, starts := range s.startsByStance() {
		if s.least(starts[0]) > cutoff {
			break
		}
		f := &flow{searcher: s, builder: &b, corridor: c}
		if err := f.stance(ctx, starts, cutoff); err != nil {
			return nil, err
		}
	}
	if len(b.Sources) == 0 {
		return nil, nil
	}
	whole, err := b.Build()
	if err != nil {
		return nil, err
	}
	within, kept := whole.Within(cutoff)
	if within == nil {
		return nil, nil
	}
	c.Network = within
	nodes := make([]standing, len(kept))
	for i, old := range kept {
		nodes[i] = c.nodes[old]
	}
	c.nodes = nodes
	return c, nil
}

// flow gathers the laps that begin in one stance.
type flow struct {
	*searcher
	builder  *network.Builder
	corridor *corridor
	arcs     []taken // in the order of their clusters
	first    []int32 // by cluster: its first arc
	soFar    []int32 // by entry: the least cost so far
	nodeOf   []int32 // by entry: its node, or -1
}

// stance adds the laps that begin in any of the posts of a stance and end in the
// same post.
func (f *flow) stance(ctx context.Context, starts []target, cutoff int32) error {
	if err := f.look(ctx, starts, cutoff+1); err != nil {
		return err
	}
	bound, err := f.closer(ctx, starts, starts)
	if err != nil || bound == nil {
		return err
	}
	f.kernel.begin(bound, starts, starts, cutoff+1)
	if err := f.kernel.flood(ctx, nil); err != nil {
		return err
	}
	f.sort()
	f.soFar, f.nodeOf = make([]int32, len(f.kernel.entries)), make([]int32, len(f.kernel.entries))
	for _, start := range starts {
		if err := f.from(ctx, start, cutoff); err != nil {
			return err
		}
	}
	return nil
}

// sort puts the figures that the kernel has taken back in the order of their
// clusters.
func (f *flow) sort() {
	k := f.kernel
	f.first = make([]int32, len(k.clusters)+1)
	in := make([]uint32, len(k.taken))
	for i := range k.taken {
		// Every one of them was below the limit, so that it has been looked at
		// and its cluster is there.
		in[i] = k.table[k.slot(k.taken[i].place, k.taken[i].group)] - 1
		f.first[in[i]+1]++
	}
	for i := range k.clusters {
		f.first[i+1] += f.first[i]
	}
	f.arcs = make([]taken, len(k.taken))
	next := append([]int32(nil), f.first...)
	for i, a := range k.taken {
		f.arcs[next[in[i]]] = a
		next[in[i]]++
	}
}

// from adds the laps from one start by uniform-cost search forward, pruned by the
// exact costs to go.
func (f *flow) from(ctx context.Context, start target, cutoff int32) error {
	k := f.kernel
	group := f.grouping.groupOf[start.post]
	slot := k.table[k.slot(uint32(start.place), group)]
	if slot == 0 {
		return nil
	}
	origin := k.clusters[slot-1].first + uint32(start.post-f.grouping.groups[group].first)
	if e := &k.entries[origin]; !e.closed || e.togo > cutoff {
		return nil
	}
	for i := range f.soFar {
		f.soFar[i], f.nodeOf[i] = unreachable, -1
	}
	open := newOpenList()
	ground := f.plan.ground
	last := len(ground.layers) - 1
	home := ground.layers[0].cell(start.place)
	reach := func(at uint32, cost int32) (node int32, ok bool) {
		e := &k.entries[at]
		if !e.closed || cost+e.togo > cutoff {
			return 0, false
		}
		if f.nodeOf[at] < 0 {
			c := &k.clusters[e.cluster]
			layer, place := ground.locate(c.place)
			f.nodeOf[at] = int32(len(f.corridor.nodes))
			f.corridor.nodes = append(f.corridor.nodes, standing{ground.layers[layer].cell(place), layer, f.grouping.groups[c.group].first + int32(at-c.first)})
			f.builder.Walls = append(f.builder.Walls, int16(ground.layers[layer].wall))
		}
		if cost < f.soFar[at] {
			f.soFar[at] = cost
			open.push(cost, at, cost)
		}
		return f.nodeOf[at], true
	}
	source, _ := reach(origin, 0)
	f.builder.Sources = append(f.builder.Sources, source)
	done := make([]bool, len(k.entries))
	for n := 1; ; n++ {
		cost, at, _, any := open.pop()
		if !any {
			return nil
		}
		if done[at] {
			continue
		}
		done[at] = true
		if n%checkEvery == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		node := f.nodeOf[at]
		where := f.corridor.nodes[node]
		if where.layer == last && where.post == start.post {
			if gap, near := f.plan.gap(where.cell, home); near {
				f.builder.Add(node, network.Arc{To: 0, Way: network.Closing, Cost: gap})
			}
		}
		cluster := k.entries[at].cluster
		offset := int32(at - k.clusters[cluster].first)
		for _, a := range f.arcs[f.first[cluster]:f.first[cluster+1]] {
			join := f.grouping.joins[a.joins+offset]
			if to, ok := reach(a.to, cost+a.cost+join); ok {
				f.builder.Add(node, network.Arc{To: to, Way: a.edge, Cost: a.cost + join})
				if f.builder.Held() > mostArcs {
					return errTooWide
				}
			}
		}
	}
}

// trail is a path of the corridor, by the numbers of its arcs, as a trail.
func (c *corridor) trail(source int32, arcs []int32) trail {
	at := &c.nodes[source]
	t := trail{start: target{c.plan.ground.layers[0].place(at.cell), at.post}}
	layer := at.layer
	for _, number := range arcs {
		a := c.Arc(int(number))
		if a.Way == network.Closing {
			break
		}
		to := c.nodes[a.To].layer
		t.steps = append(t.steps, trailStep{a.Way, to != layer})
		layer = to
	}
	return t
}
