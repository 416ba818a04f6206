package figures

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"lapwright/figures/document"
)

// TestNoFaultHidesAnother puts the figures of all bad files into one: each fault
// is told as in the file by itself.
func TestNoFaultHidesAnother(t *testing.T) {
	const head = "dance: waltz\nbeats: 3\nfigures:\n"
	files, err := filepath.Glob(filepath.Join("testdata", "bad", "*.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	name := regexp.MustCompile(`(?m)^(  - name: )(.*)$`)
	together := head
	var want []string
	used := 0
	for i, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		body, ok := strings.CutPrefix(string(data), head)
		// A file that cannot be taken apart into figures stays by itself, and so
		// do those about the names of their figures.
		if !ok || !strings.HasPrefix(body, "  - name: ") || strings.Contains(file, "name") {
			continue
		}
		// Each has figures of its own names.
		body = name.ReplaceAllString(body, fmt.Sprintf("${1}${2} of %d", i))
		_, err = Load("alone.yaml", []byte(head+body), DefaultCouple())
		alone := problems(err)
		if _, err := Load("pair.yaml", []byte(head+body+strings.ReplaceAll(body, fmt.Sprint(" of ", i), " twin")), DefaultCouple()); len(problems(err)) != 2*len(alone) {
			continue // its fault is one of the whole file
		}
		want = append(want, alone...)
		together += body
		used++
	}
	_, err = Load("together.yaml", []byte(together), DefaultCouple())
	got := problems(err)
	slices.Sort(got)
	slices.Sort(want)
	if !slices.Equal(got, want) {
		for _, w := range want {
			if !slices.Contains(got, w) {
				t.Errorf("hidden: %s", w)
			}
		}
		t.Errorf("%d faults are told, want %d", len(got), len(want))
	}
	if used < 40 {
		t.Errorf("only %d files have been put together", used)
	}
	t.Logf("%d faults of %d files are told together", len(got), used)
}

// problems are the words of each fault, without its line.
func problems(err error) []string {
	var all []string
	if err == nil {
		return nil
	}
	eachFault(err, func(e error) {
		var fault *document.Error
		if errors.As(e, &fault) {
			all = append(all, fault.Problem)
		}
	})
	return all
}
