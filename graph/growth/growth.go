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
	"math"
	"math/big"

	"gonum.org/v1/gonum/graph/simple"
	"gonum.org/v1/gonum/graph/topo"
	"gonum.org/v1/gonum/mat"

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

// class is what can follow: figures that end in one stance, and after which the feet
// refuse the same, are one.
type class struct {
	stance  figures.Stance
	refused string
}

// New makes the model of some figures. Those that are danced at a corner only are left
// out, as are joins that the feet refuse ([graph.CannotJoin], at the usual stride).
func New(variants []*figures.Variant) *Model {
	g := graph.New(variants)
	couple := figures.DefaultCouple()
	m := &Model{begins: map[figures.Stance][]arc{}}
	number := map[class]int{}
	var follows [][]graph.Edge // by class
	classOf := map[graph.Edge]int{}
	var edges []graph.Edge
	for _, e := range g.Edges() {
		if e.Variant.Corner {
			continue
		}
		edges = append(edges, e)
		c := class{stance: e.To}
		var next []graph.Edge
		for _, n := range g.From(e.To) {
			_, refused := graph.CannotJoin(e.Variant, n.Variant, couple)
			switch {
			case n.Variant.Corner:
			case refused:
				c.refused += n.Variant.Name() + "\n"
			default:
				next = append(next, n)
			}
		}
		if _, known := number[c]; !known {
			number[c] = len(follows)
			follows = append(follows, next)
		}
		classOf[e] = number[c]
	}
	arcsOf := func(list []graph.Edge) (all []arc) {
		for _, e := range list {
			all = append(all, arc{e.Variant, classOf[e], e.Variant.Bars()})
		}
		return all
	}
	for _, list := range follows {
		m.arcs = append(m.arcs, arcsOf(list))
	}
	for _, e := range edges {
		m.begins[e.From] = append(m.begins[e.From], arc{e.Variant, classOf[e], e.Variant.Bars()})
	}
	return m
}

// Rate is a growth rate with its proof.
type Rate struct {
	// Endless tells that some routine can go on for ever. Without it there is no rate.
	Endless bool
	// Least and Most are bounds on the spectral radius, which is the factor by which each bar
	// multiplies the number of routines.
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
		for to := range row {
			if to != i {
				g.SetEdge(simple.Edge{F: simple.Node(i), T: simple.Node(to)})
			}
		}
	}
	var best Rate
	for _, part := range topo.TarjanSCC(g) {
		nodes := make([]int, len(part))
		for i, n := range part {
			nodes[i] = int(n.ID())
		}
		r, any := radius(w, nodes)
		if !any {
			continue
		}
		best.Endless = true
		best.Least, best.Most = max(best.Least, r.Least), max(best.Most, r.Most)
	}
	return best
}

// matrix lists, by vertex, how many figures lead to which vertex within a bar. A class
// is a vertex; another one stands for each further bar of a figure that leads to it.
func (m *Model) matrix(has func(*figures.Variant) bool) []map[int]float64 {
	w := make([]map[int]float64, len(m.arcs))
	for i := range w {
		w[i] = map[int]float64{}
	}
	type late struct{ to, bars int }
	number := map[late]int{}
	var vertex func(to, bars int) int
	vertex = func(to, bars int) int {
		if bars == 0 {
			return to
		}
		l := late{to, bars}
		if i, known := number[l]; known {
			return i
		}
		next := vertex(to, bars-1)
		i := len(w)
		number[l] = i
		w = append(w, map[int]float64{next: 1})
		return i
	}
	for i, list := range m.arcs {
		for _, a := range list {
			if has(a.variant) {
				to := vertex(a.to, a.bars-1)
				w[i][to]++
			}
		}
	}
	return w
}

// How close the bounds of a radius come, and after how many rounds all is computed at
// once.
const (
	closeEnough = 1e-12
	mostRounds  = 3000
)

// radius is the spectral radius of a strongly connected part; none tells that nothing
// leads from it back to it.
func radius(w []map[int]float64, nodes []int) (r Rate, any bool) {
	index := map[int]int{}
	for i, n := range nodes {
		index[n] = i
	}
	b := mat.NewDense(len(nodes), len(nodes), nil)
	for i, n := range nodes {
		for to, count := range w[n] {
			if k, ok := index[to]; ok {
				b.Set(i, k, count)
				any = true
			}
		}
	}
	if !any {
		return Rate{}, false
	}
	// With one added on the diagonal it is primitive, so that the rounds converge.
	for i := range nodes {
		b.Set(i, i, b.At(i, i)+1)
	}
	x, y := mat.NewVecDense(len(nodes), nil), mat.NewVecDense(len(nodes), nil)
	for i := range nodes {
		x.SetVec(i, 1)
	}
	for range mostRounds {
		y.MulVec(b, x)
		r = Rate{Endless: true, Least: math.Inf(1)}
		for i := range nodes {
			q := y.AtVec(i) / x.AtVec(i)
			r.Least, r.Most = min(r.Least, q-1), max(r.Most, q-1)
		}
		if r.Most-r.Least <= closeEnough*r.Most {
			return r, true
		}
		y.ScaleVec(1/mat.Norm(y, math.Inf(1)), y)
		x, y = y, x
	}
	var eigen mat.Eigen
	if eigen.Factorize(b, mat.EigenNone) {
		most := 0.0
		for _, v := range eigen.Values(nil) {
			most = max(most, real(v)-1)
		}
		r.Least, r.Most = max(r.Least, most*(1-1e-9)), min(r.Most, most*(1+1e-9))
	}
	return r, true
}

// Count is the number of routines of exactly so many bars of the figures that are had,
// from a stance, along one endless wall. There is one of no bars. The time grows with
// the bars.
func (m *Model) Count(has func(*figures.Variant) bool, from figures.Stance, bars int) *big.Int {
	if bars <= 0 {
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
