package cover_test

import (
	"context"
	"errors"
	"fmt"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
	"pgregory.net/rapid"

	"lapwright/figures"
	"lapwright/graph"
	"lapwright/graph/cover"
)


// joins lists every join along an endless wall, by the graph alone.
func joins(variants []*figures.Variant) (all []cover.Join) {
	g := graph.New(variants)
	for _, e := range g.Edges() {
		for _, o := range g.From(e.To) {
			_, refused := graph.CannotJoin(e.Variant, o.Variant, figures.DefaultCouple())
			if !e.Variant.Corner && !o.Variant.Corner && !refused {
				all = append(all, cover.Join{Before: e, After: o})
			}
		}
	}
	return all
}

// holds are the joins of a routine; each must be one.
func holds(t rapid.TB, variants []*figures.Variant, routine []graph.Edge) map[cover.Join]bool {
	t.Helper()
	legal := map[cover.Join]bool{}
	for _, j := range joins(variants) {
		legal[j] = true
	}
	has := map[cover.Join]bool{}
	for i := 1; i < len(routine); i++ {
		j := cover.Join{Before: routine[i-1], After: routine[i]}
		if !legal[j] {
			t.Fatalf("%s cannot follow %s", j.After.Variant.Name(), j.Before.Variant.Name())
		}
		has[j] = true
	}
	return has
}

func bars(routine []graph.Edge) (sum int) {
	for _, e := range routine {
		sum += e.Variant.Bars()
	}
	return sum
}

// least is the optimum of the linear program: a flow of one from any beginning to any
// end, with each of some joins gone through once at least (gonum's simplex method is the
// reference).
func least(t *rapid.T, list []cover.Join) float64 {
	index := map[graph.Edge]int{}
	var vertices []graph.Edge
	for _, j := range list {
		for _, e := range []graph.Edge{j.Before, j.After} {
			if _, known := index[e]; !known {
				index[e] = len(vertices)
				vertices = append(vertices, e)
			}
		}
	}
	// Variables: how often more than once each join is gone through, then where it
	// begins, then where it ends.
	once := 0.0
	var between []cover.Join // a figure after itself is never gone through twice
	for _, j := range list {
		once += float64(j.After.Variant.Bars())
		if j.Before != j.After {
			between = append(between, j)
		}
	}
	list = between
	n, m := len(vertices), len(list)
	c := make([]float64, m+2*n)
	a := mat.NewDense(n+1, m+2*n, nil)
	b := make([]float64, n+1)
	for i, j := range list {
		from, to := index[j.Before], index[j.After]
		c[i] = float64(j.After.Variant.Bars())
		a.Set(from, i, a.At(from, i)+1)
		a.Set(to, i, a.At(to, i)-1)
		b[from]--
		b[to]++
	}
	for v, e := range vertices {
		c[m+v] = float64(e.Variant.Bars())
		a.Set(v, m+v, -1)
		a.Set(v, m+n+v, 1)
		a.Set(n, m+v, 1)
	}
	b[n] = 1
	best, _, err := lp.Simplex(c, a, b, 1e-9, nil)
	if err != nil {
		t.Fatal(err)
	}
	return best + once
}

// The routine with every join is as short as the linear program says: its matrix is that
// of a network, so that the optimum is a whole number (Hoffman and Kruskal 1956).
func TestJoinsAgainstLinearProgram(t *testing.T) {
	whole := 0
	rapid.Check(t, func(t *rapid.T) {
		every := figures.BuiltIn().Variants()
		var variants []*figures.Variant
		for _, i := range rapid.SliceOfNDistinct(rapid.IntRange(0, len(every)-1), 2, 10, rapid.ID).Draw(t, "figures") {
			variants = append(variants, every[i])
		}
		c := cover.Joins(variants)
		has := holds(t, variants, c.Routine)
		list := joins(variants)
		if len(has) != c.Joins || len(list) != c.Joins+len(c.Left) || c.Bars != bars(c.Routine) || !c.Proven || c.Bound != c.Bars {
			t.Fatalf("%d joins in it, %+v of %d", len(has), c, len(list))
		}
		for _, j := range c.Left {
			if has[j] {
				t.Fatalf("%s then %s is covered and left", j.Before.Variant.Name(), j.After.Variant.Name())
			}
		}
		if len(c.Left) > 0 || len(list) == 0 {
			return
		}
		whole++
		if want := least(t, list); float64(c.Bars) > want+1e-6 || float64(c.Bars) < want-1e-6 {
			t.Fatalf("%d bars, the linear program has %g", c.Bars, want)
		}
	})
	if whole < 3 {
		t.Errorf("only %d of those that were drawn can be covered whole", whole)
	}
}

// byHand is the least number of bars with every join, or every figure, found by looking at
// all ways.
func byHand(variants []*figures.Variant, figuresOnly bool) (most, least int) {
	g := graph.New(variants)
	list := joins(variants)
	number := map[any]int{}
	item := func(before *graph.Edge, e graph.Edge) int {
		var key any = e.Variant.Figure
		if !figuresOnly {
			if before == nil {
				return -1
			}
			key = cover.Join{Before: *before, After: e}
		}
		if _, known := number[key]; !known {
			number[key] = len(number)
		}
		return number[key]
	}
	type state struct {
		at  graph.Edge
		has uint64
	}
	layers := []map[state]bool{{}}
	seen := map[state]bool{}
	add := func(bars int, s state) {
		for len(layers) <= bars {
			layers = append(layers, map[state]bool{})
		}
		layers[bars][s] = true
	}
	with := func(has uint64, i int) uint64 {
		if i < 0 {
			return has
		}
		return has | 1<<i
	}
	for _, e := range g.Edges() {
		if !e.Variant.Corner {
			add(e.Variant.Bars(), state{e, with(0, item(nil, e))})
		}
	}
	count := func(x uint64) (n int) {
		for ; x != 0; x &= x - 1 {
			n++
		}
		return n
	}
	for bars := 0; bars < len(layers); bars++ {
		for s := range layers[bars] {
			if seen[s] {
				continue
			}
			seen[s] = true
			if n := count(s.has); n > most {
				most, least = n, bars
			}
			for _, j := range list {
				if j.Before == s.at {
					add(bars+j.After.Variant.Bars(), state{j.After, with(s.has, item(&s.at, j.After))})
				}
			}
		}
	}
	return most, least
}

func TestAgainstAllWays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		every := figures.BuiltIn().Variants()
		var variants []*figures.Variant
		for _, i := range rapid.SliceOfNDistinct(rapid.IntRange(0, len(every)-1), 1, 7, rapid.ID).Draw(t, "figures") {
			variants = append(variants, every[i])
		}
		if n := len(joins(variants)); n <= 10 {
			most, least := byHand(variants, false)
			// Where not all can be covered, other rows of parts may have as many.
			if c := cover.Joins(variants); c.Joins > most || len(c.Left) == 0 && most > 0 && c.Bars != least {
				t.Fatalf("%d joins in %d bars, want %d in %d", c.Joins, c.Bars, most, least)
			}
		}
		c, err := cover.Figures(context.Background(), variants)
		if err != nil {
			t.Fatal(err)
		}
		holds(t, variants, c.Routine)
		has := map[*figures.Figure]bool{}
		for _, e := range c.Routine {
			has[e.Variant.Figure] = true
		}
		if most, least := byHand(variants, true); len(has) != most || c.Bars != least || !c.Proven || c.Bars != bars(c.Routine) {
			t.Fatalf("%d figures in %d bars (proven %v), want %d in %d", len(has), c.Bars, c.Proven, most, least)
		}
		for _, f := range c.LeftFigures {
			if has[f] {
				t.Fatalf("%s is covered and left", f.Name)
			}
		}
	})
}

// One level of the library: every figure is in the routine but those that a couple
// dances round a corner only, and the bound holds.
func TestFiguresOfALevel(t *testing.T) {
	var variants []*figures.Variant
	for _, f := range figures.BuiltIn().Figures() {
		if f.At(figures.International, figures.Bronze) {
			variants = append(variants, f.Variants...)
		}
	}
	c, err := cover.Figures(context.Background(), variants)
	if err != nil {
		t.Fatal(err)
	}
	holds(t, variants, c.Routine)
	if len(c.LeftFigures) > 0 || c.Bound > c.Bars || c.Bound == 0 {
		t.Errorf("%d bars, bound %d, left %v", c.Bars, c.Bound, c.LeftFigures)
	}
	t.Logf("%d bars, bound %d, proven %v", c.Bars, c.Bound, c.Proven)
}

func TestFiguresStops(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := cover.Figures(ctx, figures.BuiltIn().Variants()); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}

func ExampleJoins() {
	var variants []*figures.Variant
	for _, name := range []string{"Natural Turn", "Hesitation Change", "Right Foot Closed Change", "Reverse Turn", "Left Foot Closed Change"} {
		v, _ := figures.BuiltIn().Variant(name)
		variants = append(variants, v)
	}
	c := cover.Joins(variants)
	for _, e := range c.Routine {
		fmt.Println(e.Variant.Name())
	}
	fmt.Println(c.Joins, "joins in", c.Bars, "bars; proven:", c.Proven)
	// Output:
	// Reverse Turn
	// Left Foot Closed Change
	// Natural Turn
	// Right Foot Closed Change
	// Reverse Turn
	// Left Foot Closed Change
	// Hesitation Change
	// Reverse Turn
	// 7 joins in 13 bars; proven: true
}

func BenchmarkCover(b *testing.B) {
	for _, level := range []figures.Level{figures.Bronze, figures.Social, ""} {
		var variants []*figures.Variant
		for _, f := range figures.BuiltIn().Figures() {
			if level == "" || f.At(figures.AnyStyle, level) {
				variants = append(variants, f.Variants...)
			}
		}
		name := string(level)
		if level == "" {
			name = "whole library"
		}
		b.Run("joins, "+name, func(b *testing.B) {
			for b.Loop() {
				c := cover.Joins(variants)
				b.ReportMetric(float64(c.Bars), "bars")
				b.ReportMetric(float64(len(c.Left)), "left")
			}
		})
		b.Run("figures, "+name, func(b *testing.B) {
			for b.Loop() {
				c, err := cover.Figures(context.Background(), variants)
				if err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(float64(c.Bars), "bars")
				b.ReportMetric(float64(c.Bound), "bound")
			}
		})
	}
}
