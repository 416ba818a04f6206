package spread

import (
	"context"
	"slices"
)

// walker searches a network for a cheap lap when figures are dearer, by A* (Hart,
// Nilsson and Raphael 1968) with the exact cost to go without what they are dearer by.
// A way is only followed while it can still be ended within Most, so that every lap
// it finds may be chosen. The cost to go counts for as many times as laps of late
// were dearer (weighted A*, Pohl 1970), which makes the search quick and the lap not
// always the cheapest.
type walker struct {
	*Problem
	tariff *tariff
	extra  []int32 // by key
	times  float32 // how many times the cost to go counts
	arcs   []int32 // by arc, for a solver of the caller's

	run   int32     // number of the search
	nodes []reached // by node
	heads []int32   // by cost of a whole lap through a node: the last entry, or -1
	open  []entry
	front int // the place in heads that is looked at
}

// haste is how much more of what laps are dearer by the cost to go counts than it
// should: a tenth saves more than half of the time and costs little distance.
const haste = 1.1

// reached is what a search knows of a node.
type reached struct {
	togo int32
	run  int32 // the last search that reached it
	dear int32 // least cost so far, with what is dearer; closed once it is looked at
	cost int32 // cost without, by the same way
	by   int32 // the arc of that way
}

// closed is a cost that is not lowered.
const closed = -1

// entry is a node that waits to be looked at.
type entry struct{ node, next int32 }

func newWalker(p *Problem, t *tariff) *walker {
	w := &walker{Problem: p, tariff: t, nodes: make([]reached, p.Network.Nodes())}
	for i := range w.nodes {
		w.nodes[i].togo = p.Network.ToGo(int32(i))
	}
	return w
}

// solve makes a search by its number; the trial has the last one of its place in the
// batch.
func (w *walker) solve(ctx context.Context, number uint64, t *trial) {
	if t.err = ctx.Err(); t.err != nil {
		return
	}
	w.extra = w.tariff.extra(w.Seed, number, w.extra)
	if w.Solve == nil {
		w.times = 1 + float32(haste*max(0, t.times-1))
		t.path, t.found = w.walk()
	} else {
		t.path, t.found, t.err = w.Solve(ctx, w.byArc())
		if t.found && t.err == nil {
			t.err = w.follows(t.path)
		}
	}
	if t.found && t.err == nil {
		t.times = w.dearer(t.path)
	}
}

// byArc is the extra by arc.
func (w *walker) byArc() []int32 {
	w.arcs = w.arcs[:0]
	for _, key := range w.tariff.keys {
		extra := int32(0)
		if key >= 0 {
			extra = w.extra[key]
		}
		w.arcs = append(w.arcs, extra)
	}
	return w.arcs
}

// walk is one search.
func (w *walker) walk() (Path, bool) {
	n := w.Network
	w.run++
	w.heads, w.open, w.front = w.heads[:0], w.open[:0], 0
	for _, s := range n.Sources {
		w.reach(s, 0, 0, -1)
	}
	for ; w.front < len(w.heads); w.front++ {
		for w.heads[w.front] >= 0 {
			e := w.open[w.heads[w.front]]
			w.heads[w.front] = e.next
			at := &w.nodes[e.node]
			if at.dear == closed {
				continue
			}
			dear, cost := at.dear, at.cost
			at.dear = closed
			if e.node == n.End {
				return w.path(), true
			}
			first := int32(n.ArcNumber(e.node))
			arcs := n.Arcs(e.node)
			keys := w.tariff.keys[first:][:len(arcs)]
			for i := range arcs {
				a := &arcs[i]
				with := dear + a.Cost
				if key := keys[i]; key >= 0 {
					with += w.extra[key]
				}
				w.reach(a.To, with, cost+a.Cost, first+int32(i))
			}
		}
	}
	return Path{}, false
}

// reach lowers the cost of a node.
func (w *walker) reach(node, dear, cost, by int32) {
	to := &w.nodes[node]
	if to.run == w.run && dear >= to.dear || cost > w.Most-to.togo {
		return
	}
	to.run, to.dear, to.cost, to.by = w.run, dear, cost, by
	f := max(w.front, int(float32(dear)+float32(w.times*float32(to.togo))))
	for len(w.heads) <= f {
		w.heads = append(w.heads, -1)
	}
	w.open = append(w.open, entry{node, w.heads[f]})
	w.heads[f] = int32(len(w.open) - 1)
}

// path follows the arcs back from the end.
func (w *walker) path() Path {
	path := Path{Source: w.Network.End}
	for by := w.nodes[path.Source].by; by >= 0; by = w.nodes[path.Source].by {
		path.Arcs = append(path.Arcs, by)
		path.Source = w.Network.Tail(by)
	}
	slices.Reverse(path.Arcs)
	return path
}

// dearer is how many times dearer a lap is with the extra of the last search.
func (w *walker) dearer(path Path) float32 {
	cost, extra := path.Cost(w.Network), int32(0)
	for _, a := range path.Arcs {
		if key := w.tariff.keys[a]; key >= 0 {
			extra += w.extra[key]
		}
	}
	return 1 + float32(extra)/float32(max(1, cost))
}
