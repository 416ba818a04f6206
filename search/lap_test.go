package search

import (
	"fmt"
	"runtime"
	"testing"

	"lapwright/figures"

	"pgregory.net/rapid"
)

// TestLapsKeepTheirPromises: every lap that is found is legal join by join, stays
// inside the room with both dancers, alternates feet, turns through a whole
// number of full turns, and is found again.
func TestLapsKeepTheirPromises(t *testing.T) {
	var laps share
	draws(t, 0.1, func(t *rapid.T) {
		p := problem(room(t, 5), repertory(t, 9))
		p.Weights, p.Scales = weights(t), rapid.SampledFrom(stretches).Draw(t, "scales")
		p.Seed = rapid.Uint64().Draw(t, "seed")
		res := find(t, p)
		laps.add(res.Lap != nil)
		if res.Lap == nil {
			if len(res.Why) == 0 {
				t.Error("there is no lap and no reason")
			}
			return
		}
		judge(t, p, res.Lap)
		if !res.Lap.Proven {
			t.Error("a lap without limits is not proven")
		}
		if again := find(t, p); words(again.Lap) != words(res.Lap) || again.Expanded != res.Expanded {
			t.Errorf("found again, the lap is %s; it was %s", words(again.Lap), words(res.Lap))
		}
		p.Seed++
		if other := find(t, p); other.Lap == nil || other.Lap.Costs.Total() != res.Lap.Costs.Total() {
			t.Errorf("another seed gives %s; the lap was %s", words(other.Lap), words(res.Lap))
		}
	})
	laps.report(t, 0.2)
}

// TestLimitedLaps: laps of the beam search keep every limit and never claim to
// be better than they are.
func TestLimitedLaps(t *testing.T) {
	var laps share
	draws(t, 0.05, func(t *rapid.T) {
		p := problem(rapid.SampledFrom(rooms(t)).Draw(t, "room"), usual(t))
		if slower > 1 {
			p = brief(t)
		}
		all := p.Variants
		l := &p.Limits
		if rapid.Bool().Draw(t, "must") {
			for _, i := range rapid.SliceOfNDistinct(rapid.IntRange(0, len(all)-1), 1, 2, rapid.ID).Draw(t, "which") {
				l.Must = append(l.Must, all[i].Figure)
			}
		}
		if rapid.Bool().Draw(t, "bars") {
			l.MinBars = rapid.IntRange(10, 24).Draw(t, "least")
			l.MaxBars = l.MinBars + rapid.IntRange(0, 8).Draw(t, "more")
		}
		l.Uses = rapid.SampledFrom([]int{0, 3, 4}).Draw(t, "uses")
		l.Apart = rapid.SampledFrom([]int{0, 2, 4}).Draw(t, "apart")
		res := find(t, p)
		laps.add(res.Lap != nil)
		if res.Lap == nil {
			if len(res.Why) == 0 {
				t.Error("there is no lap and no reason")
			}
			return
		}
		judge(t, p, res.Lap)
		p.Limits = Limits{}
		if plain := find(t, p); plain.Lap == nil || plain.Lap.Costs.Total() > res.Lap.Bound {
			t.Errorf("without limits the best lap is %s; the bound was %g", words(plain.Lap), res.Lap.Bound)
		}
	})
	laps.report(t, 0.05)
}

// TestCores: the same result on any number of cores.
func TestCores(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	for _, c := range []struct {
		room   string
		limits Limits
	}{
		{"village hall", Limits{}},
		{"studio", Limits{MinBars: 20, MaxBars: 20}},
		{"studio", Limits{Uses: 3, Apart: 3}},
	} {
		p := problem(named(t, c.room), atLevel(figures.Bronze))
		p.Limits, p.Seed = c.limits, 7
		if slower > 1 {
			if c.limits.Apart == 0 {
				continue
			}
			p = brief(t)
			p.Limits, p.Seed = Limits{Uses: 3}, 7
		}
		var first string
		for _, cores := range []int{1, 2, 8} {
			runtime.GOMAXPROCS(cores)
			res := find(t, p)
			got := fmt.Sprint(words(res.Lap), res.Expanded, res.Generated, res.Posts, res.Edges, res.Why)
			if first == "" {
				first = got
				judge(t, p, res.Lap)
			}
			if got != first {
				t.Errorf("on %d cores: %s\non one: %s", cores, got, first)
			}
		}
	}
}
