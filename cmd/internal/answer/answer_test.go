package answer_test

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"strings"
	"testing"

	"lapwright/cmd/internal/answer"
	"lapwright/figures"
	"lapwright/figures/geometry"
	"lapwright/floors"
	"lapwright/graph"
	"lapwright/search/check"
	"lapwright/search/routine"
)

func Example() {
	room, _ := floors.Named("studio")
	answer.Write(os.Stdout, answer.NewRoom(room, "studio", "").Walls[0].From)
	// Output:
	// {
	//   "x": 0,
	//   "y": 0
	// }
}

func TestNumber(t *testing.T) {
	for _, c := range []struct {
		in   float64
		want string
	}{
		{0, "0"}, {1, "1"}, {0.1 + 0.2, "0.3"}, {-0.00001, "0"}, {1.23456, "1.2346"}, {-1.5, "-1.5"},
		{1e6, "1000000"}, {math.NaN(), "null"}, {math.Inf(1), "null"},
	} {
		if got, err := json.Marshal(answer.Number(c.in)); err != nil || string(got) != c.want {
			t.Errorf("%g is written %s, %v, want %s", c.in, got, err, c.want)
		}
	}
	if got, _ := json.Marshal(answer.Exact(0.12345678949)); string(got) != "0.123456789" {
		t.Errorf("exactly, it is written %s", got)
	}
}

func TestDegrees(t *testing.T) {
	for _, c := range [][2]float64{{0, 0}, {math.Pi, 180}, {-math.Pi / 2, 270}, {5 * math.Pi, 180}, {-1e-18, 0}} {
		if got := answer.Degrees(c[0]); math.Abs(got-c[1]) > 1e-9 {
			t.Errorf("%g is %g degrees, want %g", c[0], got, c[1])
		}
	}
}

// danced dances names from the default start of the village hall.
func danced(t *testing.T, names ...string) (*check.Report, *routine.Routine) {
	t.Helper()
	room, _ := floors.Named("village hall")
	r := &routine.Routine{Tempo: 30, Start: routine.Start{At: &geometry.Point{X: 3, Y: 1.5}}}
	for _, name := range names {
		v, ok := figures.BuiltIn().Variant(name)
		if !ok {
			t.Fatal(name)
		}
		r.Steps = append(r.Steps, routine.Step{Variant: v, Scale: 1})
	}
	r.Start.Stance = r.Steps[0].Variant.Entries[0]
	return check.Dance(room, figures.DefaultCouple(), r, check.Limits{Margin: -1, Library: figures.BuiltIn().Variants()}), r
}

// TestBacking tells that a place is said as the trade does: a couple that goes
// backward next backs.
func TestBacking(t *testing.T) {
	rep, r := danced(t, "Natural Turn (1-3)", "Natural Turn (4-6)")
	a := answer.NewRoutine(rep, r)
	first, second := a.Figures[0], a.Figures[1]
	if first.From.Alignment != "facing diagonal to wall" || first.To.Alignment != "backing line of dance" || second.From != first.To {
		t.Errorf("from %q to %q, then from %q", first.From.Alignment, first.To.Alignment, second.From.Alignment)
	}
	if second.To.Alignment != "facing diagonal to centre" {
		t.Errorf("at the end %q", second.To.Alignment)
	}
	// 2 bars at 30 a minute.
	if a.Totals.Seconds != 4 || a.Totals.Bars != 2 || a.Totals.Beats != 6 {
		t.Errorf("totals %+v", a.Totals)
	}
	if got := second.Steps[0].Beat; got != 3 {
		t.Errorf("the second figure begins at beat %g", float64(got))
	}
}

// TestFeet tells that feet are where the report has them.
func TestFeet(t *testing.T) {
	rep, r := danced(t, "Natural Turn", "Right Foot Closed Change")
	a := answer.NewRoutine(rep, r)
	for i := range rep.Rows {
		row := &rep.Rows[i]
		for k := range row.Danced.Steps {
			step := &row.Danced.Steps[k]
			for who, got := range []*answer.Footed{a.Figures[i].Steps[k].Leader, a.Figures[i].Steps[k].Follower} {
				want := row.Place(step.Placed.Foot(figures.Dancer(who), step.Falls[who].Foot).At)
				if math.Hypot(float64(got.X)-want.X, float64(got.Y)-want.Y) > 1e-9 {
					t.Errorf("figure %d, step %d, %s at %g, %g; want %v", i+1, k+1, figures.Dancer(who), got.X, got.Y, want)
				}
			}
		}
	}
}

// TestNearest names what is nearest.
func TestNearest(t *testing.T) {
	room, _ := floors.Named("village hall")
	for _, c := range []struct {
		x, y float64
		want string
	}{{9, 0.5, "lane side"}, {17.5, 1, "stage end"}, {16.8, 5, "stage apron"}, {0.2, 5, "door end"}, {1.3, 10.7, "tea table"}} {
		if got := answer.Nearest(room, geometry.Point{X: c.x, Y: c.y}); got != c.want {
			t.Errorf("nearest to %g, %g is %s, want %s", c.x, c.y, got, c.want)
		}
	}
}

// TestFiguresAreEnough tells that the figures as JSON hold what a search needs: for
// every variant each entry, the stance that it leads to, and the ground at each
// scale, as the figures themselves have them.
func TestFiguresAreEnough(t *testing.T) {
	couple := figures.DefaultCouple()
	all := answer.NewFigures(answer.FiguresAsked{Dance: "waltz", Couple: couple, Variants: figures.BuiltIn().Variants(), Sweep: true})
	n := 0
	for _, f := range all.Figures {
		for _, v := range f.Variations {
			variant, ok := figures.BuiltIn().Variant(v.Name)
			if !ok || variant.Name() != v.Name {
				t.Fatalf("%s is not found by its name", v.Name)
			}
			n++
			if len(v.Entries) != len(variant.Entries) || v.Bars != variant.Bars() {
				t.Errorf("%s: %d entries, %d bars", v.Name, len(v.Entries), v.Bars)
			}
			for i, e := range v.Entries {
				entry, err := figures.ParseStance(e.From.Alignment + ", " + e.From.FreeFoot + ", " + e.From.Hold)
				if err != nil || entry != variant.Entries[i] || e.To != answer.NewStance(variant.Exit(entry)) {
					t.Errorf("%s, entry %d: %+v, %v", v.Name, i, e, err)
				}
				for k, m := range e.Danced {
					d := variant.Dance(entry, couple.WithStride(couple.Stride*float64(all.Scales[k].Share)))
					if math.Hypot(float64(m.Displacement.X)-d.Displacement.X, float64(m.Displacement.Y)-d.Displacement.Y) > 1e-9 || len(m.Sweep) != len(d.Sweep()) {
						t.Errorf("%s at %g covers %v, want %v", v.Name, float64(m.Scale), m.Displacement, d.Displacement)
					}
				}
			}
		}
	}
	if n != len(figures.BuiltIn().Variants()) {
		t.Errorf("%d variations of %d", n, len(figures.BuiltIn().Variants()))
	}
}

// TestEmpty tells that nothing at all is still lists.
func TestEmpty(t *testing.T) {
	var b bytes.Buffer
	for _, a := range []any{
		answer.NewFigures(answer.FiguresAsked{}),
		answer.NewGraph(graph.New(nil), nil),
		answer.NewRoutine(&check.Report{Start: routine.Start{At: &geometry.Point{}}}, &routine.Routine{}),
		answer.NewFaults(&check.Report{}),
		answer.Names(nil),
	} {
		if err := answer.Write(&b, a); err != nil {
			t.Error(err)
		}
	}
	// No class is null; a list never is.
	if strings.Contains(strings.ReplaceAll(b.String(), `"class": null`, ""), "null") {
		t.Errorf("null in %s", b.String())
	}
}
