package search

import (
	"fmt"
	"testing"
	"time"

	"lapwright/figures"
)

// longestCell is how long a search of BenchmarkGrowth may take, so that all of them take
// a few minutes at most.
const longestCell = 10 * time.Second

// BenchmarkGrowth tells how the cost of a search grows with the floor and with the laps,
// for the figures of one level. The table in DEVELOPERS.md is made of it. The cost is to
// grow about in line with both.
func BenchmarkGrowth(b *testing.B) {
	for _, floor := range []struct{ w, h float64 }{{12, 8}, {18, 11}, {24, 16}, {30, 18}, {40, 26}, {60, 40}} {
		name := fmt.Sprintf("%gx%g", floor.w, floor.h)
		room := loaded(b, name, fmt.Sprintf("outline: [[0, 0], [%[1]g, 0], [%[1]g, %[2]g], [0, %[2]g]]", floor.w, floor.h))
		for _, laps := range []int{1, 2, 3, 5, 10} {
			b.Run(fmt.Sprintf("floor=%s/laps=%d", name, laps), func(b *testing.B) {
				p := problem(room, international(figures.Bronze))
				p.Laps = laps
				runUpTo(b, p, longestCell)
			})
		}
	}
}
