package network

// Backward finds the exact least cost from every node to the end when a way costs
// so much more, or less, than its arcs say (nil: nothing), by uniform-cost search
// from the end (Dijkstra 1959). No arc may thereby cost less than nothing.
func (n *Network) Backward(extra []int32) []int32 {
	togo := make([]int32, n.Nodes())
	for i := range togo {
		togo[i] = Unreachable
	}
	togo[n.End] = 0
	var open Queue
	open.Push(n.End, 0)
	for {
		node, at, ok := open.Pop()
		if !ok {
			return togo
		}
		if at > togo[node] {
			continue
		}
		for _, a := range n.Into(node) {
			cost := at + a.Cost
			if extra != nil && a.Way != Closing {
				cost += extra[a.Way]
			}
			if cost < togo[a.To] {
				togo[a.To] = cost
				open.Push(a.To, cost)
			}
		}
	}
}

// Into are the arcs that lead to a node, turned round: the To of each is the node
// that it leaves. They must not be changed.
func (n *Network) Into(node int32) []Arc { return n.into[n.begin[node]:n.begin[node+1]] }

// turn gathers every arc turned round, by the node it leads to.
func (n *Network) turn() {
	n.begin, n.into = make([]int32, len(n.first)), make([]Arc, len(n.arcs))
	for _, a := range n.arcs {
		n.begin[a.To+1]++
	}
	for i := range n.Nodes() {
		n.begin[i+1] += n.begin[i]
	}
	next := append([]int32(nil), n.begin...)
	for node := range int32(n.Nodes()) {
		for _, a := range n.Arcs(node) {
			n.into[next[a.To]] = Arc{node, a.Way, a.Cost}
			next[a.To]++
		}
	}
}
