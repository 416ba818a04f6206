package routinefile_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"lapwright/cmd/internal/routinefile"
	"lapwright/figures"
	"lapwright/search/check"
	"lapwright/search/routine"
)

// taughtFolder holds published and widely taught routines, one a file, and
// alignments.tsv, which says how each of their figures begins.
const taughtFolder = "../../../testdata/routines/taught"

// taught reads all taught routines, by the name of their file.
func taught(t testing.TB) map[string]*routinefile.File {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join(taughtFolder, "*.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	files := map[string]*routinefile.File{}
	for _, path := range paths {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		name := strings.TrimSuffix(filepath.Base(path), ".yaml")
		f, err := routinefile.Read(path, data, figures.BuiltIn(), rooms)
		if err != nil {
			t.Fatal(err)
		}
		files[name] = f
		if !strings.HasPrefix(string(data), "# ") {
			t.Errorf("%s does not begin with its style and source", path)
		}
	}
	return files
}

// beginning is how a figure of a taught routine begins, a row of
// alignments.tsv.
type beginning struct {
	bar       int
	corner    bool
	figure    string
	alignment string
	source    string
}

// beginnings reads alignments.tsv, by routine.
func beginnings(t *testing.T) map[string][]beginning {
	t.Helper()
	path := filepath.Join(taughtFolder, "alignments.tsv")
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	all := map[string][]beginning{}
	head := true
	for n, line := range strings.Split(strings.TrimSpace(string(data)), "\n") {
		if strings.HasPrefix(line, "#") {
			continue
		}
		cells := strings.Split(line, "\t")
		if len(cells) != 6 {
			t.Fatalf("%s:%d: %d columns", path, n+1, len(cells))
		}
		if head {
			head = false
			continue
		}
		bar, err := strconv.Atoi(cells[1])
		if err != nil || cells[5] == "" || cells[2] != "next" && cells[2] != "-" {
			t.Fatalf("%s:%d: %q", path, n+1, line)
		}
		all[cells[0]] = append(all[cells[0]], beginning{bar: bar, corner: cells[2] == "next", figure: cells[3], alignment: cells[4], source: cells[5]})
	}
	return all
}

// dance dances a routine as its file says.
func dance(f *routinefile.File, r *routine.Routine) *check.Report {
	return check.Dance(f.Floor, figures.DefaultCouple(), r, check.Limits{Margin: f.Margin, Lap: f.Lap, Laps: f.Laps})
}

// TestTaughtRoutines: the published and widely taught routines can be danced
// without a fault, and each of their figures begins in its bar, along its wall
// and in its alignment. The alignments and their sources stand in
// alignments.tsv.
func TestTaughtRoutines(t *testing.T) {
	files, table := taught(t), beginnings(t)
	for name := range table {
		if files[name] == nil {
			t.Errorf("alignments.tsv has the routine %q, which has no file", name)
		}
	}
	corners := 0
	for name, f := range files {
		report := dance(f, &f.Routine)
		for _, fault := range report.Faults() {
			t.Errorf("%s: %s", name, fault)
		}
		if report.Corners > 0 {
			corners++
		}
		if len(report.Rows) != len(table[name]) {
			t.Errorf("%s has %d figures, and %d alignments", name, len(report.Rows), len(table[name]))
			continue
		}
		for i, row := range report.Rows {
			want := table[name][i]
			a, err := figures.ParseAlignment(want.alignment)
			if err != nil {
				t.Fatalf("%s, bar %d: %v", name, want.bar, err)
			}
			if row.Variant.Name() != want.figure || row.Bar != want.bar || row.NextWall != want.corner {
				t.Errorf("%s: bar %d is %s (next wall: %t); bar %d, %s (next wall: %t) is published", name, row.Bar, row.Variant.Name(), row.NextWall,
					want.bar, want.figure, want.corner)
			}
			if row.Entry.Facing != a.Front() {
				t.Errorf("%s, bar %d: %s begins %s; %s is published (%s)", name, row.Bar, row.Variant.Name(), row.Entry, want.alignment, want.source)
			}
		}
	}
	if len(files) < 29 || corners < 11 {
		t.Errorf("%d routines, of which %d go round a corner", len(files), corners)
	}
}

// TestTaughtRoutinesBroken: a taught routine that is changed has faults, so that
// one without faults means something. In turn each of its figures is left out,
// changes places with the next one and stays on a wall that it was to leave, and
// the couple begins an eighth of a turn further to the left and to the right and
// with the other foot.
func TestTaughtRoutinesBroken(t *testing.T) {
	// These changes leave a routine that can be danced.
	fine := map[string]bool{
		// A figure that ends as it begins can be left out.
		"back-lock-and-outside-spin: figure 3 left out": true,
		"box-turned-into-the-corner: figure 2 left out": true,
		"country-diagonals: figure 3 left out":          true,
		"fallaway-reverse: figure 5 left out":           true,
		"twinkle-and-chasse: figure 2 left out":         true,
		"twinkle-and-chasse: figure 3 left out":         true,
		// The corner need not be taken: the change follows either open right turn.
		"open-turns-round-the-corner: figure 5 left out": true,
		// The left foot change begins facing the line of dance as well.
		"outside-spin-round-the-corner: figure 6 left out": true,
		// The box and the progressive basic both begin facing the line of dance on
		// the left foot, and end so; they also begin facing diagonal to wall or to
		// centre, whatever the turn into the corner.
		"box-turned-into-the-corner: figure 1 after the next one": true,
		"box-turned-into-the-corner: figure 2 after the next one": true,
		"box-turned-into-the-corner: begun an eighth to the left": true,
	}
	for name, f := range taught(t) {
		try := func(what string, change func(*routine.Routine)) {
			r := f.Routine
			r.Steps = slices.Clone(r.Steps)
			change(&r)
			key := name + ": " + what
			if clean := len(dance(f, &r).Faults()) == 0; clean != fine[key] {
				t.Errorf("%s: no fault: %t", key, clean)
			}
			delete(fine, key)
		}
		for i, step := range f.Steps {
			at := fmt.Sprintf("figure %d", i+1)
			if i > 0 && i+1 < len(f.Steps) {
				try(at+" left out", func(r *routine.Routine) { r.Steps = slices.Delete(r.Steps, i, i+1) })
			}
			if i+1 < len(f.Steps) && step.Variant != f.Steps[i+1].Variant {
				try(at+" after the next one", func(r *routine.Routine) { r.Steps[i], r.Steps[i+1] = r.Steps[i+1], r.Steps[i] })
			}
			if step.Corner == routine.Take {
				try(at+" along the same wall", func(r *routine.Routine) { r.Steps[i].Corner = routine.Stay })
			}
		}
		try("begun an eighth to the left", func(r *routine.Routine) { r.Start.Stance = r.Start.Stance.Turned(1) })
		try("begun an eighth to the right", func(r *routine.Routine) { r.Start.Stance = r.Start.Stance.Turned(-1) })
		try("begun with the other foot", func(r *routine.Routine) { r.Start.Stance.Free = r.Start.Stance.Free.Other() })
	}
	for key := range fine {
		t.Errorf("%s: there is no such change", key)
	}
}
