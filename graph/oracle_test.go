package graph_test

import (
	"cmp"
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/graph/multi"
	"gonum.org/v1/gonum/graph/path"
	"gonum.org/v1/gonum/graph/topo"
	"gonum.org/v1/gonum/graph/traverse"
	"pgregory.net/rapid"

	gonum "gonum.org/v1/gonum/graph"

	"lapwright/figures"
	"lapwright/graph"
)

// How a couple came into a stance: by a figure, round a corner, or by a figure
// after which it must take the corner.
const (
	danced int64 = iota
	turned
	due
)

// at is a couple in a stance as gonum numbers its nodes. It knows nothing of how
// package graph names its vertices.
func at(s figures.Stance, came int64) int64 {
	return 3*((int64(s.Facing)*3+int64(s.Free))*int64(figures.Holds)+int64(s.Hold)) + came
}

// came is how a variant leaves the couple.
func came(v *figures.Variant) int64 {
	if v.Corner {
		return due
	}
	return danced
}

// oracle builds the graph for gonum from the figures alone. A figure weighs 1
// and a corner nothing.
func oracle(variants []*figures.Variant, corners []int) *multi.WeightedDirectedGraph {
	g := multi.NewWeightedDirectedGraph()
	g.EdgeWeightFunc = func(lines gonum.WeightedLines) float64 {
		least := math.Inf(1)
		for lines.Next() {
			least = min(least, lines.WeightedLine().Weight())
		}
		return least
	}
	add := func(from, to, weight int64) {
		g.SetWeightedLine(g.NewWeightedLine(multi.Node(from), multi.Node(to), float64(weight)))
	}
	begins := map[figures.Stance]bool{}
	var all []figures.Stance
	for _, v := range variants {
		for _, s := range v.Entries {
			begins[s] = true
			all = append(all, s, v.Exit(s))
			add(at(s, danced), at(v.Exit(s), came(v)), 1)
			add(at(s, turned), at(v.Exit(s), came(v)), 1)
		}
	}
	for _, s := range all {
		if g.Node(at(s, danced)) == nil { // only figures of a corner end there
			g.AddNode(multi.Node(at(s, danced)))
		}
		for _, n := range corners {
			if to := s.Turned(n); n%figures.Headings != 0 && begins[to] {
				add(at(s, danced), at(to, turned), 0)
				add(at(s, due), at(to, turned), 0)
			}
		}
	}
	return g
}

// Reachability is what gonum's breadth-first search finds.
func TestReachableAgainstOracle(t *testing.T) {
	forLibraries(t, func(t rapid.TB, variants []*figures.Variant, corners []int, g *graph.Graph) {
		net := oracle(variants, corners)
		for _, s := range g.Stances() {
			var walk traverse.BreadthFirst
			walk.Walk(net, multi.Node(at(s, danced)), nil)
			var want []string
			for _, to := range g.Stances() {
				if walk.Visited(multi.Node(at(to, danced))) || walk.Visited(multi.Node(at(to, turned))) || walk.Visited(multi.Node(at(to, due))) {
					want = append(want, to.Short())
				}
			}
			if got := shorts(g.Reachable(s)); !slices.Equal(got, want) {
				t.Errorf("from %s:\n got %v\nwant %v", s, got, want)
			}
		}
	})
}

// A path has as few figures as gonum's Dijkstra says, and can be danced.
func TestPathAgainstOracle(t *testing.T) {
	forLibraries(t, func(t rapid.TB, variants []*figures.Variant, corners []int, g *graph.Graph) {
		net := oracle(variants, corners)
		for _, from := range g.Stances() {
			shortest := path.DijkstraFrom(multi.Node(at(from, danced)), net)
			for _, to := range g.Stances() {
				want := min(shortest.WeightTo(at(to, danced)), shortest.WeightTo(at(to, turned)), shortest.WeightTo(at(to, due)))
				moves, ok := g.Path(from, to)
				if ok != !math.IsInf(want, 1) {
					t.Fatalf("from %s to %s: a path %v, want %v figures", from, to, ok, want)
				}
				if n := walkThrough(t, g, from, to, moves); ok && n != int(want) {
					t.Errorf("from %s to %s: %d figures, want %v", from, to, n, want)
				}
			}
		}
	})
}

// walkThrough counts the figures of a path and checks every move of it.
func walkThrough(t rapid.TB, g *graph.Graph, from, to figures.Stance, moves []graph.Move) int {
	n, last := 0, danced
	for i, m := range moves {
		if m.From != from {
			t.Errorf("move %d begins %s, the couple is %s", i, m.From, from)
		}
		if m.Variant != nil {
			n++
			if last == due {
				t.Errorf("move %d, %s from %s, is danced where the corner is due", i, m.Variant.Name(), m.From)
			}
			last = came(m.Variant)
			if !slices.Contains(g.Between(m.From, m.To), graph.Edge{Variant: m.Variant, From: m.From, To: m.To}) || m.Corner != 0 {
				t.Errorf("move %d, %s from %s, is no edge", i, m.Variant.Name(), m.From)
			}
		} else {
			if !slices.Contains(g.Corners(), graph.Corner{Eighths: m.Corner, From: m.From, To: m.To}) || last == turned {
				t.Errorf("move %d from %s is no corner, or the second of two", i, m.From)
			}
			last = turned
		}
		from = m.To
	}
	if len(moves) > 0 && from != to {
		t.Errorf("the path ends %s, not %s", from, to)
	}
	return n
}

// The components are those of gonum's Tarjan, and every stance can be reached
// from every other of its part.
func TestComponentsAgainstOracle(t *testing.T) {
	forLibraries(t, func(t rapid.TB, variants []*figures.Variant, corners []int, g *graph.Graph) {
		part := map[int64]int{}
		for i, nodes := range topo.TarjanSCC(oracle(variants, corners)) {
			for _, n := range nodes {
				if len(nodes) > 1 {
					part[n.ID()] = i + 1
				}
			}
		}
		of := func(s figures.Stance) int { // 0 is a part of its own
			return cmp.Or(part[at(s, danced)], part[at(s, turned)], part[at(s, due)])
		}
		var seen []figures.Stance
		components := g.Components()
		for i, c := range components {
			if i > 0 && len(c) > len(components[i-1]) {
				t.Errorf("part %d is larger than the one before", i)
			}
			seen = append(seen, c...)
			for _, s := range c {
				if of(s) != of(c[0]) || of(s) == 0 && len(c) > 1 {
					t.Errorf("%s is in one part with %s", s, c[0])
				}
				if reach := g.Reachable(s); slices.ContainsFunc(c, func(to figures.Stance) bool { return !slices.Contains(reach, to) }) {
					t.Errorf("%s does not reach all of its part", s)
				}
			}
			for _, other := range components[i+1:] {
				if of(other[0]) == of(c[0]) && of(c[0]) != 0 {
					t.Errorf("%s and %s are in two parts", c[0], other[0])
				}
			}
		}
		if len(seen) != len(g.Stances()) {
			t.Errorf("%d stances in parts, want %d", len(seen), len(g.Stances()))
		}
		for _, s := range g.Stances() {
			if !slices.Contains(seen, s) {
				t.Errorf("%s is in no part", s)
			}
		}
	})
}

// A dead end is where a couple that danced a figure cannot dance another, with
// or without a corner, however it came there.
func TestDeadEndsAgainstOracle(t *testing.T) {
	forLibraries(t, func(t rapid.TB, variants []*figures.Variant, corners []int, g *graph.Graph) {
		net := oracle(variants, corners)
		var want []string
		for _, s := range g.Stances() {
			ways, led := 0, false
			for _, came := range []int64{danced, due} {
				if net.To(at(s, came)).Len() > 0 {
					led = true
					ways += net.From(at(s, came)).Len()
				}
			}
			if led && ways == 0 {
				want = append(want, s.Short())
			}
		}
		if got := shorts(g.DeadEnds()); !slices.Equal(got, want) {
			t.Errorf("got %v, want %v", got, want)
		}
	})
}
