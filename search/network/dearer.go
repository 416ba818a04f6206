package network

// Dearer is the network with arcs that cost so much more, by way, or less where that
// is negative. Nodes keep their numbers, arcs don't. An error tells that an arc would
// cost nothing.
func (n *Network) Dearer(extra []int32) (*Network, error) {
	b := Builder{Network: Network{Ways: n.Ways, Figures: n.Figures, Sources: n.Sources, End: n.End, Walls: n.Walls, Cutoff: n.Cutoff}}
	cost := with(extra)
	for node := range int32(n.Nodes()) {
		for _, a := range n.Arcs(node) {
			a.Cost = cost(a)
			b.Add(node, a)
		}
	}
	return b.Build()
}
