package label_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"lapwright/search/label"
	"lapwright/search/network"
)

// hall is a made-up network as a room of that length gives one: so many steps round
// the room, 25 places side by side, 20 stances, 86 figures that lead from one
// stance to another in three lengths.
func hall(round int, seed uint64) *network.Network {
	const wide, stances, figures = 25, 20, 86
	rnd := rand.New(rand.NewPCG(seed, 1))
	node := func(p, y, s int) int32 { return int32((p*wide+y)*stances + s) }
	end := node(round, 0, 0)
	b := network.Builder{Network: network.Network{Figures: figures, End: end, Walls: make([]int16, end+1)}}
	for i := range b.Walls {
		b.Walls[i] = int16(min(3, i*4/int(end)))
	}
	type move struct{ way, from, to, dx, dy, cost int }
	var moves []move
	for f := range figures {
		bars := []int{1, 1, 2, 2, 2, 3, 4}[rnd.IntN(7)]
		from, to, dx, dy := f%stances, rnd.IntN(stances), bars*(4+rnd.IntN(6)), rnd.IntN(7)-3
		classes := uint64(1) << rnd.IntN(4)
		right := rnd.IntN(3) == 0
		for stretch := -1; stretch <= 1; stretch++ {
			b.Ways = append(b.Ways, network.Way{Figure: int32(f), Bars: int32(bars), Classes: classes, Right: right})
			moves = append(moves, move{
				len(b.Ways) - 1, from, to, dx + stretch*bars, dy, bars*100 + 6*stretch*stretch*bars,
			})
		}
	}
	for y := range wide {
		for s := range stances {
			b.Sources = append(b.Sources, node(0, y, s))
		}
	}
	for p := range round {
		for y := range wide {
			for _, m := range moves {
				if y+m.dy < 0 || y+m.dy >= wide {
					continue
				}
				from := node(p, y, m.from)
				if p+m.dx < round {
					b.Add(from, network.Arc{To: node(p+m.dx, y+m.dy, m.to), Way: int32(m.way), Cost: int32(m.cost)})
				}
			}
			for s := range stances {
				if p >= round-3 {
					b.Add(node(p, y, s), network.Arc{To: end, Way: network.Closing, Cost: int32(round - p)})
				}
			}
		}
	}
	n, err := b.Build()
	if err != nil {
		panic(err)
	}
	return n
}

var variety = label.Limits{Uses: 3, Apart: 3, Different: 8}

func BenchmarkBackward(b *testing.B) {
	n := hall(200, 1)
	for b.Loop() {
		n.Backward(nil)
	}
}

func BenchmarkVariety(b *testing.B) {
	for _, round := range []int{200, 400} {
		for seed := range uint64(3) {
			n := hall(round, seed)
			b.Run(fmt.Sprintf("%d-steps-%d", round, seed), func(b *testing.B) { measure(b, n, &variety) })
		}
	}
}

// BenchmarkLimits is one room with one set of limits after another.
func BenchmarkLimits(b *testing.B) {
	n := hall(200, 0)
	for _, c := range []struct {
		name   string
		limits label.Limits
	}{
		{"once-each", label.Limits{Uses: 1}},
		{"much-variety", label.Limits{Uses: 2, Apart: 8, Different: 12}},
		{"phrase", label.Limits{Uses: 3, Apart: 3, Different: 8, Phrase: 8}},
		{"bars", label.Limits{Uses: 3, Apart: 3, Different: 8, MinBars: 26, MaxBars: 28}},
		{"caps", label.Limits{Uses: 3, Apart: 3, RightTurns: 2, Caps: []label.Cap{{Class: 0, Most: 2}, {Class: 1, Most: 3}}}},
		{"must", label.Limits{Uses: 3, Apart: 3, Different: 8, Must: []int32{3, 17, 44}}},
		{"far-apart", label.Limits{Apart: 12}},
		{"different", label.Limits{Different: 14}},
	} {
		b.Run(c.name, func(b *testing.B) { measure(b, n, &c.limits) })
	}
}

func measure(b *testing.B, n *network.Network, l *label.Limits) {
	var r *label.Result
	for b.Loop() {
		var err error
		if r, err = label.Solve(context.Background(), n, l, label.Options{}, nil); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(n.Size()), "arcs")
	b.ReportMetric(float64(r.Labels), "labels")
	b.ReportMetric(float64(r.Rounds), "rounds")
	b.ReportMetric(float64(n.Best()), "free")
	b.ReportMetric(float64(r.Bound), "bound")
	b.ReportMetric(float64(r.Cost), "cost")
}
