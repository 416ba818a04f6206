package sheet_test

import (
	"fmt"
	"math"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"lapwright/cmd/internal/golden"
	"lapwright/cmd/internal/sheet"
	"lapwright/figures"
	"lapwright/figures/geometry"
)

// drawn draws a variant from its first entry.
func drawn(v *figures.Variant) (*figures.Danced, []byte) {
	d := v.Dance(v.Entries[0], figures.DefaultCouple())
	return d, sheet.DrawFigure(d, sheet.Title{Name: v.Name()})
}

// named finds a variant of the library.
func named(t testing.TB, name string) *figures.Variant {
	t.Helper()
	v, ok := figures.BuiltIn().Variant(name)
	if !ok {
		t.Fatalf("there is no %s", name)
	}
	return v
}

func ExampleDrawFigure() {
	v, _ := figures.BuiltIn().Variant("Whisk")
	data := sheet.DrawFigure(v.Dance(v.Entries[0], figures.DefaultCouple()), sheet.Title{Name: v.Name()})
	fmt.Println(strings.Contains(string(data), ">left foot crosses behind<"))
	// Output: true
}

var (
	placedUse = regexp.MustCompile(`<use href="#(leader|follower)-(LF|RF)" class="(placed|light) \S+" data-step="([1-9]\d*)" transform="translate\((\S+) (\S+)\) rotate\((\S+)\)"/>`)
	somewhere = regexp.MustCompile(`translate\((\S+) (\S+)\)`)
)

// placedPrint is a foot as it was read back from a drawing.
type placedPrint struct {
	who, foot, weight, step string
	at                      geometry.Point
	toe                     float64
}

// prints reads the feet that are placed in a piece of a drawing.
func prints(t testing.TB, piece string) (all []placedPrint) {
	t.Helper()
	for _, m := range placedUse.FindAllStringSubmatch(piece, -1) {
		all = append(all, placedPrint{m[1], m[2], m[3], m[4], geometry.Point{X: number(t, m[5]), Y: -number(t, m[6])}, -number(t, m[7])})
	}
	return all
}

// group cuts a group of elements out of a drawing; groups of steps lie within
// those of bars.
func group(t testing.TB, data []byte, id string) string {
	t.Helper()
	_, rest, ok := strings.Cut(string(data), `<g id="`+id+`">`)
	if !ok {
		t.Fatalf("the drawing has no %s", id)
	}
	piece, _, _ := strings.Cut(rest, "</g>")
	return piece
}

// TestFigureIsTrueToScale reads the feet of every figure back: in the plans they
// lie to each other as they were danced, and in the panels leader and follower do.
func TestFigureIsTrueToScale(t *testing.T) {
	for _, v := range figures.BuiltIn().Variants() {
		d, data := drawn(v)
		for who := figures.Leader; who <= figures.Follower; who++ {
			found := prints(t, group(t, data, "plan-"+who.String()))
			n := 0
			var first geometry.Point
			for i := range d.Steps {
				foot := d.Steps[i].Falls[who].Foot
				if foot == figures.NoFoot {
					continue
				}
				want := d.Steps[i].Placed.Foot(who, foot)
				if n >= len(found) {
					t.Fatalf("%s: the %s's plan ends before step %d", v.Name(), who, i+1)
				}
				got := found[n]
				if n == 0 {
					first = got.at.Sub(want.At)
				}
				n++
				if got.at.Sub(first).Sub(want.At).Len() > 0.003 || got.foot != foot.Short() || got.step != fmt.Sprint(i+1) ||
					math.Abs(math.Remainder(got.toe-want.Front.Radians()*180/math.Pi, 360)) > 0.01 {
					t.Errorf("%s: the %s's step %d lies %+v, want %v %v", v.Name(), who, i+1, got, foot, want)
				}
				if light := got.weight == "light"; light != d.Steps[i].Step.Actions[who].Weightless {
					t.Errorf("%s: the %s's step %d is drawn %s", v.Name(), who, i+1, got.weight)
				}
			}
			if n != len(found) {
				t.Errorf("%s: the %s's plan has %d feet, want %d", v.Name(), who, len(found), n)
			}
		}
		for i := range d.Steps {
			found := prints(t, group(t, data, fmt.Sprintf("step-%d", i+1)))
			lead, follow := d.Steps[i].Falls[figures.Leader].Foot, d.Steps[i].Falls[figures.Follower].Foot
			if lead == figures.NoFoot || follow == figures.NoFoot {
				if len(found) != 1 {
					t.Errorf("%s, step %d: %d feet are placed", v.Name(), i+1, len(found))
				}
				continue
			}
			m := &d.Steps[i].Placed
			want := m.Foot(figures.Follower, follow).At.Sub(m.Foot(figures.Leader, lead).At)
			if len(found) != 2 || found[1].at.Sub(found[0].at).Sub(want).Len() > 0.003 {
				t.Errorf("%s, step %d: the feet lie %+v, want %v from leader to follower", v.Name(), i+1, found, want)
			}
		}
	}
}

// TestFigureStaysOnTheSheet tells that everything lies on the sheet, that numbers
// and letters lie in the frame of their step, and that the drawing is the same each
// time.
func TestFigureStaysOnTheSheet(t *testing.T) {
	for _, v := range figures.BuiltIn().Variants() {
		d, data := drawn(v)
		if again := sheet.DrawFigure(d, sheet.Title{Name: v.Name()}); string(again) != string(data) {
			t.Fatalf("%s: it differs from time to time", v.Name())
		}
		for _, jargon := range []string{"NaN", "Inf", "vertex", "node"} {
			if strings.Contains(string(data), jargon) {
				t.Errorf("%s: the drawing says %s", v.Name(), jargon)
			}
		}
		all := elements(t, data)
		box := strings.Fields(all[0].attrs["viewBox"])
		low := geometry.Point{X: number(t, box[0]), Y: number(t, box[1])}
		size := geometry.Point{X: number(t, box[2]), Y: number(t, box[3])}
		on := func(x, y float64, what string) {
			if x < low.X || y < low.Y || x > low.X+size.X || y > low.Y+size.Y {
				t.Errorf("%s: %s lies off the sheet at %g, %g", v.Name(), what, x, y)
			}
		}
		for _, e := range all {
			switch e.name {
			case "use":
				m := somewhere.FindStringSubmatch(e.attrs["transform"])
				on(number(t, m[1]), number(t, m[2]), "a foot")
			case "text":
				m := somewhere.FindStringSubmatch(e.attrs["transform"])
				x, y := number(t, m[1]), number(t, m[2])
				on(x, y, e.text)
				if e.attrs["text-anchor"] == "start" {
					on(x+0.0055*number(t, e.attrs["font-size"])*float64(len([]rune(e.text))), y, e.text)
				}
			case "polyline", "polygon":
				for _, p := range strings.Fields(e.attrs["points"]) {
					x, y, _ := strings.Cut(p, ",")
					on(number(t, x), number(t, y), e.name)
				}
			}
		}
	}
}

// TestFigureWords holds what a sheet says, and how many of what it shows, to what
// it was.
func TestFigureWords(t *testing.T) {
	for _, name := range []string{"Natural Turn", "Natural Spin Turn", "Whisk", "Double Reverse Spin", "Chassé from Promenade", "Closed Telemark"} {
		_, data := drawn(named(t, name))
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
			kinds = append(kinds, fmt.Sprintf("%s: %d", k, n))
		}
		slices.Sort(kinds)
		got := strings.Join(lines, "\n") + "\n\n" + strings.Join(kinds, "\n") + "\n"
		path := filepath.Join("testdata", "figure-"+strings.ReplaceAll(figures.NameKey(name), " ", "-")+".txt")
		golden.Text(t, path, got)
	}
}

// TestTurnsAreDrawn counts the curved arrows: one for every foot that turns, and one
// for every foot that pivots, in the panels.
func TestTurnsAreDrawn(t *testing.T) {
	for _, v := range figures.BuiltIn().Variants() {
		d, data := drawn(v)
		for i := range d.Steps {
			s := &d.Steps[i]
			want := 0
			for who := figures.Leader; who <= figures.Follower; who++ {
				if s.Falls[who].Foot != figures.NoFoot && s.Falls[who].Turn != 0 {
					want++
				}
				if s.Step.Pivot != 0 {
					want++
				}
			}
			piece := group(t, data, fmt.Sprintf("step-%d", i+1))
			if got := strings.Count(piece, `class="turnhead`); got != want {
				t.Errorf("%s, step %d: %d arrows, want %d", v.Name(), i+1, got, want)
			}
			for who := figures.Leader; who <= figures.Follower; who++ {
				if foot := s.Falls[who].Foot; foot != figures.NoFoot && !strings.Contains(piece, ">"+s.Falls[who].Alignment.Short()) {
					t.Errorf("%s, step %d: %s is not said", v.Name(), i+1, s.Falls[who].Alignment.Short())
				}
			}
		}
	}
}
