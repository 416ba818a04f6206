package classfile_test

import (
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"unicode"

	"pgregory.net/rapid"

	"lapwright/cmd/internal/classfile"
	"lapwright/figures"
	"lapwright/figures/document"
	"lapwright/search/routine"
)

// library is the figures that come with the program.
var library = figures.BuiltIn()

func read(text string) (*classfile.Class, error) {
	return classfile.Read("class.yaml", []byte(text), library)
}

const whole = `name: "Mondays: the slow ones"
dance: Waltz
style: American
room: rooms/hall.yaml
stride: social
tempo: 28.5
weeks:
  - [natural turn, RF Closed Change]
  - title: To the left
    note: The other way round.
    figures: [Reverse Turn (4-6)]
  - figures:
      - Reverse Turn
`

// TestRead tells what a file means, its names as the library has them.
func TestRead(t *testing.T) {
	c, err := read(whole)
	if err != nil {
		t.Fatal(err)
	}
	taught := func(line int, name string) classfile.Taught {
		ways, err := library.Ways(name)
		if err != nil {
			t.Fatal(err)
		}
		return classfile.Taught{Name: name, Variants: ways, Line: line}
	}
	want := &classfile.Class{Name: "Mondays: the slow ones", Dance: "waltz", Style: figures.American, Room: "rooms/hall.yaml",
		Stride: figures.SocialStride, Tempo: 28.5, Weeks: []classfile.Week{
			{Figures: []classfile.Taught{taught(8, "Natural Turn"), taught(8, "Right Foot Closed Change")}},
			{Title: "To the left", Note: "The other way round.", Figures: []classfile.Taught{taught(11, "Reverse Turn (4-6)")}},
			{Figures: []classfile.Taught{taught(13, "Reverse Turn")}},
		}}
	if !reflect.DeepEqual(c, want) {
		t.Errorf("got  %+v\nwant %+v", c, want)
	}
	if len(c.Weeks[0].Figures[0].Variants) < 2 || len(c.Weeks[1].Figures[0].Variants) != 1 {
		t.Error("a name stands for all ways of dancing a figure, one with brackets for itself")
	}
}

// TestKnown: what is known grows from week to week.
func TestKnown(t *testing.T) {
	c, err := read(whole)
	if err != nil {
		t.Fatal(err)
	}
	for week, want := range []string{"", "Natural Turn, Right Foot Closed Change", "Natural Turn, Right Foot Closed Change, Reverse Turn (4-6)",
		"Natural Turn, Right Foot Closed Change, Reverse Turn (4-6), Reverse Turn", "Natural Turn, Right Foot Closed Change, Reverse Turn (4-6), Reverse Turn"} {
		var names []string
		for _, k := range c.Known(week) {
			names = append(names, k.Name)
		}
		if got := strings.Join(names, ", "); got != want {
			t.Errorf("week %d: %s, want %s", week, got, want)
		}
	}
	if c.Known(-1) != nil {
		t.Error("before the first week something is known")
	}
}

// TestFaults: each is one clear sentence, with the line and the field where it is.
func TestFaults(t *testing.T) {
	for _, c := range []struct{ text, fault string }{
		{"", "class.yaml: the file is empty"},
		{"weeks: [", "class.yaml:1: this is not YAML"},
		{"[Whisk]", "class.yaml:1: fields (name, dance, style, room, stride, tempo, weeks) are expected here, not a list"},
		{"name: Mondays", `class.yaml:1: "weeks" is missing here; add it`},
		{"week: 1\nweeks: [[Whisk]]", `class.yaml:1: "week" is not a field that is known here`},
		{"weeks: [[Whisk]]\nweeks: [[Whisk]]", `"weeks" is given twice; keep one`},
		{"weeks: Whisk", `class.yaml:1: weeks: a list is expected here, not "Whisk"`},
		{"weeks: []", "class.yaml:1: weeks: 0 weeks are given; a class has from 1 to 200"},
		{"weeks:" + strings.Repeat("\n- [Whisk]", 201), "201 weeks are given"},
		{"weeks: [[]]", "class.yaml:1: weeks[1]: week 1 teaches 0 figures; a week has from 1 to 100"},
		{"weeks:\n- [Whisk]\n- title: None\n  figures: []", "class.yaml:4: weeks[2].figures: week 2 teaches 0 figures"},
		{"weeks: [[" + strings.Repeat("Whisk,", 101) + "]]", "week 1 teaches 101 figures"},
		{"weeks:\n- [Whisk]\n-", "class.yaml:3: weeks[2]: fields (title, note, figures) are expected here, not nothing"},
		{"weeks:\n- title: None", `class.yaml:2: weeks[1]: "figures" is missing here; add it`},
		{"weeks:\n- {title: [a], figures: [Whisk]}", "weeks[1].title: a word or text is expected here, not a list"},
		{"weeks: [[Wisk]]", `class.yaml:1: weeks[1][1]: there is no figure "Wisk"; the nearest names are: Whisk`},
		{"weeks: [[Natural Trun (1-3)]]", `there is no figure "Natural Trun (1-3)"; the nearest names are: Natural Turn`},
		{"weeks: [[Natural Turn (sideways)]]", `"Natural Turn (sideways)" is not a way of dancing Natural Turn; there are: Natural Turn, `},
		{"weeks: [[{figure: Whisk}]]", "weeks[1][1]: a word or text is expected here, not fields"},
		{"weeks:\n- [Whisk,\n  whisk]", "class.yaml:3: weeks[1][2]: Whisk is taught twice in week 1; keep one"},
		{"weeks:\n- [Whisk]\n- [Natural Turn]\n- [Whisk]", "class.yaml:4: weeks[3][1]: Whisk has been taught in week 1, and is known from then on; leave it out of week 3"},
		{"weeks:\n- [Natural Turn]\n- [Natural Turn (1-3)]", "Natural Turn (1-3) has been taught in week 1, and is known from then on; leave it out of week 2"},
		{"style: folk\nweeks: [[Whisk]]", `class.yaml:1: style: "folk" is not a style: write one of international, american, country`},
		{"dance: polka\nweeks: [[Whisk]]", `class.yaml:1: dance: the library has no figures for "polka"`},
		{"stride: long\nweeks: [[Whisk]]", `stride: "long" is not a stride: write usual, social, crowded or metres from`},
		{"tempo: 300\nweeks: [[Whisk]]", "tempo: 300 is out of range: a number from 10 to 60 is expected"},
		{"name: []\nweeks: [[Whisk]]", "class.yaml:1: name: a word or text is expected here, not a list"},
	} {
		got, err := read(c.text)
		if err == nil || got != nil || !strings.Contains(err.Error(), c.fault) {
			t.Errorf("%.60q: %v, want %s", c.text, err, c.fault)
			continue
		}
		var fault *document.Error
		if !errors.As(err, &fault) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%.60q: no single fault with a place: %v", c.text, err)
		}
	}
}

// TestAllFaults tells that a reader hears of all faults at once.
func TestAllFaults(t *testing.T) {
	_, err := read("tempo: fast\nstyle: folk\nweeks:\n- [Wisk]\n- {figure: [Whisk]}\n- [Natural Turn, Natural Turn]")
	for _, line := range []string{"class.yaml:1:", "class.yaml:2:", "class.yaml:4:", "class.yaml:5:", "class.yaml:6:"} {
		if err == nil || !strings.Contains(err.Error(), line) {
			t.Errorf("nothing about %s in: %v", line, err)
		}
	}
}

// TestReadsBack draws classes at random: what is written is read back equal, and is
// written the same again.
func TestReadsBack(t *testing.T) {
	printable := []*unicode.RangeTable{unicode.L, unicode.N, unicode.P, unicode.S, unicode.Zs}
	rapid.Check(t, func(t *rapid.T) {
		text := func(label string) string {
			return strings.TrimSpace(rapid.StringOf(rapid.RuneFrom(nil, printable...)).Draw(t, label))
		}
		c := &classfile.Class{Name: text("name"), Dance: "waltz", Room: text("room"),
			Style: rapid.SampledFrom(append([]figures.Style{figures.AnyStyle}, figures.Styles...)).Draw(t, "style")}
		if rapid.Bool().Draw(t, "own stride") {
			c.Stride = rapid.Float64Range(figures.LeastStride, figures.MostStride).Draw(t, "stride")
		}
		if rapid.Bool().Draw(t, "own tempo") {
			c.Tempo = rapid.Float64Range(routine.LeastTempo, routine.MostTempo).Draw(t, "tempo")
		}
		// No two figures share a way of dancing.
		taught := rapid.SliceOfNDistinct(rapid.SampledFrom(library.Figures()), 1, 20, func(f *figures.Figure) string { return f.Name }).Draw(t, "figures")
		for len(taught) > 0 {
			w := classfile.Week{Title: text("title"), Note: text("note")}
			n := rapid.IntRange(1, len(taught)).Draw(t, "in the week")
			for _, f := range taught[:n] {
				one := classfile.Taught{Name: f.Name, Variants: f.Variants}
				if v := rapid.SampledFrom(f.Variants).Draw(t, "way"); v.Label != "" {
					one = classfile.Taught{Name: v.Name(), Variants: []*figures.Variant{v}}
				}
				w.Figures = append(w.Figures, one)
			}
			c.Weeks, taught = append(c.Weeks, w), taught[n:]
		}
		data := classfile.Format(c)
		back, err := classfile.Read("drawn.yaml", data, library)
		if err != nil {
			t.Fatalf("%v\n%s", err, data)
		}
		for i := range back.Weeks {
			for j := range back.Weeks[i].Figures {
				if back.Weeks[i].Figures[j].Line == 0 {
					t.Fatalf("figure %d of week %d has no line", j+1, i+1)
				}
				back.Weeks[i].Figures[j].Line = 0
			}
		}
		if !reflect.DeepEqual(back, c) {
			t.Fatalf("read back it is\n%+v, and was\n%+v\n%s", back, c, data)
		}
		if again := classfile.Format(back); string(again) != string(data) {
			t.Fatalf("written again it is\n%s, and was\n%s", again, data)
		}
	})
}

// TestDemos: the classes of the testdata are read, and each week brings something new.
func TestDemos(t *testing.T) {
	files, err := filepath.Glob("../../../testdata/classes/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatal("there are no classes")
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		c, err := classfile.Read(file, data, library)
		if err != nil {
			t.Error(err)
			continue
		}
		for week := range c.Weeks {
			if len(c.Known(week+1)) <= len(c.Known(week)) {
				t.Errorf("%s: week %d brings nothing", file, week+1)
			}
		}
	}
}

// FuzzRead reads any text: it never panics, and what it takes it reads back from its
// own file as it was.
func FuzzRead(f *testing.F) {
	for _, text := range []string{whole, "weeks: [[Whisk]]", "name: \"a: b # c\"\nweeks:\n- {note: 'x', figures: [Natural Turn (1-3)]}", "weeks: &a [*a]", "style: {}\nweeks: [{}, [[]]]"} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		c, err := classfile.Read("any.yaml", data, library)
		if err != nil {
			if c != nil || err.Error() == "" {
				t.Fatalf("both a class and a fault: %v", err)
			}
			return
		}
		text := classfile.Format(c)
		back, err := classfile.Read("again.yaml", text, library)
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		if again := classfile.Format(back); string(again) != string(text) {
			t.Fatalf("written again it is\n%s, and was\n%s", again, text)
		}
	})
}
