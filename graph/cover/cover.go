// Package cover makes the shortest routine that has everything in it: every join of some
// figures, or every figure, at least once.
//
// What lives here: such routines along one endless wall, with a proof of how short they
// are. What does not: rooms (package search), drills that leave things out
// (search/drill).
//
// A first use:
//
//	c := cover.Joins(variants)
//	for _, e := range c.Routine { fmt.Println(e.Variant.Name()) }
package cover

import (
	"math/bits"

	"lapwright/figures"
	"lapwright/graph"
)

// Join is one figure right after another, each from where and how it begins: in another
// alignment it is another join.
type Join struct{ Before, After graph.Edge }

// Cover is a routine with what it covers.
type Cover struct {
	Routine []graph.Edge
	Bars    int
	// Bound is a number of bars below which no routine covers as much.
	Bound int
	// Proven tells that no shorter routine covers as much: Bars is Bound.
	Proven bool
	// Joins is how many joins are covered, of [Joins]; Left are those that are not, since
	// who has danced them cannot come to others, or the other way round.
	Joins int
	Left  []Join
	// LeftFigures are the figures that are not covered, of [Figures], for the same reason.
	LeftFigures []*figures.Figure
}

// net is what may follow what along an endless wall: a vertex is a figure from one of
// its beginnings, an arc is a join.
type net struct {
	edges  []graph.Edge
	next   [][]int
	part   []int   // by vertex: its strongly connected part, numbered so that arcs lead up
	parts  [][]int // vertices of each part
	follow [][]int // parts that are led to directly from each part
}

// newNet lists the figures of some ways of dancing with their joins. Those of a corner
// only are left out, as are joins that the feet refuse, at the usual stride.
func newNet(variants []*figures.Variant) *net {
	n := &net{}
	g := graph.New(variants)
	index := map[graph.Edge]int{}
	for _, e := range g.Edges() {
		if !e.Variant.Corner {
			index[e] = len(n.edges)
			n.edges = append(n.edges, e)
		}
	}
	couple := figures.DefaultCouple()
	for _, e := range n.edges {
		var next []int
		for _, o := range g.From(e.To) {
			if k, ok := index[o]; ok {
				if _, refused := graph.CannotJoin(e.Variant, o.Variant, couple); !refused {
					next = append(next, k)
				}
			}
		}
		n.next = append(n.next, next)
	}
	n.divide()
	return n
}

func (n *net) bars(vertex int) int { return n.edges[vertex].Variant.Bars() }

// divide finds the strongly connected parts (Tarjan 1972).
func (n *net) divide() {
	order, low, on := make([]int, len(n.edges)), make([]int, len(n.edges)), make([]bool, len(n.edges))
	var stack []int
	count := 0
	n.part = make([]int, len(n.edges))
	var visit func(v int)
	visit = func(v int) {
		count++
		order[v], low[v], on[v] = count, count, true
		stack = append(stack, v)
		for _, w := range n.next[v] {
			if order[w] == 0 {
				visit(w)
				low[v] = min(low[v], low[w])
			} else if on[w] {
				low[v] = min(low[v], order[w])
			}
		}
		if low[v] != order[v] {
			return
		}
		var part []int
		for {
			w := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			on[w] = false
			part = append(part, w)
			if w == v {
				break
			}
		}
		n.parts = append(n.parts, part)
	}
	for v := range n.edges {
		if order[v] == 0 {
			visit(v)
		}
	}
	// The parts were found from the end back.
	for i, j := 0, len(n.parts)-1; i < j; i, j = i+1, j-1 {
		n.parts[i], n.parts[j] = n.parts[j], n.parts[i]
	}
	n.follow = make([][]int, len(n.parts))
	for i, part := range n.parts {
		for _, v := range part {
			n.part[v] = i
		}
	}
	for i, part := range n.parts {
		seen := map[int]bool{i: true}
		for _, v := range part {
			for _, w := range n.next[v] {
				if k := n.part[w]; !seen[k] {
					seen[k] = true
					n.follow[i] = append(n.follow[i], k)
				}
			}
		}
	}
}

// set is a set of figures by their numbers.
type set [4]uint64

func (s set) with(i int) set {
	s[i/64] |= 1 << (i % 64)
	return s
}

func (s set) has(i int) bool { return s[i/64]&(1<<(i%64)) != 0 }

func (s set) or(o set) set {
	for i := range s {
		s[i] |= o[i]
	}
	return s
}

func (s set) len() (n int) {
	for _, w := range s {
		n += bits.OnesCount64(w)
	}
	return n
}
