package search_test

import (
	"testing"

	"pgregory.net/rapid"

	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search"
	"lapwright/search/check"
	"lapwright/search/routine"
)

// TestExactly: from any place a figure has room by exact states if and only if the checker
// finds no fault with it; the other states ask for more room, and never for less.
func TestExactly(t *testing.T) {
	room, _ := floors.Named("clubroom")
	var some []*figures.Variant
	for i, v := range figures.BuiltIn().Variants() {
		if i%9 == 0 {
			some = append(some, v)
		}
	}
	p := &search.Problem{Room: room, Variants: some, Couple: figures.DefaultCouple(), Margin: -1, Scales: []search.Scale{{Share: 0.9}, {Share: 1}}}
	states, err := search.NewStates(p)
	if err != nil {
		t.Fatal(err)
	}
	exact := states.Exactly()
	looked, differ, clean := 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		places := states.Count() / states.Posts()
		for range 30 {
			at := search.State(rapid.IntRange(0, places-1).Draw(t, "place")*states.Posts() + rapid.IntRange(0, states.Posts()-1).Draw(t, "post"))
			if !states.Usable(at) || states.Choices(at) == 0 {
				continue
			}
			number := rapid.IntRange(0, states.Choices(at)-1).Draw(t, "choice")
			option := states.Options(states.Wall(at), int(at)%states.Posts())[number]
			v, _ := states.Edge(option.Edge)
			corner := routine.Stay
			if option.Turns {
				corner = routine.Take
			}
			r := routine.Routine{Start: states.Standing(at).Start(), Steps: []routine.Step{{Variant: v, Scale: states.Scale(option.Edge), Corner: corner}}}
			faults := check.Dance(room, figures.DefaultCouple(), &r, check.Limits{Margin: -1}).Faults()
			to, _, fits := exact.Leads(at, number)
			if fits != (faults == nil) {
				t.Fatalf("%s from %v: it has room: %v; the checker says %v", v.Name(), r.Start.Stance, fits, faults)
			}
			visited := false
			exact.Each(at, func(int, search.State) bool { return true }, func(n int, _ search.State) { visited = visited || n == number })
			if visited != fits {
				t.Fatalf("%s: Leads and Each differ", v.Name())
			}
			rough, _, narrow := states.Leads(at, number)
			if narrow && (!fits || rough != to) {
				t.Fatalf("%s from %v: it has room, and exactly it has none", v.Name(), r.Start.Stance)
			}
			if m, ok := states.Choice(at, number); ok && (m.Edge != option.Edge || m.Variant != v || int(m.To)%states.Posts() != option.Post || m.Turns != option.Turns) {
				t.Fatalf("%s: option %d is another choice: %+v", v.Name(), number, m)
			}
			if looked++; fits {
				clean++
			}
			if fits != narrow {
				differ++
			}
		}
	})
	if looked >= 1000 && (differ == 0 || clean == 0 || clean == looked) {
		t.Errorf("of %d figures %d have room, of which %d have none where clearances are rounded", looked, clean, differ)
	}
}
