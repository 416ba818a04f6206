package search

import (
	"context"
	"flag"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"lapwright/figures"
	"lapwright/figures/geometry"
	"lapwright/floors"
	"lapwright/search/routine"

	"pgregory.net/rapid"
)

// draws is rapid.Check with a share of the usual number of draws, for
// properties that take long.
func draws(t *testing.T, share float64, property func(*rapid.T)) {
	t.Helper()
	checks := flag.Lookup("rapid.checks")
	usual := checks.Value.String()
	n, err := strconv.Atoi(usual)
	if err != nil {
		t.Fatal(err)
	}
	set := func(value string) {
		if err := checks.Value.Set(value); err != nil {
			t.Fatal(err)
		}
	}
	set(fmt.Sprint(max(1, int(math.Round(float64(n)*share/slower)))))
	defer set(usual)
	rapid.Check(t, property)
}

// metres draws a length in whole centimetres.
func metres(t *rapid.T, label string, least, most float64) float64 {
	return float64(rapid.IntRange(int(math.Round(least*100)), int(math.Round(most*100))).Draw(t, label)) / 100
}

// outline writes the corners of a room.
func outline(corners ...geometry.Point) string {
	var all []string
	for _, c := range corners {
		all = append(all, fmt.Sprintf("[%.4f, %.4f]", c.X, c.Y))
	}
	return "outline: [" + strings.Join(all, ", ") + "]"
}

// room draws a small room: a rectangle, straight or at an odd angle, one with a
// skew end, an L, or one with a column. Its sides are from least to least + 4
// metres.
func room(t *rapid.T, least float64) *floors.Room {
	w, h := metres(t, "width", least, least+4), metres(t, "depth", least, least+4)
	corners := []geometry.Point{{}, {X: w}, {X: w, Y: h}, {Y: h}}
	var columns []string
	switch kind := rapid.SampledFrom([]string{"straight", "odd", "skew", "L", "column"}).Draw(t, "kind"); kind {
	case "odd":
		angle := rapid.Float64Range(-math.Pi, math.Pi).Draw(t, "angle")
		for i := range corners {
			corners[i] = corners[i].Rotate(angle)
		}
	case "skew":
		corners[2].X += metres(t, "skew", -1, 1)
		corners[3].Y += metres(t, "slope", -1, 1)
	case "L":
		w, h = least+3+w/8, least+3+h/8
		a, b := metres(t, "arm", 4.2, 5), metres(t, "other arm", 4.2, 5)
		corners = []geometry.Point{{}, {X: w}, {X: w, Y: a}, {X: b, Y: a}, {X: b, Y: h}, {Y: h}}
	case "column":
		columns = []string{fmt.Sprintf("{name: column, centre: [%.2f, %.2f], radius: %.2f}",
			w/2+metres(t, "aside", -0.3, 0.3), h/2+metres(t, "off", -0.3, 0.3), metres(t, "radius", 0.1, 0.3))}
	}
	text := "name: Room\n" + outline(corners...) + "\n"
	if columns != nil {
		text += "obstacles: [" + strings.Join(columns, ", ") + "]\n"
	}
	room, err := floors.Load("room.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return room
}

// core are figures that go all the way round between them.
var core = []string{"Natural Turn", "Right Foot Closed Change", "Reverse Turn", "Left Foot Closed Change"}

// repertory draws some figures: the core with a few more, with a part of the
// core left out now and then.
func repertory(t *rapid.T, most int) []*figures.Variant {
	all := figures.BuiltIn().Figures()
	use := map[string]bool{}
	for _, name := range core {
		use[name] = true
	}
	for _, i := range rapid.SliceOfNDistinct(rapid.IntRange(0, len(all)-1), most/2, most, rapid.ID).Draw(t, "more") {
		use[all[i].Name] = true
	}
	if rapid.IntRange(0, 3).Draw(t, "leave out") == 3 {
		delete(use, rapid.SampledFrom(core).Draw(t, "left out"))
	}
	var variants []*figures.Variant
	for _, f := range all {
		if use[f.Name] {
			variants = append(variants, f.Variants...)
		}
	}
	return variants
}

// weights draws what a lap's costs count.
func weights(t *rapid.T) Weights {
	w := DefaultWeights()
	if rapid.Bool().Draw(t, "usual weights") {
		return w
	}
	weight := func(name string, least int) float64 { return float64(rapid.IntRange(least, 200).Draw(t, name)) / 100 }
	return Weights{Bars: weight("bars", 20), Lane: weight("lane", 0), Crowding: weight("crowding", 0),
		Awkward: weight("awkward", 0), Repeat: weight("repeat", 0), Stretch: weight("stretch", 0), Gap: weight("gap", 0)}
}

// stretches are the scales that are drawn from.
var stretches = [][]Scale{{{0.9, 0.02}, {1, 0}}, {{0.8, 0.06}, {1, 0}, {1.1, 0.18}}, DefaultScales}

// small draws a small problem with a start in a stance in which the figures can
// end and laps are begun.
func small(t *rapid.T) *Problem {
	p := problem(room(t, 5), repertory(t, 9))
	if rapid.IntRange(0, 2).Draw(t, "bronze") > 0 {
		p.Variants = atLevel(figures.Bronze)
	}
	p.Weights, p.Scales = weights(t), rapid.SampledFrom(stretches).Draw(t, "scales")
	s, err := prepare(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	p.Start = &routine.Start{Wall: rapid.IntRange(0, len(p.Room.Walls)-1).Draw(t, "wall")}
	p.Start.Stance = s.plan.posts[rapid.SampledFrom(s.starts).Draw(t, "start").post].stance
	return p
}

// share counts how many draws had a lap, so that a property that was
// shown on too few of them can be told.
type share struct{ laps, draws int }

func (c *share) add(lap bool) {
	c.draws++
	if lap {
		c.laps++
	}
}

// report tells a share that is less than the least by more than chance explains: by two
// standard deviations of so many draws.
func (c *share) report(t *testing.T, least float64) {
	t.Logf("%d of %d draws had a lap", c.laps, c.draws)
	chance := 2 * math.Sqrt(float64(c.draws)*least*(1-least))
	if c.draws >= 10 && float64(c.laps) < least*float64(c.draws)-chance {
		t.Errorf("only %d of %d draws had a lap; the property shows little", c.laps, c.draws)
	}
}
