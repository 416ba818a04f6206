//go:build compare

package search

import (
	"lapwright/search/export"
	"lapwright/search/network"
)

// limitedGraph is the graph of a network with the limits: its nodes are nodes of the
// network with all that a limit asks about how they were reached.
type limitedGraph struct {
	*export.Instance
	number map[history]int64
	nodes  []history
	asked  []bool // by figure: whether it is asked whether, or how often, it has been danced
	// The arcs that leave the last node that was looked at.
	from int64
	arcs []arc
}

// history is a node with what was danced before; more holds, as bytes, how often each
// figure and the figures of each class with a limit have been danced, and how many bars
// ago each figure began, where a limit asks.
type history struct {
	node        int32
	bars, right int16
	more        string
}

// The first nodes of a limited graph: one before all sources, and the one behind all
// ends.
const (
	before = iota
	behind
)

func newLimitedGraph(in *export.Instance) *limitedGraph {
	l := &in.Limits
	g := &limitedGraph{Instance: in, number: map[history]int64{}, nodes: make([]history, 2), from: -1, asked: make([]bool, in.Network.Figures)}
	for i := range g.asked {
		g.asked[i] = l.Uses > 0 || l.Different > 0
	}
	for _, m := range l.Must {
		g.asked[m] = true
	}
	for _, o := range l.Orders {
		g.asked[o.First] = true
	}
	return g
}

// barred reports whether it counts bars.
func (g *limitedGraph) barred() bool {
	l := &g.Limits
	return l.MinBars > 0 || l.MaxBars > 0 || l.Phrase > 0 || len(l.Fixed) > 0
}

func (g *limitedGraph) numbered(h history) int64 {
	n, known := g.number[h]
	if !known {
		n = int64(len(g.nodes))
		g.number[h] = n
		g.nodes = append(g.nodes, h)
	}
	return n
}

// after is the history after an arc; ok is false when a limit forbids it.
func (g *limitedGraph) after(h history, a network.Arc) (_ history, ok bool) {
	l, figures := &g.Limits, g.Network.Figures
	w := &g.Network.Ways[a.Way]
	f := int(w.Figure)
	more := []byte(h.more)
	uses, ago, caps := more[:figures], more[figures:2*figures], more[2*figures:]
	begun := int(h.bars) + 1
	for _, x := range l.Fixed {
		bar := int(x.Bar)
		within := begun <= bar && bar < begun+int(w.Bars)
		if within && (bar != begun || x.Figure != w.Figure || x.Wall >= 0 && x.Wall != g.Network.Walls[a.To]) {
			return h, false
		}
	}
	for _, o := range l.Orders {
		if o.Then == w.Figure && uses[o.First] == 0 {
			return h, false
		}
	}
	if l.Apart > 0 {
		if ago[f] > 0 && int32(ago[f]) < l.Apart {
			return h, false
		}
		ago[f] = 0
		for i := range ago {
			if now := int32(ago[i]) + w.Bars; (ago[i] > 0 || i == f) && now < l.Apart {
				ago[i] = byte(now)
			} else {
				ago[i] = 0
			}
		}
	}
	if g.asked[f] {
		if l.Uses > 0 && int32(uses[f]) >= l.Uses {
			return h, false
		}
		// Where uses are not limited, once is as good as often.
		uses[f]++
		if l.Uses == 0 {
			uses[f] = 1
		}
	}
	for i, c := range l.Caps {
		if w.Classes&(1<<c.Class) != 0 {
			if int32(caps[i]) >= c.Most {
				return h, false
			}
			caps[i]++
		}
	}
	if l.RightTurns > 0 {
		if h.right++; !w.Right {
			h.right = 0
		}
		if int32(h.right) > l.RightTurns {
			return h, false
		}
	}
	if g.barred() {
		h.bars += int16(w.Bars)
		if l.MaxBars > 0 && int32(h.bars) > l.MaxBars {
			return h, false
		}
	}
	h.node, h.more = a.To, string(more)
	return h, true
}

// mayEnd reports whether a lap may end with a history.
func (g *limitedGraph) mayEnd(h history) bool {
	l := &g.Limits
	bars := int32(h.bars)
	if bars < l.MinBars || l.Phrase > 0 && bars%l.Phrase != 0 {
		return false
	}
	different := int32(0)
	for _, uses := range []byte(h.more)[:g.Network.Figures] {
		different += int32(min(1, uses))
	}
	if different < l.Different {
		return false
	}
	for _, m := range l.Must {
		if h.more[m] == 0 {
			return false
		}
	}
	for _, x := range l.Fixed {
		if bars < x.Bar {
			return false
		}
	}
	return true
}

func (g *limitedGraph) leaving(id int64) []arc {
	if g.from == id {
		return g.arcs
	}
	n := g.Network
	g.from, g.arcs = id, nil
	add := func(to int64, cost int32) {
		for i := range g.arcs {
			if a := &g.arcs[i]; a.to == to {
				a.cost = min(a.cost, float64(cost))
				return
			}
		}
		g.arcs = append(g.arcs, arc{to, float64(cost)})
	}
	switch id {
	case behind:
	case before:
		for _, s := range n.Sources {
			add(g.numbered(history{node: s, more: string(make([]byte, 2*n.Figures+len(g.Limits.Caps)))}), 0)
		}
	default:
		h := g.nodes[id]
		for _, a := range n.Arcs(h.node) {
			if a.Way == network.Closing {
				if g.mayEnd(h) {
					add(behind, a.Cost)
				}
			} else if next, ok := g.after(h, a); ok {
				add(g.numbered(next), a.Cost)
			}
		}
	}
	return g.arcs
}

// ahead is our own bound for gonum: the network's exact cost to go without limits.
func (g *limitedGraph) ahead(id int64) float64 {
	switch id {
	case before:
		return float64(g.Network.Best())
	case behind:
		return 0
	}
	return float64(g.Network.ToGo(g.nodes[id].node))
}

// lane is the lane bound for gonum, which is given by node of the network.
func (g *limitedGraph) lane(togo []float64, id int64) float64 {
	if id == before || id == behind {
		return 0
	}
	return togo[g.nodes[id].node]
}

// on is the bound by node of a network whose nodes stand at these places. It fails where
// the bound falls over an arc by more than that costs.
func (b *laneBound) on(t faulty, n *network.Network, nodes []standing) []float64 {
	togo := make([]float64, len(nodes))
	for i, at := range nodes {
		if int32(i) != n.End {
			togo[i] = b.at(at.layer, at.cell)
		}
	}
	for i := range nodes {
		for _, a := range n.Arcs(int32(i)) {
			if togo[i] > float64(a.Cost)+togo[a.To] {
				t.Fatalf("the lane bound falls from %g to %g over an arc that costs %d", togo[i], togo[a.To], a.Cost)
			}
		}
	}
	return togo
}
