package network

// Backward finds the exact least cost from every node to the end when a way costs
// so much more, or less, than its arcs say (nil: nothing), by uniform-cost search
// from the end (Dijkstra 1959). No arc may thereby cost less than nothing.
func (n *Network) Backward(extra []int32) []int32 {
	return n.ToEnd(with(extra))
}

// FromSources is as [Network.Backward], from the sources to every node.
func (n *Network) FromSources(extra []int32) []int32 {
	return n.least(n.Sources, n.Arcs, with(extra))
}

// with is what an arc costs with so much more, or less, by way.
func with(extra []int32) func(a Arc) int32 {
	return func(a Arc) int32 {
		if extra == nil || a.Way == Closing {
			return a.Cost
		}
		return a.Cost + extra[a.Way]
	}
}

// ToEnd finds the least sum of a weight, 0 or more on each arc, from every node to
// the end; [Unreachable] where there is no way. The arcs that are weighed are those
// of [Network.Into].
func (n *Network) ToEnd(weight func(a Arc) int32) []int32 {
	return n.least([]int32{n.End}, n.Into, weight)
}

// least finds the least sum of a weight from any of some nodes to every node, along
// the arcs of each, by uniform-cost search (Dijkstra 1959).
func (n *Network) least(from []int32, arcs func(node int32) []Arc, weight func(a Arc) int32) []int32 {
	sums := make([]int32, n.Nodes())
	for i := range sums {
		sums[i] = Unreachable
	}
	var open Queue
	for _, node := range from {
		sums[node] = 0
		open.Push(node, 0)
	}
	for {
		node, at, ok := open.Pop()
		if !ok {
			return sums
		}
		if at > sums[node] {
			continue
		}
		for _, a := range arcs(node) {
			if sum := at + weight(a); sum < sums[a.To] {
				sums[a.To] = sum
				open.Push(a.To, sum)
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
