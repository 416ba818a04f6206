package graph_test

import (
	"testing"

	"lapwright/figures"
	"lapwright/graph"
)

// join is one figure's variant after another's.
type join struct{ first, second *figures.Variant }

// joins lists every join that a graph has, along a wall or round a corner.
func joins(g *graph.Graph, variants []*figures.Variant) (all []join) {
	for _, v := range variants {
		for _, next := range variants {
			if g.Follow(v, next) || g.FollowAtCorner(v, next) {
				all = append(all, join{v, next})
			}
		}
	}
	return all
}

// TestFollows looks up what the trade dances before and after each figure, along
// one wall or round a corner, in the graph: every join that is listed is one, or
// its row says which way of dancing is wanted for it. The source of each stands
// beside it in the library file; many are from memory, as it says.
func TestFollows(t *testing.T) {
	l := figures.BuiltIn()
	g := graph.New(l.Variants(), -2)
	listed, straight, corner, excused := 0, 0, 0, 0
	for _, p := range l.Follows().Pairs() {
		if p.Row.Source == "" {
			t.Errorf("line %d of %s has no source", p.Row.Line, p.Row.File)
		}
		here, there := false, false
		for _, v := range p.Firsts {
			for _, next := range p.Seconds {
				here = here || g.Follow(v, next)
				there = there || g.FollowAtCorner(v, next)
				if p.Row.Reason == "" && graph.Awkward(l.Follows(), v, next) != graph.Easy {
					t.Errorf("%s then %s is listed and awkward", v.Name(), next.Name())
				}
			}
		}
		listed++
		switch {
		case !here && !there && p.Row.Reason == "":
			t.Errorf("line %d: %s then %s (%s) is no join", p.Row.Line, p.First, p.Second, p.Row.Source)
		case (here || there) && p.Row.Reason != "":
			t.Errorf("line %d: %s then %s joins; take the reason away", p.Row.Line, p.First, p.Second)
		case p.Row.Reason != "":
			excused++
		case here:
			straight++
		default:
			corner++
		}
	}
	all, unlisted, turned := joins(g, l.Variants()), 0, 0
	for _, j := range all {
		switch graph.Awkward(l.Follows(), j.first, j.second) {
		case graph.Unlisted:
			unlisted++
		case graph.TurnedBack:
			turned++
		}
	}
	if turned > 0 {
		t.Errorf("%d joins of figures without rows are judged by the couple's way; every figure of the library is to have rows", turned)
	}
	t.Logf("%d joins listed: %d legal along a wall, %d only at a corner, %d excused with a reason; of the graph's %d joins %d are in no list",
		listed, straight, corner, excused, len(all), unlisted)
	if listed == 0 {
		t.Error("no joins are listed")
	}
}
