package wayout_test

import (
	"context"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search"
	"lapwright/search/check"
	"lapwright/search/future"
	"lapwright/search/routine"
	"lapwright/search/wayout"
)

// closet is a few figures in a small room.
type closet struct {
	problem search.Problem
	states  *search.States
	finder  *wayout.Finder
	alive   *future.Alive
	ahead   *future.Future
	begin   []search.State // from which something can be danced
	live    []search.State // those among them from which dancing can go on for ever
}

func drawCloset(t *rapid.T) *closet {
	t.Helper()
	room, err := floors.Load("closet.yaml", []byte(rapid.SampledFrom([]string{
		"name: closet\noutline: [[0, 0], [6, 0], [6, 5], [0, 5]]\n",
		"name: closet\noutline: [[0, 0], [7, 0], [7, 7], [0, 7]]\nobstacles:\n  - {centre: [3.5, 3.4], radius: 0.3}\n",
		"name: closet\noutline: [[0, 0], [8, 0], [8, 5.5], [0, 5.5]]\n",
	}).Draw(t, "room")))
	if err != nil {
		t.Fatal(err)
	}
	var variants []*figures.Variant
	// These few get round even where there is little room, and can wait.
	for _, few := range []struct {
		name string
		ways int
	}{{"Natural Turn", 2}, {"Hesitation", 9}, {"Left Box", 1}, {"Right Foot Closed Change", 1}, {"Left Foot Closed Change", 1}} {
		f, ok := figures.BuiltIn().Figure(few.name)
		if !ok {
			t.Fatalf("no figure %s", few.name)
		}
		variants = append(variants, f.Variants[:min(few.ways, len(f.Variants))]...)
	}
	all := figures.BuiltIn().Variants()
	for _, i := range rapid.SliceOfNDistinct(rapid.IntRange(0, len(all)-1), 0, 5, rapid.ID).Draw(t, "figures") {
		if !slices.Contains(variants, all[i]) {
			variants = append(variants, all[i])
		}
	}
	c := &closet{problem: search.Problem{Room: room, Variants: variants, Couple: figures.DefaultCouple().WithStride(0.45), Margin: 0.05, Scales: []search.Scale{{Share: 1}}}}
	if rapid.Bool().Draw(t, "stretch") {
		c.problem.Scales = []search.Scale{{Share: 0.9}, {Share: 1}}
	}
	if c.states, err = search.NewStates(&c.problem); err != nil {
		t.Fatal(err)
	}
	if c.alive, err = future.NewAlive(context.Background(), c.states); err != nil {
		t.Fatal(err)
	}
	c.ahead = future.New(c.states)
	c.finder = wayout.New(c.ahead, c.problem.Couple)
	for s := range search.State(c.states.Count()) {
		if c.states.Usable(s) && c.states.Choices(s) > 0 {
			c.begin = append(c.begin, s)
			if c.alive.Has(s) {
				c.live = append(c.live, s)
			}
		}
	}
	return c
}

// state draws a state, more often one from which dancing can go on.
func (c *closet) state(t *rapid.T) search.State {
	if len(c.live) > 0 && rapid.IntRange(0, 4).Draw(t, "live") > 0 {
		return rapid.SampledFrom(c.live).Draw(t, "state")
	}
	return rapid.SampledFrom(c.begin).Draw(t, "state")
}

// dance has the checker dance a chain of figures.
func (c *closet) dance(at search.State, moves []search.Move) *check.Report {
	r := routine.Routine{Stride: c.problem.Couple.Stride, Start: c.states.Standing(at).Start()}
	for _, m := range moves {
		r.Steps = append(r.Steps, m.Step())
	}
	return check.Dance(c.problem.Room, c.problem.Couple, &r, check.Limits{Margin: c.problem.Margin})
}

// floor measures the floor of a report disc by disc.
func (c *closet) floor(at search.State, report *check.Report) wayout.Floor {
	begin := c.states.Standing(at)
	w := &c.problem.Room.Walls[begin.Wall]
	along, across := w.Locate(begin.At())
	f := wayout.Floor{Back: math.Inf(-1), Ahead: math.Inf(-1), Wall: math.Inf(-1), Centre: math.Inf(-1)}
	for i := range report.Rows {
		for _, disc := range report.Rows[i].Danced.Sweep() {
			a, b := w.Locate(report.Rows[i].Place(disc.Centre))
			f.Back, f.Ahead = max(f.Back, along-a+disc.Radius), max(f.Ahead, a-along+disc.Radius)
			f.Wall, f.Centre = max(f.Wall, across-b+disc.Radius), max(f.Centre, b-across+disc.Radius)
		}
	}
	return f
}

// kind is what ways are told apart by.
type kind struct {
	variant *figures.Variant
	turns   bool
	bars    int
	stance  figures.Stance
}

func kindOf(w []search.Move, bars int, ends search.Standing) kind {
	return kind{w[0].Variant, w[0].Turns, bars, ends.Stance}
}

// everyWay visits all chains of figures in at most so many bars, and follows a chain as
// long as it is told to.
func (c *closet) everyWay(at search.State, bars int, visit func(to search.State, moves []search.Move, bars int) (on bool)) {
	var dance func(at search.State, moves []search.Move, danced int)
	dance = func(at search.State, moves []search.Move, danced int) {
		if danced > bars || len(moves) > 0 && !visit(at, moves, danced) {
			return
		}
		for m := range c.states.Moves(at) {
			dance(m.To, append(slices.Clone(moves), m), danced+m.Bars)
		}
	}
	dance(at, nil, 0)
}

// well says by itself what a good state is.
func (c *closet) well(s search.State, near float64) bool {
	st := c.states.Standing(s)
	w := &c.problem.Room.Walls[st.Wall]
	_, across := w.Locate(st.At())
	facing := st.Stance.Facing
	entered := c.alive.Has(s)
	return (facing == figures.LineOfDance || facing == figures.DiagonalToCentre || facing == figures.DiagonalToWall) &&
		across <= w.Lane+near+1e-6 && across >= w.Lane-near-1e-6 && entered && c.ahead.Round(s)
}

// compareWays compares the ways that are told with the best of each kind among all chains.
func (c *closet) compareWays(t *rapid.T, at search.State, got []wayout.Way, best map[kind]float64, measure func(wayout.Floor) float64) {
	t.Helper()
	if len(got) != len(best) {
		t.Fatalf("%d ways, want %d", len(got), len(best))
	}
	for i, w := range got {
		k := kindOf(w.Moves, w.Bars, w.Ends)
		want, known := best[k]
		if !known || math.Abs(measure(w.Floor)-want) > 1e-9 {
			t.Fatalf("%+v takes %g of the floor; want %g, %v", k, measure(w.Floor), want, known)
		}
		delete(best, k)
		if i > 0 && (got[i-1].Bars > w.Bars || got[i-1].Bars == w.Bars && measure(got[i-1].Floor) > measure(w.Floor)+1e-9) {
			t.Fatal("the ways are not in order")
		}
		report := c.dance(at, w.Moves)
		if faults := report.Faults(); len(faults) > 0 {
			t.Fatalf("the checker finds %v", faults)
		}
		last := report.Rows[len(report.Rows)-1]
		if report.Bars != w.Bars || last.Wall != w.Ends.Wall || last.Exit != w.Ends.Stance || last.To.Sub(w.Ends.At()).Len() > 1e-9 {
			t.Fatalf("the checker ends after %d bars at %v %v, not %d, %+v", report.Bars, last.To, last.Exit, w.Bars, w.Ends)
		}
		f := c.floor(at, report)
		for n, d := range []float64{f.Back - w.Floor.Back, f.Ahead - w.Floor.Ahead, f.Wall - w.Floor.Wall, f.Centre - w.Floor.Centre} {
			if math.Abs(d) > 1e-6 {
				t.Fatalf("side %d of the floor is %g m off: %+v, want %+v", n, d, w.Floor, f)
			}
		}
	}
}

// count notes which kinds of ways there were.
func count(found map[string]int, ways []wayout.Way) {
	if len(ways) == 0 {
		found["none"]++
	}
	for _, w := range ways {
		if len(w.Moves) == 1 {
			found["one figure"]++
		} else {
			found["more figures"]++
		}
		if slices.ContainsFunc(w.Moves, func(m search.Move) bool { return m.Turns }) {
			found["round a corner"]++
		}
	}
}

// The ways back are the best among all chains of figures, looked at one by one.
func TestBackAgainstAllChains(t *testing.T) {
	found := map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		c := drawCloset(t)
		for range 3 {
			at := c.state(t)
			near := rapid.SampledFrom([]float64{0.1, 0.3, 0.5}).Draw(t, "near")
			const bars = 4
			quickest := bars + 1
			type ending struct {
				kind
				area float64
			}
			var ends []ending
			c.everyWay(at, bars, func(to search.State, moves []search.Move, danced int) bool {
				if !c.well(to, near) {
					return true
				}
				quickest = min(quickest, danced)
				ends = append(ends, ending{kindOf(moves, danced, c.states.Standing(to)), c.floor(at, c.dance(at, moves)).Area()})
				return false
			})
			best := map[kind]float64{}
			for _, e := range ends {
				if old, known := best[e.kind]; e.bars <= quickest+1 && (!known || e.area < old) {
					best[e.kind] = e.area
				}
			}
			got := c.finder.Back(at, near, bars)
			c.compareWays(t, at, got, best, wayout.Floor.Area)
			count(found, got)
		}
	})
	for _, what := range []string{"none", "one figure", "more figures", "round a corner"} {
		if manyDraws() && found[what] == 0 {
			t.Errorf("drawn: no ways of the kind %q: %v", what, found)
		}
	}
}

// The ways of waiting are the best among all chains of figures.
func TestWaitAgainstAllChains(t *testing.T) {
	found := map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		c := drawCloset(t)
		for range 3 {
			at := c.state(t)
			near := rapid.SampledFrom([]float64{0, 0.3, 0.5}).Draw(t, "near")
			bars := rapid.IntRange(1, 3).Draw(t, "bars")
			best := map[kind]float64{}
			c.everyWay(at, bars, func(to search.State, moves []search.Move, danced int) bool {
				if c.alive.Has(to) && c.states.Standing(to).At().Sub(c.states.Standing(at).At()).Len() <= near+1e-6 {
					k := kindOf(moves, danced, c.states.Standing(to))
					along := c.floor(at, c.dance(at, moves)).Along()
					if old, known := best[k]; !known || along < old {
						best[k] = along
					}
				}
				return true
			})
			got := c.finder.Wait(at, near, bars)
			c.compareWays(t, at, got, best, wayout.Floor.Along)
			count(found, got)
		}
	})
	for _, what := range []string{"none", "one figure", "more figures", "round a corner"} {
		if manyDraws() && found[what] == 0 {
			t.Errorf("drawn: no ways of the kind %q: %v", what, found)
		}
	}
}
