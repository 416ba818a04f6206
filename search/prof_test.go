package search

import (
	"context"
	"fmt"
	"os"
	"testing"
	"time"

	"lapwright/figures"
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
		if best != nil {
			fmt.Println(s.plan.lap(*best).Costs)
		}
	}
}
