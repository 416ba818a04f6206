package search

import (
	"context"
	"testing"

	"lapwright/figures"
)

// run measures whole searches, and tells how much they expand.
func run(b *testing.B, p *Problem) {
	b.Helper()
	b.ReportAllocs()
	expanded, generated := 0, 0
	for b.Loop() {
		res := find(b, p)
		if res.Lap == nil {
			b.Fatal(res.Why)
		}
		expanded += res.Expanded
		generated += res.Generated
	}
	b.ReportMetric(float64(expanded)/float64(b.N), "expansions/op")
	b.ReportMetric(float64(generated)/float64(b.N), "successors/op")
}

func BenchmarkVillageHallBronze(b *testing.B) {
	run(b, problem(named(b, "village hall"), atLevel(figures.Bronze)))
}

func BenchmarkVillageHallGold(b *testing.B) {
	var gold []*figures.Variant
	for _, f := range figures.BuiltIn().Figures() {
		if f.At(figures.International, figures.Gold) {
			gold = append(gold, f.Variants...)
		}
	}
	run(b, problem(named(b, "village hall"), gold))
}

func BenchmarkBallroomAll(b *testing.B) {
	run(b, problem(named(b, "ballroom"), figures.BuiltIn().Variants()))
}

func BenchmarkStudio(b *testing.B) { run(b, problem(named(b, "studio"), atLevel(figures.Bronze))) }

func BenchmarkClubroom(b *testing.B) { run(b, problem(named(b, "clubroom"), atLevel(figures.Bronze))) }

// BenchmarkLimited is the beam search: exactly 40 bars with at most five uses
// of any figure.
func BenchmarkLimited(b *testing.B) {
	p := problem(named(b, "village hall"), atLevel())
	p.Limits = Limits{MinBars: 40, MaxBars: 40, Uses: 5}
	run(b, p)
}

// BenchmarkSurvey is the rough survey alone, from the compiled tables.
func BenchmarkSurvey(b *testing.B) {
	for _, c := range repertories {
		b.Run(c.name, func(b *testing.B) {
			s := prepared(b, c.variants())
			b.ReportAllocs()
			for b.Loop() {
				if err := s.survey(context.Background()); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(s.rough.expanded), "rough-expansions/op")
		})
	}
}

// prepared is the search of the village hall with some variants, compiled.
func prepared(b *testing.B, variants []*figures.Variant) *searcher {
	b.Helper()
	s, err := prepare(context.Background(), problem(named(b, "village hall"), variants), nil)
	if err != nil {
		b.Fatal(err)
	}
	return s
}

// repertories are few figures and all of them.
var repertories = []struct {
	name     string
	variants func() []*figures.Variant
}{
	{"bronze of the first file", func() []*figures.Variant { return atLevel(figures.Bronze) }},
	{"whole library", figures.BuiltIn().Variants},
}

// BenchmarkProof is the search from the compiled tables: the surveys and A* over
// all starts, until the best lap is proven.
func BenchmarkProof(b *testing.B) {
	for _, c := range repertories {
		b.Run(c.name, func(b *testing.B) {
			s := prepared(b, c.variants())
			b.ReportAllocs()
			for b.Loop() {
				if err := s.survey(context.Background()); err != nil {
					b.Fatal(err)
				}
				if best, err := s.plain(context.Background()); best == nil || err != nil {
					b.Fatal("there is no lap", err)
				}
			}
			b.ReportMetric(float64(s.kernel.expanded), "expansions/op")
		})
	}
}

// BenchmarkKernel is A* alone, from the start with the least bound, with few
// figures and with all of them: more figures are more successors, none of which
// costs more.
func BenchmarkKernel(b *testing.B) {
	for _, c := range repertories {
		b.Run(c.name, func(b *testing.B) {
			s := prepared(b, c.variants())
			const limit = 4500
			if err := s.look(context.Background(), s.starts, limit); err != nil {
				b.Fatal(err)
			}
			search := func() {
				s.kernel.begin(s.near, s.starts[:1], s.starts[:1], limit)
				if _, _, ok, err := s.kernel.run(context.Background(), nil); !ok || err != nil {
					b.Fatal("there is no lap", err)
				}
			}
			search()
			s.kernel.expanded, s.kernel.generated = 0, 0
			b.ReportAllocs()
			for b.Loop() {
				search()
			}
			b.ReportMetric(float64(s.kernel.expanded)/float64(b.N), "expansions/op")
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(s.kernel.generated), "ns/successor")
			b.ReportMetric(float64(s.kernel.generated)/float64(s.kernel.expanded), "successors/expansion")
		})
	}
}
