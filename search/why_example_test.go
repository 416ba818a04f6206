package search_test

import (
	"context"
	"fmt"

	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search"
	"lapwright/search/routine"
)

// known are all ways of dancing some figures.
func known(names ...string) (all []*figures.Variant) {
	for _, name := range names {
		if f, ok := figures.BuiltIn().Figure(name); ok {
			all = append(all, f.Variants...)
		}
	}
	return all
}

// Why a lap of five bars cannot be had, and what would help.
func ExampleWhy() {
	studio, _ := floors.Named("studio")
	p := &search.Problem{Room: studio, Variants: known("Natural Turn", "Hesitation Change", "Left Foot Closed Change"),
		Couple: figures.DefaultCouple(), Weights: search.DefaultWeights(), Margin: -1, Limits: search.Limits{MaxBars: 5}}
	reasons, err := search.Why(context.Background(), p, search.NewFeasible())
	if err != nil || reasons == nil {
		fmt.Println(err)
		return
	}
	for _, sentence := range reasons.Sentences(p) {
		fmt.Println(sentence)
	}
	// Output:
	// no lap keeps to this: at most 5 bars (proven for the starts that were tried)
	// at most 13 bars would do; at most 12 bars would not (proven for the starts that were tried)
}

// Another way of dancing the first half of a lap.
func ExampleVary() {
	studio, _ := floors.Named("studio")
	p := &search.VaryProblem{Count: 1, Problem: search.Problem{Room: studio, Couple: figures.DefaultCouple(),
		Variants: known("Natural Turn", "Hesitation Change", "Left Foot Closed Change", "Right Foot Closed Change"),
		Weights:  search.DefaultWeights(), Margin: -1}}
	res, err := search.Find(context.Background(), &p.Problem, nil)
	if err != nil || res.Lap == nil {
		fmt.Println(err)
		return
	}
	p.Routine = routine.Routine{Stride: p.Couple.Stride, Start: res.Lap.Start, Steps: res.Lap.Steps}
	half, bars := len(p.Routine.Steps)/2, 0
	for _, s := range p.Routine.Steps[:half] {
		bars += s.Variant.Bars()
	}
	p.Stretches = []search.Stretch{{First: 0, End: half, Tolerance: 0.5, MinBars: bars, MaxBars: bars}}
	varied, err := search.Vary(context.Background(), p, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, v := range varied.Variations {
		fmt.Println("bars:", v.Bars, "less than a metre off:", v.Off < 1, "changed:", v.Novelty > 0)
	}
	// Output: bars: 14 less than a metre off: true changed: true
}
