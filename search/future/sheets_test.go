package future_test

import (
	"context"
	"math"
	"testing"

	"pgregory.net/rapid"

	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search"
	"lapwright/search/future"
)

// Sheets answer for many states at once what is answered here state by state: which live,
// where a couple is after some bars, and how many ways there are.
func TestSheetsAgainstStates(t *testing.T) {
	ctx := context.Background()
	found := map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		states := closet(t)
		alive, err := future.NewAlive(ctx, states)
		if err != nil {
			t.Fatal(err)
		}
		sheets, err := search.NewSheets(ctx, states)
		if err != nil {
			t.Fatal(err)
		}
		var living []search.State
		for s := range search.State(states.Count()) {
			if sheets.Alive(s) != alive.Has(s) {
				t.Fatalf("state %d lives: %v, want %v", s, sheets.Alive(s), alive.Has(s))
			}
			if alive.Has(s) {
				living = append(living, s)
			}
		}
		if sheets.Living() != len(living) {
			t.Fatalf("%d states live, want %d", sheets.Living(), len(living))
		}
		if len(living) == 0 {
			found["none live"]++
			return
		}
		const bars = 5
		from := rapid.SampledFrom(living).Draw(t, "from")
		sets, err := sheets.After(ctx, from, bars)
		if err != nil {
			t.Fatal(err)
		}
		counts := []search.Numbers{sheets.Ones()}
		for k := 1; k <= bars; k++ {
			n, ok := sheets.Sum(func(b int) search.Numbers {
				if b > k {
					return nil
				}
				return counts[k-b]
			}, func(int, bool) float64 { return 1 }, sets[bars-k])
			if !ok {
				t.Fatal("the counts are too large")
			}
			counts = append(counts, n)
		}
		after := make([]map[search.State]bool, bars+1)
		for i := range after {
			after[i] = map[search.State]bool{}
		}
		after[0][from] = true
		for now := range after {
			for s := range after[now] {
				for m := range states.Moves(s) {
					if alive.Has(m.To) && now+m.Bars <= bars {
						after[now+m.Bars][m.To] = true
					}
				}
			}
		}
		var ways func(s search.State, k int) float64
		ways = func(s search.State, k int) (sum float64) {
			if k == 0 {
				return 1
			}
			for m := range states.Moves(s) {
				if alive.Has(m.To) && m.Bars <= k {
					sum += ways(m.To, k-m.Bars)
				}
			}
			return sum
		}
		for now, set := range sets {
			if set.Empty() != (len(after[now]) == 0) {
				t.Fatalf("after %d bars: empty %v, want %d states", now, set.Empty(), len(after[now]))
			}
			for _, s := range living {
				if set.Has(s) != after[now][s] {
					t.Fatalf("after %d bars in state %d: %v, want %v", now, s, set.Has(s), after[now][s])
				}
			}
		}
		for k := 1; k <= bars; k++ {
			for s := range after[bars-k] {
				want := ways(s, k)
				got := sheets.At(counts[k], s)
				if got > want || got < want*math.Pow(1+search.Rounding, -float64(k)) {
					t.Fatalf("%v ways through %d bars from state %d, want %v", got, k, s, want)
				}
				if found["counted"]++; want > 64 {
					found["rounded"]++
				}
			}
		}
	})
	if manyDraws() && (found["counted"] == 0 || found["rounded"] == 0) {
		t.Errorf("drawn: %v", found)
	}
}

// In a hall, with joins that the feet refuse and every hold.
func TestSheetsInTheVillageHall(t *testing.T) {
	room, _ := floors.Named("village hall")
	states, err := search.NewStates(&search.Problem{Room: room, Variants: figures.BuiltIn().Variants(), Couple: figures.DefaultCouple().WithStride(0.45), Margin: -1,
		Scales: []search.Scale{{Share: 1}}})
	if err != nil {
		t.Fatal(err)
	}
	alive, err := future.NewAlive(context.Background(), states)
	if err != nil {
		t.Fatal(err)
	}
	sheets, err := search.NewSheets(context.Background(), states)
	if err != nil {
		t.Fatal(err)
	}
	for s := range search.State(states.Count()) {
		if sheets.Alive(s) != alive.Has(s) {
			t.Fatalf("state %d lives: %v, want %v", s, sheets.Alive(s), alive.Has(s))
		}
	}
}
