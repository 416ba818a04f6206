package search

import (
	"context"
	"errors"
	"math"
	"slices"
	"strings"
	"sync/atomic"
	"testing"

	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search/routine"
)

func TestBadProblems(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	on := func(p *Problem, x, y float64) {
		p.Start = &routine.Start{At: at(x, y), Stance: stance(t, "DW, RF")}
	}
	for _, c := range []struct {
		name  string
		spoil func(*Problem)
		words string
	}{
		{"no room", func(p *Problem) { p.Room = nil }, "no room is given"},
		{"a room that was not loaded", func(p *Problem) { p.Room = &floors.Room{} }, "no room is given"},
		{"no variants", func(p *Problem) { p.Variants = nil }, "no figures are left to dance"},
		{"a variant that is none", func(p *Problem) { p.Variants = []*figures.Variant{nil} }, "figure 1 of those that may be used"},
		{"a variant without steps", func(p *Problem) {
			p.Variants = []*figures.Variant{{Figure: figure(t, "Whisk"), Entries: []figures.Stance{{}}}}
		}, "no steps"},
		{"a variant of no bar", func(p *Problem) {
			short := *variant(t, "Whisk")
			short.Steps = short.Steps[:1]
			p.Variants = []*figures.Variant{&short}
		}, "Whisk takes no whole bar"},
		{"a variant with a reward", func(p *Problem) {
			v := *variant(t, "Whisk")
			v.Awkward = -1
			p.Variants = []*figures.Variant{&v}
		}, "a cost of -1 for dancing Whisk"},
		{"no stride", func(p *Problem) { p.Couple = figures.Couple{} }, "a stride of 0 m is out of range"},
		{"a stride that is no number", func(p *Problem) { p.Couple.Stride = nan }, "a stride of NaN m"},
		{"a giant's stride", func(p *Problem) { p.Couple.Stride = 2 }, "a stride of 2 m is out of range: 0.25 to 1.1 m"},
		{"a margin that is no number", func(p *Problem) { p.Margin = nan }, "a margin of NaN m"},
		{"a great margin", func(p *Problem) { p.Margin = 6 }, "a margin of 6 m is out of range"},
		{"an infinite margin", func(p *Problem) { p.Margin = inf }, "a margin of +Inf m"},
		{"a margin that leaves no floor", func(p *Problem) { p.Margin = 4.76 }, "a margin of 4.76 m leaves no floor to dance on: the largest free circle in Merlehaven Assembly Rooms has a radius of 5.31 m, and a couple takes 0.75 m of it"},
		{"too many laps for so many figures", func(p *Problem) {
			p.Room = loaded(t, "Field", "outline: [[0, 0], [90, 0], [90, 90], [0, 90]]")
			p.Variants, p.Laps = figures.BuiltIn().Variants(), 20
		}, "ask for fewer than 5 laps, or for fewer figures"},
		{"negative bars", func(p *Problem) { p.Limits.MinBars = -1 }, "limits cannot be negative"},
		{"negative uses", func(p *Problem) { p.Limits.Uses = -1 }, "limits cannot be negative"},
		{"bars that contradict", func(p *Problem) { p.Limits = Limits{MinBars: 41, MaxBars: 40} }, "at least 41 and at most 40 bars contradict each other"},
		{"too many bars", func(p *Problem) { p.Limits.MinBars = MostBars + 1 }, "a lap of 401 bars is not searched: at most 400 can be had"},
		{"must not among variants", func(p *Problem) { p.Limits.Must = []*figures.Figure{figure(t, "Open Impetus")} },
			"Open Impetus must be danced but is not among the figures that may be used"},
		{"a must that is none", func(p *Problem) { p.Limits.Must = []*figures.Figure{nil} }, "is none"},
		{"too many musts", func(p *Problem) {
			p.Limits.Must = slices.Repeat([]*figures.Figure{figure(t, "Whisk")}, 65)
		}, "65 figures must be danced"},
		{"a weight that is no number", func(p *Problem) { p.Weights.Lane = nan }, "a weight of NaN for lane"},
		{"a negative weight", func(p *Problem) { p.Weights.Gap = -0.1 }, "a weight of -0.1 for gap"},
		{"a great weight", func(p *Problem) { p.Weights.Bars = 101 }, "a weight of 101 for bars"},
		{"no weights", func(p *Problem) { p.Weights = Weights{} }, "the weight of bars must be at least 0.01"},
		{"a scale that is no number", func(p *Problem) { p.Scales = []Scale{{nan, 0}} }, "a share of NaN of the stride"},
		{"a scale of nothing", func(p *Problem) { p.Scales = []Scale{{0, 0}} }, "a share of 0 of the stride"},
		{"a scale backward", func(p *Problem) { p.Scales = []Scale{{-1, 0}} }, "a share of -1 of the stride"},
		{"a scale with a reward", func(p *Problem) { p.Scales = []Scale{{1, -1}} }, "a cost of -1 for a share of 1"},
		{"too many scales", func(p *Problem) { p.Scales = slices.Repeat([]Scale{{1, 0}}, 17) }, "17 scales"},
		{"no such wall", func(p *Problem) { p.Start = &routine.Start{Wall: 4} }, "the room has no wall 5: its walls are numbered from 1 to 4"},
		{"a wall before the first", func(p *Problem) { p.Start = &routine.Start{Wall: -1} }, "the room has no wall 0"},
		{"a start off the floor", func(p *Problem) { on(p, 4, -2) }, "no couple can begin at (4.00, -2.00)"},
		{"a start in the middle of the room", func(p *Problem) { on(p, 15, 9) }, "it is not on the floor along quay side"},
		{"a start on a column", func(p *Problem) { on(p, 6, 4.2) }, "no couple can begin at (6.00, 4.20)"},
		{"a start that is no place", func(p *Problem) { on(p, nan, 1) }, "no place in a room"},
		{"a start at infinity", func(p *Problem) { on(p, 1, -inf) }, "no place in a room"},
	} {
		p := problem(named(t, "ballroom"), atLevel(figures.Bronze))
		c.spoil(p)
		res, err := Find(context.Background(), p, nil)
		if err == nil || !strings.Contains(err.Error(), c.words) {
			t.Errorf("%s: %v (%v), want %q", c.name, err, res, c.words)
		}
	}
}

// TestGreatLimits: limits that no lap can break are none.
func TestGreatLimits(t *testing.T) {
	p := problem(rooms(t)[0], atLevel(figures.Bronze))
	plain := find(t, p)
	p.Limits = Limits{Uses: math.MaxInt}
	if res := find(t, p); words(res.Lap) != words(plain.Lap) {
		t.Errorf("with any number of uses the best lap is %s; without limits %s", words(res.Lap), words(plain.Lap))
	}
	p.Limits = Limits{Apart: math.MaxInt}
	if res := find(t, p); res.Lap != nil {
		limits(t, p.Limits, res.Lap)
	}
}

// TestGreatWeights: the greatest weights that can be asked for overflow nothing.
func TestGreatWeights(t *testing.T) {
	p := problem(rooms(t)[0], atLevel(figures.Bronze))
	p.Weights = Weights{100, 100, 100, 100, 100, 100, 100}
	res := find(t, p)
	if res.Lap == nil {
		t.Fatal(res.Why)
	}
	judge(t, p, res.Lap)
}

// TestProblemIsNotChanged: a problem can be asked again.
func TestProblemIsNotChanged(t *testing.T) {
	p := problem(rooms(t)[0], atLevel(figures.Bronze))
	p.Limits.Uses = 1000000
	find(t, p)
	if p.Scales != nil || p.Limits.Uses != 1000000 || p.Start != nil {
		t.Errorf("the problem has become %+v", p)
	}
}

// dying is a context that is cancelled after so many looks at it.
type dying struct {
	context.Context
	left atomic.Int64
}

func (d *dying) Err() error {
	if d.left.Add(-1) < 0 {
		return context.Canceled
	}
	return nil
}

// TestCancelled: wherever in a search the context is cancelled, Find gives up, and
// soon: it does not look at it again more than a few times in each thread. It returns the error or,
// once a lap is known, the best so far, which never claims more than is proven.
func TestCancelled(t *testing.T) {
	for _, c := range []struct {
		name   string
		limits Limits
	}{
		{"plain", Limits{}},
		{"limited", Limits{MinBars: 12, MaxBars: 13, Uses: 2}},
		{"few bars, no figure twice", Limits{Uses: 1, MaxBars: 9}},
		{"too short", Limits{MaxBars: 2}},
	} {
		p := problem(rooms(t)[0], atLevel(figures.Bronze))
		if slower > 1 {
			if c.name != "limited" {
				continue
			}
			p, c.limits = brief(t), Limits{Uses: 3}
		}
		p.Limits = c.limits
		looks := 0
		for ; ; looks++ {
			ctx := &dying{Context: context.Background()}
			ctx.left.Store(int64(looks))
			res, err := Find(ctx, p, nil)
			left := ctx.left.Load()
			if left >= 0 {
				if err != nil {
					t.Errorf("%s: %v", c.name, err)
				}
				break
			}
			switch {
			case errors.Is(err, context.Canceled) && res == nil:
			case err == nil && res != nil && res.Lap != nil:
				judge(t, p, res.Lap)
			default:
				t.Fatalf("%s, cancelled at look %d: %v %v", c.name, looks+1, res, err)
			}
			if left < -16 {
				t.Errorf("%s, cancelled at look %d: the search looked %d times more", c.name, looks+1, -left-1)
			}
			if looks > 12/slower {
				looks += looks * (1 + slower/5)
			}
		}
		if looks < 2 {
			t.Errorf("%s: the search looked at its context %d times", c.name, looks)
		}
	}
}

// TestProgress: what is told on the way is never more than the truth.
func TestProgress(t *testing.T) {
	p := problem(named(t, "village hall"), atLevel())
	if slower > 1 {
		p = problem(named(t, "studio"), atLevel())
	}
	var told []Progress
	res, err := Find(context.Background(), p, func(p Progress) { told = append(told, p) })
	if err != nil || res.Lap == nil {
		t.Fatal(err, res)
	}
	if len(told) < 4 {
		t.Error("hardly anything was told")
	}
	expanded := 0
	for _, p := range told {
		if p.Ahead < 0 || p.Ahead > 1 || p.Expanded < expanded || p.Expanded > res.Expanded || p.Starts >= p.Of || p.Of != res.Starts {
			t.Errorf("told %+v of %+v", p, res)
		}
		if p.Best != 0 && p.Best < res.Lap.Costs.Total() {
			t.Errorf("told of a lap of cost %g; the best costs %g", p.Best, res.Lap.Costs.Total())
		}
		expanded = p.Expanded
	}
}
