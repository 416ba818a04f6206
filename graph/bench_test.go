package graph_test

import (
	"io"
	"testing"

	"lapwright/figures"
	"lapwright/graph"
)

func BenchmarkNew(b *testing.B) {
	variants := figures.BuiltIn().Variants()
	b.ReportAllocs()
	for b.Loop() {
		graph.New(variants, -2)
	}
}

func BenchmarkGraph(b *testing.B) {
	variants := figures.BuiltIn().Variants()
	g := graph.New(variants, -2)
	s := stance(b, "DW, RF, closed")
	to := stance(b, "LOD, RF, promenade")
	for _, c := range []struct {
		name string
		run  func()
	}{
		{"From", func() { g.From(s) }},
		{"Follow", func() { g.Follow(variants[0], variants[1]) }},
		{"Reachable", func() { g.Reachable(s) }},
		{"Components", func() { g.Components() }},
		{"Path", func() { g.Path(s, to) }},
		{"Count64", func() { g.Count(s, 64) }},
		{"WhyNotAny", func() {
			for _, v := range variants {
				graph.WhyNot(s, v)
			}
		}},
		{"DOT", func() { _ = g.DOT(io.Discard) }},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				c.run()
			}
		})
	}
}
