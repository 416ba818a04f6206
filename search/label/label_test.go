package label_test

import (
	"context"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"lapwright/search/label"
	"lapwright/search/network"
)

// drawNetwork is a small network with several sources, circles and arcs side by
// side.
func drawNetwork(t *rapid.T) *network.Network {
	nodes := rapid.IntRange(3, 9).Draw(t, "nodes")
	figures := rapid.IntRange(1, 5).Draw(t, "figures")
	b := network.Builder{Network: network.Network{Figures: figures, End: int32(nodes - 1), Walls: make([]int16, nodes)}}
	for i := range nodes {
		b.Walls[i] = int16(rapid.IntRange(0, 1).Draw(t, "wall"))
	}
	for range rapid.IntRange(1, 2*figures).Draw(t, "ways") {
		b.Ways = append(b.Ways, network.Way{
			Figure: int32(rapid.IntRange(0, figures-1).Draw(t, "figure")), Bars: int32(rapid.IntRange(1, 3).Draw(t, "bars")),
			Classes: uint64(rapid.IntRange(0, 3).Draw(t, "classes")), Right: rapid.Bool().Draw(t, "right"),
		})
	}
	for i := range rapid.IntRange(1, 2).Draw(t, "sources") {
		b.Sources = append(b.Sources, int32(i))
	}
	for range rapid.IntRange(nodes, 4*nodes).Draw(t, "arcs") {
		from, to := int32(rapid.IntRange(0, nodes-2).Draw(t, "from")), int32(rapid.IntRange(0, nodes-1).Draw(t, "to"))
		a := network.Arc{To: to, Way: int32(rapid.IntRange(0, len(b.Ways)-1).Draw(t, "way"))}
		if to == b.End {
			a.Way, a.Cost = network.Closing, int32(rapid.IntRange(0, 2).Draw(t, "close"))
		} else {
			a.Cost = b.Ways[a.Way].Bars*3 + int32(rapid.IntRange(0, 3).Draw(t, "cost"))
		}
		b.Add(from, a)
	}
	n, err := b.Build()
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// kinds are the limits one by one.
var kinds = map[string]func(*rapid.T, *network.Network, *label.Limits){
	"bars at least": func(t *rapid.T, _ *network.Network, l *label.Limits) {
		l.MinBars = int32(rapid.IntRange(1, 8).Draw(t, "min bars"))
	},
	"bars at most": func(t *rapid.T, _ *network.Network, l *label.Limits) {
		l.MaxBars = int32(rapid.IntRange(1, 8).Draw(t, "max bars"))
	},
	"phrase": func(t *rapid.T, _ *network.Network, l *label.Limits) {
		l.Phrase = int32(rapid.IntRange(2, 4).Draw(t, "phrase"))
	},
	"uses": func(t *rapid.T, _ *network.Network, l *label.Limits) {
		l.Uses = int32(rapid.IntRange(1, 3).Draw(t, "uses"))
	},
	"apart": func(t *rapid.T, _ *network.Network, l *label.Limits) {
		l.Apart = int32(rapid.IntRange(1, 5).Draw(t, "apart"))
	},
	"different": func(t *rapid.T, _ *network.Network, l *label.Limits) {
		l.Different = int32(rapid.IntRange(1, 4).Draw(t, "different"))
	},
	"caps": func(t *rapid.T, _ *network.Network, l *label.Limits) {
		for range rapid.IntRange(1, 2).Draw(t, "caps") {
			l.Caps = append(l.Caps, label.Cap{
				Class: uint8(rapid.IntRange(0, 1).Draw(t, "class")), Most: int32(rapid.IntRange(0, 2).Draw(t, "most")),
			})
		}
	},
	"must": func(t *rapid.T, n *network.Network, l *label.Limits) {
		for range rapid.IntRange(1, 2).Draw(t, "musts") {
			l.Must = append(l.Must, figure(t, n))
		}
	},
	"orders": func(t *rapid.T, n *network.Network, l *label.Limits) {
		for range rapid.IntRange(1, 2).Draw(t, "orders") {
			l.Orders = append(l.Orders, label.Order{First: figure(t, n), Then: figure(t, n)})
		}
	},
	"fixed": func(t *rapid.T, n *network.Network, l *label.Limits) {
		for range rapid.IntRange(1, 2).Draw(t, "fixed") {
			l.Fixed = append(l.Fixed, label.Fixed{
				Figure: figure(t, n), Bar: int32(rapid.IntRange(1, 5).Draw(t, "bar")),
				Wall: int16(rapid.IntRange(-1, 1).Draw(t, "along")),
			})
		}
	},
	"right turns": func(t *rapid.T, _ *network.Network, l *label.Limits) {
		l.RightTurns = int32(rapid.IntRange(1, 3).Draw(t, "right turns"))
	},
}

var names = []string{
	"bars at least", "bars at most", "phrase", "uses", "apart", "different", "caps", "must", "orders", "fixed", "right turns",
}

func figure(t *rapid.T, n *network.Network) int32 {
	return int32(rapid.IntRange(0, n.Figures-1).Draw(t, "of figure"))
}

// drawLimits sets one to five of the limits.
func drawLimits(t *rapid.T, n *network.Network) *label.Limits {
	l := new(label.Limits)
	for _, name := range rapid.SliceOfNDistinct(rapid.SampledFrom(names), 1, 5, rapid.ID).Draw(t, "kinds") {
		kinds[name](t, n, l)
	}
	return l
}

// brute is the least cost, up to a cost, of the laps that keep the limits, of all
// laps one by one; it is false when there are none that cost so little, or too many
// laps to see.
func brute(n *network.Network, l *label.Limits, most int32) (best int32, all bool) {
	best = network.Unreachable
	seen := 0
	var arcs []int32
	var walk func(source, node, cost int32)
	walk = func(source, node, cost int32) {
		seen++
		if node == n.End {
			if cost < best && label.Keeps(n, l, source, arcs) {
				best = cost
			}
			return
		}
		for i, a := range n.Arcs(node) {
			togo := n.ToGo(a.To)
			if seen > 40000 || togo == network.Unreachable || cost+a.Cost+togo > most {
				continue
			}
			arcs = append(arcs, int32(n.ArcNumber(node)+i))
			walk(source, a.To, cost+a.Cost)
			arcs = arcs[:len(arcs)-1]
		}
	}
	for _, s := range n.Sources {
		walk(s, s, 0)
	}
	return best, seen <= 40000
}

func solve(t interface{ Fatal(...any) }, n *network.Network, l *label.Limits, o label.Options) *label.Result {
	r, err := label.Solve(context.Background(), n, l, o, nil)
	if err != nil {
		t.Fatal(err)
	}
	sound(t, n, l, r)
	return r
}

// sound sees that a result holds together, and that its lap is what it says.
func sound(t interface{ Fatal(...any) }, n *network.Network, l *label.Limits, r *label.Result) {
	if r.Found {
		cost := int32(0)
		for _, a := range r.Arcs {
			cost += n.Arc(int(a)).Cost
		}
		if !label.Keeps(n, l, r.Source, r.Arcs) || cost != r.Cost {
			t.Fatal("the lap does not keep the limits, or costs something else:", *r, cost)
		}
	}
	if r.Found && r.Bound > r.Cost || r.Proven && r.Found && r.Bound != r.Cost || r.Exhausted && (r.Found || !r.Proven) {
		t.Fatal("the result contradicts itself:", *r)
	}
}

// agree compares the search, in one stage and in several, with brute force over all
// laps of up to a cost.
func agree(t *rapid.T, n *network.Network, l *label.Limits) {
	const most = 45
	best, all := brute(n, l, most)
	r := solve(t, n, l, label.Options{})
	staged := label.SolveInStages(n, l, rapid.IntRange(0, 200).Draw(t, "first"))
	sound(t, n, l, staged)
	if !staged.Proven || staged.Found != r.Found || staged.Cost != r.Cost || staged.Exhausted != r.Exhausted {
		t.Fatal("in stages", *staged, "in one", *r)
	}
	if !r.Proven {
		t.Fatal("not proven:", *r)
	}
	switch {
	case r.Found && r.Cost > best:
		t.Fatal("a lap of cost", best, "is better than", r.Cost, *l)
	case all && r.Found && r.Cost <= most && r.Cost != best:
		t.Fatal("brute force finds no lap of cost", r.Cost, "but", best, *l)
	case !r.Found && best < network.Unreachable:
		t.Fatal("there is a lap of cost", best, *l)
	case !r.Found && !r.Exhausted:
		t.Fatal("not found and not exhausted")
	}
}

func TestEachLimitAgainstBruteForce(t *testing.T) {
	for _, name := range names {
		t.Run(name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				n, l := drawNetwork(t), new(label.Limits)
				kinds[name](t, n, l)
				agree(t, n, l)
			})
		})
	}
}

func TestLimitsTogetherAgainstBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := drawNetwork(t)
		agree(t, n, drawLimits(t, n))
	})
}

// With few labels the proof stays open, and what is said must be true all the same.
func TestFewLabelsSayNothingFalse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := drawNetwork(t)
		l := drawLimits(t, n)
		whole := solve(t, n, l, label.Options{})
		best := whole.Cost
		if !whole.Found {
			best = network.Unreachable
		}
		r := solve(t, n, l, label.Options{Labels: rapid.IntRange(1, 60).Draw(t, "labels")})
		if r.Bound > best || r.Found && r.Cost < best || r.Exhausted && whole.Found {
			t.Fatal("best", best, "but", *r)
		}
		ended, end := context.WithCancel(context.Background())
		end()
		r, err := label.Solve(ended, n, l, label.Options{}, nil)
		if err != nil || r.Bound > best || r.Found && r.Cost < best || r.Exhausted && whole.Found {
			t.Fatal("ended at once: best", best, "but", *r, err)
		}
		if whole.Found && best > 0 {
			r = solve(t, n, l, label.Options{Under: best})
			if r.Found || !r.Proven || r.Bound != best || r.Exhausted {
				t.Fatal("below the best one:", *r)
			}
			if r = solve(t, n, l, label.Options{Under: best + 1}); !r.Found || r.Cost != best {
				t.Fatal("up to the best one:", *r)
			}
		}
	})
}

// One more limit never makes the best lap cheaper, and one less never dearer.
func TestALimitNeverHelps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := drawNetwork(t)
		l := drawLimits(t, n)
		loose := *l
		switch rapid.IntRange(0, 7).Draw(t, "less") {
		case 0:
			loose.Caps = nil
		case 1:
			loose.Uses = 0
		case 2:
			loose.Apart = max(0, loose.Apart-1)
		case 3:
			loose.Different = max(0, loose.Different-1)
		case 4:
			loose.Fixed = loose.Fixed[:len(loose.Fixed)/2]
		case 5:
			loose.Must = loose.Must[:len(loose.Must)/2]
		case 6:
			loose.MinBars = max(0, loose.MinBars-1)
		case 7:
			loose.Phrase, loose.MaxBars, loose.RightTurns, loose.Orders = 0, 0, 0, nil
		}
		with, without := solve(t, n, l, label.Options{}), solve(t, n, &loose, label.Options{})
		if with.Bound < without.Bound || with.Found && !without.Found {
			t.Fatal("with", *with, "without", *without)
		}
	})
}

func TestCostsInAnotherUnitChangeOnlyTheUnit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := drawNetwork(t)
		b := network.Builder{Network: network.Network{
			Ways: n.Ways, Figures: n.Figures, Sources: n.Sources, End: n.End, Walls: n.Walls,
		}}
		for node := range int32(n.Nodes()) {
			for _, a := range n.Arcs(node) {
				a.Cost *= 7
				b.Add(node, a)
			}
		}
		sevenfold, err := b.Build()
		if err != nil {
			t.Fatal(err)
		}
		l := drawLimits(t, n)
		one, seven := solve(t, n, l, label.Options{}), solve(t, sevenfold, l, label.Options{})
		if one.Found != seven.Found || 7*one.Cost != seven.Cost {
			t.Fatal("once", *one, "seven times", *seven)
		}
	})
}

func TestSameAnswerOnAnyNumberOfThreads(t *testing.T) {
	n := hall(60, 4)
	for _, l := range []label.Limits{
		{Uses: 2, Apart: 3, Different: 6},
		{Uses: 1, Phrase: 4, RightTurns: 1},
		{Must: []int32{7, 30}, MaxBars: 12, Caps: []label.Cap{{Class: 0, Most: 1}}},
	} {
		for _, labels := range []int{0, 3000} {
			one := solve(t, n, &l, label.Options{Threads: 1, Labels: labels})
			for _, threads := range []int{0, 2, 8} {
				if many := solve(t, n, &l, label.Options{Threads: threads, Labels: labels}); !reflect.DeepEqual(one, many) {
					t.Errorf("%+v, at most %d labels: %+v on one thread, %+v on %d", l, labels, *one, *many, threads)
				}
			}
		}
	}
}

// What is told gets better each time: laps cheaper, bounds greater.
func TestProgressGoesOneWay(t *testing.T) {
	var told []label.Progress
	r, err := label.Solve(context.Background(), hall(60, 5), &label.Limits{Uses: 1, Apart: 4, Different: 7}, label.Options{},
		func(p label.Progress) { told = append(told, p) })
	if err != nil || !r.Found || len(told) < 2 {
		t.Fatal(*r, err, told)
	}
	for i, p := range told[1:] {
		if p.Bound < told[i].Bound || told[i].Found && (!p.Found || p.Cost > told[i].Cost) {
			t.Errorf("%+v after %+v", p, told[i])
		}
	}
}

func TestLimitsOutOfRangeAreRefused(t *testing.T) {
	n := hall(12, 1)
	for _, l := range []label.Limits{
		{MinBars: -1}, {MaxBars: 1 << 30}, {Phrase: -8}, {Uses: -1}, {Apart: -3}, {Different: -2}, {RightTurns: -1},
		{Must: []int32{86}}, {Must: []int32{-1}}, {Orders: []label.Order{{First: 0, Then: 100}}},
		{Caps: []label.Cap{{Class: 64}}}, {Caps: []label.Cap{{Most: -1}}},
		{Fixed: []label.Fixed{{Figure: 1, Bar: 0}}}, {Fixed: []label.Fixed{{Figure: 99, Bar: 1}}},
	} {
		if _, err := label.Solve(context.Background(), n, &l, label.Options{}, nil); err == nil {
			t.Errorf("%+v is not refused", l)
		}
	}
	r := solve(t, n, &label.Limits{Different: 87}, label.Options{})
	if !r.Exhausted {
		t.Error("87 different figures of 86:", *r)
	}
	r = solve(t, n, &label.Limits{Fixed: []label.Fixed{{Figure: 1, Bar: 2, Wall: -1}, {Figure: 2, Bar: 2, Wall: -1}}}, label.Options{})
	if !r.Exhausted {
		t.Error("two figures at the same bar:", *r)
	}
}
