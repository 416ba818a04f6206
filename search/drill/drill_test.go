package drill_test

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search"
	"lapwright/search/drill"
)

func TestScratch(t *testing.T) {
	room, _ := floors.Named("village hall")
	for _, all := range []bool{false, true} {
		var vs []*figures.Variant
		for _, f := range figures.BuiltIn().Figures() {
			if all || f.At(figures.International, figures.Bronze) {
				vs = append(vs, f.Variants...)
			}
		}
		for _, bars := range []int{8, 32, 128} {
			now := time.Now()
			src, err := drill.New(context.Background(), &drill.Problem{Room: &search.Problem{Room: room, Variants: vs, Couple: figures.DefaultCouple(), Margin: -1, Scales: []search.Scale{{Share: 1}}},
				Start: search.DefaultStart(room, 0)})
			if err != nil {
				t.Fatal(err)
			}
			t1 := time.Since(now)
			ds, err := src.Draw(context.Background(), bars, 1, 2, 3)
			if err != nil {
				t.Fatal(err)
			}
			fmt.Println(all, bars, t1, time.Since(now))
			var names []string
			for _, st := range ds[0].Steps {
				names = append(names, st.Variant.Name())
			}
			if bars < 50 {
				fmt.Println(strings.Join(names, ", "))
			}
		}
	}
}
