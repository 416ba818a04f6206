package network

import "slices"

// Forward finds the exact least cost from the sources to every node that costs no
// more than most, and the number of the arc by which it is reached at that cost: -1
// at a source. What costs more is [Unreachable]. It is a uniform-cost search
// (Dijkstra 1959) with a bucket for every cost (Dial 1969).
func (n *Network) Forward(most int32) (cost, by []int32) {
	cost, by = make([]int32, n.Nodes()), make([]int32, n.Nodes())
	for i := range cost {
		cost[i], by[i] = Unreachable, -1
	}
	if most < 0 {
		return cost, by
	}
	buckets := make([][]int32, int(most)+1)
	for _, s := range n.Sources {
		cost[s] = 0
		buckets[0] = append(buckets[0], s)
	}
	for c := range buckets {
		for i := 0; i < len(buckets[c]); i++ { // an arc at no cost adds to it
			node := buckets[c][i]
			if cost[node] != int32(c) {
				continue
			}
			first := n.first[node]
			for k, a := range n.Arcs(node) {
				if to := int64(c) + int64(a.Cost); to <= int64(most) && int32(to) < cost[a.To] {
					cost[a.To], by[a.To] = int32(to), first+int32(k)
					buckets[to] = append(buckets[to], a.To)
				}
			}
		}
		buckets[c] = nil
	}
	return cost, by
}

// Tail is the node that an arc, given by its number, leaves.
func (n *Network) Tail(number int32) int32 {
	// The last node whose first arc is not after it has arcs: nodes without one
	// share their first arc with the node behind them.
	node, found := slices.BinarySearch(n.first, number)
	if !found {
		return int32(node) - 1
	}
	for n.first[node+1] == number {
		node++
	}
	return int32(node)
}
