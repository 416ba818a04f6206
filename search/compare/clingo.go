package compare

import (
	"bufio"
	"bytes"
	"context"
	_ "embed"
	"errors"
	"fmt"
	"io"
	"os/exec"
	"strconv"
	"strings"
	"time"

	"lapwright/search/export"
)

//go:embed lap.lp
var lap string

//go:embed limits.lp
var limits string

// Answer is what the solver says.
type Answer struct {
	Size Size
	// Cost is that of the best lap found, in hundredths of a bar; -1: none.
	Cost int
	// Proven tells that there is no better lap, or that there is none.
	Proven bool
	// Best and Proof are the times from when the solver was started until it told
	// of the best lap, and until it was done. They mean nothing where there was no
	// lap, or no proof.
	Best, Proof time.Duration
}

// options are what the solver is run with besides the encodings: on one thread, and so as
// was fastest of what was tried; see lap.lp.
func options(limited bool) []string {
	all := []string{"--parallel-mode=1", "--quiet=1,1", "--stats=0", "--warn=none"}
	if limited {
		return append(all, "--opt-strategy=bb,lin", "-")
	}
	return append(all, "--opt-strategy=usc,oll", "--eq=0", "-")
}

// Version is the version of the solver; an error tells that there is none.
func Version() (string, error) {
	out, err := exec.Command("clingo", "--version").Output()
	first, _, _ := strings.Cut(string(out), "\n")
	return first, err
}

// Solve has the solver look for the best lap of an instance for so long at most. The facts
// are written before its time begins.
func Solve(ctx context.Context, in *export.Instance, most time.Duration) (*Answer, error) {
	var program bytes.Buffer
	program.WriteString(lap)
	if limited(in) {
		program.WriteString(limits)
	}
	size, err := Facts(&program, in)
	if err != nil {
		return nil, err
	}
	ctx, cancel := context.WithTimeout(ctx, most)
	defer cancel()
	run := exec.CommandContext(ctx, "clingo", options(limited(in))...)
	run.Stdin = &program
	out, err := run.StdoutPipe()
	if err != nil {
		return nil, err
	}
	var faults bytes.Buffer
	run.Stderr = &faults
	started := time.Now()
	if err := run.Start(); err != nil {
		return nil, err
	}
	a, err := read(out, func() time.Duration { return time.Since(started) })
	stopped := run.Wait()
	if err != nil {
		return nil, err
	}
	// The solver's exit code is made of what it found: 10 for a lap, 20 for the proof.
	var exit *exec.ExitError
	if ctx.Err() == nil && stopped != nil && (!errors.As(stopped, &exit) || exit.ExitCode()%10 != 0) {
		return nil, fmt.Errorf("compare: %w: %s", stopped, faults.String())
	}
	a.Size = size
	if a.Cost >= 0 {
		a.Cost += int(in.Network.Best())
	}
	return a, nil
}

// read reads what the solver says as it says it.
func read(out io.Reader, clock func() time.Duration) (*Answer, error) {
	a := &Answer{Cost: -1}
	lines := bufio.NewScanner(out)
	lines.Buffer(nil, 1<<26)
	for lines.Scan() {
		switch line := lines.Text(); {
		case strings.HasPrefix(line, "Optimization:"):
			cost, err := strconv.Atoi(strings.TrimSpace(strings.TrimPrefix(line, "Optimization:")))
			if err != nil {
				return nil, fmt.Errorf("compare: the solver tells of no cost: %w", err)
			}
			a.Cost, a.Best = cost, clock()
		case line == "OPTIMUM FOUND", line == "UNSATISFIABLE":
			a.Proven, a.Proof = true, clock()
		case line == "SATISFIABLE" && a.Cost < 0:
			// Where no lap costs more than another it tells of no cost.
			a.Cost, a.Proven, a.Best = 0, true, clock()
			a.Proof = a.Best
		}
	}
	return a, lines.Err()
}
