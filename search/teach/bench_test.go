package teach

import (
	"context"
	"slices"
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
	social := Items(variantsOf(figures.Social))
	for _, c := range []struct {
		name  string
		both  bool
		most  int
		built func(Set) bool
	}{{"any", false, 2, nil}, {"right, left and link", true, 3, func(s Set) bool { return TurnsAndLink(social, s) }}, {"both ways of 3", true, 3, nil}} {
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

// BenchmarkNext is what to teach next of the whole library to those who know two turns and
// the changes, from the beginning.
func BenchmarkNext(b *testing.B) {
	var known []*figures.Variant
	for _, name := range []string{"Natural Turn", "Reverse Turn", "Right Foot Closed Change", "Left Foot Closed Change"} {
		ways, err := figures.BuiltIn().Ways(name)
		if err != nil {
			b.Fatal(err)
		}
		known = append(known, ways...)
	}
	items := slices.DeleteFunc(Items(figures.BuiltIn().Variants()), func(it Item) bool { return slices.Contains(known, it.Variants[0]) })
	for b.Loop() {
		p := problemIn(b, "village hall")
		p.Scales = []search.Scale{{Share: 1}}
		g, err := (&Next{Problem: p, Known: known, Items: items, OnFloor: 10, Beyond: 2}).Find(context.Background())
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(len(g.Gains)), "figures/op")
	}
}

// BenchmarkCourse is a course of six weeks of two figures.
func BenchmarkCourse(b *testing.B) {
	items := Items(variantsOf(figures.Social))
	Easiest(items)
	for b.Loop() {
		weeks, err := (&Course{Problem: problemIn(b, "village hall"), Items: items, Weeks: 6, Each: 2}).Find(context.Background(), nil)
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(len(weeks)), "weeks/op")
	}
}
