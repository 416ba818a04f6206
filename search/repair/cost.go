package repair

import (
	"math"

	"lapwright/figures"
	"lapwright/graph/difficulty"
)

// cost is what a repair costs besides its changes, in the order of [Order], packed so
// that costs add up and compare as whole numbers. Each unit has room for all that a
// routine of [MostFigures] can have of the one before it.
type cost uint64

const (
	oneHard     cost = 1       // a hundredth of a point of difficulty that comes in
	oneBar      cost = 1 << 18 // more or fewer
	oneAwkward  cost = 1 << 31 // an awkward join
	oneLost     cost = 1 << 42 // a figure that does not stay
	oneAdjusted cost = 1 << 53 // see the package comment
)

// hardest is the most that one figure counts, so that a hundred and more keep below a bar.
const hardest = 2000

// adjusted is how many adjustments a cost has.
func (c cost) adjusted() int { return int(c / oneAdjusted) }

// edge is what a figure at a scale costs.
type edge struct {
	variant *figures.Variant
	number  uint64 // of the variant
	bars    int
	scale   float64
	// mayCome tells that it may be put in.
	mayCome bool
	// hard is what it costs to bring it in: its difficulty, and what its scale differs
	// from 1.
	hard cost
}

func newEdge(v *figures.Variant, number uint64, bars int, scale float64, mayCome bool) edge {
	points := math.Max(0, difficulty.Figure(v).Total()) * float64(bars)
	hard := cost(math.Min(hardest, math.Round(100*points))) * oneHard
	return edge{v, number, bars, scale, mayCome, hard + otherScale(scale, 1)}
}

// otherScale is what it costs to dance at a share of the stride rather than at another
// one: as much for a hundredth as a hundredth of a point of difficulty.
func otherScale(scale, usual float64) cost {
	return cost(math.Round(100*math.Abs(scale-usual))) * oneHard
}

// bars is what it costs that a figure takes more or fewer bars.
func bars(more int) cost {
	if more < 0 {
		more = -more
	}
	return cost(more) * oneBar
}
