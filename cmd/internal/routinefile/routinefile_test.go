package routinefile_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"lapwright/cmd/internal/routinefile"
	"lapwright/figures"
	"lapwright/figures/document"
	"lapwright/figures/geometry"
	"lapwright/floors"
	"lapwright/search"
	"lapwright/search/routine"
)

// rooms finds built-in rooms only; no name is the village hall.
func rooms(name string) (*floors.Room, error) {
	if name == "" {
		name = "village hall"
	}
	if room, ok := floors.Named(name); ok {
		return room, nil
	}
	return nil, fmt.Errorf("there is no room %q", name)
}

func read(text string) (*routinefile.File, error) {
	return routinefile.Read("class.yaml", []byte(text), figures.BuiltIn(), rooms)
}

func Example() {
	f, err := routinefile.Read("class.yaml", []byte("figures: [Natural Turn, Right Foot Closed Change]"), figures.BuiltIn(), rooms)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("begins", f.Start.Stance)
	f.Room = "village hall"
	fmt.Print(string(routinefile.Format(f)))
	// Output:
	// begins facing diagonal to wall, right foot free, closed hold
	// dance: waltz
	// room: village hall
	// stride: 0.65
	// start: {at: [3, 1.5], wall: 1, facing: DW, free foot: RF, hold: closed}
	// figures:
	//   - Natural Turn
	//   - Right Foot Closed Change
}

func TestRead(t *testing.T) {
	f, err := read(`
name: Evening lap
dance: Waltz
room: clubroom
stride: crowded
tempo: 28.5
margin: 0
lap: yes
start: {at: [3, 1.5], wall: 2, facing: backing line of dance, free foot: left foot, hold: partner outside}
figures:
  - natural turn (4-6)
  - {figure: RF Closed Change, scale: 0.9, wall: next}
  - {figure: Reverse Turn (1-3), wall: same}
`)
	if err != nil {
		t.Fatal(err)
	}
	want := routinefile.File{Margin: 0, Lap: true, Floor: f.Floor, Routine: routine.Routine{
		Name: "Evening lap", Dance: "waltz", Room: "clubroom", Stride: figures.CrowdedStride, Tempo: 28.5,
		Start: routine.Start{Wall: 1, At: &geometry.Point{X: 3, Y: 1.5},
			Stance: figures.Stance{Facing: figures.AgainstLineOfDance, Free: figures.LeftFoot, Hold: figures.PartnerOutside}}}}
	for i, s := range []struct {
		name   string
		scale  float64
		corner routine.Corner
	}{{"Natural Turn (4-6)", 1, routine.Unsaid}, {"Right Foot Closed Change", 0.9, routine.Take}, {"Reverse Turn (1-3)", 1, routine.Stay}} {
		v, ok := figures.BuiltIn().Variant(s.name)
		if !ok {
			t.Fatal(s.name)
		}
		want.Steps = append(want.Steps, routine.Step{Variant: v, Scale: s.scale, Corner: s.corner, Line: 11 + i})
	}
	if !reflect.DeepEqual(*f, want) {
		t.Errorf("read\n%+v, want\n%+v", *f, want)
	}
}

// TestStartLeftOut tells what is taken where a start is left out, or parts of it.
func TestStartLeftOut(t *testing.T) {
	for _, c := range []struct{ text, start string }{
		{"[Natural Turn]", "1 (3, 1.5) DW RF closed"},
		{"figures: [Reverse Turn]", "1 (3, 1.5) DC LF closed"},
		{"figures: [Natural Turn]\nstart: {wall: 2}", "2 (15.5, 4) DW RF closed"},
		{"figures: [Natural Turn]\nstart: {at: [9, 9.5]}", "3 (9, 9.5) DW RF closed"},
		{"figures: [Natural Turn]\nstart: {hold: outside partner, facing: facing DC}", "1 (3, 1.5) DC RF outside partner"},
	} {
		f, err := read(c.text)
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		s := f.Start
		if got := fmt.Sprintf("%d (%g, %g) %s", s.Wall+1, s.At.X, s.At.Y, s.Stance.Short()); got != c.start {
			t.Errorf("%q starts %s, want %s", c.text, got, c.start)
		}
	}
}

// TestLaps tells what a file may say about coming round.
func TestLaps(t *testing.T) {
	for _, c := range []struct {
		text string
		lap  bool
		laps int
	}{
		{"", false, 0}, {"lap: no", false, 0}, {"lap: yes", true, 0}, {"laps: 1", true, 0}, {"laps: 3", true, 3}, {"laps: 20\nlap: yes", true, 20},
	} {
		f, err := read("figures: [Whisk]\n" + c.text)
		if err != nil || f.Lap != c.lap || f.Laps != c.laps {
			t.Errorf("%q: %+v, %v", c.text, f, err)
		}
	}
}

func TestFaults(t *testing.T) {
	for _, c := range []struct{ text, fault string }{
		{"", "class.yaml: the file is empty"},
		{"figures: []", "class.yaml:1: figures: 0 figures are given"},
		{"[]", "class.yaml:1: 0 figures are given"},
		{"name: x", `"figures" is missing`},
		{"figures: Whisk", "figures: a list is expected"},
		{"figures: [Whisk]\nsteps: 3", `class.yaml:2: "steps" is not a field`},
		{"figures:\n- Whisk\n- Wisk", `class.yaml:3: figures[2]: there is no figure "Wisk"; the nearest names are: Whisk`},
		{"figures: [Qqqqqqqqqqqqqqqqqqq]", "nor one with a name like it"},
		{"figures: [Natural Turn (sideways)]", "is not a way of dancing Natural Turn; there are: Natural Turn, "},
		{"figures: [{scale: 1}]", `"figure" is missing`},
		{"figures: [{figure: Whisk, scale: 9}]", "figures[1].scale: 9 is out of range"},
		{"figures: [{figure: Whisk, scale: .nan}]", "figures[1].scale: a number from"},
		{"figures: [{figure: Whisk, wall: north}]", "write next"},
		{"figures: [{figure: Whisk, stride: 1}]", `"stride" is not a field`},
		{"figures: [Whisk]\ndance: tango", `no figures for "tango"`},
		{"figures: [Whisk]\nroom: nowhere", `class.yaml:2: room: there is no room "nowhere"`},
		{"figures: [Whisk]\nstride: 9", `stride: "9" is not a stride: write usual`},
		{"figures: [Whisk]\ntempo: fast", "tempo: a number from 10 to 60"},
		{"figures: [Whisk]\ntempo: .inf", "tempo: a number from 10 to 60"},
		{"figures: [Whisk]\nmargin: -1", "margin: -1 is out of range"},
		{"figures: [Whisk]\nlap: maybe", "yes or no is expected"},
		{"figures: [Whisk]\nlaps: 0", "class.yaml:2: laps: "},
		{"figures: [Whisk]\nlaps: 21", "class.yaml:2: laps: "},
		{"figures: [Whisk]\nlaps: two", "class.yaml:2: laps: "},
		{"figures: [Whisk]\nlap: no\nlaps: 2", `class.yaml:3: laps: 2 laps and "lap: no" contradict each other`},
		{"figures: [Whisk]\nstart: {wall: 9}", "has walls 1 to 4"},
		{"figures: [Whisk]\nstart: {at: [1]}", "start.at: two numbers are expected"},
		{"figures: [Whisk]\nstart: {at: [1, .nan]}", "start.at[2]: a number from"},
		{"figures: [Whisk]\nstart: {at: here}", "start.at: a list is expected"},
		{"figures: [Whisk]\nstart: {facing: north}", "start.facing: "},
		{"figures: [Whisk]\nstart: {free foot: none}", "one foot must be free"},
		{"figures: [Whisk]\nstart: {hold: none}", "start.hold: "},
		{"figures: [Whisk]\nstart: here", "start: fields"},
		{strings.Repeat("- Whisk\n", routinefile.MostFigures+1), "8001 figures are given"},
	} {
		f, err := read(c.text)
		if err == nil || f != nil || !strings.Contains(err.Error(), c.fault) {
			t.Errorf("%.60q: %v, want %s", c.text, err, c.fault)
			continue
		}
		var fault *document.Error
		if !errors.As(err, &fault) {
			t.Errorf("%.60q: the fault has no place: %v", c.text, err)
		}
	}
}

// TestAllFaults tells that a reader hears of all faults at once.
func TestAllFaults(t *testing.T) {
	_, err := read("tempo: fast\nfigures:\n- Wisk\n- Whisk\n- {figure: Whisk, wall: up}\nroom: nowhere")
	for _, line := range []string{"class.yaml:1:", "class.yaml:3:", "class.yaml:5:", "class.yaml:6:"} {
		if err == nil || !strings.Contains(err.Error(), line) {
			t.Errorf("nothing about %s in: %v", line, err)
		}
	}
}

// TestReadsBack draws routines at random: what is written is read back equal, and
// is written the same again.
func TestReadsBack(t *testing.T) {
	variants := figures.BuiltIn().Variants()
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.SampledFrom(floors.Names()).Draw(t, "room")
		room, _ := floors.Named(name)
		f := &routinefile.File{Floor: room, Lap: rapid.Bool().Draw(t, "lap"), Margin: -1, Routine: routine.Routine{
			Name:   strings.TrimSpace(rapid.StringOf(rapid.RuneFrom(nil, printable...)).Draw(t, "name")),
			Dance:  "waltz",
			Room:   name,
			Stride: rapid.Float64Range(figures.LeastStride, figures.MostStride).Draw(t, "stride"),
		}}
		if f.Lap && rapid.Bool().Draw(t, "several") {
			f.Laps = rapid.IntRange(2, search.MostLaps).Draw(t, "laps")
		}
		if rapid.Bool().Draw(t, "own margin") {
			f.Margin = rapid.Float64Range(0, floors.MaxMargin).Draw(t, "margin")
		}
		if rapid.Bool().Draw(t, "in time") {
			f.Tempo = rapid.Float64Range(routine.LeastTempo, routine.MostTempo).Draw(t, "tempo")
		}
		f.Start = routine.Start{Wall: rapid.IntRange(0, len(room.Walls)-1).Draw(t, "wall"),
			At: &geometry.Point{X: float64(rapid.IntRange(-2000, 2000).Draw(t, "x")) / 20, Y: float64(rapid.IntRange(-2000, 2000).Draw(t, "y")) / 20},
			Stance: figures.Stance{Facing: figures.Heading(rapid.IntRange(0, figures.Headings-1).Draw(t, "facing")),
				Free: rapid.SampledFrom([]figures.Foot{figures.LeftFoot, figures.RightFoot}).Draw(t, "free"),
				Hold: figures.Hold(rapid.IntRange(0, figures.Holds-1).Draw(t, "hold"))}}
		for range rapid.IntRange(1, 30).Draw(t, "figures") {
			s := routine.Step{Variant: rapid.SampledFrom(variants).Draw(t, "figure"), Scale: 1,
				Corner: rapid.SampledFrom([]routine.Corner{routine.Unsaid, routine.Stay, routine.Take}).Draw(t, "corner")}
			if rapid.Bool().Draw(t, "scaled") {
				s.Scale = rapid.Float64Range(routinefile.LeastScale, routinefile.MostScale).Draw(t, "scale")
			}
			f.Steps = append(f.Steps, s)
		}
		data := routinefile.Format(f)
		back, err := routinefile.Read("drawn.yaml", data, figures.BuiltIn(), rooms)
		if err != nil {
			t.Fatalf("%v\n%s", err, data)
		}
		for i := range back.Steps {
			if back.Steps[i].Line == 0 {
				t.Fatalf("figure %d has no line", i+1)
			}
			back.Steps[i].Line = 0
		}
		if !reflect.DeepEqual(back, f) {
			t.Fatalf("read back it is\n%+v, and was\n%+v\n%s", back, f, data)
		}
		if again := routinefile.Format(back); string(again) != string(data) {
			t.Fatalf("written again it is\n%s, and was\n%s", again, data)
		}
	})
}

// FuzzRead reads any text: it never panics, and what it takes it reads back from
// its own file as it was.
func FuzzRead(f *testing.F) {
	files, err := filepath.Glob("../../../testdata/routines/*.yaml")
	if err != nil || len(files) == 0 {
		f.Fatal("no routines to begin with")
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Add([]byte("[Whisk]"))
	f.Add([]byte("name: \"a: b # c\"\nlap: no\nmargin: 0.3\nstart: {wall: 3}\nfigures: [{figure: Whisk, wall: next, scale: 1.1}]"))
	f.Add([]byte("figures: &a [*a]"))
	f.Fuzz(func(t *testing.T, data []byte) {
		file, err := routinefile.Read("any.yaml", data, figures.BuiltIn(), rooms)
		if err != nil {
			if file != nil || err.Error() == "" {
				t.Fatalf("both a routine and a fault: %v", err)
			}
			return
		}
		text := routinefile.Format(file)
		back, err := routinefile.Read("again.yaml", text, figures.BuiltIn(), rooms)
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		if again := routinefile.Format(back); string(again) != string(text) {
			t.Fatalf("written again it is\n%s, and was\n%s", again, text)
		}
	})
}
