package figures

import (
	"bytes"
	"errors"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"lapwright/figures/document"
)

var update = flag.Bool("update", false, "write the golden files anew")

// golden compares a text with a golden file.
func golden(t *testing.T, file, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s: got\n%s\nwant\n%s", file, got, want)
	}
}

// eachFault calls visit with every error that is joined in one.
func eachFault(err error, visit func(error)) {
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		for _, e := range joined.Unwrap() {
			eachFault(e, visit)
		}
		return
	}
	visit(err)
}

// TestBadFilesAreRefused loads one bad file for each reason of refusal and
// compares what the user reads.
func TestBadFilesAreRefused(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("testdata", "bad", "*.yaml"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no bad files are found: %v", err)
	}
	for _, file := range files {
		base := filepath.Base(file)
		t.Run(strings.TrimSuffix(base, ".yaml"), func(t *testing.T) {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			l, err := Load(base, data, DefaultCouple())
			if err == nil {
				t.Fatal("the file loads, yet it should be refused")
			}
			if l != nil {
				t.Error("a library is returned with the error")
			}
			eachFault(err, func(e error) {
				var fault *document.Error
				if !errors.As(e, &fault) || fault.File != base || fault.Problem == "" {
					t.Errorf("%v (%T) does not name its file and problem", e, e)
				}
			})
			golden(t, strings.TrimSuffix(file, ".yaml")+".golden", err.Error()+"\n")
		})
	}
}

// TestFaultsOfManyFigures checks that no fault hides another: several-faults.yaml
// has eight in four figures.
func TestFaultsOfManyFigures(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("testdata", "bad", "several-faults.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	_, err = Load("several-faults.yaml", data, DefaultCouple())
	n, line := 0, 0
	eachFault(err, func(e error) {
		n++
		var fault *document.Error
		if errors.As(e, &fault) {
			if fault.Line < line {
				t.Errorf("line %d is told after line %d", fault.Line, line)
			}
			line = fault.Line
		}
	})
	if n != 8 {
		t.Errorf("%d faults are told, want 8:\n%v", n, err)
	}
}

// TestHugeFileIsRefused checks the greatest size of a file.
func TestHugeFileIsRefused(t *testing.T) {
	huge := append([]byte("dance: waltz\n#"), bytes.Repeat([]byte("x"), document.MaxBytes)...)
	_, err := Load("huge.yaml", huge, DefaultCouple())
	var fault *document.Error
	if !errors.As(err, &fault) || !strings.Contains(fault.Problem, "larger than 1024 kB") {
		t.Errorf("got %v, want a refusal of its size", err)
	}
}

// TestTooManyFiguresAreRefused checks the greatest number of figures.
func TestTooManyFiguresAreRefused(t *testing.T) {
	many := "dance: waltz\nbeats: 3\nfigures:\n" + strings.Repeat("  - {}\n", maxFigures+1)
	_, err := Load("many.yaml", []byte(many), DefaultCouple())
	if err == nil || err.Error() != "many.yaml:4: figures: 2001 figures are given; from 1 to 2000 are expected" {
		t.Errorf("got %v", err)
	}
}

// TestBuiltInLibraryLoads loads the library files with every stride that the
// program offers: figures must be danceable on a crowded floor too.
func TestBuiltInLibraryLoads(t *testing.T) {
	for _, stride := range []float64{0.35, CrowdedStride, SocialStride, UsualStride, 0.8, 1.0} {
		if _, err := loadBuiltIn(DefaultCouple().WithStride(stride)); err != nil {
			t.Errorf("stride %g m: %v", stride, err)
		}
	}
}
