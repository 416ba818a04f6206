package spread

import (
	"math/rand/v2"
	"testing"

	"lapwright/search/network"

	"pgregory.net/rapid"
)

// layered is a made-up network: so many layers of so many nodes, each with so many
// arcs to the layer after it or the one after that, on the floor of a hall of 18 by
// 11 m with four walls.
func layered(t testing.TB, layers, breadth, arcs int) *Problem {
	t.Helper()
	r := rand.New(rand.NewPCG(7, 7))
	const figures, ways = 40, 60
	b := network.Builder{Network: network.Network{Figures: figures}}
	for w := range int32(ways) {
		b.Ways = append(b.Ways, network.Way{Figure: w % figures, Bars: 1})
	}
	nodes := layers * breadth
	b.End = int32(nodes)
	p := &Problem{}
	for i := range nodes {
		// Once round the rectangle, so many metres from the wall.
		at := 50 * (float64(i/breadth) + r.Float64()) / float64(layers)
		in := 1 + r.Float64()
		var x, y float64
		wall := 0
		switch {
		case at < 16:
			x, y = 1+at, in
		case at < 25:
			x, y, wall = 18-in, at-15, 1
		case at < 41:
			x, y, wall = 42-at, 11-in, 2
		default:
			x, y, wall = in, 51-at, 3
		}
		p.Places = append(p.Places, Place{int32(100 * x), int32(100 * y)})
		b.Walls = append(b.Walls, int16(wall))
	}
	p.Places = append(p.Places, Place{})
	b.Walls = append(b.Walls, 0)
	for s := range 4 {
		b.Sources = append(b.Sources, int32(s))
	}
	for i := range nodes {
		layer := i / breadth
		if layer == layers-1 {
			b.Add(int32(i), network.Arc{To: b.End, Way: network.Closing, Cost: r.Int32N(30)})
			continue
		}
		for range arcs {
			next, cost := layer+1, 100+r.Int32N(40)
			if layer+2 < layers && r.IntN(4) == 0 {
				next, cost = layer+2, 2*cost
			}
			b.Add(int32(i), network.Arc{To: int32(next*breadth + r.IntN(breadth)), Way: r.Int32N(ways), Cost: cost})
		}
	}
	n, err := b.Build()
	if err != nil {
		t.Fatal(err)
	}
	p.Network = n
	p.Most = n.Best() * 11 / 10
	return p
}

// small draws a network with few laps, or none.
func small(t *rapid.T) *Problem {
	layers, breadth := rapid.IntRange(1, 4).Draw(t, "layers"), rapid.IntRange(1, 3).Draw(t, "breadth")
	b := network.Builder{Network: network.Network{Figures: 3, End: int32(layers * breadth)}}
	for w := range int32(4) {
		b.Ways = append(b.Ways, network.Way{Figure: w % 3, Bars: 1 + w%2})
	}
	p := &Problem{Seed: rapid.Uint64().Draw(t, "seed")}
	for i := range layers*breadth + 1 {
		p.Places = append(p.Places, Place{int32(rapid.IntRange(0, 800).Draw(t, "x")), int32(rapid.IntRange(0, 800).Draw(t, "y"))})
		b.Walls = append(b.Walls, int16(i/breadth%2))
	}
	for s := range int32(rapid.IntRange(1, breadth).Draw(t, "sources")) {
		b.Sources = append(b.Sources, s)
	}
	for i := range layers * breadth {
		layer := i / breadth
		if layer == layers-1 {
			b.Add(int32(i), network.Arc{To: b.End, Way: network.Closing, Cost: int32(rapid.IntRange(0, 20).Draw(t, "closing"))})
			continue
		}
		for range rapid.IntRange(0, 3).Draw(t, "arcs") {
			to := (layer+1)*breadth + rapid.IntRange(0, breadth-1).Draw(t, "to")
			b.Add(int32(i), network.Arc{To: int32(to), Way: int32(rapid.IntRange(0, 3).Draw(t, "way")), Cost: int32(rapid.IntRange(90, 130).Draw(t, "cost"))})
		}
		if rapid.IntRange(0, 5).Draw(t, "stays") == 0 && breadth > 1 {
			to := layer*breadth + (i+1)%breadth
			b.Add(int32(i), network.Arc{To: int32(to), Way: 0, Cost: 100})
		}
	}
	n, err := b.Build()
	if err != nil {
		t.Fatal(err)
	}
	p.Network = n
	p.Count = rapid.IntRange(1, 6).Draw(t, "count")
	p.Most = int32(rapid.IntRange(0, 700).Draw(t, "most"))
	return p
}
