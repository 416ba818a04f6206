package teach

import (
	"context"
	"fmt"
	"lapwright/figures"
	"testing"
	"time"
)

func TestZZ(t *testing.T) {
	for _, lv := range []figures.Level{figures.Social, figures.Bronze} {
		now := time.Now()
		p := problemIn(t, "village hall")
		p.Follows = figures.BuiltIn().Follows()
		items := Items(variantsOf(lv))
		Easiest(items)
		c := &Course{Problem: p, Items: items, Weeks: 6, Each: 2, Patience: 3 * time.Second}
		w, err := c.Find(context.Background(), func(w int) { fmt.Println(w, time.Since(now)) })
		fmt.Println(time.Since(now), err)
		for i, x := range w {
			fmt.Print(i+1, " ")
			for _, it := range x.Teach {
				fmt.Print(it.Figure.Name, ", ")
			}
			fmt.Println(x.Bits, x.Lap.Bars, x.Lap.Proven)
		}
	}
}
