package growth_test

import (
	"fmt"
	"math"
	"math/big"
	"testing"

	"gonum.org/v1/gonum/graph/simple"
	"gonum.org/v1/gonum/graph/topo"
	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"lapwright/figures"
	"lapwright/graph"
	"lapwright/graph/growth"
)

// loop is a figure of so many bars that ends as it begins.
func loop(name string, bars int) *figures.Variant {
	v := &figures.Variant{Figure: &figures.Figure{Name: name, Beats: 3}, Entries: []figures.Stance{{Free: figures.LeftFoot}}}
	for range bars {
		v.Steps = append(v.Steps, figures.Step{Beats: 3})
	}
	return v
}

func all(*figures.Variant) bool { return true }

// Known rates. One bar and two bars at will give the Fibonacci numbers, which grow by
// the golden ratio (Knuth, The Art of Computer Programming, volume 1, 1.2.8).
func TestKnownRates(t *testing.T) {
	for _, c := range []struct {
		name     string
		variants []*figures.Variant
		radius   float64
	}{
		{"one way", []*figures.Variant{loop("A", 1)}, 1},
		{"one way of two bars", []*figures.Variant{loop("A", 2)}, 1},
		{"two ways", []*figures.Variant{loop("A", 1), loop("B", 1)}, 2},
		{"one bar or two", []*figures.Variant{loop("A", 1), loop("B", 2)}, math.Phi},
		{"two ways of two bars", []*figures.Variant{loop("A", 2), loop("B", 2)}, math.Sqrt2},
		// x³ = x² + 1: Narayana's cows (OEIS A000930, from memory).
		{"one bar or three", []*figures.Variant{loop("A", 1), loop("B", 3)}, 1.465571231876768},
	} {
		r := growth.New(c.variants).Rate(all)
		if !r.Endless || math.Abs(r.Least-c.radius) > 1e-9 || math.Abs(r.Most-c.radius) > 1e-9 || math.Abs(r.Bits()-math.Log2(c.radius)) > 1e-9 {
			t.Errorf("%s: %+v, want %g", c.name, r, c.radius)
		}
	}
	natural, _ := figures.BuiltIn().Variant("Natural Turn")
	if r := growth.New([]*figures.Variant{natural}).Rate(all); r.Endless || !math.IsInf(r.Bits(), -1) {
		t.Errorf("a natural turn by itself is danced again and again along one wall: %+v", r)
	}
}

// some are figures of the library, drawn.
func some(t *rapid.T, least, most int) (list []*figures.Variant) {
	every := figures.BuiltIn().Variants()
	for _, i := range rapid.SliceOfNDistinct(rapid.IntRange(0, len(every)-1), least, most, rapid.ID).Draw(t, "figures") {
		list = append(list, every[i])
	}
	return list
}

// dense is the spectral radius by the eigenvalues of the matrix in which each figure is a
// vertex for each of its bars (gonum's mat.Eigen is the reference), and whether there is a
// way round. Each strongly connected part is taken by itself: there the greatest
// eigenvalue is a simple one, and comes out exactly.
func dense(t *rapid.T, variants []*figures.Variant) (radius float64, round bool) {
	type vertex struct {
		edge graph.Edge
		bar  int
	}
	index := map[vertex]int64{}
	net := simple.NewDirectedGraph()
	g := graph.New(variants)
	for _, e := range g.Edges() {
		for bar := range e.Variant.Bars() {
			index[vertex{e, bar}] = int64(len(index))
			net.AddNode(simple.Node(index[vertex{e, bar}]))
		}
	}
	arcs := map[[2]int64]bool{}
	add := func(from, to int64) {
		arcs[[2]int64{from, to}] = true
		if from != to {
			net.SetEdge(simple.Edge{F: simple.Node(from), T: simple.Node(to)})
		}
	}
	for v, i := range index {
		if v.bar+1 < v.edge.Variant.Bars() {
			add(i, index[vertex{v.edge, v.bar + 1}])
			continue
		}
		for _, n := range g.From(v.edge.To) {
			_, refused := graph.CannotJoin(v.edge.Variant, n.Variant, figures.DefaultCouple())
			if !n.Variant.Corner && !v.edge.Variant.Corner && !refused {
				add(i, index[vertex{n, 0}])
			}
		}
	}
	for _, part := range topo.TarjanSCC(net) {
		m := mat.NewDense(len(part), len(part), nil)
		for i, from := range part {
			for k, to := range part {
				if arcs[[2]int64{from.ID(), to.ID()}] {
					m.Set(i, k, 1)
					round = true
				}
			}
		}
		var e mat.Eigen
		if !e.Factorize(m, mat.EigenNone) {
			t.Fatal("the eigenvalues do not converge")
		}
		for _, v := range e.Values(nil) {
			radius = max(radius, real(v))
		}
	}
	return radius, round
}

func TestRateAgainstEigenvalues(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		variants := some(t, 1, 25)
		r := growth.New(variants).Rate(all)
		want, round := dense(t, variants)
		switch {
		case r.Endless != round:
			t.Fatalf("a routine goes on for ever: %v, want %v", r.Endless, round)
		case round && (r.Least > want+1e-6 || r.Most < want-1e-6 || r.Most-r.Least > 1e-9*want):
			t.Fatalf("%+v, want %g", r, want)
		}
	})
}

// danced counts routines by dancing each of them.
func danced(g *graph.Graph, from figures.Stance, before *figures.Variant, bars int) int64 {
	if bars <= 0 {
		return int64(bars + 1)
	}
	var n int64
	for _, e := range g.From(from) {
		if e.Variant.Corner || e.Variant.Bars() > bars {
			continue
		}
		if before != nil {
			if _, refused := graph.CannotJoin(before, e.Variant, figures.DefaultCouple()); refused {
				continue
			}
		}
		n += danced(g, e.To, e.Variant, bars-e.Variant.Bars())
	}
	return n
}

func TestCountAgainstDancingAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		variants := some(t, 2, 12)
		left := variants[len(variants)/2]
		has := func(v *figures.Variant) bool { return v != left }
		m := growth.New(variants)
		kept := []*figures.Variant{}
		for _, v := range variants {
			if has(v) {
				kept = append(kept, v)
			}
		}
		g := graph.New(kept)
		for _, s := range g.Stances() {
			for bars := -1; bars < 5; bars++ {
				if got, want := m.Count(has, s, bars), danced(g, s, nil, bars); got.Cmp(big.NewInt(want)) != 0 {
					t.Fatalf("%d bars from %s: %s, want %d", bars, s, got, want)
				}
			}
		}
	})
}

// The exact counts grow at the rate: over many bars their ratio comes near to the radius.
// The whole library is one part from whose stances everything can be reached.
func TestCountsGrowAtTheRate(t *testing.T) {
	for _, level := range []figures.Level{figures.Bronze, figures.Social} {
		m := growth.New(figures.BuiltIn().Variants())
		has := func(v *figures.Variant) bool { return v.Figure.At(figures.AnyStyle, level) }
		r := m.Rate(has)
		s, _ := figures.ParseStance("DW, RF, closed")
		const far = 240
		many, more := new(big.Float).SetInt(m.Count(has, s, far)), new(big.Float).SetInt(m.Count(has, s, far+20))
		ratio, _ := more.Quo(more, many).Float64()
		if got := math.Pow(ratio, 1.0/20); math.Abs(got-r.Least) > 1e-6 {
			t.Errorf("%s: the counts grow by %.9f a bar, want %.9f", level, got, r.Least)
		}
	}
}

// More figures never make fewer routines (Perron and Frobenius; Horn and Johnson, Matrix
// Analysis, 8.1).
func TestRateNeverFalls(t *testing.T) {
	m := growth.New(figures.BuiltIn().Variants())
	rapid.Check(t, func(t *rapid.T) {
		list := some(t, 2, 60)
		few, more := map[*figures.Variant]bool{}, map[*figures.Variant]bool{}
		for i, v := range list {
			few[v], more[v] = i%3 > 0, true
		}
		a, b := m.Rate(func(v *figures.Variant) bool { return few[v] }), m.Rate(func(v *figures.Variant) bool { return more[v] })
		if a.Endless && !b.Endless || a.Least > b.Most+1e-9 {
			t.Fatalf("%+v with fewer figures, %+v with more", a, b)
		}
	})
}

func ExampleModel_Rate() {
	m := growth.New(figures.BuiltIn().Variants())
	for _, level := range figures.Levels {
		rate := m.Rate(func(v *figures.Variant) bool { return v.Figure.At(figures.International, level) })
		fmt.Printf("%s: %.2f doublings a bar\n", level, rate.Bits())
	}
	// Output:
	// social: 3.24 doublings a bar
	// bronze: 1.81 doublings a bar
	// silver: 2.29 doublings a bar
	// gold: 2.87 doublings a bar
}

func BenchmarkRate(b *testing.B) {
	variants := figures.BuiltIn().Variants()
	for b.Loop() {
		m := growth.New(variants)
		for range 100 {
			m.Rate(all)
		}
	}
}
