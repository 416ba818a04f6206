package postman_test

import (
	"fmt"
	"testing"

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
