package geometry_test

import (
	"fmt"

	"lapwright/figures/geometry"
)

func ExampleParseTurn() {
	t, err := geometry.ParseTurn("3/8 right")
	fmt.Println(int(t), t, err)
	fmt.Println(t + geometry.Full/2)
	// Output:
	// -6 3/8 right <nil>
	// 1/8 left
}

// Two soles of 10 cm breadth, side by side.
func ExampleCapsule_Gap() {
	left := geometry.Capsule{A: geometry.Point{X: 0, Y: 0}, B: geometry.Point{X: 0.2, Y: 0}, Radius: 0.05}
	right := geometry.Capsule{A: geometry.Point{X: 0, Y: -0.15}, B: geometry.Point{X: 0.2, Y: -0.15}, Radius: 0.05}
	fmt.Printf("%.2f m\n", left.Gap(right))
	// Output:
	// 0.05 m
}
