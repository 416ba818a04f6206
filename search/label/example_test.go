package label_test

import (
	"context"
	"fmt"

	"lapwright/search/label"
	"lapwright/search/network"
)

// Two figures lead from place to place, one in one bar and one in two. The cheapest
// lap is three times the first; when no figure may be danced more than twice, the
// other has its turn once.
func ExampleSolve() {
	b := network.Builder{Network: network.Network{
		Ways:    []network.Way{{Figure: 0, Bars: 1}, {Figure: 1, Bars: 2}},
		Figures: 2, Sources: []int32{0}, End: 4, Walls: make([]int16, 5),
	}}
	for place := range int32(3) {
		b.Add(place, network.Arc{To: place + 1, Way: 0, Cost: 110})
		b.Add(place, network.Arc{To: place + 1, Way: 1, Cost: 200})
	}
	b.Add(3, network.Arc{To: 4, Way: network.Closing})
	n, err := b.Build()
	if err != nil {
		fmt.Println(err)
		return
	}
	lap, err := label.Solve(context.Background(), n, &label.Limits{Uses: 2}, label.Options{}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("without limits", n.Best())
	fmt.Println("at most twice", lap.Cost, "proven", lap.Proven)
	// Output:
	// without limits 330
	// at most twice 420 proven true
}
