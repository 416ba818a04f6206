package main

import (
	"fmt"
	"strings"
	"testing"

	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search"
)

func TestBars(t *testing.T) {
	for _, c := range []struct {
		words       string
		least, most int
		fails       bool
	}{
		{"32", 32, 32, false},
		{" 24 - 40 ", 24, 40, false},
		{"24–40", 24, 40, false},
		{"400", 400, 400, false},
		{"401", 0, 0, true},
		{"9-3", 0, 0, true},
		{"-3", 0, 0, true},
		{"3-", 0, 0, true},
		{"", 0, 0, true},
		{"1-2-3", 0, 0, true},
		{"0-3", 0, 0, true},
	} {
		least, most, err := bars(c.words, search.MostBars)
		if (err != nil) != c.fails || !c.fails && (least != c.least || most != c.most) {
			t.Errorf("bars(%q) = %d, %d, %v", c.words, least, most, err)
		}
	}
}

func TestStride(t *testing.T) {
	for words, want := range map[string]float64{
		"usual": figures.UsualStride, "Social": figures.SocialStride, " crowded ": figures.CrowdedStride,
		"0.7": 0.7, "0.25": 0.25, "1.1": 1.1,
		"0.2": -1, "1.2": -1, "NaN": -1, "": -1, "+Inf": -1, "wide": -1,
	} {
		got, err := stride(words)
		if want < 0 {
			if err == nil {
				t.Errorf("stride(%q) = %g, want a fault", words, got)
			}
		} else if err != nil || got != want {
			t.Errorf("stride(%q) = %g, %v, want %g", words, got, err, want)
		}
	}
}

func TestWeights(t *testing.T) {
	w, err := weights([]string{"lane=0.2", " Gap = 3"})
	want := search.DefaultWeights()
	want.Lane, want.Gap = 0.2, 3
	if err != nil || w != want {
		t.Errorf("weights = %+v, %v, want %+v", w, err, want)
	}
	for _, bad := range []string{"", "lane", "lane=", "lane=x", "lane=-1", "lane=101", "lane=NaN", "bars=0", "=1", "tempo=1"} {
		if _, err := weights([]string{bad}); err == nil {
			t.Errorf("weights(%q) is taken", bad)
		}
	}
}

func TestStart(t *testing.T) {
	room, _ := floors.Named("village hall")
	for _, c := range []struct {
		words string
		wall  int
		at    string // empty when the place is chosen
	}{
		{"DW, RF, closed", 0, ""},
		{"DW,RF", 0, ""},
		{"facing diagonal to wall, right foot free, closed hold", 0, ""},
		{"facing wall, RF, closed", 0, ""},
		{"DW, RF, closed wall 3", 2, ""},
		{"DW, RF, closed at 3,1.5", 0, "3 1.5"},
		{"DW, RF, closed at 3 , 9.5", 2, "3 9.5"},
		{"DW, RF, closed at 3,1.5 wall 1", 0, "3 1.5"},
		{"DW, RF, closed wall 2 at 16.5,5", 1, "16.5 5"},
		{"facing diagonal to wall, RF, outside partner at 3,1.5 wall 1", 0, "3 1.5"},
	} {
		s, err := start(c.words, room)
		if err != nil {
			t.Errorf("start(%q): %v", c.words, err)
			continue
		}
		at := ""
		if s.At != nil {
			at = fmt.Sprintf("%g %g", s.At.X, s.At.Y)
		}
		if s.Wall != c.wall || at != c.at {
			t.Errorf("start(%q): wall %d at %q, want wall %d at %q", c.words, s.Wall, at, c.wall, c.at)
		}
	}
	for _, bad := range []string{"", "DW", "DW, RF, closed at", "DW, RF, closed at 3", "DW, RF, closed at x,y", "DW, RF wall 0", "DW, RF wall 5", "DW, RF wall -1",
		"DW, RF wall 1.5", "RF, DW", "DW, none, closed", "at 3,1.5", "DW, RF, closed at 3,1.5 at 4,1.5", "DW, RF, closed at Inf,1"} {
		if s, err := start(bad, room); err == nil {
			t.Errorf("start(%q) is taken as %+v", bad, s)
		}
	}
}

func TestJoined(t *testing.T) {
	got := joined([]string{"lap", "--tempo", "-5", "--seed", "3", "-5", "--margin=2", "-.5", "--json", "-h"})
	want := []string{"lap", "--tempo=-5", "--seed", "3", "-5", "--margin=2", "-.5", "--json", "-h"}
	if strings.Join(got, " ") != strings.Join(want, " ") {
		t.Errorf("joined: %q, want %q", got, want)
	}
}

func TestTempoWarning(t *testing.T) {
	// Published: 28 to 30 bars a minute (DTV Turnier- und Sportordnung 05/2023, as
	// quoted by Tanzclub Schwarz-Weiss Reutlingen; NDCA recommended tempi).
	for tempo, warns := range map[float64]bool{0: false, 27.9: true, 28: false, 29: false, 30: false, 30.5: true} {
		if got := tempoWarning(tempo); (got != "") != warns {
			t.Errorf("at %g bars a minute: %q", tempo, got)
		}
	}
}
