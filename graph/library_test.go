package graph_test

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"lapwright/figures"
	"lapwright/figures/geometry"
	"lapwright/graph"
)

// What several tests share: figures of the built-in library, stances, and
// libraries drawn at random.

func variant(t testing.TB, name string) *figures.Variant {
	t.Helper()
	v, ok := figures.BuiltIn().Variant(name)
	if !ok {
		t.Fatalf("the library has no %s", name)
	}
	return v
}

func variantsOf(t testing.TB, figure string) []*figures.Variant {
	t.Helper()
	f, ok := figures.BuiltIn().Figure(figure)
	if !ok {
		t.Fatalf("the library has no %s", figure)
	}
	return f.Variants
}

func stance(t testing.TB, words string) figures.Stance {
	t.Helper()
	s, err := figures.ParseStance(words)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func shorts(stances []figures.Stance) []string {
	var all []string
	for _, s := range stances {
		all = append(all, s.Short())
	}
	return all
}

// drawStance draws from few stances, so that figures meet.
func drawStance() *rapid.Generator[figures.Stance] {
	return rapid.Custom(func(t *rapid.T) figures.Stance {
		return figures.Stance{
			Facing: figures.Heading(rapid.IntRange(0, figures.Headings-1).Draw(t, "facing")),
			Free:   rapid.SampledFrom([]figures.Foot{figures.LeftFoot, figures.RightFoot}).Draw(t, "free"),
			Hold:   rapid.SampledFrom([]figures.Hold{figures.Closed, figures.Promenade}).Draw(t, "hold"),
		}
	})
}

// drawVariants draws a library that nobody need be able to dance: the graph
// looks at nothing but where figures begin and end.
func drawVariants() *rapid.Generator[[]*figures.Variant] {
	return rapid.Custom(func(t *rapid.T) []*figures.Variant {
		var all []*figures.Variant
		for i := range rapid.IntRange(0, 9).Draw(t, "figures") {
			f := &figures.Figure{Name: fmt.Sprintf("Figure %d", i%4), Dance: "waltz", Beats: 3}
			v := &figures.Variant{
				Figure:  f,
				Label:   rapid.SampledFrom([]string{"", "1-3", "at a corner"}).Draw(t, "label"),
				Entries: rapid.SliceOfN(drawStance(), 1, 4).Draw(t, "entries"),
				Corner:  rapid.IntRange(0, 3).Draw(t, "corner") == 0,
			}
			for range rapid.IntRange(0, 3).Draw(t, "steps") {
				step := figures.Step{
					Beats: 1,
					Turn:  geometry.Turn(rapid.IntRange(-9, 9).Draw(t, "turn")),
					Hold:  rapid.SampledFrom([]figures.Hold{figures.Closed, figures.Promenade}).Draw(t, "hold"),
				}
				step.Actions[figures.Leader] = figures.Action{
					Foot:       rapid.SampledFrom([]figures.Foot{figures.NoFoot, figures.LeftFoot, figures.RightFoot}).Draw(t, "foot"),
					Weightless: rapid.Bool().Draw(t, "weightless"),
				}
				v.Steps = append(v.Steps, step)
			}
			f.Variants = []*figures.Variant{v}
			all = append(all, v)
		}
		return all
	})
}

func drawCorners() *rapid.Generator[[]int] {
	return rapid.SampledFrom([][]int{nil, {-2}, {-2, 2}, {-1}, {-3, 1}, {4}, {-2, 6, 0, 8, -10}})
}

// forLibraries runs a check on random libraries, and on the built-in one with
// and without corners.
func forLibraries(t *testing.T, check func(t rapid.TB, variants []*figures.Variant, corners []int, g *graph.Graph)) {
	t.Run("built-in", func(t *testing.T) {
		variants := figures.BuiltIn().Variants()
		for _, corners := range [][]int{nil, {-2}, {-2, 2}} {
			check(t, variants, corners, graph.New(variants, corners...))
		}
		for _, f := range figures.BuiltIn().Figures() {
			check(t, f.Variants, []int{-2}, graph.New(f.Variants, -2))
		}
	})
	t.Run("random", rapid.MakeCheck(func(t *rapid.T) {
		variants, corners := drawVariants().Draw(t, "variants"), drawCorners().Draw(t, "corners")
		check(t, variants, corners, graph.New(variants, corners...))
	}))
}
