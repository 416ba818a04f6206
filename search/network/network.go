// Package network holds the finite graph of all laps that cost little enough: its
// nodes are places and stances, its arcs are figures danced from one to the other.
//
// What lives here: the graph as tables of whole numbers, and the exact cost from
// each node to the end of a lap. What does not: how a room and figures become such
// a graph (package search), and limits on the past (package label).
//
// A first use is in the example of [Builder].
package network

import (
	"errors"
	"fmt"
	"math"
	"slices"
)

// Way is what a limit can ask about an arc: arcs on which the same variant is
// danced share one.
type Way struct {
	Figure int32 // number of the figure, from 0
	Bars   int32 // how many bars it takes
	// Classes are the sets of figures the way belongs to, one bit for each.
	Classes uint64
	// Right tells that the figure turns to the right, in all.
	Right bool
}

// Arc is a figure danced from a node to another.
type Arc struct {
	To int32
	// Way is the number of the arc's way; [Closing] where the lap ends with no
	// figure danced.
	Way int32
	// Cost is in hundredths of a bar, at least 0 and at most [MostCost].
	Cost int32
}

// Closing is the way of the arcs that end a lap.
const Closing = -1

// MostCost is the most that an arc may cost: ten thousand bars.
const MostCost = 1_000_000

// Unreachable is the cost to go of a node from which no lap can be ended.
const Unreachable = math.MaxInt32

// Network is a finite graph with several sources and one end. A lap is a path
// from any source to the end. Every arc but a closing one takes a bar or more, so
// that a path of so many bars has no more arcs than bars, and one more.
type Network struct {
	// Ways are all ways that arcs speak of.
	Ways []Way
	// Figures is how many figures there are.
	Figures int
	// Sources are the nodes where a lap may begin, each once.
	Sources []int32
	// End is the node in which every lap ends. No arc leaves it.
	End int32
	// Walls is, by node, the number of the wall along which the arcs that lead
	// to the node are danced.
	Walls []int16
	// Cutoff is the cost that the network was made for: every lap that costs no
	// more is in it. Others may be.
	Cutoff int32

	first []int32 // by node: its first arc; one more at the end
	arcs  []Arc
	togo  []int32

	begin []int32 // by node: the first arc that leads to it
	into  []Arc
}

// Nodes is how many nodes there are; they are numbered from 0.
func (n *Network) Nodes() int { return len(n.first) - 1 }

// Arcs are the arcs that leave a node, those first that lead to the cheapest laps.
// They must not be changed.
func (n *Network) Arcs(node int32) []Arc { return n.arcs[n.first[node]:n.first[node+1]] }

// Size is how many arcs there are.
func (n *Network) Size() int { return len(n.arcs) }

// ArcNumber is the number of the first arc that leaves a node; the others follow.
func (n *Network) ArcNumber(node int32) int { return int(n.first[node]) }

// ToGo is the exact least cost from a node to the end, in hundredths of a bar.
func (n *Network) ToGo(node int32) int32 { return n.togo[node] }

// Best is the least cost of a lap, or [Unreachable] when there is none.
func (n *Network) Best() int32 {
	best := int32(Unreachable)
	for _, s := range n.Sources {
		best = min(best, n.togo[s])
	}
	return best
}

// Builder gathers the arcs of a network.
type Builder struct {
	Network
	tails []int32
}

// Add adds an arc that leaves a node.
func (b *Builder) Add(from int32, arc Arc) {
	b.tails = append(b.tails, from)
	b.arcs = append(b.arcs, arc)
}

// Held is how many arcs have been added.
func (b *Builder) Held() int { return len(b.arcs) }

// Build sorts the arcs by node and finds the costs to go. The number of nodes is
// the number of Walls. An error tells of a number that is out of range, a negative
// cost, a circle at no cost, or an arc that leaves the end.
func (b *Builder) Build() (*Network, error) {
	n := b.Network
	nodes := len(n.Walls)
	in := func(node int32) bool { return node >= 0 && int(node) < nodes }
	if !in(n.End) || len(n.Sources) == 0 || slices.ContainsFunc(n.Sources, func(s int32) bool { return !in(s) }) {
		return nil, errors.New("network: no source or no end")
	}
	n.first = make([]int32, nodes+1)
	for i, a := range n.arcs {
		from := b.tails[i]
		switch {
		case !in(from) || !in(a.To):
			return nil, fmt.Errorf("network: arc %d from node %d to %d; there are %d nodes", i, from, a.To, nodes)
		case a.Way < Closing || int(a.Way) >= len(n.Ways) || (a.Way == Closing) != (a.To == n.End):
			return nil, fmt.Errorf("network: arc %d to node %d has way %d of %d", i, a.To, a.Way, len(n.Ways))
		case a.Cost < 0 || a.Way != Closing && (a.Cost == 0 || n.Ways[a.Way].Bars < 1):
			return nil, fmt.Errorf("network: arc %d costs %d and may lie on a circle at no cost or in no time", i, a.Cost)
		case a.Cost > MostCost:
			return nil, fmt.Errorf("network: arc %d costs %d; the most is %d", i, a.Cost, MostCost)
		case from == n.End:
			return nil, fmt.Errorf("network: arc %d leaves the end", i)
		}
		n.first[from+1]++
	}
	for i := range nodes {
		n.first[i+1] += n.first[i]
	}
	sorted := make([]Arc, len(n.arcs))
	next := slices.Clone(n.first)
	for i, a := range n.arcs {
		sorted[next[b.tails[i]]] = a
		next[b.tails[i]]++
	}
	n.arcs = sorted
	n.turn()
	n.togo = n.Backward(nil)
	for node := range int32(nodes) {
		slices.SortStableFunc(n.Arcs(node), func(a, c Arc) int {
			x, y := int64(a.Cost)+int64(n.togo[a.To]), int64(c.Cost)+int64(n.togo[c.To])
			return int(min(1, max(-1, x-y)))
		})
	}
	return &n, nil
}

// Arc is the arc with a number, see [Network.ArcNumber].
func (n *Network) Arc(number int) Arc { return n.arcs[number] }
