package search

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"lapwright/figures"
	"lapwright/floors"
	"lapwright/graph"
	"lapwright/search/routine"
)

// TestCounts pins numbers that a change which should not alter them must not alter: in
// how many ways so many figures can be danced one after the other from some stances, by
// what may follow what and on the floor of a room; and how much work it takes to find
// laps in closets within limits of each kind, several laps, and laps that differ.
// [TestFingerprint] does so for laps without limits, and package graph for what may follow
// along one wall. After a change of the figures the numbers are written anew with
// -update.
func TestCounts(t *testing.T) {
	var lines []string
	add := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }

	add("may follow, where every corner is a right angle: stance: ways of dancing 0, 1, 2 … figures")
	stances := []string{"DW, RF", "DC, LF", "ALOD, LF", "DW, LF", "LOD, LF", "ALOD, RF"}
	follow := graph.New(atLevel(figures.Bronze), -2)
	for _, words := range stances {
		var counts []string
		for n := range 11 {
			counts = append(counts, follow.Count(stance(t, words), n).String())
		}
		add("%s: %s", words, strings.Join(counts, " "))
	}

	add("closet; limits: bars, cost, bound, laps, expanded, generated")
	whisk, natural, reverse := figure(t, "Whisk"), figure(t, "Natural Turn"), figure(t, "Reverse Turn")
	for _, c := range []struct {
		closet int
		words  string
		set    func(p *Problem)
	}{
		{1, "steps of the follower up to 0.8 m", func(p *Problem) { p.Limits.FollowerStep = 0.8 }},
		{0, "none", func(p *Problem) {}},
		{1, "1 right turn in a row", func(p *Problem) { p.Limits.RightTurns = 1 }},
		{0, "at most 2 uses", func(p *Problem) { p.Limits.Uses = 2 }},
		{0, "at most 2 turns to the right", func(p *Problem) { p.Limits.Caps = []Cap{{"turns to the right", (*figures.Variant).TurnsRight, 2}} }},
		{0, "not again within 3 bars", func(p *Problem) { p.Limits.Apart = 3 }},
		{0, "4 different", func(p *Problem) { p.Limits.Different = 4 }},
		{0, "a whisk", func(p *Problem) { p.Limits.Must = []*figures.Figure{whisk} }},
		{3, "a reverse turn before a natural turn", func(p *Problem) { p.Limits.Orders = []Order{{reverse, natural}} }},
		{3, "a whisk at bar 4", func(p *Problem) { p.Limits.Fixed = []Fixed{{whisk, 4, -1}} }},
		{2, "14 bars", func(p *Problem) { p.Limits.MinBars, p.Limits.MaxBars = 14, 14 }},
		{3, "ends with a phrase of 4", func(p *Problem) { p.Limits.Phrase = 4 }},
		{1, "two laps", func(p *Problem) { p.Laps = 2 }},
		{3, "6 that differ", func(p *Problem) { p.Count, p.Within = 6, 0.2 }},
	} {
		if slower > 1 && c.closet != 1 {
			break
		}
		p := *closets()[c.closet].problem
		c.set(&p)
		res := find(t, &p)
		lap := "no lap"
		if res.Lap != nil {
			lap = fmt.Sprintf("%d bars, %.2f, %.2f, %d", res.Lap.Bars, res.Lap.Costs.Total(), res.Lap.Bound, len(res.Laps))
		}
		add("%s; %s: %s, %d, %d", closets()[c.closet].name, c.words, lap, res.Expanded, res.Generated)
	}

	if slower == 1 {
		add("on the floor: room; stance: ways of dancing 1, 2 … figures")
		for _, room := range []*floors.Room{rooms(t)[0], rooms(t)[2]} {
			p := problem(room, atLevel(figures.Bronze))
			for _, words := range stances[:3] {
				var counts []string
				for n := 1; n < 5; n++ {
					count, err := p.Continuations(routine.Start{At: DefaultStart(room, 0).At, Stance: stance(t, words)}, n)
					if err != nil {
						t.Fatal(err)
					}
					counts = append(counts, count.String())
				}
				add("%s; %s: %s", room.Name, words, strings.Join(counts, " "))
			}
		}
	}

	golden := filepath.Join("testdata", "counts.golden")
	got := strings.Join(lines, "\n") + "\n"
	if *update && slower == 1 {
		if err := os.WriteFile(golden, []byte(got), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	data, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	want := strings.Split(strings.TrimSuffix(string(data), "\n"), "\n")
	if slower > 1 {
		want = want[:min(len(want), len(lines))] // the others take long
	}
	for i := range max(len(want), len(lines)) {
		line := func(all []string) string {
			if i < len(all) {
				return all[i]
			}
			return "(nothing)"
		}
		if line(want) != line(lines) {
			t.Errorf("line %d was\n%s\nand is\n%s", i+1, line(want), line(lines))
		}
	}
}
