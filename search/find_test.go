package search

import (
	"context"
	"fmt"
	"testing"
	"time"

	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search/check"
	"lapwright/search/routine"
)

func TestFind(t *testing.T) {
	for _, lim := range []Limits{{}, {MinBars: 40, MaxBars: 40}, {Uses: 3, Apart: 3}, {MaxBars: 20}, {Uses: 1}} {
		room, ok := floors.Named("village hall")
		if !ok {
			t.Fatal("no room")
		}
		var vs []*figures.Variant
		for _, f := range figures.BuiltIn().Figures() {
			if f.At(figures.Bronze) {
				vs = append(vs, f.Variants...)
			}
		}
		t0 := time.Now()
		res, err := Find(context.Background(), &Problem{Room: room, Variants: vs, Couple: figures.DefaultCouple(), Weights: DefaultWeights(), Margin: -1, Limits: lim}, nil)
		fmt.Println(time.Since(t0), err)
		if err != nil {
			t.Fatal(err)
		}
		fmt.Printf("%+v\n", res)
		if res.Lap != nil {
			fmt.Printf("%+v total %.2f bars %d bound %.2f\n", res.Lap.Costs, res.Lap.Costs.Total(), res.Lap.Bars, res.Lap.Bound)
			rep := check.Dance(room, figures.DefaultCouple(), &routine.Routine{Start: res.Lap.Start, Steps: res.Lap.Steps}, check.Limits{Lap: true, Margin: -1})
			for _, d := range rep.Rows {
				fmt.Printf("%3d %-50s %.1f %v wall %d %.2f -> %.2f  %s -> %s %.3f\n", d.Bar, d.Variant.Name(), d.Scale, d.NextWall, d.Wall, d.From, d.To, d.Entry.Short(), d.Exit.Short(), d.Clear)
			}
			fmt.Println(rep.Faults(), rep.Closes, rep.Gap, rep.Walked)
		}
	}
}
