package graph_test

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"lapwright/figures"
	"lapwright/graph"
)

// own is a file of figures that meet the built-in ones in some places only.
const own = `dance: waltz
beats: 3
figures:
  - name: Blind Alley
    levels: [social]
    family: change
    from: DW
    hold: closed
    parts:
      - part: alley
        facing: DW
        steps:
          - {foot: RF, travel: 0.8 DW}
          - {foot: LF, travel: 0.6 C-DC, hold: counter promenade}
          - {foot: RF}
    variants: [{parts: alley}]
  - name: Late Outside
    levels: [social]
    family: hesitation
    from: DC
    hold: closed
    parts:
      - part: late
        facing: DC
        steps:
          - {foot: LF, travel: 0.9 DC}
          - {foot: RF, travel: 0.8 LOD, turn: 1/4 left}
          - {foot: LF, without weight: [leader, follower], hold: partner outside}
    variants: [{parts: late}]
  - name: Step Back
    levels: [social]
    family: change
    from: DCA
    hold: partner outside
    parts:
      - part: back
        facing: DCA
        steps:
          - {foot: LF, travel: 0.6 DW}
          - {foot: RF, travel: 0.6 DW}
          - {foot: LF, hold: closed}
    variants: [{parts: back}]
`

// TestLooseEnds finds where a figure meets no other.
func TestLooseEnds(t *testing.T) {
	l, err := figures.Load("own.yaml", []byte(own), figures.DefaultCouple())
	if err != nil {
		t.Fatal(err)
	}
	alone := graph.New(l.Variants(), -2)
	for _, c := range []struct {
		name         string
		ends, begins []string
	}{
		{"Blind Alley", []string{"DW LF counter promenade"}, []string{"DW RF closed"}},
		{"Late Outside", nil, []string{"DC LF closed"}},
		{"Step Back", []string{"DCA RF closed"}, nil},
	} {
		v, ok := l.Variant(c.name)
		if !ok {
			t.Fatal(c.name)
		}
		if got := shorts(alone.LooseEnds(v)); !slices.Equal(got, c.ends) {
			t.Errorf("%s ends loose at %v, want %v", c.name, got, c.ends)
		}
		if got := shorts(alone.LooseBeginnings(v)); !slices.Equal(got, c.begins) {
			t.Errorf("%s begins loose at %v, want %v", c.name, got, c.begins)
		}
	}
}

// TestLooseEndsHaveNoFollower compares loose ends and beginnings with what may
// follow, in any library.
func TestLooseEndsHaveNoFollower(t *testing.T) {
	forLibraries(t, func(t rapid.TB, variants []*figures.Variant, corners []int, g *graph.Graph) {
		for _, v := range variants {
			follower, leader := false, false
			for _, other := range variants {
				if other == v {
					continue
				}
				follower = follower || g.Follow(v, other) || g.FollowAtCorner(v, other)
				leader = leader || g.Follow(other, v) || g.FollowAtCorner(other, v)
			}
			exits := map[figures.Stance]bool{}
			for _, s := range v.Entries {
				exits[v.Exit(s)] = true
			}
			if loose := g.LooseEnds(v); follower == (len(loose) == len(exits)) {
				t.Errorf("%s has a follower: %v; loose ends %v of %d", v.Name(), follower, loose, len(exits))
			}
			begins := map[figures.Stance]bool{}
			for _, s := range v.Entries {
				begins[s] = true
			}
			if loose := g.LooseBeginnings(v); leader == (len(loose) == len(begins)) {
				t.Errorf("%s has something that leads to it: %v; loose beginnings %v of %d", v.Name(), leader, loose, len(begins))
			}
		}
	})
}

// TestBuiltInFiguresMeetOthers: after every way of dancing a built-in figure
// another can be danced, and before it.
func TestBuiltInFiguresMeetOthers(t *testing.T) {
	variants := figures.BuiltIn().Variants()
	g := graph.New(variants, -2)
	for _, v := range variants {
		if loose := g.LooseEnds(v); len(loose) > 0 {
			t.Errorf("after %s nothing else begins %v", v.Name(), shorts(loose))
		}
		if loose := g.LooseBeginnings(v); len(loose) == len(v.Entries) {
			t.Errorf("nothing else leads to %s", v.Name())
		}
	}
}

// TestStumbles finds the join in which a foot lands on a foot, and none in the
// built-in library, round a square corner or along one wall.
func TestStumbles(t *testing.T) {
	couple := figures.DefaultCouple()
	any := func(*figures.Variant) bool { return true }
	if all := graph.New(figures.BuiltIn().Variants(), -2, 2).Stumbles(couple, any); len(all) > 0 {
		t.Errorf("the built-in library stumbles: %v", all)
	}
	l, err := figures.BuiltIn().Extend("own.yaml", []byte(own), couple)
	if err != nil {
		t.Fatal(err)
	}
	g := graph.New(l.Variants())
	back, _ := l.Variant("Step Back")
	all := g.Stumbles(couple, func(v *figures.Variant) bool { return v == back })
	if len(all) != 1 || all[0].First.Name() != "Late Outside" || all[0].Second != back || all[0].Eighths != 0 ||
		all[0].Fault.Step != 1 || !strings.Contains(all[0].Fault.Reason, "lands on") {
		t.Errorf("%+v", all)
	}
	if all := g.Stumbles(couple, func(v *figures.Variant) bool { return v.Figure.Name == "Blind Alley" }); len(all) > 0 {
		t.Errorf("a figure that is not concerned: %+v", all)
	}
}
