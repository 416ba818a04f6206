package label

import (
	"context"

	"lapwright/search/network"
)

// SolveInStages is [Solve] as it goes about large networks: the costs to go with
// the clock wait for a first try of so many labels, with narrow beams.
func SolveInStages(n *network.Network, l *Limits, first int) *Result {
	return newSolver(n, l, Options{}, nil).solve(context.Background(), effort{quick: 0, first: first, narrow: 2, wide: 4})
}
