package difficulty_test

import (
	"fmt"

	"lapwright/figures"
	"lapwright/graph/difficulty"
)

// How hard a spin turn is, what a reverse turn right after it adds, and the two
// together.
func Example() {
	library := figures.BuiltIn()
	spin, _ := library.Variant("Natural Spin Turn")
	reverse, _ := library.Variant("Reverse Turn (4-6)")
	p := difficulty.Figure(spin)
	fmt.Printf("%.2f points a bar: level %.2f, turn %.2f, alignment %.2f\n", p.Total(), p.Level, p.Turn, p.Alignment)
	fmt.Printf("the join: %.2f points\n", difficulty.Join(library.Follows(), spin, reverse).Total())
	both := []*figures.Variant{spin, reverse}
	fmt.Printf("both: %.2f points a bar\n", difficulty.Routine(library.Follows(), both).Total())
	// Output:
	// 3.75 points a bar: level 1.00, turn 2.50, alignment 0.25
	// the join: 0.50 points
	// both: 3.42 points a bar
}
