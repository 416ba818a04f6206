//go:build compare

package search

import (
	"fmt"
	"reflect"
	"slices"
	"testing"

	"lapwright/figures"
	"lapwright/floors"
)

// compared is an instance of the comparison.
type compared struct {
	room, figures, limits string
	set                   func(*Problem) // nil: nothing more is asked for
}

// plainly are the rooms in which laps without limits are compared, with each of two sets
// of figures.
var plainly = []string{"studio", "village hall", "clubroom", "ballroom", "Pantry", "Square", "Parlour with a Column", "Bend", "Nook"}

// instances are the rooms, figures and limits of the comparison.
func instances(t faulty) (all []compared) {
	add := func(room, figures string, kinds ...compared) {
		for _, c := range kinds {
			all = append(all, compared{room, figures, c.limits, c.set})
		}
	}
	none := compared{limits: "none"}
	phrased := asked("ends on a phrase of 8 bars", func(p *Problem) { p.Limits.Phrase = 8 })
	for _, room := range plainly {
		add(room, "bronze", none)
		add(room, "first file", none)
	}
	for _, room := range []string{"Pantry", "studio"} {
		add(room, "library", none)
	}
	for _, room := range []string{"Pantry", "studio", "Square"} {
		add(room, "bronze", asked("2 laps", func(p *Problem) { p.Laps = 2 }),
			asked("steps of 0.9 m at most", func(p *Problem) { p.Limits.LeaderStep, p.Limits.FollowerStep = 0.9, 0.9 }))
	}
	variety := ofVariety(t)
	for _, c := range []struct {
		room string
		bars int
	}{{"studio", 14}, {"Pantry", 10}} {
		add(c.room, "bronze", variety...)
		add(c.room, "bronze", ofBars(t, c.bars)...)
		add(c.room, "bronze", ofTwoLaps(t)...)
	}
	for _, room := range []string{"Square", "Bend"} {
		add(room, "bronze", variety...)
		add(room, "bronze", phrased)
	}
	for _, room := range []string{"village hall", "clubroom", "ballroom"} {
		add(room, "bronze", variety[3:6]...)
		add(room, "bronze", phrased)
	}
	return all
}

// asked is something that is asked of a lap.
func asked(limits string, set func(*Problem)) compared { return compared{limits: limits, set: set} }

// ofVariety are limits on which figures are danced, how often and after which.
func ofVariety(t faulty) []compared {
	whisk, hesitation := figure(t, "Whisk"), figure(t, "Hesitation Change")
	left := Cap{"turns to the left", func(v *figures.Variant) bool { return v.Turn() > 0 }, 2}
	return []compared{
		asked("each figure at most 3 times", func(p *Problem) { p.Limits.Uses = 3 }),
		asked("3 bars apart", func(p *Problem) { p.Limits.Apart = 3 }),
		asked("at least 6 different", func(p *Problem) { p.Limits.Different = 6 }),
		asked("with a Whisk", func(p *Problem) { p.Limits.Must = []*figures.Figure{whisk} }),
		asked("at most 2 turns to the left", func(p *Problem) { p.Limits.Caps = []Cap{left} }),
		asked("at most 3 right turns in a row", func(p *Problem) { p.Limits.RightTurns = 3 }),
		asked("no Hesitation Change before a Whisk", func(p *Problem) { p.Limits.Orders = []Order{{whisk, hesitation}} }),
		asked("at most 4 times, 2 bars apart, at least 5 different", func(p *Problem) {
			p.Limits.Uses, p.Limits.Apart, p.Limits.Different = 4, 2, 5
		}),
	}
}

// ofBars are limits on the number of bars, where the best lap takes so many, and on what is
// danced in which.
func ofBars(t faulty, best int) []compared {
	whisk := figure(t, "Whisk")
	return []compared{
		asked("ends on a phrase of 4 bars", func(p *Problem) { p.Limits.Phrase = 4 }),
		asked(fmt.Sprintf("%d bars or more", best+1), func(p *Problem) { p.Limits.MinBars = best + 1 }),
		asked(fmt.Sprintf("%d bars at most", best-1), func(p *Problem) { p.Limits.MaxBars = best - 1 }),
		asked("a Whisk in bar 5", func(p *Problem) { p.Limits.Fixed = []Fixed{{whisk, 5, -1}} }),
		asked("a Whisk in bar 5 along the second wall", func(p *Problem) { p.Limits.Fixed = []Fixed{{whisk, 5, 1}} }),
	}
}

// ofTwoLaps are limits on a routine that goes round twice.
func ofTwoLaps(t faulty) []compared {
	whisk := figure(t, "Whisk")
	return []compared{
		asked("2 laps, with a Whisk", func(p *Problem) { p.Laps, p.Limits.Must = 2, []*figures.Figure{whisk} }),
		asked("2 laps, each figure at most 6 times", func(p *Problem) { p.Laps, p.Limits.Uses = 2, 6 }),
	}
}

// problem is the problem of an instance.
func (c *compared) problem(t faulty) *Problem {
	variants := map[string]func() []*figures.Variant{
		"bronze":     func() []*figures.Variant { return atLevel(figures.Bronze) },
		"first file": func() []*figures.Variant { return atLevel() },
		"library":    figures.BuiltIn().Variants,
	}[c.figures]()
	all := rooms(t)
	i := slices.IndexFunc(all, func(r *floors.Room) bool { return r.Name == c.room })
	if i < 0 {
		all, i = []*floors.Room{named(t, c.room)}, 0
	}
	p := problem(all[i], variants)
	if c.set != nil {
		c.set(p)
	}
	return p
}

// String names an instance.
func (c *compared) String() string { return c.room + ", " + c.figures + ", " + c.limits }

// TestCompareInstances: every kind of limit is among the instances, and a routine of
// several laps, with limits and without, and no instance is there twice.
func TestCompareInstances(t *testing.T) {
	seen, kinds := map[string]bool{}, map[string]bool{}
	for _, c := range instances(t) {
		if seen[c.String()] {
			t.Errorf("%s is there twice", &c)
		}
		seen[c.String()] = true
		p := c.problem(t)
		limits := reflect.ValueOf(p.Limits)
		for i := range limits.NumField() {
			if !limits.Field(i).IsZero() {
				kinds[limits.Type().Field(i).Name] = true
			}
		}
		if p.Laps > 1 {
			kinds[fmt.Sprintf("laps, limits %t", p.Limits.past())] = true
		}
	}
	want := []string{"laps, limits false", "laps, limits true"}
	for i := range reflect.TypeFor[Limits]().NumField() {
		want = append(want, reflect.TypeFor[Limits]().Field(i).Name)
	}
	for _, kind := range want {
		if !kinds[kind] {
			t.Errorf("no instance asks for %s", kind)
		}
	}
	t.Logf("%d instances", len(seen))
}
