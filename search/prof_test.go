package search

import (
	"context"
	"fmt"
	"os"
	"testing"
	"time"

	"lapwright/figures"
	exact "lapwright/search/label"
)

func TestProf(t *testing.T) {
	for _, all := range []bool{false, true} {
		vs := figures.BuiltIn().Variants()
		if !all {
			vs = nil
			for _, f := range figures.BuiltIn().Figures() {
				if f.At(figures.International, figures.Bronze) {
					vs = append(vs, f.Variants...)
				}
			}
		}
		room := os.Getenv("ROOM")
		if room == "" {
			room = "village hall"
		}
		p := problem(named(t, room), vs)
		t0 := time.Now()
		s, err := prepare(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		t1 := time.Now()
		s.survey(context.Background())
		t2 := time.Now()
		best, err := s.plain(context.Background())
		t3 := time.Now()
		fmt.Println("prepare", t1.Sub(t0), "survey", t2.Sub(t1), "plain", t3.Sub(t2), "slopes", s.rough.slope, s.near.slope, "rough", s.rough.expanded, "near", s.near.expanded, s.near.settled, "kernel", s.kernel.expanded, s.kernel.generated)
		for _, over := range []int32{0, 50, 100, 200} {
			t4 := time.Now()
			c, err := s.corridor(context.Background(), int32(s.plan.lap(*best).Costs.Total()*100+0.5)+over, func(*figures.Variant) uint64 { return 0 })
			if err != nil {
				fmt.Println(err)
				break
			}
			t5 := time.Now()
			fmt.Println("over", over, "corridor", t5.Sub(t4), "kernel", len(s.kernel.clusters), "kept", len(s.kernel.taken), "nodes", c.Nodes(), "arcs", c.Size(), "sources", len(c.Sources), "best", c.Best())
			l := &exact.Limits{Uses: 3, Apart: 3, Different: 8}
			res, err := exact.Solve(context.Background(), c.Network, l, exact.Options{}, nil)
			fmt.Println("label", time.Since(t5), res.Found, res.Cost, res.Bound, res.Proven, res.Exhausted, res.Labels, res.Expanded, res.Rounds, err)
			if res.Found && res.Proven {
				break
			}
		}
		if best != nil {
			fmt.Println(s.plan.lap(*best).Costs)
		}
	}
}
