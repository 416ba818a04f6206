package repair_test

import (
	"context"
	"fmt"
	"slices"
	"testing"

	"lapwright/figures"
	"lapwright/search"
	"lapwright/search/repair"
	"lapwright/search/routine"
)

// BenchmarkRepair mends a lap of the village hall that lacks one or two of its figures,
// with the whole library to put in.
func BenchmarkRepair(b *testing.B) {
	p := repair.Problem{Problem: search.Problem{Room: room(b, "village hall"), Variants: bronze(), Follows: figures.BuiltIn().Follows(),
		Couple: figures.DefaultCouple(), Margin: -1, Weights: search.DefaultWeights()}, Count: 3, Closes: true}
	res, err := search.Find(context.Background(), &p.Problem, nil)
	if err != nil || res.Lap == nil {
		b.Fatal(err)
	}
	p.Variants = figures.BuiltIn().Variants()
	for _, without := range [][]int{{7}, {7, 15}} {
		b.Run(fmt.Sprintf("%d changes", len(without)), func(b *testing.B) {
			p.Routine = routine.Routine{Start: res.Lap.Start, Steps: slices.Clone(res.Lap.Steps)}
			for _, i := range without {
				p.Routine.Steps = slices.Delete(p.Routine.Steps, i, i+1)
			}
			b.ReportAllocs()
			expanded := 0
			for b.Loop() {
				res, err := repair.Find(context.Background(), &p, nil)
				if err != nil || len(res.Ways) == 0 {
					b.Fatal(res, err)
				}
				expanded = res.Expanded
			}
			b.ReportMetric(float64(expanded), "expansions/op")
		})
	}
}
