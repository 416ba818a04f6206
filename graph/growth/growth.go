// Package growth says how fast the number of distinct routines grows with each bar:
// how much there is to choose from for who knows some figures.
//
// What lives here: the growth rate and exact counts along one endless wall. What does
// not: rooms (package search), and which figure to teach (search/teach).
//
// A first use:
//
//	m := growth.New(figures.BuiltIn().Variants())
//	rate := m.Rate(func(v *figures.Variant) bool { return v.Figure.At(figures.International, figures.Bronze) })
//	fmt.Printf("%.2f bits a bar\n", rate.Bits())
//
// # The rate
//
// The number of routines of n bars grows like λⁿ, where λ is the spectral radius of the
// matrix that says what may follow what bar by bar; a figure of two bars passes through
// a vertex of its own. The rate is the binary logarithm of λ: at a rate of 1 each bar
// doubles the number of routines, at 0 there is one way, or a few, that go on and on
// (Lind and Marcus, An Introduction to Symbolic Dynamics and Coding, 4.1; the topological
// entropy of a graph). It is computed for each strongly connected part by power
// iteration, and the bounds of Collatz and Wielandt (Horn and Johnson, Matrix Analysis,
// 8.1) prove it.
package growth

import (
	"fmt"
	"math"
	"math/big"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/graph/simple"
	"gonum.org/v1/gonum/graph/topo"

	"lapwright/figures"
	"lapwright/graph"
)

// Model is what may follow what among some figures, along one endless wall. It does not change
// and may be used by several goroutines at once.
type Model struct {
	arcs [][]arc // by class
	// begins lists, by stance, what can be danced from it first.
	begins map[figures.Stance][]arc
}

// arc is a figure danced from a class: to is the class in which it leaves the couple.
type arc struct {
	variant *figures.Variant
	to      int
	bars    int
}

// New makes the model of some figures. Those that are danced at a corner only are left
// out, as are joins that the feet refuse ([graph.CannotJoin], at the usual stride).
//
// A class is what can follow: figures after which the same can be danced are one, which
// are usually those that end in one stance.
func New(variants []*figures.Variant) *Model {
	wall := graph.New(variants).AlongWall(figures.DefaultCouple())
	m := &Model{begins: map[figures.Stance][]arc{}}
	number := map[string]int{}
	classOf := make([]int, len(wall.Edges))
	var follows [][]int // by class
	for i, next := range wall.Next {
		key := fmt.Sprint(next)
		c, known := number[key]
		if !known {
			c = len(follows)
			number[key] = c
			follows = append(follows, next)
		}
		classOf[i] = c
	}
	arcsOf := func(list []int) (all []arc) {
		for _, i := range list {
			v := wall.Edges[i].Variant
			all = append(all, arc{v, classOf[i], v.Bars()})
		}
		return all
	}
	for _, list := range follows {
		m.arcs = append(m.arcs, arcsOf(list))
	}
	for s, list := range wall.Begins {
		m.begins[s] = arcsOf(list)
	}
	return m
}

// Rate is a growth rate with its proof.
type Rate struct {
	// Endless tells that some routine can go on for ever. Without it there is no rate.
	Endless bool
	// Least and Most are bounds on the spectral radius, which is the factor by which each bar
	// multiplies the number of routines. They lie 1e-10 of it apart, or closer, but where
	// two things that hardly ever follow each other are so slow to mix that the rounds run
	// out; they hold nevertheless.
	Least, Most float64
}

// Bits is the rate in doublings a bar; minus infinity where no routine can go on for
// ever.
func (r Rate) Bits() float64 {
	if !r.Endless {
		return math.Inf(-1)
	}
	return math.Log2((r.Least + r.Most) / 2)
}

// Rate is how fast routines of the figures that are had grow in number.
func (m *Model) Rate(has func(*figures.Variant) bool) Rate {
	w := m.matrix(has)
	g := simple.NewDirectedGraph()
	for i := range w {
		g.AddNode(simple.Node(i))
	}
	for i, row := range w {
		for _, e := range row {
			if e.to != i {
				g.SetEdge(simple.Edge{F: simple.Node(i), T: simple.Node(e.to)})
			}
		}
	}
	var best Rate
	for _, part := range topo.TarjanSCC(g) {
		nodes := make([]int, len(part))
		for i, n := range part {
			nodes[i] = int(n.ID())
		}
		slices.Sort(nodes) // so that sums come out alike, to the last digit
		if within := inside(w, nodes); len(within[0]) > 0 {
			r := radius(within)
			best.Endless = true
			best.Least, best.Most = max(best.Least, r.Least), max(best.Most, r.Most)
		}
	}
	return best
}

// entry is one place of a row of a matrix that is mostly empty.
type entry struct {
	to    int
	count float64
}

// matrix lists, by vertex, how many figures lead to which vertex within a bar. A class
// is a vertex; another one stands for each further bar of a figure that leads to it.
func (m *Model) matrix(has func(*figures.Variant) bool) [][]entry {
	w := make([][]entry, len(m.arcs))
	late := map[[2]int]int{} // by class and by the bars until it is reached
	var vertex func(to, bars int) int
	vertex = func(to, bars int) int {
		if bars <= 0 {
			return to
		}
		if i, known := late[[2]int{to, bars}]; known {
			return i
		}
		next := vertex(to, bars-1)
		i := len(w)
		late[[2]int{to, bars}] = i
		w = append(w, []entry{{next, 1}})
		return i
	}
	for i, list := range m.arcs {
		at := map[int]int{}
		for _, a := range list {
			if !has(a.variant) {
				continue
			}
			to := vertex(a.to, a.bars-1)
			k, known := at[to]
			if !known {
				k = len(w[i])
				at[to] = k
				w[i] = append(w[i], entry{to, 0})
			}
			w[i][k].count++
		}
	}
	return w
}

// inside is the part of a matrix between some of its vertices, numbered anew. Where
// these are a strongly connected part, either each row has an entry, or there is one
// vertex from which nothing leads back.
func inside(w [][]entry, nodes []int) [][]entry {
	index := map[int]int{}
	for i, n := range nodes {
		index[n] = i
	}
	part := make([][]entry, len(nodes))
	for i, n := range nodes {
		for _, e := range w[n] {
			if k, ok := index[e.to]; ok {
				part[i] = append(part[i], entry{k, e.count})
			}
		}
	}
	return part
}

// How close the bounds of a radius come, and after how many rounds they are left as they
// are, further apart.
const (
	closeEnough = 1e-10
	mostRounds  = 100_000
)

// radius is the spectral radius of a strongly connected part that leads back to itself.
//
// After each round of x → Ax the least and the greatest quotient of a place of Ax and
// that of x are bounds (Collatz 1942, Wielandt 1950). With a multiple of the unit matrix
// added to A it is primitive, so that the rounds converge (Horn and Johnson, 8.5).
func radius(w [][]entry) Rate {
	r := Rate{Endless: true, Most: math.Inf(1)}
	shift := 0.5
	x, y := make([]float64, len(w)), make([]float64, len(w))
	for i := range x {
		x[i] = 1
	}
	for range mostRounds {
		least, most := math.Inf(1), 0.0
		for i, row := range w {
			sum := 0.0
			for _, e := range row {
				sum += float64(e.count * x[e.to]) // converted, so that no machine adds more exactly
			}
			q := sum / x[i]
			least, most = min(least, q), max(most, q)
			y[i] = sum + float64(shift*x[i])
		}
		r.Least, r.Most = max(r.Least, least), min(r.Most, most)
		if r.Most-r.Least <= closeEnough*r.Most {
			break
		}
		floats.Scale(1/floats.Max(y), y)
		x, y = y, x
	}
	return r
}

// Count is the number of routines of exactly so many bars of the figures that are had,
// from a stance, along one endless wall. There is one of no bars, and
// none of fewer. The time grows with the bars.
func (m *Model) Count(has func(*figures.Variant) bool, from figures.Stance, bars int) *big.Int {
	switch {
	case bars < 0:
		return new(big.Int)
	case bars == 0:
		return big.NewInt(1)
	}
	// ways[k][c] is the number of routines of k bars from class c.
	ways := make([][]*big.Int, bars)
	sum := func(list []arc, k int) *big.Int {
		all := new(big.Int)
		for _, a := range list {
			if a.bars <= k && has(a.variant) {
				all.Add(all, ways[k-a.bars][a.to])
			}
		}
		return all
	}
	for k := range ways {
		ways[k] = make([]*big.Int, len(m.arcs))
		for c := range m.arcs {
			ways[k][c] = big.NewInt(1)
			if k > 0 {
				ways[k][c] = sum(m.arcs[c], k)
			}
		}
	}
	return sum(m.begins[from.Turned(0)], bars)
}
