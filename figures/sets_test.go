package figures_test

import (
	"testing"

	"lapwright/figures"
)

// TestSets: which figures turn to the left and which to the right, as the trade
// names them; a figure without turn does neither.
func TestSets(t *testing.T) {
	for _, c := range []struct {
		name        string
		left, right bool
	}{
		{"Reverse Turn", true, false},
		{"Reverse Turn (1-3)", true, false},
		{"Natural Turn", false, true},
		{"Natural Spin Turn", false, true},
		{"Closed Impetus", false, true},
		{"Left Foot Closed Change", false, false},
		{"Whisk", false, false},
	} {
		v, ok := figures.BuiltIn().Variant(c.name)
		if !ok {
			t.Fatalf("there is no %s", c.name)
		}
		if v.TurnsLeft() != c.left || v.TurnsRight() != c.right {
			t.Errorf("%s turns to the left: %t, to the right: %t; %s in all", c.name, v.TurnsLeft(), v.TurnsRight(), v.Turn())
		}
	}
}

// TestAbove: the levels are those of the ISTD and IDTA lists that the library
// names.
func TestAbove(t *testing.T) {
	for _, c := range []struct {
		name  string
		style figures.Style
		level figures.Level
		above bool
	}{
		{"Natural Turn", figures.International, figures.Bronze, false},
		{"Open Telemark", figures.International, figures.Bronze, true},
		{"Open Telemark", figures.International, figures.Silver, false},
		{"Fallaway Reverse and Slip Pivot", figures.International, figures.Silver, true},
		{"Fallaway Reverse and Slip Pivot", figures.International, figures.Gold, false},
		{"Fallaway Reverse and Slip Pivot", figures.International, figures.Social, false},
		{"Fallaway Reverse and Slip Pivot", figures.Country, figures.Bronze, false},
		{"Cross-Body Lead", figures.International, figures.Bronze, false}, // in no list of that style
	} {
		f, ok := figures.BuiltIn().Figure(c.name)
		if !ok {
			t.Fatalf("there is no %s", c.name)
		}
		if got := f.Above(c.style, c.level); got != c.above {
			t.Errorf("%s above %s, %s style: %t; it is listed at %v", c.name, c.level, c.style, got, f.Levels)
		}
	}
}
