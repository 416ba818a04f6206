package search

import (
	"context"
	"errors"
	"testing"
	"time"

	"lapwright/figures"
)

// longestRun is how long one search of a benchmark may take. What is not done by then
// is stopped, which the benchmark says.
const longestRun = time.Minute

// run measures whole searches, with the compiling of their tables, and tells how much
// they expand, how far above the bound the lap is that they find, and how much memory
// the process held at the most. It returns the last answer, nil where the search was
// stopped before it had any.
func run(b *testing.B, p *Problem) *Result {
	b.Helper()
	return runUpTo(b, p, longestRun)
}

func runUpTo(b *testing.B, p *Problem, most time.Duration) *Result {
	b.Helper()
	b.ReportAllocs()
	var last *Result
	expanded, generated, stopped := 0, 0, 0
	peak := watchPeak()
	for b.Loop() {
		res, ended := searchUpTo(b, p, most)
		last = res
		if res != nil {
			expanded += res.Expanded
			generated += res.Generated
		}
		if ended {
			stopped++
		}
	}
	if mb, known := peak(); known {
		b.ReportMetric(mb, "peak-MB")
	}
	if stopped > 0 {
		b.ReportMetric(float64(stopped)/float64(b.N), "stopped/op")
	}
	if last == nil {
		return nil
	}
	b.ReportMetric(float64(expanded)/float64(b.N), "expansions/op")
	b.ReportMetric(float64(generated)/float64(b.N), "successors/op")
	b.ReportMetric(over(last.Lap), "gap-%")
	return last
}

// searchUpTo is one search, and whether it was stopped after the most time that it may take;
// nil where it had no lap by then.
func searchUpTo(b *testing.B, p *Problem, most time.Duration) (res *Result, stopped bool) {
	b.Helper()
	ctx, stop := context.WithTimeout(context.Background(), most)
	defer stop()
	res, err := Find(ctx, p, nil)
	switch {
	case errors.Is(err, context.DeadlineExceeded), err == nil && res.Lap == nil && ctx.Err() != nil:
		return nil, true
	case err != nil:
		b.Fatal(err)
	case res.Lap == nil:
		b.Fatal(res.Why)
	}
	return res, res.Stopped || res.Spread.Stopped
}

// over is by how many per cent a lap costs more than its bound: 0 where it is proven
// best.
func over(lap *Lap) float64 { return 100 * (lap.Costs.Total()/lap.Bound - 1) }

func BenchmarkVillageHallBronze(b *testing.B) {
	run(b, problem(named(b, "village hall"), atLevel(figures.Bronze)))
}

func BenchmarkVillageHallGold(b *testing.B) {
	run(b, problem(named(b, "village hall"), international(figures.Gold)))
}

// international are the variants of all figures of a level of the international style.
func international(level figures.Level) (all []*figures.Variant) {
	for _, f := range figures.BuiltIn().Figures() {
		if f.At(figures.International, level) {
			all = append(all, f.Variants...)
		}
	}
	return all
}

// variety are the limits of a class that is to dance more than its three favourites.
var variety = Limits{Uses: 3, Apart: 3, Different: 8}

// BenchmarkWholeLibrary is every figure that there is. On two quiet cores it is to
// prove the plain lap of the village hall within 20 ms, and to come, with variety,
// to within 3 % of the bound in 1 s; in the ballroom in 3 s. No search is to hold
// more than 200 MB.
func BenchmarkWholeLibrary(b *testing.B) {
	for _, room := range []string{"village hall", "ballroom"} {
		for _, c := range []struct {
			name   string
			limits Limits
		}{{"plain", Limits{}}, {"variety", variety}} {
			b.Run(room+"/"+c.name, func(b *testing.B) {
				p := problem(named(b, room), figures.BuiltIn().Variants())
				p.Limits = c.limits
				run(b, p)
			})
		}
	}
}

// BenchmarkCompile is what comes before the search proper, and is part of the time of
// the others: the tables of figures and floor, and the rough survey, which
// BenchmarkSurvey has alone.
func BenchmarkCompile(b *testing.B) {
	for _, room := range []string{"village hall", "ballroom"} {
		for _, c := range repertories {
			b.Run(room+"/"+c.name, func(b *testing.B) {
				p := problem(named(b, room), c.variants())
				b.ReportAllocs()
				var s *searcher
				for b.Loop() {
					var err error
					if s, err = prepare(context.Background(), p, nil); err != nil {
						b.Fatal(err)
					}
				}
				b.ReportMetric(float64(s.rough.expanded), "rough-expansions/op")
				b.ReportMetric(float64(s.result.States), "states")
			})
		}
	}
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
				if best, _, err := s.plain(context.Background()); best == nil || err != nil {
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
