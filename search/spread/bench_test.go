package spread

import (
	"context"
	"testing"
)

// BenchmarkFifty chooses 50 laps out of a network of 100,000 nodes and a million arcs,
// and tells how far apart they are.
func BenchmarkFifty(b *testing.B) {
	p := layered(b, 32, 3125, 10)
	p.Count = 50
	b.ReportAllocs()
	var set *Set
	for b.Loop() {
		var err error
		if set, err = Find(context.Background(), p); err != nil || len(set.Laps) < p.Count {
			b.Fatal(set, err)
		}
	}
	least, mean := set.Least(), set.Mean()
	b.ReportMetric(least, "least-distance")
	b.ReportMetric(mean, "mean-distance")
	b.ReportMetric(float64(set.Candidates), "candidates")
}

// BenchmarkThrough is the forward table.
func BenchmarkForward(b *testing.B) {
	p := layered(b, 32, 3125, 10)
	for b.Loop() {
		p.Network.Forward(p.Most)
	}
}

// BenchmarkDistance is one pair of laps.
func BenchmarkDistance(b *testing.B) {
	p := layered(b, 32, 3125, 10)
	p.Count = 2
	set, err := Find(context.Background(), p)
	if err != nil || len(set.Laps) < 2 {
		b.Fatal(set, err)
	}
	one, other := p.dance(set.Laps[0]), p.dance(set.Laps[1])
	r := newRuler()
	b.ReportAllocs()
	for b.Loop() {
		r.distance(one, other, unmeasured)
	}
}
