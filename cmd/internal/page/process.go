package page

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"
)

// Bounds of what a command may say.
const (
	mostAnswer = 64 << 20 // bytes
	mostLine   = 8 << 20  // bytes of a line about its progress
	mostNotes  = 50
	// farewell is how long a command may take to show the best so far.
	farewell = 4 * time.Second
)

// The environment variables by which a command is told how it runs: [Tell] asks for its
// progress as lines of JSON, and the others confine it – to the files of its folder, to so
// many MB of memory and to so many seconds. With [Held] it ends when its input does, which
// is held open by the server: so it does not outlive a server that is killed.
const (
	Tell     = "LAPWRIGHT_TELL"
	OnlyHere = "LAPWRIGHT_ONLY_HERE"
	Memory   = "LAPWRIGHT_MEMORY"
	Seconds  = "LAPWRIGHT_SECONDS"
	Held     = "LAPWRIGHT_HELD"
)

// outcome is how a command ended.
type outcome struct {
	answer  []byte // what it printed
	code    int
	notes   []string // what it said besides, for people
	stopped bool
	outOf   time.Duration // the time limit that it ran into; 0: none
}

// folders is how the folders of runs are called.
const folders = "lapwright-page-*"

// folder makes the folder of a run, with the files of the request in it.
func (r *request) folder() (path string, err error) {
	path, err = os.MkdirTemp("", folders)
	if err != nil {
		return "", err
	}
	for name, data := range r.Files {
		if err := os.WriteFile(filepath.Join(path, name), []byte(data), 0o600); err != nil {
			os.RemoveAll(path)
			return "", err
		}
	}
	return path, nil
}

// sweep takes away the folders of runs whose server was killed: those that are older than
// any run can be.
func sweep(longest time.Duration) {
	all, err := filepath.Glob(filepath.Join(os.TempDir(), folders))
	if err != nil {
		return
	}
	for _, path := range all {
		if info, err := os.Lstat(path); err == nil && info.IsDir() && time.Since(info.ModTime()) > time.Hour+2*longest {
			os.RemoveAll(path)
		}
	}
}

// execute runs the program in a folder. When ctx ends it is killed, with whatever it has
// started; when stop is closed, or its time is over, it is asked for the best so far.
func (o *Options) execute(ctx context.Context, folder string, line []string, stop <-chan struct{}, tell func(progress json.RawMessage)) (*outcome, error) {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	cmd := exec.CommandContext(ctx, o.Program, line...)
	cmd.Dir = folder
	cmd.Env = append(os.Environ(), Tell+"=1", OnlyHere+"=1", Held+"=1", fmt.Sprintf("%s=%d", Memory, o.Memory),
		fmt.Sprintf("%s=%g", Seconds, (o.Time+2*farewell).Seconds()), "NO_COLOR=1",
		"TMPDIR="+folder, "TMP="+folder, "TEMP="+folder)
	cmd.WaitDelay = time.Second
	alone(cmd)
	done := &outcome{}
	out, said := &limited{most: mostAnswer}, &listener{to: done, tell: tell}
	cmd.Stdout, cmd.Stderr = out, said
	held, err := cmd.StdinPipe()
	if err != nil {
		return nil, fmt.Errorf("the program cannot be run: %w", err)
	}
	defer held.Close()
	if err := cmd.Start(); err != nil {
		return nil, fmt.Errorf("the program cannot be run: %w", err)
	}
	over := make(chan struct{})
	watched := make(chan struct{})
	go func() {
		defer close(watched)
		timer := time.NewTimer(o.Time)
		defer timer.Stop()
		select {
		case <-over:
			return
		case <-ctx.Done():
			return
		case <-stop:
			done.stopped = true
		case <-timer.C:
			done.stopped, done.outOf = true, o.Time
		}
		if cmd.Process.Signal(os.Interrupt) != nil {
			cancel() // it knows no signals
			return
		}
		select {
		case <-over:
		case <-ctx.Done():
		case <-time.After(farewell):
			cancel()
		}
	}()
	err = cmd.Wait()
	close(over)
	<-watched
	said.end()
	if out.over {
		return nil, errTooMuch
	}
	// One that is killed because its time is over has ended as it should.
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) && !done.stopped {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		return nil, fmt.Errorf("the program broke off: %w", err)
	}
	done.answer, done.code = out.kept.Bytes(), cmd.ProcessState.ExitCode()
	return done, nil
}

// errTooMuch tells that what a command says, or writes, is too large.
var errTooMuch = errors.New("the answer is larger than a page can show: ask for less")

// listener sorts what a command says, line by line: progress, and notes for people.
type listener struct {
	to   *outcome
	tell func(json.RawMessage)
	rest []byte // a line that has not ended yet
}

func (l *listener) Write(p []byte) (int, error) {
	n := len(p)
	for {
		line, rest, ended := bytes.Cut(p, []byte("\n"))
		if len(l.rest)+len(line) <= mostLine {
			l.rest = append(l.rest, line...)
		}
		if !ended {
			return n, nil
		}
		l.end()
		p = rest
	}
}

// end takes the line that has been heard.
func (l *listener) end() {
	line := string(l.rest)
	l.rest = l.rest[:0]
	var news struct {
		Progress json.RawMessage `json:"progress"`
	}
	switch {
	case strings.HasPrefix(line, "{") && json.Unmarshal([]byte(line), &news) == nil && news.Progress != nil:
		l.tell(news.Progress)
	case strings.TrimSpace(line) != "" && len(l.to.notes) < mostNotes:
		words := strings.TrimPrefix(strings.TrimSpace(line), "lapwright: ")
		l.to.notes = append(l.to.notes, strings.TrimPrefix(words, "note: "))
	}
}

// limited keeps what is written to it, up to so many bytes.
type limited struct {
	kept bytes.Buffer // not embedded: its ReadFrom would go past Write
	most int
	over bool
}

func (l *limited) Write(p []byte) (int, error) {
	if l.kept.Len()+len(p) > l.most {
		l.over = true
		return 0, errors.New("too much")
	}
	return l.kept.Write(p)
}
