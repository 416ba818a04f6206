package graph_test

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"lapwright/figures"
	"lapwright/graph"
)

func TestWhyNot(t *testing.T) {
	for _, c := range []struct {
		stance, variant string
		want            []string
	}{
		{"DW, RF, closed", "Natural Turn", nil},
		{"DW, RF, outside partner", "Natural Turn", nil},
		{"DW, LF, closed", "Reverse Turn", []string{
			"the couple faces diagonal to wall; Reverse Turn begins facing diagonal to centre"}},
		{"DW, LF, closed", "Natural Turn", []string{
			"the leader has the left foot free; Natural Turn begins with the right foot free"}},
		{"DW, RF, promenade", "Natural Turn", []string{
			"the couple is in promenade; Natural Turn begins in closed hold or outside partner"}},
		{"DW, RF, closed", "Chassé from Promenade", []string{
			"the couple is in closed hold; Chassé from Promenade begins in promenade"}},
		{"DW, RF, closed", "Right Foot Closed Change", []string{
			"the couple faces diagonal to wall; Right Foot Closed Change begins facing line of dance or diagonal to centre"}},
		{"ALOD, LF, closed", "Left Box (without turn)", []string{
			"the couple faces against line of dance; Left Box (without turn) begins facing line of dance, diagonal to centre, centre, wall or diagonal to wall"}},
		// A figure that starts backward is begun backing.
		{"DW, LF, closed", "Natural Turn (4-6)", []string{
			"the couple faces diagonal to wall; Natural Turn (4-6) begins backing line of dance"}},
		{"ALOD, LF, partner outside", "Outside Change", []string{
			"the couple backs line of dance; Outside Change begins backing diagonal to centre"}},
		{"ALOD, LF, promenade", "Natural Turn (4-6)", []string{
			"the couple is in promenade; Natural Turn (4-6) begins in closed hold or partner outside"}},
		{"C, LF, outside partner", "Promenade Link", []string{
			"the couple faces centre; Promenade Link begins facing line of dance",
			"the leader has the left foot free; Promenade Link begins with the right foot free",
			"the couple is outside partner; Promenade Link begins in promenade"}},
		{"LOD, RF, partner outside", "Promenade Link", []string{
			"the couple is with partner outside; Promenade Link begins in promenade"}},
	} {
		var got []string
		for _, r := range graph.WhyNot(stance(t, c.stance), variant(t, c.variant)) {
			got = append(got, r.String())
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s from %s:\n got %s\nwant %s", c.variant, c.stance, strings.Join(got, "\n     "), strings.Join(c.want, "\n     "))
		}
	}
}

// The nearest entry is chosen by the number of differences, then by the turn;
// and what is listed would do with the rest of that entry.
func TestWhyNotFromTheNearestEntry(t *testing.T) {
	entries := func(words ...string) *figures.Variant {
		v := &figures.Variant{Figure: &figures.Figure{Name: "Turn", Beats: 3}}
		for _, w := range words {
			v.Entries = append(v.Entries, stance(t, w))
		}
		return v
	}
	for _, c := range []struct {
		name, from string
		v          *figures.Variant
		want       graph.Reason
	}{
		{"fewest differences", "DW, RF, closed",
			entries("C, LF, closed", "ALOD, RF, closed"),
			graph.Reason{What: graph.Alignment, Has: "facing diagonal to wall", Needs: "facing against line of dance", Figure: "Turn"}},
		{"least turn", "LOD, RF, closed",
			entries("ALOD, RF, closed", "DC, RF, closed", "LOD, LF, closed"),
			graph.Reason{What: graph.Foot, Has: "right foot free", Needs: "left foot free", Figure: "Turn"}},
		{"only what would do", "DW, RF, closed",
			entries("LOD, RF, closed", "DC, RF, closed", "W, LF, promenade"),
			graph.Reason{What: graph.Alignment, Has: "facing diagonal to wall", Needs: "facing line of dance or diagonal to centre", Figure: "Turn"}},
		{"a hold before a turn", "DW, RF, closed",
			entries("LOD, RF, closed", "DW, RF, promenade"),
			graph.Reason{What: graph.Hold, Has: "closed hold", Needs: "promenade", Figure: "Turn"}},
		{"begins nowhere", "DW, RF, closed", entries(),
			graph.Reason{What: graph.Alignment, Has: "facing diagonal to wall", Figure: "Turn"}},
	} {
		got := graph.WhyNot(stance(t, c.from), c.v)
		if len(got) != 1 || got[0] != c.want {
			t.Errorf("%s: got %+v, want %+v", c.name, got, c.want)
		}
	}
	if got := (graph.Reason{What: graph.Alignment, Has: "facing wall", Needs: "facing centre"}).String(); got != "the couple faces wall; the figure begins facing centre" {
		t.Error(got)
	}
	if got := graph.WhyNot(stance(t, "DW, RF"), entries())[0].String(); got != "Turn begins in no stance at all" {
		t.Error(got)
	}
}

// There is a reason exactly when there is no edge, one for each of alignment,
// foot and hold at most, and no entry is nearer than the reasons say.
func TestWhyNotAgreesWithTheEdges(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		variants := append(drawVariants().Draw(t, "variants"), figures.BuiltIn().Variants()...)
		g := graph.New(variants)
		s := drawStance().Draw(t, "stance")
		for _, v := range variants {
			reasons := graph.WhyNot(s, v)
			can := slices.ContainsFunc(g.From(s), func(e graph.Edge) bool { return e.Variant == v })
			if can != (len(reasons) == 0) {
				t.Fatalf("%s from %s: danced %v, reasons %v", v.Name(), s, can, reasons)
			}
			fewest := 3
			for _, e := range v.Entries {
				n := 0
				for _, same := range []bool{e.Facing == s.Facing, e.Free == s.Free, e.Hold == s.Hold} {
					if !same {
						n++
					}
				}
				fewest = min(fewest, n)
			}
			seen := map[string]bool{}
			for _, r := range reasons {
				seen[r.What] = true
				if r.Has == r.Needs || r.Has == "" || r.Needs == "" || r.Figure != v.Name() {
					t.Errorf("%s from %s: %+v", v.Name(), s, r)
				}
			}
			if len(reasons) != fewest || len(seen) != fewest {
				t.Errorf("%s from %s: %d differences, reasons %v", v.Name(), s, fewest, reasons)
			}
		}
	})
}
