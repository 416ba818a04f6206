package check_test

import (
	"fmt"

	"lapwright/figures"
	"lapwright/figures/geometry"
	"lapwright/floors"
	"lapwright/search/check"
	"lapwright/search/routine"
)

// A left turn straight after a right turn, without the change of feet that it
// needs.
func ExampleDance() {
	hall, _ := floors.Named("village hall")
	natural, _ := figures.BuiltIn().Variant("Natural Turn (whole turn)")
	reverse, _ := figures.BuiltIn().Variant("Reverse Turn")
	r := &routine.Routine{
		Start: routine.Start{
			Wall:   0,
			At:     &geometry.Point{X: 4, Y: 2.2},
			Stance: figures.Stance{Facing: figures.DiagonalToWall, Free: figures.RightFoot},
		},
		Steps: []routine.Step{{Variant: natural, Scale: 1}, {Variant: reverse, Scale: 1}},
	}
	report := check.Dance(hall, figures.DefaultCouple(), r, check.Limits{Margin: -1})
	for _, fault := range report.Faults() {
		fmt.Println(fault)
	}
	// Output:
	// bar 3, Reverse Turn: alignment: the couple faces diagonal to wall; Reverse Turn begins facing diagonal to centre
	// bar 3, Reverse Turn: foot: the leader has the right foot free; Reverse Turn begins with the left foot free
}
