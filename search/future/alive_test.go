package future_test

import (
	"context"
	"errors"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search"
	"lapwright/search/future"
)

// closet makes the states of a few figures in a small room.
func closet(t *rapid.T) *search.States {
	t.Helper()
	room, err := floors.Load("closet.yaml", []byte(rapid.SampledFrom([]string{
		"name: closet\noutline: [[0, 0], [5, 0], [5, 4], [0, 4]]\n",
		"name: closet\noutline: [[0, 0], [4.2, 0], [4.2, 4.2], [0, 4.2]]\n",
		"name: closet\noutline: [[0, 0], [5.5, 0], [5.5, 5], [0, 5]]\nobstacles:\n  - {centre: [2.7, 2.4], radius: 0.3}\n",
		"name: closet\noutline: [[0, 0], [6, 0], [6, 5], [0, 5]]\n",
	}).Draw(t, "room")))
	if err != nil {
		t.Fatal(err)
	}
	var variants []*figures.Variant
	add := func(v *figures.Variant) {
		if !slices.Contains(variants, v) {
			variants = append(variants, v)
		}
	}
	if rapid.Bool().Draw(t, "social") {
		// These few get round even where there is little room.
		for _, name := range []string{"Natural Turn", "Left Box", "Right Foot Closed Change", "Left Foot Closed Change"} {
			f, _ := figures.BuiltIn().Figure(name)
			for _, v := range f.Variants {
				add(v)
			}
		}
	}
	all := figures.BuiltIn().Variants()
	for _, i := range rapid.SliceOfNDistinct(rapid.IntRange(0, len(all)-1), 3, 9, rapid.ID).Draw(t, "figures") {
		add(all[i])
	}
	states, err := search.NewStates(&search.Problem{Room: room, Variants: variants, Couple: figures.DefaultCouple().WithStride(0.45), Margin: 0.05,
		Scales: []search.Scale{{Share: 1}}})
	if err != nil {
		t.Fatal(err)
	}
	return states
}

// The set is what is left when states with no way on are removed by hand, round after
// round, until none goes.
func TestAliveIsWhatRemovalLeaves(t *testing.T) {
	sizes := map[bool]int{}
	rapid.Check(t, func(t *rapid.T) {
		states := closet(t)
		alive, err := future.NewAlive(context.Background(), states)
		if err != nil {
			t.Fatal(err)
		}
		left := map[search.State][]search.State{}
		for s := range search.State(states.Count()) {
			if states.Usable(s) && states.Entered(s) {
				left[s] = nil
				for m := range states.Moves(s) {
					left[s] = append(left[s], m.To)
				}
			}
		}
		for gone := true; gone; {
			gone = false
			for s, to := range left {
				on := false
				for _, next := range to {
					_, ok := left[next]
					on = on || ok
				}
				if !on {
					delete(left, s)
					gone = true
				}
			}
		}
		ahead := future.New(states)
		for s := range search.State(states.Count()) {
			_, want := left[s]
			if states.Usable(s) && states.Entered(s) && alive.Has(s) != want {
				t.Fatalf("%+v: alive %v, want %v", states.Standing(s), alive.Has(s), want)
			}
			if states.Usable(s) && states.Entered(s) && ahead.Lives(s) != want {
				t.Fatalf("%+v: lives %v, want %v", states.Standing(s), ahead.Lives(s), want)
			}
		}
		sizes[len(left) > 0]++
	})
	if manyDraws() && (sizes[true] == 0 || sizes[false] == 0) {
		t.Errorf("drawn: %d rooms with states that live, %d without", sizes[true], sizes[false])
	}
}

func TestAliveStops(t *testing.T) {
	room, _ := floors.Named("studio")
	states, err := search.NewStates(&search.Problem{Room: room, Variants: figures.BuiltIn().Variants(), Couple: figures.DefaultCouple(), Margin: -1})
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := future.NewAlive(ctx, states); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}
