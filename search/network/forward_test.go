package network_test

import (
	"testing"

	"lapwright/search/network"

	"pgregory.net/rapid"
)

// drawnNetwork draws a small network, with arcs both ways and nodes that have none.
func drawnNetwork(t *rapid.T) *network.Network {
	nodes := rapid.IntRange(2, 9).Draw(t, "nodes")
	b := network.Builder{Network: network.Network{
		Ways: []network.Way{{Figure: 0, Bars: 1}}, Figures: 1, End: int32(nodes - 1), Walls: make([]int16, nodes)}}
	for s := range int32(rapid.IntRange(1, nodes-1).Draw(t, "sources")) {
		b.Sources = append(b.Sources, s)
	}
	for range rapid.IntRange(0, 24).Draw(t, "arcs") {
		from := int32(rapid.IntRange(0, nodes-2).Draw(t, "from"))
		to := int32(rapid.IntRange(0, nodes-1).Draw(t, "to"))
		if to == b.End {
			b.Add(from, network.Arc{To: to, Way: network.Closing, Cost: int32(rapid.IntRange(0, 9).Draw(t, "closing"))})
			continue
		}
		b.Add(from, network.Arc{To: to, Way: 0, Cost: int32(rapid.IntRange(1, 40).Draw(t, "cost"))})
	}
	n, err := b.Build()
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// TestForward: the costs from the sources are those that lowering them one arc at a
// time ends with, and the arcs that are given lead there at that cost.
func TestForward(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := drawnNetwork(t)
		most := int32(rapid.IntRange(-1, 90).Draw(t, "most"))
		want := make([]int64, n.Nodes())
		for i := range want {
			want[i] = network.Unreachable
		}
		for _, s := range n.Sources {
			want[s] = 0
		}
		for range n.Nodes() {
			for node := range int32(n.Nodes()) {
				for _, a := range n.Arcs(node) {
					want[a.To] = min(want[a.To], want[node]+int64(a.Cost))
				}
			}
		}
		cost, by := n.Forward(most)
		for node := range int32(n.Nodes()) {
			if want[node] > int64(most) {
				want[node] = network.Unreachable
			}
			if int64(cost[node]) != want[node] {
				t.Fatalf("node %d costs %d, want %d", node, cost[node], want[node])
			}
			if by[node] >= 0 {
				if a := n.Arc(int(by[node])); a.To != node || cost[n.Tail(by[node])]+a.Cost != cost[node] {
					t.Fatalf("node %d is reached by %+v from node %d", node, a, n.Tail(by[node]))
				}
			} else if cost[node] != 0 && cost[node] != network.Unreachable {
				t.Fatalf("node %d costs %d and is reached by no arc", node, cost[node])
			}
		}
	})
}

// TestTail: every arc leaves the node whose arc it is.
func TestTail(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := drawnNetwork(t)
		for node := range int32(n.Nodes()) {
			for i, a := range n.Arcs(node) {
				number := n.ArcNumber(node) + i
				if n.Tail(int32(number)) != node || n.Arc(number) != a {
					t.Fatalf("arc %d leaves node %d, not %d", number, node, n.Tail(int32(number)))
				}
			}
		}
	})
}
