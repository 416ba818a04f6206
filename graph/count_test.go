package graph_test

import (
	"flag"
	"fmt"
	"math/big"
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"lapwright/figures"
	"lapwright/graph"
)

var update = flag.Bool("update", false, "write the golden files anew")

// The numbers of legal sequences from known stances guard the rules of what may
// follow what: a change to any figure's beginning or end shows here. After a
// wanted change, look at the difference that -update makes.
func TestCountsOfTheLibrary(t *testing.T) {
	const golden, depth = "testdata/counts.golden", 8
	var got strings.Builder
	for _, level := range append([]figures.Level{""}, figures.Levels...) {
		var variants []*figures.Variant
		for _, f := range figures.BuiltIn().Figures() {
			if level == "" || f.At(figures.AnyStyle, level) {
				variants = append(variants, f.Variants...)
			}
		}
		g := graph.New(variants)
		title := "all figures"
		if level != "" {
			title = string(level)
		}
		fmt.Fprintf(&got, "%s: sequences of 1 to %d figures along one wall\n", title, depth)
		for _, words := range []string{
			"DW, RF, closed", "DW, LF, closed", "DC, LF, closed", "DC, RF, closed", "LOD, LF, closed", "LOD, RF, closed",
			"ALOD, LF, closed", "ALOD, RF, closed", "DWA, LF, closed", "DWA, RF, closed",
			"DW, RF, promenade", "LOD, RF, promenade", "DW, RF, outside partner",
		} {
			s := stance(t, words)
			fmt.Fprintf(&got, "  %-22s", s.Short())
			for n := 1; n <= depth; n++ {
				fmt.Fprintf(&got, " %s", g.Count(s, n))
			}
			got.WriteString("\n")
		}
	}
	if *update {
		if err := os.WriteFile(golden, []byte(got.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	gotLines, wantLines := strings.Split(got.String(), "\n"), strings.Split(string(want), "\n")
	if len(gotLines) != len(wantLines) {
		t.Errorf("%d lines, %s has %d", len(gotLines), golden, len(wantLines))
	}
	for i := range min(len(gotLines), len(wantLines)) {
		if gotLines[i] != wantLines[i] {
			t.Errorf("%s, line %d:\n got %s\nwant %s", golden, i+1, gotLines[i], wantLines[i])
		}
	}
}

// danceAll counts sequences by dancing each of them, with the figures alone.
func danceAll(variants []*figures.Variant, s figures.Stance, n int) int64 {
	if n == 0 {
		return 1
	}
	var total int64
	for _, v := range variants {
		for i, e := range v.Entries {
			first := true
			for _, before := range v.Entries[:i] {
				first = first && before != e
			}
			if e == s && first && (n == 1 || !v.Corner) {
				total += danceAll(variants, v.Exit(e), n-1)
			}
		}
	}
	return total
}

func TestCountAgainstDancingAll(t *testing.T) {
	forLibraries(t, func(t rapid.TB, variants []*figures.Variant, _ []int, g *graph.Graph) {
		for _, s := range g.Stances() {
			for n := range 4 {
				if got, want := g.Count(s, n), danceAll(variants, s, n); got.Cmp(big.NewInt(want)) != 0 {
					t.Errorf("%d figures from %s: %s sequences, want %d", n, s, got, want)
				}
			}
		}
	})
}

func TestCount(t *testing.T) {
	// Three boxes that end as they begin: 3 to the power of n sequences, more
	// than any machine's whole number for n = 100.
	s := stance(t, "LOD, LF, closed")
	var boxes []*figures.Variant
	for _, name := range []string{"Box", "Quick Box", "Slow Box"} {
		boxes = append(boxes, &figures.Variant{Figure: &figures.Figure{Name: name, Beats: 3}, Entries: []figures.Stance{s, s}})
	}
	g := graph.New(append(boxes, boxes...))
	for _, c := range []struct {
		from figures.Stance
		n    int
		want *big.Int
	}{
		{s, -1, big.NewInt(0)},
		{s, 0, big.NewInt(1)},
		{s, 1, big.NewInt(3)},
		{s, 100, new(big.Int).Exp(big.NewInt(3), big.NewInt(100), nil)},
		{stance(t, "C, LF, closed"), 0, big.NewInt(1)},
		{stance(t, "C, LF, closed"), 1, big.NewInt(0)},
		{stance(t, "C, LF, closed"), 1_000_000_000, big.NewInt(0)},
	} {
		if got := g.Count(c.from, c.n); got.Cmp(c.want) != 0 {
			t.Errorf("%d figures from %s: %s sequences, want %s", c.n, c.from, got, c.want)
		}
	}
}
