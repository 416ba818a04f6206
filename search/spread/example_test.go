package spread_test

import (
	"context"
	"fmt"

	"lapwright/search/network"
	"lapwright/search/spread"
)

// Two figures, one after the other, each of which can be another one: of the four laps
// the best is chosen, and the one that differs from it in both.
func ExampleFind() {
	b := network.Builder{Network: network.Network{
		Ways:    []network.Way{{Figure: 0, Bars: 1}, {Figure: 1, Bars: 1}, {Figure: 2, Bars: 1}},
		Figures: 3, Sources: []int32{0}, End: 2, Walls: make([]int16, 3),
	}}
	b.Add(0, network.Arc{To: 1, Way: 0, Cost: 100})
	b.Add(0, network.Arc{To: 1, Way: 1, Cost: 104})
	b.Walls = append(b.Walls, 0)
	b.Add(1, network.Arc{To: 3, Way: 0, Cost: 100})
	b.Add(1, network.Arc{To: 3, Way: 2, Cost: 107})
	b.Add(3, network.Arc{To: 2, Way: network.Closing, Cost: 0})
	n, err := b.Build()
	if err != nil {
		fmt.Println(err)
		return
	}
	set, err := spread.Find(context.Background(), &spread.Problem{
		Network: n, Places: []spread.Place{{}, {X: 120}, {}, {X: 240}}, Count: 2, Most: 220,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, lap := range set.Laps {
		fmt.Println(lap.Cost(n), "hundredths of a bar")
	}
	fmt.Println(set.Least(), "figures apart, of", set.Candidates, "candidates")
	// Output:
	// 200 hundredths of a bar
	// 211 hundredths of a bar
	// 2 figures apart, of 4 candidates
}
