package graph_test

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"lapwright/figures"
	"lapwright/figures/geometry"
	"lapwright/graph"
)

func TestFollow(t *testing.T) {
	along, corner := false, true
	g := graph.New(figures.BuiltIn().Variants(), -2)
	for _, c := range []struct {
		v, next string
		corner  bool
		want    bool
		source  string
	}{
		{"Natural Turn", "Right Foot Closed Change", along, true, "Wikipedia, Change step"},
		{"Right Foot Closed Change", "Reverse Turn", along, true, "Wikipedia, Change step"},
		{"Reverse Turn", "Left Foot Closed Change", along, true, "Wikipedia, Change step"},
		{"Left Foot Closed Change", "Natural Turn", along, true, "Wikipedia, Change step"},
		{"Whisk", "Chassé from Promenade", along, true, "Wikipedia, Whisk"},
		{"Reverse Turn", "Whisk", along, true, "ballroomguide, bronze waltz routine"},
		{"Chassé from Promenade", "Natural Spin Turn", along, true, "ballroomguide, bronze waltz routine"},
		{"Hesitation Change", "Reverse Turn", along, true, "BallroomDancers forum on the hesitation change, 2012"},
		{"Natural Turn (1-3)", "Closed Impetus", along, true, "DanceCentral, closed impetus"},
		{"Closed Telemark", "Natural Turn", along, true, "Wikipedia, Telemark"},
		{"Closed Telemark", "Natural Spin Turn", along, true, "Wikipedia, Telemark"},
		{"Closed Telemark", "Hesitation Change", along, true, "Wikipedia, Telemark"},
		{"Open Telemark", "Chassé from Promenade", along, true, "Wikipedia, Telemark"},
		{"Natural Spin Turn", "Reverse Turn (4-6 from backing diagonal to centre)", along, true, "ballroomguide, bronze waltz routine"},
		{"Natural Spin Turn (at a corner)", "Reverse Turn (4-6 from backing diagonal to centre)", corner, true, "DanceCentral, bronze routine notes"},
		{"Natural Spin Turn (at a corner)", "Reverse Turn (4-6 from backing diagonal to centre)", along, false, "DanceCentral, bronze routine notes"},
		{"Closed Impetus", "Reverse Turn (4-6 from backing diagonal to centre)", corner, true, "ballroomdancething, closed impetus, 2010"},
		{"Natural Turn", "Natural Turn", along, false, "ballroomguide, beginner waltz routine"},
		{"Natural Turn", "Natural Turn", corner, true, "ballroomguide, beginner waltz routine"},
		{"Natural Turn (half turn at a corner)", "Right Foot Closed Change", corner, true, "BallroomDancers forum, Diagonal to centre?, 2017"},
		{"Natural Turn (half turn at a corner)", "Basic Weave", along, false, "common practice, no source: the corner comes first"},
		{"Hesitation Change (at a corner)", "Left Foot Closed Change", corner, true, "dancedescriptions.net, underturned hesitation change, and arithmetic"},
		{"Hesitation Change (at a corner)", "Left Box (without turn)", along, false, "common practice, no source: the corner comes first"},
		{"Natural Turn (whole turn)", "Natural Turn", along, true, "common practice, no source"},
		{"Reverse Turn", "Reverse Turn", along, false, "common practice, no source"},
		{"Promenade Natural Turn", "Continuous Natural Turn (back half)", along, true, "common practice, no source"},
		{"Promenade Natural Turn", "Heel Turn to Promenade", along, true, "common practice, no source"},
		{"Natural Turn", "Reverse Turn", along, false, "common practice, no source: the left foot is not free"},
		{"Whisk", "Natural Turn", along, false, "common practice, no source: a promenade is not closed by itself"},
	} {
		got := g.Follow(variant(t, c.v), variant(t, c.next))
		if c.corner {
			got = g.FollowAtCorner(variant(t, c.v), variant(t, c.next))
		}
		if got != c.want {
			t.Errorf("%s, then %s (corner %v): got %v, want %v (%s)", c.v, c.next, c.corner, got, c.want, c.source)
		}
	}
}

// Follow and FollowAtCorner say what the edges say.
func TestFollowAgreesWithTheEdges(t *testing.T) {
	forLibraries(t, func(t rapid.TB, variants []*figures.Variant, _ []int, g *graph.Graph) {
		type join struct{ v, next *figures.Variant }
		along, corner := map[join]bool{}, map[join]bool{}
		for _, a := range g.Edges() {
			for _, b := range g.From(a.To) {
				along[join{a.Variant, b.Variant}] = !a.Variant.Corner
			}
			for _, c := range g.Corners() {
				if c.From == a.To {
					for _, b := range g.From(c.To) {
						corner[join{a.Variant, b.Variant}] = true
					}
				}
			}
		}
		for _, v := range variants {
			for _, next := range variants {
				if got, want := g.Follow(v, next), along[join{v, next}]; got != want {
					t.Errorf("%s, then %s: %v, the edges say %v", v.Name(), next.Name(), got, want)
				}
				if got, want := g.FollowAtCorner(v, next), corner[join{v, next}]; got != want {
					t.Errorf("%s, then %s round a corner: %v, the edges say %v", v.Name(), next.Name(), got, want)
				}
			}
		}
	})
}

// Facing diagonal to wall in closed hold the couple has the wall ahead on the
// right and turns right; turning left by more than 1/8 needs diagonal to centre,
// unless the figure opens to promenade first (common practice, no source) or is
// danced only at a corner, where the next wall's line of dance is taken after it.
// On the right foot the follower may be led round by 1/4, as in a closed wing.
func TestTurnsFromDiagonalToWall(t *testing.T) {
	g := graph.New(figures.BuiltIn().Variants())
	right := 0
	most := map[string]geometry.Turn{"LF": geometry.Eighth, "RF": 2 * geometry.Eighth}
	for _, foot := range []string{"LF", "RF"} {
		for _, e := range g.From(stance(t, "DW, "+foot+", closed")) {
			opens := slices.ContainsFunc(e.Variant.Steps, func(s figures.Step) bool { return s.Hold == figures.Promenade })
			switch turn := e.Variant.Turn(); {
			case turn > most[foot] && !opens && !e.Variant.Corner:
				t.Errorf("%s turns %s from %s", e.Variant.Name(), turn, e.From)
			case turn < 0:
				right++
			}
		}
	}
	if right == 0 {
		t.Error("no figure turns right")
	}
}

// A reverse turn ends facing diagonal to wall with the left foot free (common
// practice, no source).
func TestReverseTurnEnds(t *testing.T) {
	g := graph.New([]*figures.Variant{variant(t, "Reverse Turn")})
	if got := shorts(g.DeadEnds()); !slices.Equal(got, []string{"DW LF closed"}) {
		t.Errorf("got %v", got)
	}
}

// A chain that a social dancer can go on dancing along one wall (common
// practice, no source).
func TestLegalChain(t *testing.T) {
	chain := []string{
		"Progressive Twinkle to Promenade", "Promenade Natural Turn", "Heel Turn to Promenade",
		"Promenade Link", "Reverse Turn", "Progressive Twinkle to Promenade",
	}
	g := graph.New(figures.BuiltIn().Variants())
	s := stance(t, "DW, LF, closed")
	for _, name := range chain {
		i := slices.IndexFunc(g.From(s), func(e graph.Edge) bool { return e.Variant == variant(t, name) })
		if i < 0 {
			t.Fatalf("%s cannot be danced: %v", name, graph.WhyNot(s, variant(t, name)))
		}
		s = g.From(s)[i].To
	}
	for i, name := range chain[1:] {
		if !g.Follow(variant(t, chain[i]), variant(t, name)) {
			t.Errorf("%s cannot follow %s", name, chain[i])
		}
	}
}

// Half a left box turns the couple from the line of dance to the centre, which
// is the line of dance of the next wall (common practice, no source).
func TestHalfLeftBoxTurnsTheCorner(t *testing.T) {
	half := variant(t, "Left Box (half box)")
	g := graph.New(figures.BuiltIn().Variants(), -2)
	var ends figures.Stance
	for _, e := range g.From(stance(t, "LOD, LF, closed")) {
		if e.Variant == half {
			ends = e.To
		}
	}
	i := slices.IndexFunc(g.Corners(), func(c graph.Corner) bool { return c.From == ends })
	if i < 0 {
		t.Fatalf("no corner is taken from %s", ends)
	}
	if got, want := g.Corners()[i].To, stance(t, "LOD, RF, closed"); got != want {
		t.Errorf("the couple is %s, want %s", got, want)
	}
	if next := variant(t, "Right Box (without turn)"); !g.FollowAtCorner(half, next) {
		t.Errorf("%s cannot follow round the corner", next.Name())
	}
}
