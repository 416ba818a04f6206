package search

import (
	"context"
	"fmt"
	"os"
	"syscall"
	"testing"
	"time"

	"lapwright/figures"
	exact "lapwright/search/label"
)

func TestProf(t *testing.T) {
	debugFlow = true
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
		t0 := cpu()
		s, err := prepare(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		t1 := cpu()
		s.survey(context.Background())
		t2 := cpu()
		best, err := s.plain(context.Background())
		t3 := cpu()
		fmt.Println("prepare", (t1 - t0), "survey", (t2 - t1), "plain", (t3 - t2), "slopes", s.rough.slope, s.near.slope, "rough", s.rough.expanded, "near", s.near.expanded, s.near.limit, len(s.near.touched), "kernel", s.kernel.expanded, s.kernel.generated)
		for _, over := range []int32{0, 50, 100, 200} {
			t4 := cpu()
			c, err := s.corridor(context.Background(), int32(s.plan.lap(*best).Costs.Total()*100+0.5)+over, func(*figures.Variant) uint64 { return 0 })
			if err != nil {
				fmt.Println(err)
				break
			}
			t5 := cpu()
			fmt.Println("over", over, "corridor", (t5 - t4), "kernel", len(s.kernel.clusters), "kept", len(s.kernel.taken), "nodes", c.Nodes(), "arcs", c.Size(), "sources", len(c.Sources), "best", c.Best())
			l := &exact.Limits{Uses: 3, Apart: 3, Different: 8}
			res, err := exact.Solve(context.Background(), c.Network, l, exact.Options{}, nil)
			fmt.Println("label", (cpu() - t5), res.Found, res.Cost, res.Bound, res.Proven, res.Exhausted, res.Labels, res.Expanded, res.Rounds, err)
			if res.Found && res.Proven {
				break
			}
		}
		if best != nil {
			fmt.Println(s.plan.lap(*best).Costs)
		}
	}
}

func cpu() time.Duration {
	var r syscall.Rusage
	syscall.Getrusage(0, &r)
	return time.Duration(r.Utime.Nano() + r.Stime.Nano())
}
