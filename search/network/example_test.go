package network_test

import (
	"fmt"

	"lapwright/search/network"
)

func ExampleBuilder() {
	b := network.Builder{Network: network.Network{
		Ways:    []network.Way{{Figure: 0, Bars: 1}, {Figure: 1, Bars: 2}},
		Figures: 2, Sources: []int32{0}, End: 2, Walls: make([]int16, 3), Cutoff: 400,
	}}
	b.Add(0, network.Arc{To: 1, Way: 0, Cost: 110})
	b.Add(0, network.Arc{To: 1, Way: 1, Cost: 200})
	b.Add(1, network.Arc{To: 2, Way: network.Closing, Cost: 5})
	n, err := b.Build()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(n.Best(), "hundredths of a bar")
	// Output: 115 hundredths of a bar
}
