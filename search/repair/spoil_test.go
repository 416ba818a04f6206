package repair_test

import (
	"context"
	"slices"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"lapwright/figures"
	"lapwright/figures/geometry"
	"lapwright/search"
	"lapwright/search/repair"
	"lapwright/search/routine"
)

// clean is a room with its states, and a lap that was found there.
type clean struct {
	problem search.Problem
	states  *search.States
	lap     routine.Routine
}

// known are some figures that get a couple round a room.
var known = []string{"Natural Turn", "Natural Turn (1-3)", "Natural Turn (half turn at a corner)", "Reverse Turn", "Reverse Turn (1-3)", "Right Foot Closed Change",
	"Left Foot Closed Change", "Whisk", "Chassé from Promenade", "Natural Spin Turn", "Hesitation Change", "Outside Change", "Progressive Chassé to Right", "Back Lock"}

// rooms are rooms with a lap in each.
var rooms = sync.OnceValue(func() (all []clean) {
	for _, name := range []string{"studio", "village hall", "clubroom"} {
		c := clean{problem: search.Problem{Room: room(failing{}, name), Variants: variants(failing{}, known...), Follows: figures.BuiltIn().Follows(),
			Couple: figures.DefaultCouple(), Margin: -1, Weights: search.DefaultWeights()}}
		res, err := search.Find(context.Background(), &c.problem, nil)
		if err != nil || res.Lap == nil {
			panic("there is no lap of " + name)
		}
		c.lap = routine.Routine{Start: res.Lap.Start, Steps: res.Lap.Steps}
		if c.states, err = search.NewStates(&c.problem); err != nil {
			panic(err)
		}
		all = append(all, c)
	}
	return all
})

// failing is a test that is not run as one: what fails in it is a fault of the test.
type failing struct{ testing.TB }

func (failing) Helper()                        {}
func (failing) Fatalf(format string, a ...any) { panic(format) }

// walk is a routine danced at random from the usual start.
func (c *clean) walk(t *rapid.T) (r routine.Routine) {
	r.Start = search.DefaultStart(c.problem.Room, rapid.IntRange(0, len(c.problem.Room.Walls)-1).Draw(t, "wall"))
	at, err := c.states.Start(r.Start)
	if err != nil {
		t.Fatal(err)
	}
	for range rapid.IntRange(1, 14).Draw(t, "figures") {
		var moves []search.Move
		for m := range c.states.Moves(at) {
			moves = append(moves, m)
		}
		if len(moves) == 0 {
			break
		}
		m := rapid.SampledFrom(moves).Draw(t, "move")
		r.Steps = append(r.Steps, m.Step())
		at = m.To
	}
	return r
}

// spoilt is a routine with so many figures put in, put in place of others, or left out.
func spoilt(t *rapid.T, r routine.Routine, with []*figures.Variant, changes int) routine.Routine {
	r.Steps = slices.Clone(r.Steps)
	for range changes {
		i := rapid.IntRange(0, len(r.Steps)-1).Draw(t, "at")
		v := rapid.SampledFrom(with).Draw(t, "figure")
		switch kind := rapid.SampledFrom([]string{"left out", "put in place", "put in"}).Draw(t, "change"); {
		case kind == "left out" && len(r.Steps) > 1:
			r.Steps = slices.Delete(r.Steps, i, i+1)
		case kind == "put in place":
			r.Steps[i].Variant = v
		default:
			r.Steps = slices.Insert(r.Steps, i, routine.Step{Variant: v, Scale: 1, Corner: rapid.SampledFrom([]routine.Corner{routine.Unsaid, routine.Stay, routine.Take}).Draw(t, "corner")})
		}
	}
	return r
}

// TestSpoilt: what was spoilt with some changes is mended with no more. The routine was
// danced at random, or is a lap.
func TestSpoilt(t *testing.T) {
	all := rooms()
	rapid.Check(t, func(t *rapid.T) {
		c := &all[rapid.IntRange(0, len(all)-1).Draw(t, "room")]
		p := &repair.Problem{Problem: c.problem, Closes: rapid.Bool().Draw(t, "lap"), Count: rapid.IntRange(1, 3).Draw(t, "count")}
		good := c.lap
		if !p.Closes {
			good = c.walk(t)
		}
		if len(good.Steps) == 0 {
			return
		}
		changes := rapid.IntRange(0, 3).Draw(t, "changes")
		p.Routine = spoilt(t, good, c.problem.Variants, changes)
		if faults := dance(p, &good).Faults(); faults != nil {
			t.Fatalf("%s is not clean: %s", names(good.Steps), faults[0])
		}
		res := find(t, p)
		if len(res.Ways) == 0 || res.AtLeast > changes {
			t.Errorf("%s\nwas spoilt with %d changes to\n%s\nand %d ways are found, with at least %d", names(good.Steps), changes, names(p.Routine.Steps), len(res.Ways), res.AtLeast)
		}
		if faults := dance(p, &p.Routine).Faults(); faults == nil && res.AtLeast > 0 {
			t.Errorf("%s is clean, and at least %d changes are told", names(p.Routine.Steps), res.AtLeast)
		}
	})
}

// TestOneByOne holds repairs of one change against all routines with one change, each
// danced by the checker along every choice of walls. The routines are short and begin at
// places where the walls and the columns matter.
func TestOneByOne(t *testing.T) {
	all := rooms()
	ends := map[int]int{}
	rapid.Check(t, func(t *rapid.T) {
		c := &all[rapid.IntRange(0, len(all)-1).Draw(t, "room")]
		p := &repair.Problem{Problem: c.problem, Count: repair.MostCount}
		p.Scales = []search.Scale{{Share: 1}}
		few := rapid.Permutation(c.problem.Variants).Draw(t, "known")
		p.Variants = few[:rapid.IntRange(1, 4).Draw(t, "how many")]
		p.Routine.Start = search.DefaultStart(p.Room, 0)
		at := p.Routine.Start.At.Add(geometry.Point{X: rapid.Float64Range(-2, 12).Draw(t, "x"), Y: rapid.Float64Range(-1, 2).Draw(t, "y")})
		p.Routine.Start.At = &at
		for range rapid.IntRange(1, 3).Draw(t, "figures") {
			p.Routine.Steps = append(p.Routine.Steps, routine.Step{Variant: rapid.SampledFrom(c.problem.Variants).Draw(t, "figure"), Scale: 1})
		}
		p.Routine.Start.Stance = p.Routine.Steps[0].Variant.Entries[0]
		res := find(t, p)
		if res.NoStart != "" {
			return
		}
		var none, one []string
		byHand(p, p.Routine.Steps, func(r string) { none = append(none, r) })
		for i := 0; i <= len(p.Routine.Steps); i++ {
			steps := p.Routine.Steps
			if i < len(steps) && len(steps) > 1 {
				byHand(p, slices.Delete(slices.Clone(steps), i, i+1), func(r string) { one = append(one, r) })
			}
			for _, v := range p.Variants {
				step := routine.Step{Variant: v, Scale: 1}
				byHand(p, slices.Insert(slices.Clone(steps), i, step), func(r string) { one = append(one, r) })
				if i < len(steps) && steps[i].Variant != v {
					other := slices.Clone(steps)
					other[i] = step
					byHand(p, other, func(r string) { one = append(one, r) })
				}
			}
		}
		slices.Sort(one)
		one = slices.Compact(one)
		if res.Never && len(none)+len(one) > 0 {
			t.Fatalf("%s from %v: no repair can be; by hand there are %q and %q", names(p.Routine.Steps), at, none, one)
		}
		want := 2
		list := []string(nil)
		switch {
		case len(none) > 0:
			want, list = 0, none
		case len(one) > 0:
			want, list = 1, one
		}
		ends[want]++
		if res.AtLeast < want && !res.Never || want < 2 && res.AtLeast != want {
			t.Fatalf("%s from %v: at least %d changes are told; by hand it is %d: %q", names(p.Routine.Steps), at, res.AtLeast, want, list)
		}
		if want == 2 {
			return
		}
		var found []string
		for _, w := range res.Ways {
			found = append(found, names(w.Routine.Steps))
		}
		slices.Sort(found)
		if len(list) <= p.Count && !slices.Equal(found, list) || len(list) > p.Count && len(found) != p.Count {
			t.Fatalf("%s from %v: found are\n%q\nand by hand\n%q", names(p.Routine.Steps), at, found, list)
		}
	})
	if n := ends[0] + ends[1] + ends[2]; n >= 50 && (ends[0] == 0 || ends[1] == 0 || ends[2] == 0) {
		t.Errorf("not everything came up: %v", ends)
	}
}

// byHand visits the figures of some steps if there is a choice of walls along which they
// dance clean.
func byHand(p *repair.Problem, steps []routine.Step, visit func(string)) {
	steps = slices.Clone(steps)
	var try func(said int) bool
	try = func(said int) bool {
		r := routine.Routine{Start: p.Routine.Start, Steps: steps[:said]}
		if faults := dance(p, &r).Faults(); faults != nil {
			return false
		}
		if said == len(steps) {
			return true
		}
		for _, corner := range []routine.Corner{routine.Stay, routine.Take} {
			steps[said].Corner = corner
			if try(said + 1) {
				return true
			}
		}
		return false
	}
	if try(0) {
		visit(names(steps))
	}
}
