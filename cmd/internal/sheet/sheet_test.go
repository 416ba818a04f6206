package sheet_test

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"lapwright/cmd/internal/golden"
	"lapwright/cmd/internal/sheet"
	"lapwright/figures"
	"lapwright/figures/geometry"
	"lapwright/floors"
	"lapwright/search"
	"lapwright/search/check"
	"lapwright/search/routine"
)

func Example() {
	room, _ := floors.Named("studio")
	data := sheet.DrawRoom(room)
	fmt.Println(strings.Contains(string(data), `<title id="title">Sailmaker&#39;s Studio</title>`))
	// Output: true
}

// danced dances names along a wall of a room.
func danced(t testing.TB, room string, wall int, names ...string) *check.Report {
	t.Helper()
	floor, ok := floors.Named(room)
	if !ok {
		t.Fatal(room)
	}
	r := &routine.Routine{Start: search.DefaultStart(floor, wall)}
	for _, name := range names {
		v, ok := figures.BuiltIn().Variant(name)
		if !ok {
			t.Fatal(name)
		}
		r.Steps = append(r.Steps, routine.Step{Variant: v, Scale: 1})
	}
	r.Start.Stance = r.Steps[0].Variant.Entries[0]
	return check.Dance(floor, figures.DefaultCouple(), r, check.Limits{Margin: -1})
}

var lesson = []string{"Natural Turn", "Right Foot Closed Change", "Reverse Turn", "Left Foot Closed Change", "Natural Turn (1-3)"}

// element is one element of a drawing.
type element struct {
	name  string
	attrs map[string]string
	text  string
}

// elements reads a drawing; a fault in its XML fails the test.
func elements(t testing.TB, data []byte) []element {
	t.Helper()
	dec := xml.NewDecoder(strings.NewReader(string(data)))
	var all []element
	var open []int
	for {
		tok, err := dec.Token()
		if errors.Is(err, io.EOF) {
			return all
		}
		if err != nil {
			t.Fatalf("it is not XML: %v", err)
		}
		switch tok := tok.(type) {
		case xml.StartElement:
			e := element{name: tok.Name.Local, attrs: map[string]string{}}
			for _, a := range tok.Attr {
				e.attrs[a.Name.Local] = a.Value
			}
			open = append(open, len(all))
			all = append(all, e)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			if len(open) > 0 {
				all[open[len(open)-1]].text += string(tok)
			}
		}
	}
}

var placed = regexp.MustCompile(`^translate\((\S+) (\S+)\) rotate\((\S+)\)$`)

// TestFootprints reads every footprint back from the drawing: it lies where the
// report has it, and points there.
func TestFootprints(t *testing.T) {
	for _, room := range floors.Names() {
		for wall := range 4 {
			rep := danced(t, room, wall, lesson...)
			type key struct{ figure, step, shoe string }
			found := map[key]geometry.Point{}
			toes := map[key]float64{}
			for _, e := range elements(t, sheet.Draw(rep, sheet.Title{Name: "Lesson"})) {
				if e.name != "use" || e.attrs["data-figure"] == "" {
					continue
				}
				m := placed.FindStringSubmatch(e.attrs["transform"])
				if m == nil {
					t.Fatalf("a footprint lies %s", e.attrs["transform"])
				}
				k := key{e.attrs["data-figure"], e.attrs["data-step"], e.attrs["href"]}
				found[k] = geometry.Point{X: number(t, m[1]), Y: -number(t, m[2])}
				toes[k] = -number(t, m[3])
			}
			steps := 4 // how the couple stands before the first step
			for i := range rep.Rows {
				row := &rep.Rows[i]
				for n := range row.Danced.Steps {
					step := &row.Danced.Steps[n]
					for who := figures.Leader; who <= figures.Follower; who++ {
						foot := step.Falls[who].Foot
						if foot == figures.NoFoot {
							continue
						}
						steps++
						k := key{strconv.Itoa(i + 1), strconv.Itoa(n + 1), "#" + who.String() + "-" + foot.Short()}
						print := step.Placed.Foot(who, foot)
						got, ok := found[k]
						if want := row.Place(print.At); !ok || got.Sub(want).Len() > 0.001 {
							t.Errorf("%s, wall %d, %v: at %v, want %v", room, wall+1, k, got, want)
						}
						if off := math.Remainder(toes[k]-row.Angle(print.Front)*180/math.Pi, 360); math.Abs(off) > 0.001 {
							t.Errorf("%s, wall %d, %v points %g degrees off", room, wall+1, k, off)
						}
					}
				}
			}
			if len(found) != steps {
				t.Errorf("%s, wall %d: %d footprints, want %d", room, wall+1, len(found), steps)
			}
		}
	}
}

func number(t testing.TB, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// TestOnTheSheet tells that all letters and lines are on the sheet.
func TestOnTheSheet(t *testing.T) {
	for _, room := range floors.Names() {
		for wall := range 4 {
			all := elements(t, sheet.Draw(danced(t, room, wall, lesson...), sheet.Title{Name: "Lesson", Line: "waltz"}))
			var low, size geometry.Point
			box := strings.Fields(all[0].attrs["viewBox"])
			low.X, low.Y, size.X, size.Y = number(t, box[0]), number(t, box[1]), number(t, box[2]), number(t, box[3])
			for _, e := range all {
				var places []string
				switch e.name {
				case "polyline", "polygon":
					places = strings.Fields(e.attrs["points"])
				case "text":
					m := regexp.MustCompile(`translate\((\S+) (\S+)\)`).FindStringSubmatch(e.attrs["transform"])
					places = []string{m[1] + "," + m[2]}
				}
				for _, p := range places {
					x, y, _ := strings.Cut(p, ",")
					if px, py := number(t, x)-low.X, number(t, y)-low.Y; px < 0 || py < 0 || px > size.X || py > size.Y {
						t.Errorf("%s, wall %d: %s %q lies off the sheet at %s", room, wall+1, e.name, e.text, p)
					}
				}
			}
		}
	}
}

// TestWords holds what a drawing says, and how many of what it shows, to what it
// was.
func TestWords(t *testing.T) {
	drawings := map[string][]byte{}
	for _, room := range floors.Names() {
		drawings[strings.ReplaceAll(room, " ", "-")] = sheet.Draw(danced(t, room, 0, lesson...), sheet.Title{Name: "Lesson & <more>", Line: "waltz, for a test"})
		floor, _ := floors.Named(room)
		drawings[strings.ReplaceAll(room, " ", "-")+"-empty"] = sheet.DrawRoom(floor)
	}
	for name, data := range drawings {
		counts := map[string]int{}
		var lines []string
		for _, e := range elements(t, data) {
			kind := e.name
			if class := e.attrs["class"]; class != "" && e.name != "text" {
				kind += " " + class
			}
			counts[kind]++
			if e.name == "title" || e.name == "desc" || e.name == "text" {
				lines = append(lines, e.name+": "+e.text)
			}
			if e.name == "g" && e.attrs["id"] != "" {
				lines = append(lines, "part: "+e.attrs["id"])
			}
		}
		var kinds []string
		for k, n := range counts {
			kinds = append(kinds, fmt.Sprintf("%d %s", n, k))
		}
		slices.SortFunc(kinds, func(a, b string) int {
			_, a, _ = strings.Cut(a, " ")
			_, b, _ = strings.Cut(b, " ")
			return strings.Compare(a, b)
		})
		got := strings.Join(lines, "\n") + "\n\n" + strings.Join(kinds, "\n") + "\n"
		for _, jargon := range []string{"vertex", "node", "state", "NaN", "Inf"} {
			if strings.Contains(string(data), jargon) {
				t.Errorf("%s: the drawing says %s", name, jargon)
			}
		}
		path := filepath.Join("testdata", name+".txt")
		golden.Text(t, path, got)
	}
}

// TestFault marks a figure that is at fault in words.
func TestFault(t *testing.T) {
	rep := danced(t, "village hall", 0, "Natural Turn", "Reverse Turn")
	if len(rep.Faults()) == 0 {
		t.Fatal("the routine is meant to have a fault")
	}
	if !strings.Contains(string(sheet.Draw(rep, sheet.Title{Name: "x"})), ">3  Reverse Turn (fault)<") {
		t.Error("the fault is not marked")
	}
}

// TestSame tells that a drawing is the same each time.
func TestSame(t *testing.T) {
	rep := danced(t, "clubroom", 2, lesson...)
	first := string(sheet.Draw(rep, sheet.Title{Name: "x"}))
	for range 3 {
		if string(sheet.Draw(rep, sheet.Title{Name: "x"})) != first {
			t.Fatal("it differs")
		}
	}
}

// BenchmarkDraw draws a lesson in the ballroom.
func BenchmarkDraw(b *testing.B) {
	rep := danced(b, "ballroom", 0, lesson...)
	for b.Loop() {
		sheet.Draw(rep, sheet.Title{Name: "Lesson"})
	}
}
