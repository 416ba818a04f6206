package figures

import (
	"bufio"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"lapwright/figures/geometry"
)

// chartRow is one dancer's step as a published chart has it.
type chartRow struct {
	file      string
	line      int
	variant   string
	dancer    Dancer
	step      int
	direction string
	alignment Alignment
	turn      geometry.Turn
	turnGiven bool
}

// readCharts reads every chart of a folder of testdata/charts. The source is
// named in the head of each file.
func readCharts(t *testing.T, folder string) []chartRow {
	t.Helper()
	files, err := filepath.Glob(filepath.Join("..", "testdata", "charts", folder, "*.tsv"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no charts are found: %v", err)
	}
	var rows []chartRow
	for _, file := range files {
		f, err := os.Open(file)
		if err != nil {
			t.Fatal(err)
		}
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
			row, err := readChartRow(line)
			if err != nil {
				t.Fatalf("%s:%d: %v", file, n, err)
			}
			row.file, row.line = filepath.Base(file), n
			rows = append(rows, row)
		}
		if err := lines.Err(); err != nil {
			t.Fatal(err)
		}
		f.Close()
		if !sourced {
			t.Errorf("%s names no source in its head", file)
		}
	}
	return rows
}

func readChartRow(line string) (r chartRow, err error) {
	cells := strings.Split(line, "\t")
	if len(cells) < 6 || len(cells) > 7 {
		return r, fmt.Errorf("six or seven columns are expected, not %d", len(cells))
	}
	r.variant, r.direction = cells[0], cells[3]
	if r.dancer, err = parseDancer(cells[1]); err != nil {
		return r, err
	}
	if r.step, err = strconv.Atoi(cells[2]); err != nil {
		return r, err
	}
	if r.alignment, err = ParseAlignment(cells[4]); err != nil {
		return r, err
	}
	if cells[5] != "-" {
		r.turnGiven = true
		r.turn, err = geometry.ParseTurn(cells[5])
	}
	return r, err
}

// directionKind is the direction of a step without its shades: charts of one
// figure differ in these from one author to the next.
func directionKind(words string) string {
	switch {
	case strings.HasPrefix(words, "side"):
		return "side"
	case words == "diagonally forward", words == "forward and across":
		return "forward"
	case words == "diagonally back":
		return "back"
	case strings.HasPrefix(words, "closes"):
		return "closes"
	}
	return words
}

// chartDifference is a column in which what is computed stays different from
// the chart, with the reason.
type chartDifference struct {
	variant string
	dancer  Dancer
	step    int
	column  string
	reason  string
}

var chartDifferences = []chartDifference{
	{"Whisk", Follower, 2, "direction", "the couple moves as one on this step, so she goes as far back as the chart has him " +
		"go slightly forward; its author words the same diagonal nearer to the back for her"},
	{"Open Telemark", Follower, 3, "direction", "steps are worded halfway through their turn, when her body has still 1/16 to go to " +
		"face the line of dance; and the couple turns as she steps, which takes her 19 degrees nearer to the side than diagonal"},
}

// TestPublishedCharts compares each row of the published charts with what the
// geometry of the couple gives: direction by kind, alignment by where the toe
// points, and the amount of turn from foot to foot. Most rows of the further
// international figures and of the American-style and country basics are from
// memory, as the heads of their charts say.
func TestPublishedCharts(t *testing.T) {
	var rows []chartRow
	for _, folder := range []string{"", "international", "american"} {
		rows = append(rows, readCharts(t, folder)...)
	}
	compareCharts(t, BuiltIn(), rows, slices.Concat(chartDifferences, internationalDifferences, americanDifferences))
}

func compareCharts(t *testing.T, library *Library, rows []chartRow, differences []chartDifference) {
	t.Helper()
	known := map[string]string{}
	for _, d := range differences {
		if d.reason == "" {
			t.Errorf("%s, %s, step %d: the difference has no reason", d.variant, d.dancer, d.step)
		}
		known[fmt.Sprint(d.variant, d.dancer, d.step, d.column)] = d.reason
	}
	equal, differing, toTheWord := 0, 0, 0
	for _, row := range rows {
		v, ok := library.Variant(row.variant)
		if !ok || row.step < 1 || row.step > len(v.Steps) {
			t.Errorf("%s:%d: the library has no step %d of %s", row.file, row.line, row.step, row.variant)
			continue
		}
		d := v.Dance(v.Entries[0], DefaultCouple())
		taken := d.Steps[row.step-1]
		fall := taken.Falls[row.dancer]
		same := true
		compare := func(column string, differs bool, got, want any) {
			key := fmt.Sprint(row.variant, row.dancer, row.step, column)
			_, listed := known[key]
			delete(known, key)
			switch {
			case differs && !listed:
				t.Errorf("%s:%d: %s, %s, step %d: %s is %v, the chart has %v",
					row.file, row.line, row.variant, row.dancer, row.step, column, got, want)
			case !differs && listed:
				t.Errorf("%s:%d: %s, %s, step %d: %s agrees with the chart; take it off the differences",
					row.file, row.line, row.variant, row.dancer, row.step, column)
			}
			same = same && !differs
		}
		compare("direction", directionKind(fall.Word) != directionKind(row.direction), fall.Word, row.direction)
		if fall.Word == row.direction {
			toTheWord++
		}
		compare("alignment", fall.Alignment.Front() != row.alignment.Front(), fall.Alignment.Short(), row.alignment.Short())
		if row.turnGiven {
			turn := fall.Turn + taken.Step.Pivot
			compare("turn", turn != row.turn, turn, row.turn)
		}
		if same {
			equal++
		} else {
			differing++
		}
	}
	for key := range known {
		t.Errorf("the difference %s is of a step that no chart has", key)
	}
	t.Logf("charts: %d rows compared, %d equal (%d of them in every word of the direction), %d differing", len(rows), equal, toTheWord, differing)
}
