package postman_test

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
	"pgregory.net/rapid"

	"lapwright/search/postman"
)

// byHand is the least cost of a walk that uses every needed arc, by looking at all walks
// in the order of their cost.
func byHand(vertices, start int, arcs []postman.Arc) (int, bool) {
	type at struct{ vertex, used int }
	all := 0
	for i, a := range arcs {
		if a.Needed {
			all |= 1 << i
		}
	}
	open := map[int][]at{0: {{start, 0}}}
	seen := map[at]bool{}
	for cost, most := 0, 0; cost <= most; cost++ {
		for k := 0; k < len(open[cost]); k++ {
			here := open[cost][k]
			if here.used == all {
				return cost, true
			}
			if seen[here] {
				continue
			}
			seen[here] = true
			for i, a := range arcs {
				if a.From == here.vertex {
					next := at{a.To, here.used | 1<<i&all}
					open[cost+a.Cost] = append(open[cost+a.Cost], next)
					most = max(most, cost+a.Cost)
				}
			}
		}
	}
	return 0, false
}

// Where all arcs are needed and each vertex can be come to from each, the bound is the
// length of the shortest walk: the postman's theorem (Edmonds and Johnson 1973). Where
// some are not, it is never more.
func TestBound(t *testing.T) {
	found := map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		vertices := rapid.IntRange(1, 4).Draw(t, "vertices")
		whole := rapid.Bool().Draw(t, "all needed")
		var arcs []postman.Arc
		if whole {
			for v := range vertices {
				arcs = append(arcs, postman.Arc{From: v, To: (v + 1) % vertices, Cost: rapid.IntRange(1, 3).Draw(t, "cost"), Needed: true})
			}
		}
		for range rapid.IntRange(1, 5).Draw(t, "arcs") {
			arcs = append(arcs, postman.Arc{From: rapid.IntRange(0, vertices-1).Draw(t, "from"), To: rapid.IntRange(0, vertices-1).Draw(t, "to"),
				Cost: rapid.IntRange(1, 3).Draw(t, "cost"), Needed: whole || rapid.Bool().Draw(t, "needed")})
		}
		bound, ok := postman.Bound(vertices, 0, arcs)
		want, can := byHand(vertices, 0, arcs)
		switch {
		case can && !ok:
			t.Fatalf("no walk, want one of %d", want)
		case can && bound > want || can && whole && bound != want:
			t.Fatalf("bound %d, the shortest walk costs %d", bound, want)
		case can && bound == want:
			found["tight"]++
		case can:
			found["loose"]++
		default:
			found["none"]++
		}
	})
	if found["tight"] == 0 || found["none"] == 0 {
		t.Errorf("drawn: %v", found)
	}
}

func ExampleBound() {
	// A round of three, with a short cut.
	fmt.Println(postman.Bound(3, 0, []postman.Arc{
		{From: 0, To: 1, Cost: 1, Needed: true},
		{From: 1, To: 2, Cost: 1, Needed: true},
		{From: 2, To: 0, Cost: 1, Needed: true},
		{From: 0, To: 2, Cost: 1, Needed: true},
	}))
	// Output: 4 true
}

// The bound is the optimum of the linear program: a flow of one from the start to any end
// that uses each needed arc once at least. Its matrix is that of a network, so that the
// optimum is a whole number (Hoffman and Kruskal 1956). The reference is the simplex
// method of gonum's optimize/convex/lp.
func TestBoundAgainstLinearProgram(t *testing.T) {
	solved := 0
	rapid.Check(t, func(t *rapid.T) {
		vertices := rapid.IntRange(2, 9).Draw(t, "vertices")
		var arcs []postman.Arc
		for v := range vertices {
			arcs = append(arcs, postman.Arc{From: v, To: (v + 1) % vertices, Cost: rapid.IntRange(1, 4).Draw(t, "cost"), Needed: rapid.Bool().Draw(t, "needed")})
		}
		for range rapid.IntRange(1, 20).Draw(t, "arcs") {
			a := postman.Arc{From: rapid.IntRange(0, vertices-1).Draw(t, "from"), To: rapid.IntRange(0, vertices-1).Draw(t, "to"),
				Cost: rapid.IntRange(1, 4).Draw(t, "cost"), Needed: rapid.Bool().Draw(t, "needed")}
			if a.From != a.To { // an arc from a vertex to itself is a column of noughts
				arcs = append(arcs, a)
			}
		}
		arcs[0].Needed = true
		// Variables: how often each arc is used beyond what is needed, then where the walk
		// ends. One equation is what the others say together, and is left out.
		costs, sum := make([]float64, len(arcs)+vertices), 0
		rows, ends := mat.NewDense(vertices, len(arcs)+vertices, nil), make([]float64, vertices)
		ends[0] = 1
		for i, a := range arcs {
			costs[i] = float64(a.Cost)
			rows.Set(a.From, i, 1)
			rows.Set(a.To, i, -1)
			if a.Needed {
				sum += a.Cost
				ends[a.From]--
				ends[a.To]++
			}
		}
		for v := range vertices {
			rows.Set(v, len(arcs)+v, 1)
		}
		most, _, err := lp.Simplex(costs, rows, ends, 1e-9, nil)
		if err != nil {
			t.Fatal(err)
		}
		solved++
		if bound, ok := postman.Bound(vertices, 0, arcs); !ok || math.Abs(float64(bound-sum)-most) > 1e-6 {
			t.Fatalf("bound %d (%v), the linear program has %g", bound, ok, most+float64(sum))
		}
	})
	if solved == 0 {
		t.Error("nothing was solved")
	}
}
