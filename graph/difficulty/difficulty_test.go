package difficulty_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"lapwright/figures"
	"lapwright/figures/geometry"
	"lapwright/graph"
	"lapwright/graph/difficulty"
)

const hair = 1e-9

// library is the figures that come with the program.
var library = figures.BuiltIn()

func variant(t testing.TB, name string) *figures.Variant {
	t.Helper()
	v, ok := library.Variant(name)
	if !ok {
		t.Fatalf("there is no %s", name)
	}
	return v
}

// someVariant draws a way of dancing.
func someVariant(t *rapid.T) *figures.Variant {
	return rapid.SampledFrom(library.Variants()).Draw(t, "figure")
}

// copied is a variant that may be changed, of a figure that may be.
func copied(v *figures.Variant) *figures.Variant {
	f := *v.Figure
	f.Levels = slices.Clone(f.Levels)
	w := *v
	w.Figure, w.Entries, w.Steps = &f, slices.Clone(v.Entries), slices.Clone(v.Steps)
	return &w
}

// only checks that all parts but one are as they were, and that this one has grown,
// or stayed at least.
func only(t *rapid.T, was, is difficulty.Parts, part func(*difficulty.Parts) *float64, grows bool) {
	before, after := *part(&was), *part(&is)
	if after < before-hair || grows && after <= before+hair {
		t.Fatalf("it was %.3f and is %.3f, of %+v", before, after, is)
	}
	if is.Total() < was.Total()-hair {
		t.Fatalf("all together it was %.3f and is %.3f", was.Total(), is.Total())
	}
	*part(&was), *part(&is) = 0, 0
	if was != is {
		t.Fatalf("another part changed: %+v was %+v", is, was)
	}
}

func level(p *difficulty.Parts) *float64   { return &p.Level }
func turn(p *difficulty.Parts) *float64    { return &p.Turn }
func holds(p *difficulty.Parts) *float64   { return &p.Holds }
func awkward(p *difficulty.Parts) *float64 { return &p.Awkward }

// A figure that is set a level higher, all else equal, is harder by its level only.
func TestHigherLevelIsHarder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := someVariant(t)
		low := rapid.IntRange(0, len(figures.Levels)-2).Draw(t, "lower")
		high := rapid.IntRange(low+1, len(figures.Levels)-1).Draw(t, "higher")
		at := func(i int) difficulty.Parts {
			w := copied(v)
			w.Figure.Levels = []figures.Listing{{Level: figures.Levels[i]}}
			return difficulty.Figure(w)
		}
		only(t, at(low), at(high), level, true)
		// A further, higher listing changes nothing: the lowest counts.
		w := copied(v)
		w.Figure.Levels = []figures.Listing{{Level: figures.Levels[high]}, {Style: figures.American, Level: figures.Levels[low]}}
		if difficulty.Figure(w) != at(low) {
			t.Fatalf("%+v is not %+v", difficulty.Figure(w), at(low))
		}
	})
}

// A figure that swings the couple to one side and back by as much is harder by its
// turn only, and the same in half the time twice as much.
func TestMoreTurnIsHarder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := copied(someVariant(t))
		i := rapid.IntRange(0, len(v.Steps)-1).Draw(t, "step")
		n := rapid.IntRange(1, 8).Draw(t, "sixteenths")
		was := difficulty.Figure(v)
		// Both steps are new, so that nothing which was turned is taken back.
		there, back := figures.Step{KeepsHold: true, Turn: geometry.Turn(n)}, figures.Step{KeepsHold: true, Pivot: geometry.Turn(-n)}
		w := copied(v)
		w.Steps = slices.Insert(w.Steps, i, there, back)
		only(t, was, difficulty.Figure(w), turn, true)

		slow := copied(v)
		for i := range slow.Steps {
			slow.Steps[i].Beats *= 2
		}
		if got := difficulty.Figure(slow).Turn; math.Abs(2*got-was.Turn) > hair {
			t.Fatalf("at half the speed the turn is %.3f, and was %.3f", got, was.Turn)
		}
	})
}

// It is as hard to turn to the left as to the right.
func TestBothSidesAreAlike(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := someVariant(t)
		w := copied(v)
		for i := range w.Steps {
			s := &w.Steps[i]
			s.Turn, s.Pivot, s.Completes = -s.Turn, -s.Pivot, -s.Completes
			for who := range s.Actions {
				s.Actions[who].Alone = -s.Actions[who].Alone
			}
		}
		if difficulty.Figure(v) != difficulty.Figure(w) {
			t.Fatalf("%s: %+v, and to the other side %+v", v.Name(), difficulty.Figure(v), difficulty.Figure(w))
		}
	})
}

// A figure that goes into another hold and back is harder by its holds only.
func TestMoreHoldChangesAreHarder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := copied(someVariant(t))
		hold := v.Entries[0].Hold
		i := rapid.IntRange(0, len(v.Steps)).Draw(t, "before step")
		for _, s := range v.Steps[:i] {
			if !s.KeepsHold {
				hold = s.Hold
			}
		}
		other := figures.Hold(rapid.IntRange(0, figures.Holds-1).Filter(func(h int) bool { return figures.Hold(h) != hold }).Draw(t, "hold"))
		w := copied(v)
		w.Steps = slices.Insert(w.Steps, i, figures.Step{Hold: other}, figures.Step{Hold: hold})
		was, is := difficulty.Figure(v), difficulty.Figure(w)
		only(t, was, is, holds, true)
		if more := (is.Holds - was.Holds) * float64(v.Bars()); math.Abs(more-2) > hair {
			t.Fatalf("two changes are %.3f points", more)
		}
	})
}

// A figure that is more awkward is harder by that only.
func TestMoreAwkwardIsHarder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := copied(someVariant(t))
		was := difficulty.Figure(v)
		v.Awkward += rapid.Float64Range(0.01, 5).Draw(t, "bars")
		only(t, was, difficulty.Figure(v), awkward, true)
	})
}

// No part is ever negative, and the parts of a join keep to what the comment says.
func TestPartsAreNotNegative(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v, next := someVariant(t), someVariant(t)
		for _, p := range []difficulty.Parts{difficulty.Figure(v), difficulty.Join(library.Follows(), v, next)} {
			if p.Level < 0 || p.Turn < 0 || p.Holds < 0 || p.Alignment < 0 || p.Awkward < 0 || !(p.Total() < 100) {
				t.Fatalf("%s, %s: %+v", v.Name(), next.Name(), p)
			}
		}
		j := difficulty.Join(library.Follows(), v, next)
		if easy := graph.Awkward(library.Follows(), v, next) == graph.Easy; easy != (j.Awkward == 0) || j.Level != 0 || j.Holds != 0 {
			t.Fatalf("%s, %s: easy is %t, and %+v", v.Name(), next.Name(), easy, j)
		}
		turns := slices.ContainsFunc(v.Steps, func(s figures.Step) bool { return s.Turn != 0 || s.Pivot != 0 || s.Completes != 0 })
		if !turns && j.Turn != 0 {
			t.Fatalf("%s does not turn, and the turn is %+v", v.Name(), j)
		}
	})
}

// someRoutine draws figures, whether they join or not.
func someRoutine(t *rapid.T) []*figures.Variant {
	return rapid.SliceOfN(rapid.SampledFrom(library.Variants()), 1, 12).Draw(t, "figures")
}

// A routine is no harder than its hardest figure with its hardest join in each bar,
// and no easier than its easiest figure. Danced alone a figure is as hard as ever.
func TestRoutineLiesBetweenItsFigures(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := someRoutine(t)
		got := difficulty.Routine(library.Follows(), list).Total()
		least, most, join := math.Inf(1), 0.0, 0.0
		for i, v := range list {
			least, most = min(least, difficulty.Figure(v).Total()), max(most, difficulty.Figure(v).Total())
			if i > 0 {
				join = max(join, difficulty.Join(library.Follows(), list[i-1], v).Total())
			}
		}
		if got < least-hair || got > most+join+hair {
			t.Fatalf("%.3f is not from %.3f to %.3f", got, least, most+join)
		}
		one := list[:1]
		if alone := difficulty.Routine(library.Follows(), one).Total(); math.Abs(alone-difficulty.Figure(one[0]).Total()) > hair {
			t.Fatalf("%s alone: %.3f", one[0].Name(), alone)
		}
	})
}

// But for the joins the order makes no difference, and of two halves a routine has
// the points of both and of the join between them.
func TestRoutineIsASum(t *testing.T) {
	same := func(t *rapid.T, a, b difficulty.Parts) {
		for _, d := range []float64{a.Level - b.Level, a.Turn - b.Turn, a.Holds - b.Holds, a.Alignment - b.Alignment, a.Awkward - b.Awkward} {
			if math.Abs(d) > hair {
				t.Fatalf("%+v is not %+v", a, b)
			}
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		list := someRoutine(t)
		bars := func(list []*figures.Variant) (n float64) {
			for _, v := range list {
				n += float64(v.Bars())
			}
			return n
		}
		points := func(list []*figures.Variant, joins bool) (p difficulty.Parts) {
			add := func(q difficulty.Parts, times float64) {
				p.Level, p.Turn, p.Holds = p.Level+times*q.Level, p.Turn+times*q.Turn, p.Holds+times*q.Holds
				p.Alignment, p.Awkward = p.Alignment+times*q.Alignment, p.Awkward+times*q.Awkward
			}
			add(difficulty.Routine(library.Follows(), list), bars(list))
			for i := 1; i < len(list) && !joins; i++ {
				add(difficulty.Join(library.Follows(), list[i-1], list[i]), -1)
			}
			return p
		}
		other := slices.Clone(list)
		rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "order"), 0)).Shuffle(len(other), func(i, j int) { other[i], other[j] = other[j], other[i] })
		same(t, points(list, false), points(other, false))

		cut := rapid.IntRange(1, len(list)).Draw(t, "cut")
		whole, first := points(list, true), points(list[:cut], true)
		if cut == len(list) {
			same(t, whole, first)
			return
		}
		second, join := points(list[cut:], true), difficulty.Join(library.Follows(), list[cut-1], list[cut])
		same(t, whole, difficulty.Parts{Level: first.Level + second.Level + join.Level, Turn: first.Turn + second.Turn + join.Turn,
			Holds: first.Holds + second.Holds + join.Holds, Alignment: first.Alignment + second.Alignment + join.Alignment,
			Awkward: first.Awkward + second.Awkward + join.Awkward})
	})
}

// What a teacher takes for granted: common practice, no source.
func TestHarderAndEasier(t *testing.T) {
	for _, names := range [][]string{
		{"Left Box (without turn)", "Left Box (quarter turn)", "Left Box (half turn)", "Left Box (three-quarter turn)"},
		{"Right Foot Closed Change", "Natural Turn", "Natural Spin Turn", "Open Impetus", "Outside Spin"},
		{"Left Foot Closed Change", "Reverse Turn", "Double Reverse Spin", "Closed Telemark", "Fallaway Reverse and Slip Pivot"},
		{"Right Foot Closed Change", "Whisk", "Open Impetus"},
		{"Outside Spin (half turn)", "Outside Spin", "Outside Spin (overturned 1 1/4)"},
	} {
		for i := 1; i < len(names); i++ {
			a, b := difficulty.Figure(variant(t, names[i-1])), difficulty.Figure(variant(t, names[i]))
			if a.Total() >= b.Total() {
				t.Errorf("%s (%.2f) is not easier than %s (%.2f)", names[i-1], a.Total(), names[i], b.Total())
			}
		}
	}
}

// The parts of single figures and joins, by the steps of the charts: a natural turn
// turns 3/8 to the right twice (WDSF Technique Books, Waltz, sample pages 2012), a
// whisk opens to promenade and turns the couple no way, a closed change does
// nothing of it all.
func TestParts(t *testing.T) {
	for _, c := range []struct {
		name string
		want difficulty.Parts
	}{
		{"Left Foot Closed Change", difficulty.Parts{}},
		{"Natural Turn (1-3)", difficulty.Parts{Turn: 1.5, Alignment: 0.75}},
		{"Natural Turn", difficulty.Parts{Turn: 1.5, Alignment: 0.25}},
		{"Whisk", difficulty.Parts{Level: 1, Holds: 1}},
		{"Left Cross Turn", difficulty.Parts{Turn: 2}},
		{"Underarm Turn Left", difficulty.Parts{Turn: 2, Holds: 1}},
	} {
		if got := difficulty.Figure(variant(t, c.name)); got != c.want {
			t.Errorf("%s: got %+v, want %+v", c.name, got, c.want)
		}
	}
	for _, c := range []struct {
		before, after string
		want          difficulty.Parts
	}{
		{"Natural Turn", "Right Foot Closed Change", difficulty.Parts{}},
		{"Right Foot Closed Change", "Reverse Turn", difficulty.Parts{}},
		{"Natural Spin Turn", "Reverse Turn (4-6)", difficulty.Parts{Turn: 0.5}},
		{"Reverse Pivot (after natural spin turn to line of dance)", "Double Reverse Spin", difficulty.Parts{Alignment: 0.5}},
	} {
		got := difficulty.Join(library.Follows(), variant(t, c.before), variant(t, c.after))
		if got != c.want {
			t.Errorf("%s, %s: got %+v, want %+v", c.before, c.after, got, c.want)
		}
	}
}

// Without follows the couple's way decides what is awkward, and nothing is asked of
// figures that are none.
func TestNothing(t *testing.T) {
	empty := &figures.Variant{Figure: &figures.Figure{Beats: 3}}
	for _, v := range []*figures.Variant{nil, {}, empty} {
		if p := difficulty.Figure(v); p != (difficulty.Parts{}) {
			t.Errorf("a figure that is none: %+v", p)
		}
		if p := difficulty.Routine(nil, []*figures.Variant{v, v}); p != (difficulty.Parts{}) {
			t.Errorf("a routine that is none: %+v", p)
		}
	}
	if p := difficulty.Routine(nil, nil); p != (difficulty.Parts{}) {
		t.Errorf("no figures: %+v", p)
	}
	if p := difficulty.Join(nil, nil, empty); p != (difficulty.Parts{}) {
		t.Errorf("no figure before: %+v", p)
	}
}

// A limit of nought allows all; one just as great as the difficulty allows it too.
func TestBeyond(t *testing.T) {
	p := difficulty.Parts{Level: 1, Turn: 0.75}
	for _, c := range []struct {
		most float64
		want bool
	}{{0, false}, {1.75, false}, {1.74, true}, {2, false}} {
		if p.Beyond(c.most) != c.want {
			t.Errorf("%.2f beyond %.2f is %t", p.Total(), c.most, p.Beyond(c.most))
		}
	}
}
