package network

import "container/heap"

// Backward finds the exact least cost from every node to the end when a way costs
// so much more, or less, than its arcs say (nil: nothing), by uniform-cost search
// from the end (Dijkstra 1959). No arc may thereby cost less than nothing.
func (n *Network) Backward(extra []int32) []int32 {
	r := n.reversed()
	togo := make([]int32, n.Nodes())
	for i := range togo {
		togo[i] = Unreachable
	}
	togo[n.End] = 0
	return r.spread(&frontier{{n.End, 0}}, togo, extra)
}

// spread settles costs along the arcs from what the open list holds.
func (n *Network) spread(open *frontier, costs, extra []int32) []int32 {
	for len(*open) > 0 {
		at := heap.Pop(open).(reached)
		if at.cost > costs[at.node] {
			continue
		}
		for _, a := range n.Arcs(at.node) {
			cost := at.cost + a.Cost
			if extra != nil && a.Way != Closing {
				cost += extra[a.Way]
			}
			if cost < costs[a.To] {
				costs[a.To] = cost
				heap.Push(open, reached{a.To, cost})
			}
		}
	}
	return costs
}

// reversed is the network with every arc turned round.
func (n *Network) reversed() *Network {
	r := &Network{first: make([]int32, len(n.first)), arcs: make([]Arc, len(n.arcs))}
	for _, a := range n.arcs {
		r.first[a.To+1]++
	}
	for i := range n.Nodes() {
		r.first[i+1] += r.first[i]
	}
	next := append([]int32(nil), r.first...)
	for node := range int32(n.Nodes()) {
		for _, a := range n.Arcs(node) {
			r.arcs[next[a.To]] = Arc{node, a.Way, a.Cost}
			next[a.To]++
		}
	}
	return r
}

type reached struct{ node, cost int32 }

// frontier is the open list of [Network.Backward].
type frontier []reached

func (f frontier) Len() int           { return len(f) }
func (f frontier) Less(i, j int) bool { return f[i].cost < f[j].cost }
func (f frontier) Swap(i, j int)      { f[i], f[j] = f[j], f[i] }
func (f *frontier) Push(x any)        { *f = append(*f, x.(reached)) }
func (f *frontier) Pop() any {
	last := (*f)[len(*f)-1]
	*f = (*f)[:len(*f)-1]
	return last
}
