package drill_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"

	"lapwright/figures"
	"lapwright/figures/geometry"
	"lapwright/floors"
	"lapwright/graph"
	"lapwright/search"
	"lapwright/search/check"
	"lapwright/search/drill"
	"lapwright/search/future"
	"lapwright/search/routine"
)

// ways are all ways of dancing some figures.
func ways(t testing.TB, names ...string) (all []*figures.Variant) {
	t.Helper()
	for _, name := range names {
		f, ok := figures.BuiltIn().Figure(name)
		if !ok {
			t.Fatalf("no figure %s", name)
		}
		all = append(all, f.Variants...)
	}
	return all
}

// small is a problem in which all drills can be written out.
func small(t testing.TB, room *floors.Room, names ...string) *drill.Problem {
	p := &drill.Problem{Room: &search.Problem{Room: room, Variants: ways(t, names...), Couple: figures.DefaultCouple(), Margin: -1,
		Scales: []search.Scale{{Share: 1}}}}
	if p.Start.Stance.Free = figures.RightFoot; room != nil {
		p.Start = search.DefaultStart(room, 0)
	} else {
		p.Start.Stance.Facing = figures.DiagonalToWall
	}
	return p
}

// key writes the figures and corners of a drill in a line.
func key(steps []routine.Step) string {
	var b strings.Builder
	for _, s := range steps {
		if s.Corner == routine.Take {
			b.WriteString("> ")
		}
		b.WriteString(s.Variant.Name() + "; ")
	}
	return b.String()
}

// written are all drills of so many bars, found one by one, with their weights.
func written(t testing.TB, p *drill.Problem, bars int) map[string]float64 {
	all := map[string]float64{}
	weigh := func(steps []routine.Step) float64 {
		weight := 1.0
		for i, s := range steps {
			figure, join := false, false
			for _, f := range p.Focus {
				if slices.Contains(f.Figure, s.Variant) {
					figure = figure || len(f.Before) == 0
					join = join || i > 0 && slices.Contains(f.Before, steps[i-1].Variant)
				}
			}
			if figure {
				weight *= float64(p.Weight)
			}
			if join {
				weight *= float64(p.Weight)
			}
		}
		return weight
	}
	if p.Room.Room == nil {
		onWall(p, bars, func(steps []routine.Step) { all[key(steps)] = weigh(steps) })
		return all
	}
	states, err := search.NewStates(p.Room)
	if err != nil {
		t.Fatal(err)
	}
	alive, err := future.NewAlive(context.Background(), states)
	if err != nil {
		t.Fatal(err)
	}
	at, err := states.Start(p.Start)
	if err != nil {
		t.Fatal(err)
	}
	var dance func(at search.State, bars int, steps []routine.Step)
	dance = func(at search.State, bars int, steps []routine.Step) {
		if bars == 0 && alive.Has(at) {
			all[key(steps)] += weigh(steps)
		}
		for m := range states.Moves(at) {
			if m.Bars <= bars {
				dance(m.To, bars-m.Bars, append(steps[:len(steps):len(steps)], m.Step()))
			}
		}
	}
	dance(at, bars, nil)
	return all
}

// onWall visits all drills along an endless wall.
func onWall(p *drill.Problem, bars int, visit func([]routine.Step)) {
	g := graph.New(p.Room.Variants)
	joins := func(before, after graph.Edge) bool {
		_, refused := graph.CannotJoin(before.Variant, after.Variant, p.Room.Couple)
		return before.To == after.From && !after.Variant.Corner && !refused
	}
	live := map[graph.Edge]bool{}
	for _, e := range g.Edges() {
		live[e] = !e.Variant.Corner
	}
	for range g.Edges() {
		for e := range live {
			on := false
			for _, next := range g.From(e.To) {
				on = on || live[next] && joins(e, next)
			}
			live[e] = live[e] && on
		}
	}
	var dance func(last graph.Edge, bars int, steps []routine.Step)
	dance = func(last graph.Edge, bars int, steps []routine.Step) {
		if bars == 0 && live[last] {
			visit(steps)
		}
		for _, e := range g.From(last.To) {
			if e.Variant.Bars() <= bars && !e.Variant.Corner && (len(steps) == 0 || joins(last, e)) {
				dance(e, bars-e.Variant.Bars(), append(steps[:len(steps):len(steps)], routine.Step{Variant: e.Variant}))
			}
		}
	}
	dance(graph.Edge{To: p.Start.Stance}, bars, nil)
}

func studio(t testing.TB) *floors.Room {
	room, ok := floors.Named("studio")
	if !ok {
		t.Fatal("no studio")
	}
	return room
}

// The drills that are drawn are all those that there are, each as often as any other, or
// as its weight says: Pearson's chi-square test (Knuth, The Art of Computer Programming,
// volume 2, 3.3.1), at a level of one in a thousand, with seeds that are always the
// same.
func TestDrawIsFair(t *testing.T) {
	basic := []string{"Natural Turn", "Reverse Turn", "Right Foot Closed Change", "Left Foot Closed Change"}
	for _, c := range []struct {
		name  string
		room  *floors.Room
		bars  int
		focus []drill.Focus
	}{
		{"anywhere", nil, 7, nil},
		{"anywhere, a figure", nil, 7, []drill.Focus{{Figure: ways(t, "Reverse Turn")}}},
		{"anywhere, a join", nil, 6, []drill.Focus{{Before: ways(t, "Right Foot Closed Change"), Figure: ways(t, "Reverse Turn")}}},
		{"in a room", studio(t), 6, nil},
		{"in a room, a figure", studio(t), 6, []drill.Focus{{Figure: ways(t, "Natural Turn")}}},
		{"in a room, a join and a figure", studio(t), 6, []drill.Focus{{Before: ways(t, "Natural Turn"), Figure: ways(t, "Natural Turn")}, {Figure: ways(t, "Reverse Turn")}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := small(t, c.room, basic...)
			p.Focus, p.Weight = c.focus, 3
			all := written(t, p, c.bars)
			if len(all) < 10 {
				t.Fatalf("only %d drills", len(all))
			}
			sum := 0.0
			for _, weight := range all {
				sum += weight
			}
			source, err := drill.New(context.Background(), p)
			if err != nil {
				t.Fatal(err)
			}
			if n, err := source.Number(context.Background(), c.bars); err != nil || n > sum*(1+1e-9) || n < sum*math.Pow(1+search.Rounding, -float64(c.bars)) {
				t.Errorf("%g drills (%v), want %g", n, err, sum)
			}
			seeds := make([]uint64, 60*len(all))
			for i := range seeds {
				seeds[i] = uint64(i)
			}
			drills, err := source.Draw(context.Background(), c.bars, seeds...)
			if err != nil {
				t.Fatal(err)
			}
			drawn := map[string]float64{}
			for _, d := range drills {
				drawn[key(d.Steps)]++
			}
			square := 0.0
			for k, weight := range all {
				expected := weight / sum * float64(len(seeds))
				square += (drawn[k] - expected) * (drawn[k] - expected) / expected
				delete(drawn, k)
			}
			for k := range drawn {
				t.Errorf("drawn, and not one of the drills: %s", k)
			}
			if most := (distuv.ChiSquared{K: float64(len(all) - 1)}).Quantile(0.999); square > most {
				t.Errorf("chi-square %.1f of %d drills, at most %.1f", square, len(all), most)
			}
		})
	}
}

// Every drill in a room is clean by the checker, takes the bars that were asked for, and
// is drawn again by its seed, whatever else is drawn.
func TestDrillsAreClean(t *testing.T) {
	room := studio(t)
	p := small(t, room, "Natural Turn", "Reverse Turn", "Right Foot Closed Change", "Left Foot Closed Change", "Whisk", "Chassé from Promenade", "Hesitation Change")
	source, err := drill.New(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		bars := rapid.IntRange(1, 60).Draw(t, "bars")
		seeds := rapid.SliceOfN(rapid.Uint64(), 1, 4).Draw(t, "seeds")
		drills, err := source.Draw(context.Background(), bars, seeds...)
		if errors.Is(err, drill.ErrLength) {
			lengths, err := source.Lengths(context.Background(), bars)
			if err != nil || slices.Contains(lengths, bars) {
				t.Fatalf("no drill of %d bars, and there are of %v (%v)", bars, lengths, err)
			}
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		for i, d := range drills {
			report := check.Dance(room, p.Room.Couple, &routine.Routine{Start: d.Start, Steps: d.Steps, Stride: p.Room.Couple.Stride}, check.Limits{Margin: -1})
			if faults := report.Faults(); len(faults) > 0 || report.Bars != bars || d.Seed != seeds[i] {
				t.Fatalf("%d bars of %d, seed %d of %d, %v", report.Bars, bars, d.Seed, seeds[i], faults)
			}
			again, err := source.Draw(context.Background(), bars, d.Seed)
			if err != nil || key(again[0].Steps) != key(d.Steps) {
				t.Fatalf("seed %d: %s, then %s (%v)", d.Seed, key(d.Steps), key(again[0].Steps), err)
			}
		}
	})
}

// Figures of two bars fill even numbers of bars only.
func TestLengths(t *testing.T) {
	turn, _ := figures.BuiltIn().Variant("Left Box")
	p := &drill.Problem{Room: &search.Problem{Variants: []*figures.Variant{turn}, Couple: figures.DefaultCouple()},
		Start: routine.Start{Stance: turn.Entries[0]}}
	source, err := drill.New(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	if lengths, err := source.Lengths(context.Background(), 9); err != nil || !slices.Equal(lengths, []int{2, 4, 6, 8}) {
		t.Errorf("lengths %v, %v", lengths, err)
	}
	if _, err := source.Draw(context.Background(), 7, 1); !errors.Is(err, drill.ErrLength) {
		t.Errorf("7 bars: %v", err)
	}
}

func TestDrillRefuses(t *testing.T) {
	natural, _ := figures.BuiltIn().Variant("Natural Turn")
	ctx := context.Background()
	one := func() *drill.Problem {
		return &drill.Problem{Room: &search.Problem{Variants: []*figures.Variant{natural}, Couple: figures.DefaultCouple()}, Start: routine.Start{Stance: natural.Entries[0]}}
	}
	for name, c := range map[string]struct {
		change func(*drill.Problem)
		want   string
	}{
		"no way on":    {func(*drill.Problem) {}, "every way from the start ends"},
		"no beginning": {func(p *drill.Problem) { p.Start.Stance.Free = figures.LeftFoot }, "none of the figures begins"},
		"no figures":   {func(p *drill.Problem) { p.Room.Variants = nil }, "no figures are left"},
		"a weight":     {func(p *drill.Problem) { p.Weight = 1001 }, "1 to 1000"},
		"off the floor": {func(p *drill.Problem) {
			p.Room.Room, p.Room.Margin = studio(t), -1
			p.Start.At = &geometry.Point{X: -3}
		}, "not on the floor"},
	} {
		p := one()
		c.change(p)
		if _, err := drill.New(ctx, p); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
	source, err := drill.New(ctx, small(t, studio(t), "Natural Turn", "Right Foot Closed Change", "Left Foot Closed Change"))
	if err != nil {
		t.Fatal(err)
	}
	for _, bars := range []int{0, drill.MostBars + 1} {
		if _, err := source.Draw(ctx, bars, 1); err == nil {
			t.Errorf("%d bars are drawn", bars)
		}
	}
	stopped, cancel := context.WithCancel(ctx)
	cancel()
	if _, err := source.Draw(stopped, 8, 1); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
}

func Example() {
	var basic []*figures.Variant
	for _, name := range []string{"Natural Turn", "Reverse Turn", "Right Foot Closed Change", "Left Foot Closed Change"} {
		v, _ := figures.BuiltIn().Variant(name)
		basic = append(basic, v)
	}
	source, err := drill.New(context.Background(), &drill.Problem{
		Room:  &search.Problem{Variants: basic, Couple: figures.DefaultCouple()}, // no room: anywhere
		Start: routine.Start{Stance: basic[0].Entries[0]},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	drills, err := source.Draw(context.Background(), 12, 1)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range drills[0].Steps {
		fmt.Println(s.Variant.Name())
	}
	// Output:
	// Natural Turn
	// Right Foot Closed Change
	// Reverse Turn
	// Left Foot Closed Change
	// Natural Turn
	// Right Foot Closed Change
	// Reverse Turn
	// Left Foot Closed Change
}

func BenchmarkDrill(b *testing.B) {
	room, _ := floors.Named("village hall")
	for _, level := range []figures.Level{figures.Bronze, ""} {
		var variants []*figures.Variant
		for _, f := range figures.BuiltIn().Figures() {
			if level == "" || f.At(figures.International, level) {
				variants = append(variants, f.Variants...)
			}
		}
		for _, bars := range []int{32, 128} {
			name := "bronze"
			if level == "" {
				name = "whole library"
			}
			b.Run(fmt.Sprintf("%s, %d bars", name, bars), func(b *testing.B) {
				for b.Loop() {
					source, err := drill.New(context.Background(), &drill.Problem{Start: search.DefaultStart(room, 0),
						Room: &search.Problem{Room: room, Variants: variants, Couple: figures.DefaultCouple(), Margin: -1, Scales: []search.Scale{{Share: 1}}}})
					if err != nil {
						b.Fatal(err)
					}
					if _, err := source.Draw(context.Background(), bars, 1); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}
