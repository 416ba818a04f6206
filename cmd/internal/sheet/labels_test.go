package sheet

import (
	"fmt"
	"math"
	"testing"

	"lapwright/figures"
	"lapwright/figures/geometry"
	"lapwright/floors"
	"lapwright/search"
	"lapwright/search/check"
	"lapwright/search/routine"
)

// TestApart tells that no name covers another one, along every wall of every
// built-in room.
func TestApart(t *testing.T) {
	for _, room := range floors.BuiltIn() {
		for wall := range room.Walls {
			r := &routine.Routine{Start: search.DefaultStart(room, wall)}
			for range 4 {
				for _, name := range []string{"Natural Turn (1-3 to backing diagonal to centre)", "Outside Change", "Natural Turn", "Right Foot Closed Change"} {
					v, ok := figures.BuiltIn().Variant(name)
					if !ok {
						t.Fatal(name)
					}
					r.Steps = append(r.Steps, routine.Step{Variant: v, Scale: 1})
				}
			}
			r.Start.Stance = r.Steps[0].Variant.Entries[0]
			d := newDrawing(room)
			d.report = check.Dance(room, figures.DefaultCouple(), r, check.Limits{Margin: -1})
			d.rows = d.report.Rows
			d.letter(d.labelled())
			d.floor()
			d.couple()
			d.labels()
			if len(d.boxes) != len(r.Steps) {
				t.Fatalf("%d names of %d", len(d.boxes), len(r.Steps))
			}
			for i, a := range d.boxes {
				for j, b := range d.boxes[:i] {
					if a.overlaps(b) {
						t.Errorf("%s, %s: name %d covers name %d", room.Name, &room.Walls[wall], i+1, j+1)
					}
				}
			}
		}
	}
}

func TestOverlaps(t *testing.T) {
	at := func(x, y, turn float64) box {
		return box{geometry.Point{X: x, Y: y}, geometry.Unit(turn).Scale(2), geometry.Unit(turn + math.Pi/2).Scale(1)}
	}
	for i, c := range []struct {
		a, b box
		want bool
	}{
		{at(0, 0, 0), at(1, 0.5, 0), true},
		{at(0, 0, 0), at(2.01, 0, 0), false}, // side by side
		{at(0, 0, 0), at(0, 1.01, 0), false},
		{at(0, 0, 0), at(0.5, 0.5, 0.7), true},
		{at(0, 0, 0), at(2.8, 0.5, 0.785), false},
		{at(0, 0, 0), at(0.9, 0.4, 2), true},
	} {
		if got := c.a.overlaps(c.b); got != c.want || c.b.overlaps(c.a) != got {
			t.Errorf("%d: %t", i, got)
		}
	}
}

// TestSpread moves names apart and no farther.
func TestSpread(t *testing.T) {
	wall := &floors.Wall{Length: 10}
	for _, c := range []struct{ in, want []float64 }{
		{[]float64{1, 5}, []float64{1, 5}},
		{[]float64{5, 1}, []float64{1, 5}},
		{[]float64{5, 5}, []float64{4.5, 5.5}},
		{[]float64{4.8, 5, 5.2}, []float64{4, 5, 6}},
		{[]float64{10.4, 10.4}, []float64{9.5, 10.5}},
		{[]float64{-0.5, -0.5}, []float64{-0.5, 0.5}},
	} {
		d := &drawing{font: 1 / pitch}
		var list []*label
		for _, x := range c.in {
			list = append(list, &label{wall: wall, along: x})
		}
		d.spread(list)
		got, want := "", ""
		for i := range list {
			got += fmt.Sprintf(" %.3f", list[i].along)
			want += fmt.Sprintf(" %.3f", c.want[i])
		}
		if got != want {
			t.Errorf("%v spread to%s, want%s", c.in, got, want)
		}
	}
	(&drawing{font: 1}).spread(nil)
}
