package network

import "slices"

// Within is the network without what lies on no lap that costs a cutoff or less,
// and by node of it the number that the node had before. It is nil when no lap is
// left.
func (n *Network) Within(cutoff int32) (within *Network, before []int32) {
	soFar := n.least(n.Sources, n.Arcs, func(a Arc) int32 { return a.Cost })
	const out = -1
	number := make([]int32, n.Nodes())
	w := &Network{Ways: n.Ways, Figures: n.Figures, Cutoff: min(cutoff, n.Cutoff)}
	for node := range number {
		number[node] = out
		if soFar[node] == Unreachable || n.togo[node] == Unreachable || soFar[node]+n.togo[node] > cutoff {
			continue
		}
		number[node] = int32(len(before))
		before = append(before, int32(node))
		w.Walls = append(w.Walls, n.Walls[node])
		w.togo = append(w.togo, n.togo[node])
	}
	if number[n.End] == out {
		return nil, nil
	}
	w.End = number[n.End]
	for _, s := range n.Sources {
		if number[s] != out {
			w.Sources = append(w.Sources, number[s])
		}
	}
	w.first = append(w.first, 0)
	for _, node := range before {
		for _, a := range n.Arcs(node) {
			if to := number[a.To]; to != out && soFar[node]+a.Cost+n.togo[a.To] <= cutoff {
				w.arcs = append(w.arcs, Arc{to, a.Way, a.Cost})
			}
		}
		w.first = append(w.first, int32(len(w.arcs)))
	}
	w.arcs = slices.Clip(w.arcs)
	w.turn()
	return w, before
}
