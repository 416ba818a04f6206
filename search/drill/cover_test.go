package drill_test

import (
	"context"
	"fmt"
	"math/bits"
	"strings"
	"testing"

	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search"
	"lapwright/search/check"
	"lapwright/search/drill"
	"lapwright/search/future"
	"lapwright/search/routine"
)

// partName is what a way of dancing is called where only its part counts.
func partName(v *figures.Variant) string {
	if label := v.Label; strings.HasPrefix(label, "1-3") || strings.HasPrefix(label, "4-6") {
		return v.Figure.Name + " (" + label[:3] + ")"
	}
	return v.Figure.Name
}

// has lists the joins or figures of some steps.
func has(steps []routine.Step, joins bool) map[string]bool {
	all := map[string]bool{}
	for i, s := range steps {
		if !joins {
			all[partName(s.Variant)] = true
		} else if i > 0 {
			all[partName(steps[i-1].Variant)+" > "+partName(s.Variant)] = true
		}
	}
	return all
}

// A routine has in it what it says, is clean by the checker, takes the bars it says, and is
// no shorter than its bound; what can be danced and is not in it is named.
func TestCover(t *testing.T) {
	basic := []string{"Natural Turn", "Reverse Turn", "Right Foot Closed Change", "Left Foot Closed Change", "Whisk", "Chassé from Promenade", "Hesitation Change"}
	hall, _ := floors.Named("village hall")
	for _, room := range []*floors.Room{nil, studio(t), hall} {
		for _, joins := range []bool{false, true} {
			p := small(t, room, basic...)
			source, err := drill.New(context.Background(), p)
			if err != nil {
				t.Fatal(err)
			}
			c, err := source.Cover(context.Background(), joins, 1)
			if err != nil {
				t.Fatal(err)
			}
			found := has(c.Steps, joins)
			for _, i := range c.Covered {
				if !found[i.Name()] {
					t.Errorf("%s is not in the routine", i.Name())
				}
				delete(found, i.Name())
			}
			for _, i := range append(c.Apart, c.Left...) {
				if found[i.Name()] {
					t.Errorf("%s is in the routine, and is told not to be", i.Name())
				}
			}
			for name := range found {
				if joins || !strings.Contains(name, "(") {
					t.Errorf("%s is in the routine, and is not told", name)
				}
			}
			if len(c.Covered) == 0 || len(c.Left) > 0 || c.Bars < c.Bound || c.Proven() != (c.Bars == c.Bound) {
				t.Errorf("joins %v: %d covered, %d left, %d bars, bound %d", joins, len(c.Covered), len(c.Left), c.Bars, c.Bound)
			}
			bars := 0
			for _, s := range c.Steps {
				bars += s.Variant.Bars()
			}
			if bars != c.Bars {
				t.Errorf("%d bars, %d told", bars, c.Bars)
			}
			if room != nil {
				report := check.Dance(room, p.Room.Couple, &routine.Routine{Start: c.Start, Steps: c.Steps, Stride: p.Room.Couple.Stride}, check.Limits{Margin: -1})
				if faults := report.Faults(); len(faults) > 0 {
					t.Errorf("faults: %v", faults)
				}
			}
			again, err := source.Cover(context.Background(), joins, 1)
			if err != nil || key(again.Steps) != key(c.Steps) {
				t.Errorf("another routine with the same seed (%v)", err)
			}
		}
	}
}

// shortest is the least number of bars with every item, found with all routines in the
// order of their length (breadth first), and which items there are.
func shortest(t *testing.T, p *drill.Problem, joins bool) (bars, items int) {
	type at struct {
		state  search.State
		figure string
		done   uint64
	}
	states, err := search.NewStates(p.Room)
	if err != nil {
		t.Fatal(err)
	}
	alive, err := future.NewAlive(context.Background(), states)
	if err != nil {
		t.Fatal(err)
	}
	begin, err := states.Start(p.Start)
	if err != nil {
		t.Fatal(err)
	}
	whole := map[string]bool{}
	for _, v := range p.Room.Variants {
		whole[v.Figure.Name] = true
	}
	number := map[string]int{}
	item := func(before string, v *figures.Variant) (bit uint64) {
		name := partName(v)
		switch {
		case joins && before == "":
			return 0
		case joins:
			name = before + " > " + name
		case strings.Contains(name, "("):
			return 0
		}
		if _, known := number[name]; !known {
			number[name] = len(number)
		}
		return 1 << number[name]
	}
	// First what there is.
	type plain struct {
		state  search.State
		figure string
	}
	seen := map[plain]bool{{begin, ""}: true}
	for todo := []plain{{begin, ""}}; len(todo) > 0; todo = todo[1:] {
		for m := range states.Moves(todo[0].state) {
			if !alive.Has(m.To) {
				continue
			}
			item(todo[0].figure, m.Variant)
			if next := (plain{m.To, partName(m.Variant)}); !seen[next] {
				seen[next] = true
				todo = append(todo, next)
			}
		}
	}
	all := uint64(1)<<len(number) - 1
	layers := map[int][]at{0: {{begin, "", 0}}}
	known := map[at]bool{}
	for bars := 0; ; bars++ {
		for _, here := range layers[bars] {
			if here.done == all {
				return bars, bits.OnesCount64(all)
			}
			if known[here] {
				continue
			}
			known[here] = true
			for m := range states.Moves(here.state) {
				if alive.Has(m.To) {
					next := at{m.To, partName(m.Variant), here.done | item(here.figure, m.Variant)}
					layers[bars+m.Bars] = append(layers[bars+m.Bars], next)
				}
			}
		}
		delete(layers, bars)
	}
}

// In a small room the routine is compared with the shortest there is.
func TestCoverAgainstAllRoutines(t *testing.T) {
	room, err := floors.Load("closet.yaml", []byte("name: closet\noutline: [[0, 0], [6, 0], [6, 5], [0, 5]]\n"))
	if err != nil {
		t.Fatal(err)
	}
	proven := 0
	for _, names := range [][]string{
		{"Natural Turn", "Right Foot Closed Change", "Left Foot Closed Change"},
		{"Natural Turn", "Right Foot Closed Change", "Left Foot Closed Change", "Hesitation Change"},
	} {
		for _, joins := range []bool{false, true} {
			p := small(t, room, names...)
			p.Room.Variants = nil
			for _, name := range names {
				v, _ := figures.BuiltIn().Variant(name)
				p.Room.Variants = append(p.Room.Variants, v)
			}
			p.Room.Couple, p.Room.Margin = p.Room.Couple.WithStride(0.45), 0.05
			source, err := drill.New(context.Background(), p)
			if err != nil {
				t.Fatalf("%v: %v", names, err)
			}
			c, err := source.Cover(context.Background(), joins, 1)
			if err != nil {
				t.Fatal(err)
			}
			bars, items := shortest(t, p, joins)
			if c.Bound > bars || c.Bars < bars || len(c.Covered) != items {
				t.Errorf("%v: %d bars, bound %d, %d items; the shortest has %d bars, %d items", names, c.Bars, c.Bound, len(c.Covered), bars, items)
			}
			if c.Proven() {
				proven++
			}
		}
	}
	if proven == 0 {
		t.Error("no routine is proven shortest")
	}
}

func ExampleSource_Cover() {
	var basic []*figures.Variant
	for _, name := range []string{"Natural Turn", "Reverse Turn", "Right Foot Closed Change", "Left Foot Closed Change"} {
		v, _ := figures.BuiltIn().Variant(name)
		basic = append(basic, v)
	}
	source, err := drill.New(context.Background(), &drill.Problem{
		Room:  &search.Problem{Variants: basic, Couple: figures.DefaultCouple()}, // no room: anywhere
		Start: routine.Start{Stance: basic[0].Entries[0]},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	c, err := source.Cover(context.Background(), true, 1)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, item := range c.Covered {
		fmt.Println(item.Name())
	}
	fmt.Println(c.Bars, "bars, proven shortest:", c.Proven())
	// Output:
	// Natural Turn > Right Foot Closed Change
	// Right Foot Closed Change > Reverse Turn
	// Reverse Turn > Left Foot Closed Change
	// Left Foot Closed Change > Natural Turn
	// 8 bars, proven shortest: true
}

func BenchmarkCover(b *testing.B) {
	room, _ := floors.Named("village hall")
	var variants []*figures.Variant
	for _, f := range figures.BuiltIn().Figures() {
		if f.At(figures.International, figures.Bronze) {
			variants = append(variants, f.Variants...)
		}
	}
	for name, joins := range map[string]bool{"figures": false, "joins": true} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				source, err := drill.New(context.Background(), &drill.Problem{Start: search.DefaultStart(room, 0),
					Room: &search.Problem{Room: room, Variants: variants, Couple: figures.DefaultCouple(), Margin: -1, Scales: []search.Scale{{Share: 1}}}})
				if err != nil {
					b.Fatal(err)
				}
				c, err := source.Cover(context.Background(), joins, 1)
				if err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(100*float64(c.Bars-c.Bound)/float64(c.Bound), "gap-%")
			}
		})
	}
}
