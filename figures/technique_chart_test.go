package figures

import (
	"bufio"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// techniqueDifferences are where the library stays different from a published
// chart of technique, with the reason.
var techniqueDifferences = []chartDifference{
	{"Hesitation Change", Leader, 4, "footwork", "the chart has H, which leaves out the toe on which a step back is taken; the library has TH"},
}

// TestPublishedTechnique compares footwork, sway, contra body movement and rise
// and fall with the published charts in testdata/charts/technique. What the
// library has from memory is in none of them.
func TestPublishedTechnique(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("..", "testdata", "charts", "technique", "*.tsv"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no charts of technique are found: %v", err)
	}
	known := map[string]bool{} // and whether it was met
	for _, d := range techniqueDifferences {
		known[fmt.Sprint(d.variant, d.dancer, d.step, d.column)] = false
	}
	rows, cells, differing := 0, 0, 0
	for _, file := range files {
		f, err := os.Open(file)
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		sourced, headed := false, false
		lines := bufio.NewScanner(f)
		for n := 1; lines.Scan(); n++ {
			line := lines.Text()
			if strings.HasPrefix(line, "#") {
				sourced = true
				continue
			}
			if !headed {
				headed = true
				continue
			}
			row := strings.Split(line, "\t")
			where := fmt.Sprintf("%s:%d", filepath.Base(file), n)
			if len(row) != 7 {
				t.Fatalf("%s: seven columns are expected, not %d", where, len(row))
			}
			dancer, err := parseDancer(row[1])
			if err != nil {
				t.Fatalf("%s: %v", where, err)
			}
			v, ok := BuiltIn().Variant(row[0])
			step, err := strconv.Atoi(row[2])
			if !ok || err != nil || step < 1 || step > len(v.Steps) {
				t.Fatalf("%s: the library has no step %s of %s", where, row[2], row[0])
			}
			rows++
			d := v.Dance(v.Entries[0], DefaultCouple())
			a := v.Steps[step-1].Actions[dancer]
			movement := "-"
			switch {
			case row[5] == "CBM" && a.CBM, row[5] == "CBMP" && d.CBMP(step-1, dancer):
				movement = row[5]
			}
			for i, column := range []struct{ name, got string }{
				{"footwork", a.Footwork}, {"sway", a.Sway}, {"movement", movement}, {"rise", a.Rise.At(step)},
			} {
				want := row[3+i]
				if want == "-" {
					continue
				}
				cells++
				key := fmt.Sprint(row[0], dancer, step, column.name)
				_, listed := known[key]
				switch {
				case column.got != want && listed:
					known[key] = true
					differing++
				case column.got != want:
					t.Errorf("%s: %s, %s, step %d: %s is %q, the chart has %q", where, row[0], dancer, step, column.name, column.got, want)
				}
			}
		}
		if err := lines.Err(); err != nil {
			t.Fatal(err)
		}
		if !sourced {
			t.Errorf("%s names no source in its head", file)
		}
	}
	for key, met := range known {
		if !met {
			t.Errorf("the difference %s is met nowhere; take it off", key)
		}
	}
	t.Logf("technique charts: %d rows, %d values compared, %d equal, %d differing", rows, cells, cells-differing, differing)
}
