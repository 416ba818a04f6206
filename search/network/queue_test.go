package network_test

import (
	"testing"

	"pgregory.net/rapid"

	"lapwright/search/network"
)

// The queue gives out what a plain search for the least of all keys does, whatever
// goes in between, far keys and equal ones too.
func TestQueueGivesTheLeastKey(t *testing.T) {
	type thing struct{ item, key int32 }
	rapid.Check(t, func(t *rapid.T) {
		var q network.Queue
		var in []thing
		least := int32(rapid.IntRange(-50, 50).Draw(t, "from"))
		q.Reset(least)
		for item := range int32(rapid.IntRange(1, 60).Draw(t, "steps")) {
			if rapid.Bool().Draw(t, "push") {
				key := least + int32(rapid.SampledFrom([]int{0, 1, 2, 900, 1100, 70000}).Draw(t, "more"))
				q.Push(item, key)
				in = append(in, thing{item, key})
				continue
			}
			got, key, ok := q.Pop()
			if ok != (len(in) > 0) {
				t.Fatal("something came out:", ok, "of", len(in))
			}
			if !ok {
				continue
			}
			want := 0
			for i := range in {
				if in[i].key <= in[want].key {
					want = i
				}
			}
			if in[want] != (thing{got, key}) {
				t.Fatal("got", got, key, "want", in[want])
			}
			least = key
			in = append(in[:want], in[want+1:]...)
			if q.Len() != len(in) {
				t.Fatal("length", q.Len(), "of", len(in))
			}
		}
	})
}

// Costs to go are those of the arcs: none can be bettered by one arc more, and each
// is reached by one.
func TestBackwardIsTheLeastCost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		nodes := rapid.IntRange(2, 8).Draw(t, "nodes")
		b := network.Builder{Network: network.Network{
			Ways: []network.Way{{Bars: 1}, {Bars: 2}}, Figures: 1, Sources: []int32{0}, End: int32(nodes - 1),
			Walls: make([]int16, nodes),
		}}
		for range rapid.IntRange(1, 20).Draw(t, "arcs") {
			a := network.Arc{
				To: int32(rapid.IntRange(0, nodes-1).Draw(t, "to")), Way: int32(rapid.IntRange(0, 1).Draw(t, "way")),
				Cost: int32(rapid.IntRange(1, 2000).Draw(t, "cost")),
			}
			if a.To == b.End {
				a.Way = network.Closing
			}
			b.Add(int32(rapid.IntRange(0, nodes-2).Draw(t, "from")), a)
		}
		n, err := b.Build()
		if err != nil {
			t.Fatal(err)
		}
		extra := []int32{0, int32(rapid.IntRange(0, 50).Draw(t, "extra"))}
		togo, into := n.Backward(extra), 0
		for node := range int32(nodes) {
			least := int32(network.Unreachable)
			for _, a := range n.Arcs(node) {
				if togo[a.To] == network.Unreachable {
					continue
				}
				cost := a.Cost + togo[a.To]
				if a.Way != network.Closing {
					cost += extra[a.Way]
				}
				least = min(least, cost)
			}
			if node != n.End && togo[node] != least || togo[n.End] != 0 {
				t.Fatal("node", node, "costs", togo[node], "not", least)
			}
			into += len(n.Into(node))
		}
		if into != n.Size() {
			t.Fatal(into, "arcs turned round of", n.Size())
		}
	})
}
