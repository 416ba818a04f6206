package figures

import (
	"math"
	"slices"
	"testing"

	"lapwright/figures/geometry"
)

// TestHeadings walks the eight directions leftwards from wall (DanceCentral,
// alignment diagram).
func TestHeadings(t *testing.T) {
	h := Wall
	for _, want := range []string{"W", "DW", "LOD", "DC", "C", "DCA", "ALOD", "DWA", "W"} {
		if h.Short() != want {
			t.Errorf("%s, want %s", h.Short(), want)
		}
		h = h.Add(1)
	}
	if _, exact := HeadingOf(1); exact {
		t.Error("a sixteenth counts as one of the eight directions")
	}
}

// TestFacingAndBacking lists the eight pairs of alignments with the same front
// (Reading Ballroom Dance Scripts).
func TestFacingAndBacking(t *testing.T) {
	for _, row := range [][2]string{
		{"facing LOD", "backing ALOD"}, {"facing DW", "backing DCA"}, {"facing W", "backing C"}, {"facing DWA", "backing DC"},
		{"facing ALOD", "backing LOD"}, {"facing DCA", "backing DW"}, {"facing C", "backing W"}, {"facing DC", "backing DWA"},
	} {
		a, err := ParseAlignment(row[0])
		if err != nil {
			t.Fatal(err)
		}
		b, err := ParseAlignment(row[1])
		if err != nil {
			t.Fatal(err)
		}
		if a.Front() != b.Front() {
			t.Errorf("%s has its front to %v, %s to %v", row[0], a.Front(), row[1], b.Front())
		}
	}
}

func TestDirectionsOfTravel(t *testing.T) {
	for _, row := range []struct {
		text string
		want geometry.Turn
		bad  bool
	}{
		{text: "LOD", want: 0}, {text: "DC", want: 2}, {text: "LOD-DC", want: 1}, {text: "DC-LOD", want: 1},
		{text: "LOD-DW", want: 15}, {text: "DW-LOD", want: 15}, {text: "W-DW", want: 13}, {text: "alod - dwa", want: 9},
		{text: "LOD-C", bad: true}, {text: "LOD-LOD", bad: true}, {text: "-LOD", bad: true}, {text: "LOD-", bad: true},
		{text: "LOD-DC-C", bad: true}, {text: "", bad: true},
	} {
		got, err := parseDirection(row.text)
		if (err != nil) != row.bad || !row.bad && got != row.want {
			t.Errorf("%q reads as %v, %v", row.text, got, err)
		}
	}
}

// TestDirectionWords puts a step in each of the words of the charts; the
// stepping foot is the right one, so its own side is the right.
func TestDirectionWords(t *testing.T) {
	right := Action{Foot: RightFoot}
	for _, row := range []struct {
		degrees float64 // of the body's travel to the right of straight ahead
		want    string
	}{
		{0, "forward"}, {40, "diagonally forward"}, {65, "side and slightly forward"}, {90, "side"},
		{115, "side and slightly back"}, {140, "diagonally back"}, {180, "back"},
		{-40, "forward and across"}, {-120, "crosses behind"},
	} {
		travel := geometry.Unit(-row.degrees * math.Pi / 180).Scale(0.6)
		if got, _ := direct(travel, right, Closed); got != row.want {
			t.Errorf("%g degrees to the right is %q, want %q", row.degrees, got, row.want)
		}
		travel.Y = -travel.Y
		if got, _ := direct(travel, Action{Foot: LeftFoot}, Closed); got != row.want {
			t.Errorf("%g degrees to the left is %q with the left foot, want %q", row.degrees, got, row.want)
		}
	}
	small := geometry.Point{X: 0.1}
	if got, _ := direct(small, right, Closed); got != "closes" {
		t.Errorf("a small travel is %q", got)
	}
	if got, _ := direct(small, Action{Foot: RightFoot, Weightless: true}, Closed); got != "closes without weight" {
		t.Errorf("a small travel without weight is %q", got)
	}
}

func TestFeet(t *testing.T) {
	if LeftFoot.Other() != RightFoot || RightFoot.Other() != LeftFoot || NoFoot.Other() != NoFoot {
		t.Error("the other foot is wrong")
	}
	if LeftFoot.side() != 1 || RightFoot.side() != -1 || NoFoot.side() != 0 {
		t.Error("the feet are on the wrong sides")
	}
	if Leader.Other() != Follower || Follower.Other() != Leader {
		t.Error("the other dancer is wrong")
	}
}

func TestStancesThatAreRefused(t *testing.T) {
	for _, s := range []string{"", "DW", "DW RF closed", "DW, RF, closed, now", "DX, RF", "DW, none", "DW, free", "DW, RF free foot",
		"DW, RF, hug", "facing, RF", "backing backing LOD, RF"} {
		if st, err := ParseStance(s); err == nil || st != (Stance{}) {
			t.Errorf("%q reads as %v", s, st)
		}
	}
}

func TestLevels(t *testing.T) {
	for _, row := range []struct {
		knows, of Level
		want      bool
	}{
		{Bronze, Bronze, true}, {Silver, Bronze, true}, {Gold, Silver, true}, {Bronze, Silver, false},
		{Social, Social, true}, {Social, Bronze, false}, {Gold, Social, false}, {Bronze, "", false}, {"", "", false},
	} {
		if got := row.knows.Includes(row.of); got != row.want {
			t.Errorf("%q includes %q: %v", row.knows, row.of, got)
		}
	}
}

func TestCountWords(t *testing.T) {
	for _, row := range []struct {
		beats []float64
		bar   int
		want  string
	}{
		{[]float64{1, 1, 1, 1}, 3, "1 2 3 1"},
		{[]float64{1, 0.5, 0.5, 1}, 3, "1 2 & 3"},
		{[]float64{2, 1}, 3, "1-2 3"},
		{[]float64{1, 2, 3}, 3, "1 2-3 1-3"},
		{[]float64{1.5, 1.5}, 3, "1 &"},
		{[]float64{1, 0.75, 0.25, 1}, 3, "1 2 a 3"},
		{[]float64{1, 1, 1, 1, 1}, 4, "1 2 3 4 1"},
		{nil, 3, ""},
	} {
		var steps []Step
		for _, b := range row.beats {
			steps = append(steps, Step{Beats: b})
		}
		if got := CountWords(steps, row.bar); got != row.want {
			t.Errorf("%v is counted %q, want %q", row.beats, got, row.want)
		}
	}
}

func TestLibraryFindsNames(t *testing.T) {
	l := BuiltIn()
	for _, row := range []struct{ ask, want string }{
		{"Natural Turn", "Natural Turn"}, {"NATURAL  TURN", "Natural Turn"}, {"natural-turn (1-3)", "Natural Turn (1-3)"},
		{"Natural Turn(1–3)", "Natural Turn (1-3)"}, {"Chasse from Promenade", "Chassé from Promenade"}, {"Twinkle", "Progressive Twinkle to Promenade"},
		{"Left Box", "Left Box (without turn)"}, {"Natural Turn (9-12)", ""}, {"Natural", ""}, {"", ""}, {"(1-3)", ""},
	} {
		v, ok := l.Variant(row.ask)
		if got := nameOf(v); ok != (row.want != "") || got != row.want {
			t.Errorf("%q finds %q, want %q", row.ask, got, row.want)
		}
	}
	for _, v := range l.Variants() {
		if got, _ := l.Variant(v.Name()); got != v {
			t.Errorf("%s finds %s", v.Name(), nameOf(got))
		}
		for _, also := range v.Figure.Also {
			if f, _ := l.Figure(also); f != v.Figure {
				t.Errorf("%s is not found", also)
			}
		}
	}
	if got := l.Nearest("revers turn", 2); len(got) != 2 || got[0] != "Reverse Turn" {
		t.Errorf("nearest to revers turn are %v", got)
	}
	if got := l.Nearest("xyzzyxyzzyxyzzy", 3); len(got) != 0 {
		t.Errorf("nearest to nothing are %v", got)
	}
	if got := l.Nearest("turn", -1); len(got) != 0 {
		t.Errorf("fewer than none are %v", got)
	}
	// The list is the caller's own.
	l.Figures()[0] = nil
	if slices.Contains(l.Figures(), nil) {
		t.Error("the library has lost a figure")
	}
}

func nameOf(v *Variant) string {
	if v == nil {
		return ""
	}
	return v.Name()
}

// TestSourcesAreNamed: every figure and every hold says where it comes from.
func TestSourcesAreNamed(t *testing.T) {
	for _, f := range BuiltIn().Figures() {
		if f.Source == "" {
			t.Errorf("%s names no source", f.Name)
		}
	}
	for h := Closed; h < holdCount; h++ {
		if h.Shape().Source == "" || h.Shape().Tolerance <= 0 {
			t.Errorf("%v: %+v", h, h.Shape())
		}
	}
}

func TestMeasures(t *testing.T) {
	v := variant(t, "Natural Turn")
	d := v.Dance(v.Entries[0], DefaultCouple())
	m := d.Measures()
	if m.MostTurn != 4 || m.Stretch > 1e-9 || m.SoleGap < 0 {
		t.Errorf("%+v", m)
	}
	for who := Leader; who <= Follower; who++ {
		walked := 0.0
		for _, s := range d.Steps {
			walked += s.Falls[who].Travel
			if f := s.Falls[who]; f.Length > m.LongestStep[who] {
				t.Errorf("a step of the %v is %.2f m, the longest %.2f m", who, f.Length, m.LongestStep[who])
			}
		}
		if diff := walked - m.Walked[who]; diff > 1e-9 || diff < -1e-9 {
			t.Errorf("the %v walks %.3f m, the steps are %.3f m", who, m.Walked[who], walked)
		}
	}
}

// TestStandingStill: a variant without steps leaves the couple where it was.
func TestStandingStill(t *testing.T) {
	v := &Variant{Figure: &Figure{Name: "Wait", Beats: 3}, Entries: []Stance{{Wall, LeftFoot, Promenade}}}
	d := v.Dance(v.Entries[0], DefaultCouple())
	if d.Last() != &d.Start || d.Displacement != (geometry.Point{}) || d.Exit != d.Entry || v.Bars() != 0 {
		t.Errorf("%+v", d)
	}
	if FrameRadius() < 0.5 || FrameRadius() > 0.8 {
		t.Errorf("a standing couple takes %.2f m", FrameRadius())
	}
}

// TestFaultsOfVariantsMadeByHand: variants need not come from a file.
func TestFaultsOfVariantsMadeByHand(t *testing.T) {
	v := &Variant{Figure: &Figure{Name: "Walk", Beats: 3}}
	if got := v.Faults(DefaultCouple()); len(got) != 1 || got[0].String() != "no stance is given from which it begins" {
		t.Errorf("got %v", got)
	}
	v.Entries = []Stance{{LineOfDance, LeftFoot, Closed}}
	walk := func(f Foot) Step {
		return Step{Beats: 1, Strides: 1, KeepsHold: true, Actions: [2]Action{{Foot: f}, {Foot: f.Other()}}}
	}
	v.Steps = []Step{walk(LeftFoot), walk(RightFoot), walk(LeftFoot)}
	if got := v.Faults(DefaultCouple()); len(got) != 0 {
		t.Errorf("got %v", got)
	}
	v.Steps[1].Turn = 1
	v.Steps = v.Steps[:2]
	got := v.Faults(DefaultCouple())
	if len(got) != 2 || got[0].Step != 0 || got[1].Step != 0 {
		t.Errorf("got %v, want the beats and the sixteenth", got)
	}
}

// TestExitFromEveryEntry: the exit turns with the entry and keeps its hold where
// no step changes it.
func TestExitFromEveryEntry(t *testing.T) {
	v := &Variant{Figure: &Figure{Name: "Sway", Beats: 3}, Steps: []Step{
		{Beats: 1, KeepsHold: true, Turn: 2, Actions: [2]Action{{Foot: LeftFoot}, {Foot: RightFoot}}},
		{Beats: 2, KeepsHold: true, Pivot: 2, Completes: 2, Actions: [2]Action{{Foot: RightFoot, Weightless: true}, {Foot: LeftFoot, Weightless: true}}},
	}}
	for h := LineOfDance; h < Headings; h++ {
		for hold := Closed; hold < holdCount; hold++ {
			v.Entries = append(v.Entries, Stance{h, LeftFoot, hold})
		}
	}
	for _, e := range v.Entries {
		want := Stance{e.Facing.Add(3), RightFoot, e.Hold}
		if got := v.Exit(e); got != want || v.Dance(e, DefaultCouple()).Last().Hold != e.Hold {
			t.Errorf("from %v it leaves %v, want %v", e, got, want)
		}
	}
	// In a natural turn the hold of the second step ends the outside position.
	natural := variant(t, "Natural Turn")
	for _, e := range natural.Entries {
		d := natural.Dance(e, DefaultCouple())
		if d.Steps[0].After.Hold != e.Hold || d.Steps[1].After.Hold != Closed {
			t.Errorf("from %v the holds are %v, %v", e, d.Steps[0].After.Hold, d.Steps[1].After.Hold)
		}
	}
}

// TestHoldsFile refuses holds that do not say all they need.
func TestHoldsFile(t *testing.T) {
	const good = "ahead: 0.3, left: 0, turned: 1/2 left, tolerance: 0.1, source: from memory"
	file := func(fields string) []byte {
		var text string
		for _, name := range holdName {
			text += name + ": {" + fields + "}\n"
		}
		return []byte(text)
	}
	if _, err := loadHolds("holds.yaml", file(good)); err != nil {
		t.Error(err)
	}
	for _, row := range []struct {
		data []byte
		want string
	}{
		{nil, "holds.yaml: the file is empty"},
		{[]byte("hug: 1\n"), `holds.yaml:1: "hug" is not a field that is known here; known are: closed, promenade, counter promenade, outside partner, outside partner left, partner outside, fallaway, open, side by side`},
		{[]byte("closed: {" + good + "}\n"), `holds.yaml:1: "promenade" is missing here; add it`},
		{file("ahead: 0.3"), `holds.yaml:1: closed: "left" is missing here; add it`},
		{file(good + ", ahead: 1"), `holds.yaml:1: closed: "ahead" is given twice; keep one`},
		{file("ahead: 3, left: 0, turned: 1/2 left, tolerance: 0.1, source: none"), "holds.yaml:1: closed.ahead: 3 is out of range: a number from -1 to 1 is expected"},
		{file("ahead: 0.3, left: 0, turned: half, tolerance: 0.1, source: none"), `holds.yaml:1: closed.turned: "half" is not an amount of turn: write a fraction of a full turn and its side, such as 3/8 right`},
		{file("ahead: 0.3, left: 0, turned: [1], tolerance: 0.1, source: none"), "holds.yaml:1: closed.turned: a word or text is expected here, not a list"},
		{file("ahead: 0.3, left: 0, tolerance: 0.1, source: none"), `holds.yaml:1: closed: "turned" is missing here; add it`},
	} {
		if _, err := loadHolds("holds.yaml", row.data); err == nil || err.Error() != row.want {
			t.Errorf("got %v, want %s", err, row.want)
		}
	}
}
