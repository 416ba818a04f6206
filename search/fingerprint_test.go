package search

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"lapwright/figures"
)

var update = flag.Bool("update", false, "write the golden files anew")

// TestFingerprint pins how much work a small fixed set of problems takes: a
// change that should not alter the search must not alter these numbers. After a
// change of the figures or the rooms they are written anew with -update.
func TestFingerprint(t *testing.T) {
	var b strings.Builder
	fmt.Fprintln(&b, "room; figures; limits: bars, cost, states, edges, expanded, generated")
	line := func(p *Problem, level figures.Level) {
		res := find(t, p)
		bars := "no lap"
		if res.Lap != nil {
			bars = fmt.Sprintf("%d bars, %.2f", res.Lap.Bars, res.Lap.Costs.Total())
		}
		fmt.Fprintf(&b, "%s; %s; %+v: %s, %d, %d, %d, %d\n", p.Room.Name, level, p.Limits, bars, res.States, res.Edges, res.Expanded, res.Generated)
	}
	levels := []figures.Level{figures.Bronze, figures.Social}
	if slower > 1 {
		levels = levels[:1]
	}
	for _, level := range levels {
		for _, room := range append(rooms(t), named(t, "studio")) {
			line(problem(room, atLevel(level)), level)
		}
	}
	if slower == 1 {
		line(problem(named(t, "village hall"), atLevel(figures.Bronze)), figures.Bronze)
		limited := problem(named(t, "village hall"), atLevel(figures.Bronze))
		limited.Limits = Limits{MinBars: 40, MaxBars: 40}
		line(limited, figures.Bronze)
	}

	golden := filepath.Join("testdata", "fingerprint.golden")
	if *update && slower == 1 {
		if err := os.MkdirAll("testdata", 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(golden, []byte(b.String()), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	got := strings.Split(b.String(), "\n")
	for i, line := range strings.Split(string(want), "\n") {
		if slower > 1 && i == len(got)-1 {
			break
		}
		if i >= len(got) || got[i] != line {
			t.Errorf("line %d was\n%s\nand is\n%s", i+1, line, strings.Join(got[min(i, len(got)):min(i+1, len(got))], ""))
		}
	}
}
