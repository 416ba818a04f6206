package figures_test

import (
	"strings"
	"testing"

	"lapwright/figures"
)

// TestFind: a name stands for the usual way of dancing a figure, or for all of them,
// and what is not there is told with what is.
func TestFind(t *testing.T) {
	l := figures.BuiltIn()
	natural, _ := l.Figure("Natural Turn")
	if v, err := l.Find("natural turn"); err != nil || v != natural.Variants[0] {
		t.Errorf("%v, %v", v, err)
	}
	if ways, err := l.Ways(" Natural Turn "); err != nil || len(ways) != len(natural.Variants) {
		t.Errorf("%d ways, %v", len(ways), err)
	}
	if ways, err := l.Ways("Natural Turn (1-3)"); err != nil || len(ways) != 1 || ways[0].Label != "1-3" {
		t.Errorf("%v, %v", ways, err)
	}
	for name, want := range map[string]string{
		"Natural Trun":            `there is no figure "Natural Trun"; the nearest names are: Natural Turn`,
		"Natural Turn (sideways)": `"Natural Turn (sideways)" is not a way of dancing Natural Turn; there are: Natural Turn, `,
		"Qqqqqqqqqqqqqqqqqqq":     `there is no figure "Qqqqqqqqqqqqqqqqqqq", nor one with a name like it`,
	} {
		if _, err := l.Find(name); err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%v, want %s", err, want)
		}
		if _, err := l.Ways(name); err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%v, want %s", err, want)
		}
	}
	// A name as long as a book is like none, and that is known at once.
	if near := l.Nearest(strings.Repeat("natural", 100000), 3); near != nil {
		t.Errorf("%v", near)
	}
}

// TestParseStride reads the strides with a name, metres, and nothing else.
func TestParseStride(t *testing.T) {
	for words, want := range map[string]float64{"usual": figures.UsualStride, " Social ": figures.SocialStride, "crowded": figures.CrowdedStride, "0.6": 0.6} {
		if got, err := figures.ParseStride(words); err != nil || got != want {
			t.Errorf("%q: %g, %v", words, got, err)
		}
	}
	for _, words := range []string{"", "long", "NaN", "-1", "9", "0.6 m"} {
		if _, err := figures.ParseStride(words); err == nil || !strings.Contains(err.Error(), "write usual, social, crowded or metres from") {
			t.Errorf("%q: %v", words, err)
		}
	}
}
