package graph

import (
	"math/big"

	"lapwright/figures"
)

// Count returns the number of sequences of n figures that can be danced from a
// stance along the same wall, exactly. Parallel figures count each; there is one
// sequence of no figures, and none of fewer. A figure of a corner can only be the
// last, as the next wall is taken after it. The time grows with n times the edges
// of the graph.
func (g *Graph) Count(from figures.Stance, n int) *big.Int {
	if n < 0 {
		return new(big.Int)
	}
	from = tidy(from)
	// ways holds, for each stance, the sequences so far that end in it.
	ways := map[figures.Stance]*big.Int{from: big.NewInt(1)}
	for i := range n {
		next := map[figures.Stance]*big.Int{}
		for s, count := range ways {
			for _, e := range g.from[s] {
				if e.Variant.Corner && i < n-1 {
					continue
				}
				if next[e.To] == nil {
					next[e.To] = new(big.Int)
				}
				next[e.To].Add(next[e.To], count)
			}
		}
		if len(next) == 0 {
			return new(big.Int)
		}
		ways = next
	}
	total := new(big.Int)
	for _, count := range ways {
		total.Add(total, count)
	}
	return total
}
