package future_test

import (
	"context"
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search"
	"lapwright/search/future"
)

// byHand looks at ways one by one.
type byHand struct {
	states *search.States
	alive  *future.Alive
}

func (h byHand) ways(at search.State, bars int) (all, live int64) {
	if bars <= 0 {
		if h.alive.Has(at) {
			return 1, 1
		}
		return 1, 0
	}
	for m := range h.states.Moves(at) {
		a, l := h.ways(m.To, bars-m.Bars)
		all, live = all+a, live+l
	}
	return all, live
}

// end is the most bars that can be danced, with what they end in: found bar by bar, with
// all states in which the couple can be after so many.
func (h byHand) end(at search.State) (e future.End) {
	after := map[int]map[search.State]bool{0: {at: true}}
	for bars, ahead := 0, 1; ahead > 0; bars++ {
		if len(after[bars]) > 0 {
			e = future.End{Bars: bars}
		}
		for s := range after[bars] {
			any := false
			for m := range h.states.Moves(s) {
				if any = true; after[bars+m.Bars] == nil {
					after[bars+m.Bars] = map[search.State]bool{}
				}
				after[bars+m.Bars][m.To] = true
			}
			if !any {
				e.Wall = e.Wall || h.states.Choices(s) > 0
				e.Stance = e.Stance || h.states.Choices(s) == 0
			}
		}
		ahead = 0
		for n, list := range after {
			if n > bars {
				ahead += len(list)
			}
		}
	}
	return e
}

// round looks at everything that can be reached, without an order.
func (h byHand) round(at search.State) bool {
	type leg struct {
		at      search.State
		corners int
	}
	todo := []leg{{at, len(h.states.Room().Walls)}}
	seen := map[leg]bool{todo[0]: true}
	for len(todo) > 0 {
		l := todo[0]
		todo = todo[1:]
		if l.corners == 0 {
			return true
		}
		for m := range h.states.Moves(l.at) {
			next := leg{m.To, l.corners}
			if m.Turns {
				next.corners--
			}
			if !seen[next] {
				seen[next] = true
				todo = append(todo, next)
			}
		}
	}
	return false
}

// What is told of each figure that can follow is what one finds by looking at all ways
// one by one.
func TestNextAgainstAllWays(t *testing.T) {
	found := map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		states := closet(t)
		f := future.New(states)
		alive, err := future.NewAlive(context.Background(), states)
		if err != nil {
			t.Fatal(err)
		}
		hand := byHand{states, alive}
		var danced []search.State
		for s := range search.State(states.Count()) {
			if states.Usable(s) && states.Choices(s) > 0 {
				danced = append(danced, s)
			}
		}
		for range 4 {
			at := danced[rapid.IntRange(0, len(danced)-1).Draw(t, "state")]
			bars := rapid.IntRange(0, 4).Draw(t, "bars")
			options := f.Next(at, bars)
			n := 0
			for range states.Moves(at) {
				n++
			}
			if len(options) != n {
				t.Fatalf("%d figures, want %d", len(options), n)
			}
			for i, o := range options {
				all, live := hand.ways(o.To, bars)
				if got := o.Ways; got.Over || got.All.Big().Int64() != all || got.Live.Big().Int64() != live {
					t.Fatalf("%s: %v ways, %v of them live; want %d, %d", o.Variant.Name(), o.Ways.All, o.Ways.Live, all, live)
				}
				if want := hand.round(o.To); o.Round != want {
					t.Fatalf("%s: right round %v, want %v", o.Variant.Name(), o.Round, want)
				}
				if o.Trap() {
					if want := hand.end(o.To); o.End != want {
						t.Fatalf("%s ends %+v, want %+v", o.Variant.Name(), o.End, want)
					}
				}
				if i > 0 && options[i-1].Trap() && !o.Trap() {
					t.Fatalf("a trap comes before %s, which is none", o.Variant.Name())
				}
				found[map[bool]string{true: "traps", false: "no traps"}[o.Trap()]]++
				found[map[bool]string{true: "round", false: "not round"}[o.Round]]++
			}
		}
	})
	for _, what := range []string{"traps", "no traps", "round", "not round"} {
		if manyDraws() && found[what] == 0 {
			t.Errorf("drawn: no %s, %v", what, found)
		}
	}
}

// Where a figure can be danced at several shares of the stride, it is told once, with the
// ways after all of them together and the best that any of them leaves.
func TestNextPutsSharesTogether(t *testing.T) {
	room, _ := floors.Named("studio")
	states, err := search.NewStates(&search.Problem{Room: room, Variants: repertory(figures.International, figures.Bronze), Couple: figures.DefaultCouple(), Margin: -1})
	if err != nil {
		t.Fatal(err)
	}
	f := future.New(states)
	type figure struct {
		variant *figures.Variant
		turns   bool
	}
	several := 0
	for s := search.State(0); s < search.State(states.Count()); s += 7919 {
		if !states.Usable(s) || !states.Entered(s) {
			continue
		}
		byFigure := map[figure][]search.Move{}
		for m := range states.Moves(s) {
			k := figure{m.Variant, m.Turns}
			byFigure[k] = append(byFigure[k], m)
		}
		options := f.Next(s, 2)
		if len(options) != len(byFigure) {
			t.Fatalf("%d figures, want %d", len(options), len(byFigure))
		}
		for _, o := range options {
			moves := byFigure[figure{o.Variant, o.Turns}]
			if len(moves) > 1 {
				several++
			}
			all, live, round, nearest := new(big.Int), false, false, math.Inf(1)
			for _, m := range moves {
				all.Add(all, f.Ways(2, m.To)[0].All.Big())
				live, round = live || f.Lives(m.To), round || f.Round(m.To)
			}
			for _, m := range moves {
				if f.Lives(m.To) == live {
					nearest = min(nearest, math.Abs(m.Scale-1))
				}
			}
			if o.Ways.All.Big().Cmp(all) != 0 || o.Live != live || o.Round != round || math.Abs(o.Scale-1) != nearest {
				t.Fatalf("%s from %+v: %+v; want %v ways, live %v, round %v, %g from the usual stride", o.Variant.Name(), states.Standing(s), o, all, live, round, nearest)
			}
		}
	}
	if several == 0 {
		t.Error("no figure could be danced at several shares")
	}
}

func BenchmarkNext(b *testing.B) {
	for _, name := range []string{"village hall", "ballroom"} {
		room, _ := floors.Named(name)
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				states, err := search.NewStates(&search.Problem{Room: room, Variants: figures.BuiltIn().Variants(), Couple: figures.DefaultCouple(), Margin: -1,
					Scales: []search.Scale{{Share: 1}}})
				if err != nil {
					b.Fatal(err)
				}
				f := future.New(states)
				at, err := states.Start(search.DefaultStart(room, 0))
				if err != nil {
					b.Fatal(err)
				}
				if len(f.Next(at, 4)) == 0 {
					b.Fatal("nothing can follow")
				}
			}
		})
	}
}
