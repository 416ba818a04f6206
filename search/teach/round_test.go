package teach_test

import (
	"context"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search"
	"lapwright/search/check"
	"lapwright/search/routine"
	"lapwright/search/teach"
)

// roomFrom reads a room that is drawn for a test.
func roomFrom(t rapid.TB, text string) *floors.Room {
	t.Helper()
	room, err := floors.Load("test.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return room
}

const hut = `
name: Ferry Hut
outline: [[0, 0], [9, 0], [9, 7], [0, 7]]
`

// pool are figures of all kinds, few enough for all subsets.
var pool = []string{"Natural Turn", "Reverse Turn", "Right Foot Closed Change", "Left Foot Closed Change", "Hesitation Change",
	"Whisk", "Chassé from Promenade", "Right Three-Eighths Turn", "Left Three-Eighths Turn", "Balance Steps"}

func itemsOf(t rapid.TB, names ...string) []teach.Item {
	t.Helper()
	var all []*figures.Variant
	for _, name := range names {
		ways, err := figures.BuiltIn().Ways(name)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, ways...)
	}
	return teach.Items(all)
}

func variants(items []teach.Item, set teach.Set) (all []*figures.Variant) {
	for _, i := range set.Items() {
		all = append(all, items[i].Variants...)
	}
	return all
}

func problem(room *floors.Room) *search.Problem {
	return &search.Problem{Room: room, Couple: figures.DefaultCouple(), Margin: -1, Follows: figures.BuiltIn().Follows()}
}

// found asks the search, which shares only the tables with what is tested.
func found(t rapid.TB, p *search.Problem, all []*figures.Variant) bool {
	t.Helper()
	own := *p
	own.Variants, own.Weights, own.WhyTime = all, search.DefaultWeights(), 1
	result, err := search.Find(context.Background(), &own, nil)
	if err != nil {
		t.Fatal(err)
	}
	return result.Lap != nil
}

// TestRoundAgainstTheSearch holds the sets that get round against those with which the
// search finds a lap.
func TestRoundAgainstTheSearch(t *testing.T) {
	p := problem(roomFrom(t, hut))
	items := itemsOf(t, pool...)
	r, err := teach.NewRound(p, items)
	if err != nil {
		t.Fatal(err)
	}
	yes, no := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		var set teach.Set
		for i := range items {
			if rapid.IntRange(0, 2).Draw(t, items[i].Figure.Name) == 0 {
				set = set.With(i)
			}
		}
		if set == (teach.Set{}) {
			return
		}
		gets, err := r.Lap(context.Background(), set)
		if err != nil {
			t.Fatal(err)
		}
		if want := found(t, p, variants(items, set)); gets != want {
			t.Fatalf("round: %v, but the search finds a lap: %v", gets, want)
		}
		if core := r.Core(set); gets && core == (teach.Set{}) || !core.In(set) {
			t.Fatalf("the core of %v is %v", set.Items(), core.Items())
		}
		if gets {
			yes++
		} else {
			no++
		}
	})
	if yes == 0 || no == 0 {
		t.Errorf("%d sets get round and %d do not: both are to be tried", yes, no)
	}
}

// TestSmallestAgainstAllSubsets goes through all subsets of a few figures. Whether one gets
// round the search says; turning both ways, what [teach.Round.Lap] says of it by itself.
func TestSmallestAgainstAllSubsets(t *testing.T) {
	for _, both := range []bool{false, true} {
		items := itemsOf(t, pool[:6]...)
		if both {
			items = itemsOf(t, pool...)
		}
		p := problem(roomFrom(t, hut))
		r, err := teach.NewRound(p, items)
		if err != nil {
			t.Fatal(err)
		}
		r.BothWays = both
		var want []teach.Set
		gets := make([]bool, 1<<len(items))
		for bits := range gets {
			var set teach.Set
			smaller := false
			for i := range items {
				if bits&(1<<i) != 0 {
					set = set.With(i)
					smaller = smaller || gets[bits&^(1<<i)]
				}
			}
			if gets[bits] = smaller; smaller || bits == 0 {
				continue
			}
			if both {
				if gets[bits], err = r.Lap(context.Background(), set); err != nil {
					t.Fatal(err)
				}
			} else {
				gets[bits] = found(t, p, variants(items, set))
			}
			if gets[bits] {
				want = append(want, set)
			}
		}
		got, _, err := r.Smallest(context.Background(), len(items), nil, nil)
		if err != nil {
			t.Fatal(err)
		}
		if len(want) == 0 {
			t.Error("no set gets round")
		}
		for _, s := range got {
			if !slices.Contains(want, s) {
				t.Errorf("both ways %v: %v is too much, or gets nobody round", both, s.Items())
			}
		}
		for _, s := range want {
			if !slices.Contains(got, s) {
				t.Errorf("both ways %v: %v is missing", both, s.Items())
			}
		}
	}
}

// TestTurnsAndALink: with a right turn, a left turn and a change between them a couple
// gets all the way round, and beginners are taught those first. Common practice, no source.
func TestTurnsAndALink(t *testing.T) {
	room, _ := floors.Named("village hall")
	for _, c := range []struct {
		level figures.Level
		style figures.Style
	}{{figures.Social, figures.AnyStyle}, {figures.Bronze, figures.International}} {
		var all []*figures.Variant
		for _, f := range figures.BuiltIn().Figures() {
			if f.At(c.style, c.level) {
				all = append(all, f.Variants...)
			}
		}
		items := teach.Items(all)
		p := problem(room)
		r, err := teach.NewRound(p, items)
		if err != nil {
			t.Fatal(err)
		}
		r.BothWays = true
		built := func(s teach.Set) bool { return teach.TurnsAndLink(items, s) }
		sets, _, err := r.Smallest(context.Background(), 3, built, nil)
		if err != nil {
			t.Fatal(err)
		}
		number := map[string]int{}
		for i, it := range items {
			number[it.Figure.Name] = i
		}
		want := teach.Of(number["Natural Turn"], number["Reverse Turn"], number["Left Foot Closed Change"])
		if !slices.Contains(sets, want) {
			t.Errorf("%s: natural turn, reverse turn and left foot closed change are not among the smallest sets", c.level)
		}
		// Each set has a practice lap, which the checker dances; the first few are enough here.
		n := 0
		for _, set := range sets {
			if !built(set) {
				continue
			}
			if n++; n > 6 {
				break
			}
			path, err := r.Path(context.Background(), set, teach.Set{}, 120)
			if err != nil || path == nil {
				t.Fatalf("%v has no lap: %v", set.Items(), err)
			}
			cleanLap(t, p, path, variants(items, set), nil)
		}
	}
}

// cleanLap has the checker dance a lap.
func cleanLap(t rapid.TB, p *search.Problem, path *search.Path, known []*figures.Variant, must []*figures.Figure) {
	t.Helper()
	r := routine.Routine{Dance: "waltz", Stride: p.Couple.Stride, Tempo: 29, Start: path.Start, Steps: path.Steps}
	report := check.Dance(p.Room, p.Couple, &r, check.Limits{Allowed: func(v *figures.Variant) bool { return slices.Contains(known, v) },
		Must: must, Lap: true, Margin: -1, Library: known, Follows: p.Follows})
	for _, f := range report.Faults() {
		t.Error(f)
	}
	if report.Bars != path.Bars {
		t.Errorf("the lap takes %d bars, not %d", report.Bars, path.Bars)
	}
}
