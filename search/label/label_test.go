package label_test

import (
	"context"
	"testing"

	"pgregory.net/rapid"

	"lapwright/search/label"
	"lapwright/search/network"
)

// drawNetwork is a small network with several sources, circles and arcs side by
// side.
func drawNetwork(t *rapid.T, scale int32) *network.Network {
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
		a.Cost *= scale
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
	return r
}

// agree compares the search with brute force over all laps of up to a cost.
func agree(t *rapid.T, n *network.Network, l *label.Limits) {
	const most = 45
	best, all := brute(n, l, most)
	r := solve(t, n, l, label.Options{})
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
				n, l := drawNetwork(t, 1), new(label.Limits)
				kinds[name](t, n, l)
				agree(t, n, l)
			})
		})
	}
}

func TestLimitsTogetherAgainstBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := drawNetwork(t, 1)
		agree(t, n, drawLimits(t, n))
	})
}

// With few labels the proof stays open, and what is said must be true all the same.
func TestFewLabelsSayNothingFalse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := drawNetwork(t, 1)
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
