package teach

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search"
)

func TestScratch(t *testing.T) {
	room, _ := floors.Named("village hall")
	var vs []*figures.Variant
	for _, f := range figures.BuiltIn().Figures() {
		if f.At(figures.AnyStyle, figures.Social) {
			vs = append(vs, f.Variants...)
		}
	}
	for _, c := range []struct {
		items  []Item
		scales []search.Scale
		most   int
	}{{Usual(vs), search.DefaultScales, 4}, {Items(vs), search.DefaultScales, 2}} {
		now := time.Now()
		r, err := NewRound(&search.Problem{Room: room, Couple: figures.DefaultCouple(), Margin: -1, Scales: c.scales}, c.items)
		if err != nil {
			t.Fatal(err)
		}
		fmt.Println(len(c.items), "items", time.Since(now), len(r.home), "homes")
		sets, err := r.Smallest(context.Background(), c.most, func(size, found int) { fmt.Println(size, found, r.Tested, len(r.bad), time.Since(now)) })
		if err != nil {
			t.Fatal(err)
		}
		fmt.Println(time.Since(now), r.Tested, len(r.bad))
		for _, s := range sets {
			var names []string
			for _, i := range s.Items() {
				names = append(names, c.items[i].Variants[0].Name())
			}
			fmt.Println("  ", strings.Join(names, " + "))
		}
	}
}
