package teach

import (
	"context"
	"testing"

	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search"
)

// variantsOf are the ways of dancing the figures of some levels.
func variantsOf(levels ...figures.Level) (all []*figures.Variant) {
	for _, f := range figures.BuiltIn().Figures() {
		if f.At(figures.AnyStyle, levels...) {
			all = append(all, f.Variants...)
		}
	}
	return all
}

func problemIn(t testing.TB, room string) *search.Problem {
	r, ok := floors.Named(room)
	if !ok {
		t.Fatal("there is no room", room)
	}
	return &search.Problem{Room: r, Couple: figures.DefaultCouple(), Margin: -1}
}

// BenchmarkSmallest is the answer of lapwright teach, from the beginning.
func BenchmarkSmallest(b *testing.B) {
	for _, c := range []struct {
		name  string
		both  bool
		most  int
		built func(Set) bool
	}{{"any", false, 2, nil}, {"right, left and link", true, 3, nil}, {"both ways of 3", true, 3, nil}} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				r, err := NewRound(problemIn(b, "village hall"), Items(variantsOf(figures.Social)))
				if err != nil {
					b.Fatal(err)
				}
				r.BothWays = c.both
				_, tried, err := r.Smallest(context.Background(), c.most, c.built, nil)
				if err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(float64(tried), "tried/op")
			}
		})
	}
}
