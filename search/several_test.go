package search

import (
	"context"
	"testing"
	"time"

	"lapwright/figures"
)

func TestTry(t *testing.T) {
	for _, name := range []string{"village hall"} {
		for _, within := range []float64{0.1} {
			p := problem(named(t, name), atLevel(figures.Bronze))
			p.Count, p.Within = 50, within
			s, err := prepare(context.Background(), p, nil)
			if err != nil {
				t.Fatal(err)
			}
			best, err := s.plain(context.Background())
			if err != nil {
				t.Fatal(err)
			}
			s.result.Lap = s.plan.lap(*best)
			began := time.Now()
			cost := hundredths(s.result.Lap.Costs.Total())
			cutoff := cost + int32(float64(cost)*within)
			n, ok, err := s.newNearBest(context.Background(), best.start, cutoff)
			if err != nil || !ok {
				t.Log(name, within, ok, err, time.Since(began))
				continue
			}
			laid := time.Since(began)
			began = time.Now()
			s.result.Spread = &Spread{}
			s.result.Laps = []*Lap{s.result.Lap}
			if err := s.choose(context.Background(), n, *best, cutoff); err != nil {
				t.Fatal(err)
			}
			sp := s.result.Spread
			t.Log(name, within, "laid", laid, n.net.Nodes(), n.net.Size(), "chose", time.Since(began), len(s.result.Laps), sp.Candidates, sp.Whole, sp.Least, sp.Mean, sp.LeastShare, sp.MeanShare)
		}
	}
}
