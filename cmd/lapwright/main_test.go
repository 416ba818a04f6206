package main

import (
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"lapwright/cmd/internal/golden"
	"lapwright/figures/document"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"lapwright": main})
}

// TestScripts runs every command as people do, with its flags, answers, exit codes
// and bad input. The rooms and routines of the project's testdata lie beside the
// script, as do a few files that are made here.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:           filepath.Join("testdata", "script"),
		UpdateScripts: *golden.Update,
		Setup: func(env *testscript.Env) error {
			if err := os.CopyFS(env.WorkDir, os.DirFS(filepath.Join("..", "..", "testdata"))); err != nil {
				return err
			}
			for name, text := range made() {
				if err := os.WriteFile(filepath.Join(env.WorkDir, name), []byte(text), 0o644); err != nil {
					return err
				}
			}
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"exits": exits},
	})
}

// made are files that are too dull or too large to keep.
func made() map[string]string {
	var round strings.Builder
	round.WriteString("name: Round Hall\noutline:\n")
	const corners = 10000
	for i := range corners {
		a := 2 * math.Pi * float64(i) / corners
		fmt.Fprintf(&round, "  - [%.6f, %.6f]\n", 10+9*math.Cos(a), 10+9*math.Sin(a))
	}
	return map[string]string{
		"empty.yaml":      "",
		"huge.yaml":       "name: " + strings.Repeat("x", document.MaxBytes) + "\n",
		"round-hall.yaml": round.String(),
		"endless.yaml":    "figures:\n" + strings.Repeat("  - Whisk\n", 8001),
		"whisks.yaml":     "figures:\n" + strings.Repeat("  - Whisk\n", 160),
	}
}

// exits runs a program and asks for an exit code: "exits 2 lapwright lap --bogus".
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE PROGRAM ARGUMENTS")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		var exit *exec.ExitError
		if !errors.As(err, &exit) {
			ts.Fatalf("%v", err)
		}
		got = exit.ExitCode()
	}
	if got != want {
		ts.Fatalf("exit code %d, want %d", got, want)
	}
}
