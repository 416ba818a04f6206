package graph_test

import (
	"testing"

	"lapwright/figures"
	"lapwright/figures/geometry"
	"lapwright/graph"
)

// A couple that is still carried along has to be turned back by a figure that
// begins the other way; feet that have closed take most of that off, and feet that
// crossed or closed without weight all of it (common practice, no source).
func TestAwkward(t *testing.T) {
	// moving is a figure of one step, in a direction as seen from the couple.
	moving := func(toward geometry.Turn, strides float64) *figures.Variant {
		return &figures.Variant{
			Entries: []figures.Stance{stance(t, "DW, RF")},
			Steps:   []figures.Step{{Toward: figures.DiagonalToWall.Turn() + toward, Strides: strides}},
		}
	}
	forward, back, side := geometry.NoTurn, geometry.Full/2, geometry.Full/4
	turning := moving(forward, 1)
	turning.Steps[0].Turn = geometry.Full / 2 // it is then carried backward
	closed := moving(forward, 1)              // and then the feet close
	closed.Steps = append(closed.Steps, figures.Step{})
	resting := moving(forward, 1) // and then they close without weight
	resting.Steps = append(resting.Steps, figures.Step{})
	resting.Steps[1].Actions[figures.Leader].Weightless = true
	crossed := moving(forward, 1)
	crossed.Steps[0].Actions[figures.Leader].Crosses = figures.CrossesBehind
	for _, c := range []struct {
		name    string
		v, next *figures.Variant
		want    bool
	}{
		{"on forward", moving(forward, 1), moving(forward, 1), false},
		{"forward, then back", moving(forward, 1), moving(back, 1), true},
		{"back, then forward", moving(back, 1), moving(forward, 1), true},
		{"a right angle to the left", moving(forward, 1), moving(side, 1), false},
		{"a right angle to the right", moving(forward, 1), moving(-side, 1), false},
		{"just more than a right angle", moving(forward, 1), moving(side+1, 1), true},
		{"from a close", moving(forward, 0), moving(back, 1), false},
		{"closed, then straight back", closed, moving(back, 1), true},
		{"closed, then somewhat back", closed, moving(side+1, 1), false},
		{"closed without weight, then back", resting, moving(back, 1), false},
		{"crossed, then back", crossed, moving(back, 1), false},
		{"turned half round, then back", turning, moving(back, 1), false},
		{"turned half round, then forward", turning, moving(forward, 1), true},
		{"no figure before", nil, moving(back, 1), false},
		{"no figure after", moving(forward, 1), nil, false},
		{"no steps", &figures.Variant{}, moving(back, 1), false},
		{"no entries", moving(forward, 1), &figures.Variant{Steps: turning.Steps}, false},
	} {
		if got := graph.Awkward(nil, c.v, c.next) == graph.TurnedBack; got != c.want {
			t.Errorf("%s: got %v, want %v", c.name, got, c.want)
		}
	}
	if graph.Awkward(nil, variant(t, "Reverse Turn"), variant(t, "Natural Turn")) != graph.Easy {
		t.Error("a reverse turn closes the feet, so nothing is awkward after it")
	}
}

// A join that a list of the trade has is easy, one that no list has is awkward,
// and the couple's way decides where no list says anything: whatever that way is.
// Sources: Wikipedia, Change step; BallroomDancers.com, turning lock (outside
// spin); what is in no list, from memory.
func TestAwkwardByTheLists(t *testing.T) {
	l := figures.BuiltIn()
	for _, c := range []struct {
		first, next string
		want        graph.Awkwardness
		words       string
	}{
		{"Natural Turn", "Right Foot Closed Change", graph.Easy, ""},
		{"Natural Turn", "Natural Turn", graph.Easy, ""}, // round a corner
		{"Natural Turn (whole turn)", "Natural Turn (whole turn)", graph.Easy, ""},
		{"Left Box (half box)", "Right Foot Closed Change", graph.Easy, ""},
		{"Outside Spin", "Natural Turn", graph.Easy, ""}, // though the couple is carried back
		{"Closed Impetus", "Natural Turn", graph.Unlisted, "no list of the trade has it"},
		{"Reverse Turn", "Outside Change", graph.Unlisted, "no list of the trade has it"},
	} {
		got := graph.Awkward(l.Follows(), variant(t, c.first), variant(t, c.next))
		if got != c.want || got.String() != c.words {
			t.Errorf("%s then %s: got %d, %q; want %d, %q", c.first, c.next, got, got, c.want, c.words)
		}
	}
	own := *variant(t, "Natural Turn") // a variant that no library has
	if got := graph.Awkward(l.Follows(), variant(t, "Closed Impetus"), &own); got != graph.TurnedBack || got.String() == "" {
		t.Errorf("of a strange figure the couple's way decides: got %d", got)
	}
}
