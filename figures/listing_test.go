package figures

import (
	"fmt"
	"slices"
	"testing"
)

// TestFiguresAtLevels asks for figures by style and level. The levels are those
// of the lists that the library names: ISTD, The Ballroom Technique, 1993; IDTA,
// 1992; USISTD American Waltz; UCWDC Waltz.
func TestFiguresAtLevels(t *testing.T) {
	for _, row := range []struct {
		figure string
		style  Style
		levels []Level
		want   bool
	}{
		{"Natural Turn", International, []Level{Bronze}, true},
		{"Natural Turn", AnyStyle, []Level{Gold}, true},
		{"Natural Turn", American, []Level{Bronze}, false},
		{"Natural Turn", American, []Level{Social}, true}, // a plain level is of every style
		{"Natural Turn", Country, []Level{Bronze, Social}, true},
		{"Open Impetus", International, []Level{Bronze, Social}, false},
		{"Open Impetus", International, []Level{Silver}, true},
		{"Open Impetus", American, nil, false},
		{"Open Impetus", International, nil, true},
		{"Open Impetus", AnyStyle, nil, true},
		{"Back Lock", International, []Level{Bronze}, true}, // silver in the other list
		{"Back Lock", AnyStyle, []Level{Social}, false},
		{"Open Left Turn", American, []Level{Silver}, true},
		{"Open Left Turn", American, []Level{Social}, false},
		{"Open Left Turn", Country, []Level{Social}, true},
		{"Open Left Turn", International, nil, false},
		{"Passing Change", AnyStyle, []Level{Social}, false},
	} {
		if got := variant(t, row.figure).Figure.At(row.style, row.levels...); got != row.want {
			t.Errorf("%s at %v, style %q: %v", row.figure, row.levels, row.style, got)
		}
	}
	if new(Figure).At(AnyStyle) {
		t.Error("a figure without levels is at one")
	}
}

// TestListingsAreRead reads levels in every form of a library file.
func TestListingsAreRead(t *testing.T) {
	const file = `dance: waltz
beats: 3
figures:
  - name: Walk
    levels: %s
    family: change
    from: LOD
    hold: closed
    parts:
      - part: walk
        facing: LOD
        steps:
          - {foot: LF, travel: 1 LOD}
          - {foot: RF, travel: 1 LOD}
          - {foot: LF, travel: 1 LOD}
    variants:
      - {parts: walk}
`
	for _, row := range []struct {
		levels string
		want   []Listing
		words  string // of the last
	}{
		{"Gold", []Listing{{Level: Gold}}, "gold"},
		{"[bronze, social]", []Listing{{Level: Bronze}, {Level: Social}}, "social"},
		{"{style: American, level: silver}", []Listing{{American, Silver, ""}}, "silver, American style"},
		{"[social, {level: bronze, syllabus: Thursday class}]", []Listing{{Level: Social}, {AnyStyle, Bronze, "Thursday class"}}, "bronze (Thursday class)"},
		{"[{style: country, level: social, syllabus: A}, {style: country, level: social, syllabus: B}]",
			[]Listing{{Country, Social, "A"}, {Country, Social, "B"}}, "social, country style (B)"},
	} {
		l, err := Load("mine.yaml", fmt.Appendf(nil, file, row.levels), DefaultCouple())
		if err != nil {
			t.Errorf("%s: %v", row.levels, err)
			continue
		}
		got := l.Figures()[0].Levels
		if !slices.Equal(got, row.want) || got[len(got)-1].String() != row.words {
			t.Errorf("%s reads as %+v (%s)", row.levels, got, got[len(got)-1])
		}
	}
}

// TestEveryFigureIsInASyllabus: each figure of the library has a level, and
// those that no list sets are the ones that the library says so of.
func TestEveryFigureIsInASyllabus(t *testing.T) {
	unlisted := []string{"Promenade Natural Turn", "Continuous Natural Turn", "Heel Turn to Promenade", "Promenade Link",
		"Quick Closed Natural Telemark", "Bounce Fallaway with Weave Ending", "Syncopated Twinkle", "In and Out Runs"}
	for _, f := range BuiltIn().Figures() {
		set := slices.ContainsFunc(f.Levels, func(l Listing) bool { return l.Syllabus != "" })
		if set == slices.Contains(unlisted, f.Name) {
			t.Errorf("%s is set by a syllabus: %v", f.Name, set)
		}
		if !f.At(AnyStyle) {
			t.Errorf("%s is at no level", f.Name)
		}
		for _, l := range f.Levels {
			if l.Syllabus != "" && l.Style == AnyStyle {
				t.Errorf("%s: %s has no style", f.Name, l)
			}
			if l.Style == Country && l.Level != Social || l.Style == American && l.Level == Social {
				t.Errorf("%s: %s", f.Name, l)
			}
		}
	}
}

func TestStylesAsWords(t *testing.T) {
	for _, s := range Styles {
		if got, err := ParseStyle(" " + s.String() + " "); err != nil || got != s {
			t.Errorf("%q reads as %q, %v", s.String(), got, err)
		}
	}
	for _, s := range []string{"", "all", "latin"} {
		if _, err := ParseStyle(s); err == nil || err.Error() != fmt.Sprintf("%q is not a style: write one of international, american, country", s) {
			t.Errorf("%q: %v", s, err)
		}
	}
}
