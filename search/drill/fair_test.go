package drill

import (
	"context"
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"lapwright/figures"
	"lapwright/search/routine"
)

// twoWays is a ground with two ways of length bars, in which the counts of the one are
// rounded down as far as may be at each bar, and those of the other never.
type twoWays struct{ length int }

type wayCounts struct {
	bars int
	ways twoWays
}

func (c wayCounts) at(v uint32) float64 {
	if int(v) <= c.ways.length {
		return math.Pow(1+rounding, -float64(c.bars))
	}
	return 1
}

func (w twoWays) begin() uint32 { return 0 }

func (w twoWays) each(v uint32, visit func(m move)) {
	if v == 0 {
		visit(move{number: 0, to: 1, bars: 1, weight: 1})
		visit(move{number: 1, to: uint32(w.length) + 1, bars: 1, weight: 1})
		return
	}
	visit(move{number: 0, to: v + 1, bars: 1, weight: 1})
}

func (w twoWays) longest() int { return 1 }
func (w twoWays) size() int    { return 1 }

func (w twoWays) reached(_ context.Context, bars int) ([]bool, error) {
	all := make([]bool, bars+1)
	for i := range all {
		all[i] = true
	}
	return all, nil
}

func (w twoWays) layer(bars int, _ func(int) layer) (layer, bool) { return wayCounts{bars, w}, true }

func (w twoWays) joins(context.Context, func(before, after *figures.Variant)) error { return nil }
func (w twoWays) stance(uint32) figures.Stance                                      { return figures.Stance{} }
func (w twoWays) steps(path []arc) []routine.Step {
	return make([]routine.Step, 1+path[0].number) // one step for the first way, two for the other
}

// What rounding makes unequal is put right: both ways come as often, though the counts say
// that the one is a third less likely (von Neumann's rejection; Knuth, The Art of Computer
// Programming, volume 2, 3.4.1). The test of the frequencies is Pearson's chi-square at a
// level of one in a thousand.
func TestRoundingIsPutRight(t *testing.T) {
	const bars, draws = 30, 4000
	s := &Source{problem: &Problem{}, ground: twoWays{bars}}
	seeds := make([]uint64, draws)
	for i := range seeds {
		seeds[i] = uint64(i)
	}
	drills, err := s.Draw(context.Background(), bars, seeds...)
	if err != nil {
		t.Fatal(err)
	}
	first := 0.0
	for _, d := range drills {
		if len(d.Steps) == 1 {
			first++
		}
	}
	square := 4 * (first - draws/2) * (first - draws/2) / draws
	if most := (distuv.ChiSquared{K: 1}).Quantile(0.999); square > most {
		t.Errorf("%.0f of %d are of the first way: chi-square %.1f, at most %.1f", first, draws, square, most)
	}
}
