package repair_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search"
	"lapwright/search/check"
	"lapwright/search/repair"
	"lapwright/search/routine"
)

func TestTryLap(t *testing.T) {
	lib := figures.BuiltIn()
	var bronze []*figures.Variant
	for _, f := range lib.Figures() {
		if f.At(figures.International, figures.Bronze) {
			bronze = append(bronze, f.Variants...)
		}
	}
	for _, name := range []string{"village hall", "ballroom", "clubroom"} {
		room, _ := floors.Named(name)
		p := search.Problem{Room: room, Variants: bronze, Follows: lib.Follows(), Couple: figures.DefaultCouple(), Margin: -1, Weights: search.DefaultWeights()}
		res, err := search.Find(context.Background(), &p, nil)
		if err != nil || res.Lap == nil {
			t.Fatal(err)
		}
		r := rand.New(rand.NewPCG(1, 2))
		for k := range 12 {
			bad := routine.Routine{Start: res.Lap.Start, Steps: slices.Clone(res.Lap.Steps)}
			edits := 1 + k%3
			for range edits {
				i := r.IntN(len(bad.Steps))
				switch r.IntN(3) {
				case 0:
					bad.Steps = slices.Delete(bad.Steps, i, i+1)
				case 1:
					bad.Steps[i].Variant = lib.Variants()[r.IntN(len(lib.Variants()))]
				case 2:
					bad.Steps = slices.Insert(bad.Steps, i, routine.Step{Variant: lib.Variants()[r.IntN(len(lib.Variants()))], Scale: 1})
				}
			}
			q := p
			if k%2 == 1 {
				q.Variants = lib.Variants()
			}
			t0 := time.Now()
			out, err := repair.Find(context.Background(), &repair.Problem{Problem: q, Routine: bad, Count: 3, Closes: k%4 < 2}, nil)
			if err != nil {
				t.Fatal(err)
			}
			fmt.Println(name, len(res.Lap.Steps), "spoilt", edits, "lap", k%4 < 2, "at least", out.AtLeast, out.All, out.Expanded, "nodes", time.Since(t0), len(out.Ways))
			for _, w := range out.Ways {
				rep := check.Dance(room, figures.DefaultCouple(), &w.Routine, check.Limits{Lap: k%4 < 2, Margin: -1})
				if f := rep.Faults(); len(f) > 0 {
					t.Error(f)
				}
				fmt.Print(" ", w.Edits, "/", w.Adjusted)
			}
			fmt.Println()
		}
	}
}
