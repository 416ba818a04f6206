package search_test

import (
	"context"
	"fmt"

	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search"
	"lapwright/search/check"
	"lapwright/search/routine"
)

// The best lap of the bronze syllabus round a small studio, and what the checker
// says of it.
func ExampleFind() {
	studio, _ := floors.Named("studio")
	var bronze []*figures.Variant
	for _, f := range figures.BuiltIn().Figures() {
		if f.At(figures.International, figures.Bronze) {
			bronze = append(bronze, f.Variants...)
		}
	}
	res, err := search.Find(context.Background(), &search.Problem{
		Room: studio, Variants: bronze, Couple: figures.DefaultCouple(),
		Weights: search.DefaultWeights(), Margin: -1,
	}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	if res.Lap == nil {
		fmt.Println(res.Why)
		return
	}
	report := check.Dance(studio, figures.DefaultCouple(),
		&routine.Routine{Start: res.Lap.Start, Steps: res.Lap.Steps}, check.Limits{Lap: true, Margin: -1})
	fmt.Println("proven best:", res.Lap.Proven)
	fmt.Println("faults:", len(report.Faults()))
	fmt.Println("corners:", report.Corners)
	fmt.Println("back where it began:", report.Closes)
	// Output:
	// proven best: true
	// faults: 0
	// corners: 4
	// back where it began: true
}

// In how many ways a couple can go on for three figures from a place in the
// studio: none where it stands with the wall in front of it.
func ExampleProblem_Continuations() {
	studio, _ := floors.Named("studio")
	v, _ := figures.BuiltIn().Figure("Natural Turn")
	p := &search.Problem{Room: studio, Variants: v.Variants, Couple: figures.DefaultCouple(), Margin: -1}
	start := search.DefaultStart(studio, 0)
	start.At.Y = 0.6
	n, err := p.Continuations(start, 3)
	fmt.Println(n, err)
	// Output: 0 <nil>
}
