package compare_test

import (
	"fmt"
	"os"

	"lapwright/search/compare"
	"lapwright/search/export"
)

// A lap of one figure, with what it costs more than the cheapest.
func ExampleFacts() {
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
	size, err := compare.Facts(os.Stdout, in)
	fmt.Println(size.Nodes, "nodes", size.Arcs, "arcs", err)
	// Output:
	// source(0,0).
	// end(2).
	// arc(0,1,0,0).
	// arc(1,2,-1,0).
	// 3 nodes 2 arcs <nil>
}
