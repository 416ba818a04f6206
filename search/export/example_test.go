package export_test

import (
	"fmt"
	"os"

	"lapwright/search/export"
	"lapwright/search/label"
	"lapwright/search/network"
)

func ExampleWrite() {
	b := network.Builder{Network: network.Network{
		Ways:    []network.Way{{Figure: 0, Bars: 2, Right: true}},
		Figures: 1, Sources: []int32{0}, End: 2, Walls: []int16{-1, 0, -1}, Cutoff: 300,
	}}
	b.Add(0, network.Arc{To: 1, Way: 0, Cost: 210})
	b.Add(1, network.Arc{To: 2, Way: network.Closing, Cost: 5})
	n, err := b.Build()
	if err != nil {
		fmt.Println(err)
		return
	}
	in := export.Instance{Network: n, Figures: []string{"Natural Turn"}, Limits: label.Limits{MaxBars: 8}}
	if err := export.Write(os.Stdout, &in); err != nil {
		fmt.Println(err)
	}
	// Output:
	// lapwright network 1
	// cutoff 300
	// figure 0 Natural Turn
	// way 0 figure 0 bars 2 right
	// limit most bars 8
	// nodes 3 end 2
	// node 0 source
	//   to 1 way 0 cost 210
	// node 1 wall 0
	//   to 2 closes cost 5
	// node 2
}

func ExampleRead() {
	in, err := export.Read("short.txt", []byte(`
		lapwright network 1
		cutoff 300
		figure 0 Natural Turn
		way 0 figure 0 bars 2 right
		nodes 3 end 2
		node 0 source
		to 1 way 0 cost 210
		node 1 wall 0
		to 2 closes cost 5
		node 2`))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(in.Figures[0], in.Network.Best())
	_, err = export.Read("short.txt", []byte("lapwright network 1\ncutoff many"))
	fmt.Println(err)
	// Output:
	// Natural Turn 215
	// short.txt:2: found "many"; expected a cost in hundredths of a bar, a whole number from 0 to 2147483647
}
