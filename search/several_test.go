package search

import (
	"context"
	"fmt"
	"math"
	"reflect"
	"runtime"
	"slices"
	"testing"

	"lapwright/figures"
	"lapwright/floors"
	spreads "lapwright/search/spread"

	"pgregory.net/rapid"
)

// seen is what the measure sees of a lap, from what the checker says is danced.
func seen(p *Problem, lap *Lap) []spreads.Danced {
	var all []spreads.Danced
	for _, row := range danced(p, lap).Rows {
		way := slices.Index(p.Variants, row.Variant)
		first := slices.IndexFunc(p.Variants, func(v *figures.Variant) bool { return v.Figure == row.Variant.Figure })
		c := floors.CellAt(row.From)
		all = append(all, spreads.Danced{Figure: int32(first), Way: int32(way), Wall: int16(row.Wall), X: int32(5 * c.X), Y: int32(5 * c.Y)})
	}
	return all
}

// severalLaps holds a result of several laps to what it promises, and returns how many
// there are.
func severalLaps(t faulty, p *Problem, res *Result) int {
	t.Helper()
	s := res.Spread
	if res.Laps[0] != res.Lap || len(res.Laps) > max(1, p.Count) || len(s.Distances) != len(res.Laps) || s.Within > p.Within {
		t.Fatalf("%d laps, with %d rows of distances, within %g", len(res.Laps), len(s.Distances), s.Within)
	}
	best := res.Lap.Costs.Total()
	least, sum, leastShare, sumShare, pairs := math.Inf(1), 0.0, math.Inf(1), 0.0, 0
	var dances [][]spreads.Danced
	for i, lap := range res.Laps {
		judge(t, p, lap)
		limits(t, p.Limits, lap)
		if c := lap.Costs.Total(); c > best*(1+p.Within)+0.005 || !p.Limits.Any() && c < best-0.005 {
			t.Errorf("lap %d costs %g, the best %g", i+1, c, best)
		}
		if lap.Proven != (lap.Costs.Total() <= lap.Bound+1e-9) {
			t.Errorf("lap %d costs %g, the bound is %g, proven: %v", i+1, lap.Costs.Total(), lap.Bound, lap.Proven)
		}
		dances = append(dances, seen(p, lap))
		for j := range i {
			d := spreads.Distance(dances[i], dances[j])
			if d == 0 || math.Abs(d-s.Distances[i][j]) > 1e-9 || s.Distances[i][j] != s.Distances[j][i] {
				t.Errorf("laps %d and %d are %g apart as they are danced; it says %g", j+1, i+1, d, s.Distances[i][j])
			}
			share := spreads.Share(dances[i], dances[j])
			least, sum, leastShare, sumShare, pairs = min(least, d), sum+d, min(leastShare, share), sumShare+share, pairs+1
		}
	}
	if pairs == 0 {
		least, leastShare, pairs = 0, 0, 1
	}
	n := float64(pairs)
	for _, pair := range [][2]float64{{least, s.Least}, {sum / n, s.Mean}, {leastShare, s.LeastShare}, {sumShare / n, s.MeanShare}} {
		if math.Abs(pair[0]-pair[1]) > 1e-9 {
			t.Errorf("the spread is %+v; reckoned again, %g is %g", s, pair[1], pair[0])
		}
	}
	return len(res.Laps)
}

// TestSeveral: the laps are legal and differ, none is dearer than it may be, the first
// is the one that is found alone, and no lap is missed where all are looked at.
func TestSeveral(t *testing.T) {
	var more share
	draws(t, 0.1, func(t *rapid.T) {
		p := problem(room(t, 5), repertory(t, 9))
		p.Weights, p.Scales = weights(t), rapid.SampledFrom(stretches).Draw(t, "scales")
		alone := find(t, p)
		p.Count, p.Within = rapid.IntRange(2, 6).Draw(t, "count"), rapid.SampledFrom([]float64{0, 0.03, 0.1}).Draw(t, "within")
		res := find(t, p)
		if (res.Lap == nil) != (alone.Lap == nil) || res.Lap == nil && (res.Laps != nil || res.Spread != nil) {
			t.Fatalf("with %d laps asked for it is %v, with one %v", p.Count, res, alone)
		}
		if res.Lap == nil {
			return
		}
		if words(res.Lap) != words(alone.Lap) {
			t.Errorf("the first lap is %s; alone it is %s", words(res.Lap), words(alone.Lap))
		}
		n := severalLaps(t, p, res)
		more.add(n > 1)
		if n < p.Count && !res.Spread.Whole {
			t.Errorf("%d laps of %d, though not all were looked at", n, p.Count)
		}
	})
	more.report(t, 0.3)
}

// TestSeveralLimited: laps that differ keep the limits, too.
func TestSeveralLimited(t *testing.T) {
	p := problem(named(t, "studio"), atLevel(figures.Bronze))
	p.Limits.Uses = 2
	p.Count, p.Within = 8, 0.1
	res := find(t, p)
	if n := severalLaps(t, p, res); n < 2 {
		t.Errorf("%d laps keep to the limits", n)
	}
}

// TestPath: the corridor of the laps near the best has the best and those that cost
// up to the cutoff, by their own reckoning and by that of the laps made of them.
func TestPath(t *testing.T) {
	var laps share
	draws(t, 0.15, func(t *rapid.T) {
		s, err := prepare(context.Background(), small(t), nil)
		if err != nil {
			t.Fatal(err)
		}
		best, _, err := s.plain(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		laps.add(best != nil)
		if best == nil {
			return
		}
		cost := hundredths(s.plan.lap(*best).Costs.Total())
		c, err := s.corridor(context.Background(), cost+cost/20, func(*figures.Variant) uint64 { return 0 })
		if err != nil || c == nil {
			t.Fatal(err)
		}
		path, ok := c.pathOf(*best)
		if !ok || c.Best() != cost || path.Cost(c.Network) != cost || !reflect.DeepEqual(c.trail(path.Source, path.Arcs), *best) {
			t.Fatalf("the best lap costs %d; in the corridor %d, and the best there %d", cost, path.Cost(c.Network), c.Best())
		}
		set, err := spreads.Find(context.Background(), &spreads.Problem{Network: c.Network, Places: make([]spreads.Place, c.Nodes()), Count: 4, Most: cost + cost/20})
		if err != nil {
			t.Fatal(err)
		}
		for _, path := range set.Laps {
			if lap := hundredths(s.plan.lap(c.trail(path.Source, path.Arcs)).Costs.Total()); lap != path.Cost(c.Network) {
				t.Errorf("as a path the lap costs %d, as a lap %d", path.Cost(c.Network), lap)
			}
		}
	})
	laps.report(t, 0.1)
}

// TestSeveralCores: the laps are the same on any number of cores.
func TestSeveralCores(t *testing.T) {
	p := problem(named(t, "studio"), atLevel(figures.Bronze))
	p.Count, p.Within, p.Seed = 12, 0.1, 5
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	var once *Result
	for _, cores := range []int{1, 2, 8} {
		runtime.GOMAXPROCS(cores)
		res := find(t, p)
		if n := severalLaps(t, p, res); n != p.Count {
			t.Fatalf("%d laps", n)
		}
		if once == nil {
			once = res
		} else if !reflect.DeepEqual(once.Laps, res.Laps) || !reflect.DeepEqual(once.Spread, res.Spread) {
			t.Errorf("on %d cores the laps are others", cores)
		}
	}
}

// TestSeveralStopped: a search that ends before other laps are found has the best lap
// and does not say that there is no other.
func TestSeveralStopped(t *testing.T) {
	p := problem(named(t, "studio"), atLevel(figures.Bronze))
	p.Count, p.Within = 5, 0.1
	s, err := prepare(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	best, _, err := s.plain(context.Background())
	if err != nil || best == nil {
		t.Fatal("there is no lap", err)
	}
	s.result.Lap = s.plan.lap(*best)
	ended, end := context.WithCancel(context.Background())
	end()
	if err := s.several(ended, *best); err != nil {
		t.Fatal(err)
	}
	if r := s.result; len(r.Laps) != 1 || r.Laps[0] != r.Lap || !r.Spread.Stopped || r.Spread.Whole {
		t.Errorf("%d laps, %+v", len(r.Laps), r.Spread)
	}
}

// TestSeveralBad: numbers that make no sense are refused.
func TestSeveralBad(t *testing.T) {
	for _, c := range []struct {
		count  int
		within float64
	}{{-1, 0}, {MostCount + 1, 0}, {2, -0.1}, {2, 1.1}, {2, math.NaN()}} {
		p := problem(named(t, "studio"), atLevel(figures.Bronze))
		p.Count, p.Within = c.count, c.within
		if _, err := Find(context.Background(), p, nil); err == nil {
			t.Errorf("%d laps within %g are no error", c.count, c.within)
		}
	}
}

// BenchmarkSeveralHall is 50 laps that differ, in the 18 × 11 m hall, at several widths.
// On two quiet cores they are to be had in 2 s.
func BenchmarkSeveralHall(b *testing.B) {
	for _, all := range []struct {
		name     string
		variants []*figures.Variant
	}{{"bronze of the first file", atLevel(figures.Bronze)}, {"first file", atLevel()}, {"whole library", figures.BuiltIn().Variants()}} {
		for _, within := range []float64{0.02, 0.03, 0.04, 0.05} {
			b.Run(fmt.Sprintf("%s/%g %%", all.name, 100*within), func(b *testing.B) {
				p := problem(named(b, "village hall"), all.variants)
				p.Count, p.Within = 50, within
				runSeveral(b, p)
			})
		}
	}
}

// BenchmarkSeveral is 50 laps that differ, in a small room.
func BenchmarkSeveral(b *testing.B) {
	p := problem(named(b, "studio"), atLevel(figures.Bronze))
	p.Count, p.Within = 50, 0.1
	runSeveral(b, p)
}

// runSeveral measures searches for several laps, and tells how much they differ.
func runSeveral(b *testing.B, p *Problem) {
	b.Helper()
	res := run(b, p)
	if res == nil {
		return
	}
	b.ReportMetric(float64(len(res.Laps)), "laps")
	b.ReportMetric(res.Spread.Least, "least-distance")
	b.ReportMetric(res.Spread.Mean, "mean-distance")
	b.ReportMetric(100*res.Spread.Within, "percent")
}
