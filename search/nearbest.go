package search

import (
	"context"
	"slices"

	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search/network"
	"lapwright/search/spread"
)

// nearBest is the network of all laps from one start that cost no more than a cutoff,
// with what its nodes and arcs stand for.
type nearBest struct {
	*plan
	start target
	cost  map[spot]int32 // from the start
	spots []spot         // by node; the end has none
	nodes map[spot]int32 // the other way round
	net   *network.Network
}

// spot is what a node stands for: a place in a layer, in a post.
type spot struct{ layer, place, post int32 }

// onward is a move from a spot.
type onward struct {
	to   spot
	step trailStep
	cost int32
}

// mostNear is the most arcs that a network of laps may have.
const mostNear = 500_000

// newNearBest lays out the network of the laps from a start. It reports false when
// that would be too large.
func (s *searcher) newNearBest(ctx context.Context, start target, cutoff int32) (*nearBest, bool, error) {
	b, err := s.relaxed.solve(ctx, []target{start}, s.relaxed.costs(), func(float64) {})
	if err != nil {
		return nil, false, err
	}
	n := &nearBest{plan: s.plan, start: start, cost: map[spot]int32{}}
	least := func(at spot) int32 {
		return b.at(int(at.layer), n.ground.layers[at.layer].stretch[at.place], at.post)
	}
	if ok, err := n.explore(ctx, cutoff, least); !ok || err != nil {
		return nil, false, err
	}
	// First all that may be near the best, then what is.
	if err := n.lay(cutoff, least); err != nil {
		return nil, false, err
	}
	wide, nodes := n.net, n.nodes
	err = n.lay(cutoff, func(at spot) int32 { return wide.ToGo(nodes[at]) })
	return n, err == nil, err
}

// explore finds every spot through which a lap may cost little enough, and what it
// costs at least to come there.
func (n *nearBest) explore(ctx context.Context, cutoff int32, least func(spot) int32) (bool, error) {
	open, number := newOpenList(), map[spot]uint32{}
	reach := func(at spot, c int32) {
		if _, known := number[at]; !known {
			number[at] = uint32(len(n.spots))
			n.spots = append(n.spots, at)
		}
		n.cost[at] = c
		open.push(c, number[at], c)
	}
	reach(spot{0, int32(n.start.place), n.start.post}, 0)
	arcs := 0
	for looked := 1; ; looked++ {
		c, i, _, ok := open.pop()
		switch {
		case !ok:
			return true, nil
		case arcs > mostNear:
			return false, nil
		case looked%checkEvery == 0 && ctx.Err() != nil:
			return false, ctx.Err()
		case c > n.cost[n.spots[i]]:
			continue
		}
		n.leaving(n.spots[i], func(o onward) {
			togo := least(o.to)
			if togo == unreachable || c+o.cost+togo > cutoff {
				return
			}
			arcs++
			if before, known := n.cost[o.to]; !known || c+o.cost < before {
				reach(o.to, c+o.cost)
			}
		})
	}
}

// leaving tells all moves from a spot.
func (n *nearBest) leaving(at spot, tell func(onward)) {
	l := &n.ground.layers[at.layer]
	cell := l.cell(int(at.place))
	dance := func(number int, kind int) {
		l := &n.ground.layers[number]
		for _, m := range n.moves[kind][at.post] {
			e := &n.edges[m.edge]
			shape := &e.shapes[l.wall]
			to := cell.Add(shape.shift)
			if !l.holds(to) || l.usable[l.place(to)] == 0 {
				continue
			}
			crowd := n.crowd(shape, cell)
			if crowd == blocked {
				continue
			}
			place := l.place(to)
			tell(onward{spot{int32(number), int32(place), m.to}, trailStep{m.edge, kind != 0},
				m.cost + (int32(l.lane[place])+crowd)*e.bars})
		}
	}
	if l.usable[at.place]&inUse != 0 {
		dance(int(at.layer), 0)
	}
	if int(at.layer)+1 < len(n.ground.layers) && l.usable[at.place]&inCorner != 0 {
		dance(int(at.layer)+1, n.kindOf[at.layer])
	}
}

// closing is what it costs to end a lap at a spot; it reports false where it cannot
// be ended.
func (n *nearBest) closing(at spot) (int32, bool) {
	if int(at.layer) != len(n.ground.layers)-1 || at.post != n.start.post {
		return 0, false
	}
	home, cell := n.ground.layers[0].cell(n.start.place), n.ground.layers[at.layer].cell(int(at.place))
	dx, dy := cell.X-home.X, cell.Y-home.Y
	return n.gapCost(dx, dy), dx*dx+dy*dy <= toleranceCells*toleranceCells
}

// lay builds the network of the spots that are near enough to the best, given no more
// than each one's cost to go.
func (n *nearBest) lay(cutoff int32, togo func(spot) int32) error {
	var spots []spot
	near := func(at spot, cost int32) bool { t := togo(at); return t != unreachable && cost+t <= cutoff }
	for i, at := range n.spots {
		if i == 0 || near(at, n.cost[at]) {
			spots = append(spots, at)
		}
	}
	nodes := make(map[spot]int32, len(spots))
	b := network.Builder{Network: network.Network{
		Figures: len(n.figures), Sources: []int32{0}, End: int32(len(spots)), Cutoff: cutoff}}
	for i, at := range spots {
		nodes[at] = int32(i)
		b.Walls = append(b.Walls, int16(n.ground.layers[at.layer].wall))
	}
	b.Walls = append(b.Walls, 0)
	for _, v := range n.problem.Variants {
		b.Ways = append(b.Ways, network.Way{Figure: int32(slices.Index(n.figures, v.Figure)), Bars: int32(v.Bars())})
	}
	ways := n.wayNumbers()
	for i, at := range spots {
		n.leaving(at, func(o onward) {
			if to, known := nodes[o.to]; known && near(o.to, n.cost[at]+o.cost) {
				b.Add(int32(i), network.Arc{To: to, Way: ways[n.edges[o.step.edge].variant], Cost: o.cost})
			}
		})
		if cost, ok := n.closing(at); ok && n.cost[at]+cost <= cutoff {
			b.Add(int32(i), network.Arc{To: b.End, Way: network.Closing, Cost: cost})
		}
	}
	net, err := b.Build()
	if err != nil {
		return err
	}
	n.net, n.nodes, n.spots = net, nodes, spots
	return nil
}

// wayNumbers are the numbers of the ways of dancing: their places among the problem's.
func (n *nearBest) wayNumbers() map[*figures.Variant]int32 {
	all := make(map[*figures.Variant]int32, len(n.problem.Variants))
	for i, v := range n.problem.Variants {
		all[v] = int32(i)
	}
	return all
}

// trail is a path as a lap.
func (n *nearBest) trail(p spread.Path) trail {
	t := trail{start: n.start}
	node := p.Source
	for _, number := range p.Arcs {
		a := n.net.Arc(int(number))
		if a.Way == network.Closing {
			break
		}
		variant, found := n.problem.Variants[a.Way], false
		n.leaving(n.spots[node], func(o onward) {
			if !found && o.to == n.spots[a.To] && o.cost == a.Cost && n.edges[o.step.edge].variant == variant {
				t.steps, found = append(t.steps, o.step), true
			}
		})
		node = a.To
	}
	return t
}

// path is a lap as a path; it reports false when the network does not have it.
func (n *nearBest) path(t trail) (spread.Path, bool) {
	p := spread.Path{}
	if t.start != n.start {
		return p, false
	}
	ways := n.wayNumbers()
	at := n.spots[0]
	add := func(want network.Arc) bool {
		node := n.nodes[at]
		for i, a := range n.net.Arcs(node) {
			if a == want {
				p.Arcs = append(p.Arcs, int32(n.net.ArcNumber(node)+i))
				return true
			}
		}
		return false
	}
	for _, s := range t.steps {
		var move onward
		n.leaving(at, func(o onward) {
			if o.step == s {
				move = o
			}
		})
		to, known := n.nodes[move.to]
		if !known || !add(network.Arc{To: to, Way: ways[n.edges[s.edge].variant], Cost: move.cost}) {
			return p, false
		}
		at = move.to
	}
	cost, ok := n.closing(at)
	return p, ok && add(network.Arc{To: n.net.End, Way: network.Closing, Cost: cost})
}

func (n *nearBest) network() *network.Network { return n.net }

func (n *nearBest) cell(node int32) floors.Cell {
	at := n.spots[node]
	return n.ground.layers[at.layer].cell(int(at.place))
}
