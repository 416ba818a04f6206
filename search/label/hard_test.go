package label_test

import (
	"context"
	"fmt"
	"os"
	"testing"
	"time"

	"lapwright/search/label"
)

func TestHard(t *testing.T) {
	sets := []label.Limits{
		variety,
		{Uses: 1},
		{Uses: 2, Apart: 8, Different: 12},
		{Uses: 3, Apart: 3, Different: 8, Phrase: 8},
		{Uses: 3, Apart: 3, Different: 8, MinBars: 26, MaxBars: 28},
		{Uses: 3, Apart: 3, Different: 8, RightTurns: 2, Caps: []label.Cap{{Class: 0, Most: 2}, {Class: 1, Most: 3}}},
		{Uses: 3, Apart: 3, Different: 8, Must: []int32{3, 17, 44}},
		{Uses: 3, Apart: 3, Fixed: []label.Fixed{{Figure: 5, Bar: 7, Wall: -1}, {Figure: 33, Bar: 15, Wall: 2}}, Orders: []label.Order{{First: 33, Then: 10}}},
		{Apart: 12},
		{Different: 14},
		{MinBars: 40, Uses: 3},
	}
	seed := uint64(0)
	fmt.Sscan(os.Getenv("SEED"), &seed)
	n := hall(200, seed)
	for _, l := range sets {
		ctx, stop := context.WithTimeout(context.Background(), 15*time.Second)
		begin := time.Now()
		var first time.Duration
		r, err := label.Solve(ctx, n, &l, label.Options{}, func(p label.Progress) {
			if p.Found && first == 0 {
				first = time.Since(begin)
			}
		})
		stop()
		if err != nil {
			t.Fatal(err)
		}
		fmt.Printf("%5.2fs first %5.2fs labels %8d rounds %2d free %d bound %d cost %d proven %v %+v\n", time.Since(begin).Seconds(), first.Seconds(), r.Labels, r.Rounds, n.Best(), r.Bound, r.Cost, r.Proven, l)
	}
}
