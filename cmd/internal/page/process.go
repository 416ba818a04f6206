package page

import (
	"bufio"
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
	mostNotes  = 50
	// farewell is how long a command may take to show the best so far.
	farewell = 4 * time.Second
)

// outcome is how a command ended.
type outcome struct {
	answer  []byte // what it printed
	code    int
	notes   []string // what it said besides, for people
	stopped bool
	outOf   time.Duration // the time limit that it ran into; 0: none
}

// folder makes the folder of a run, with the files of the request in it.
func (r *request) folder() (path string, err error) {
	path, err = os.MkdirTemp("", "lapwright-page-*")
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

// execute runs the program in a folder. When ctx ends it is killed; when stop is closed, or
// its time is over, it is asked for the best so far.
func (o *Options) execute(ctx context.Context, folder string, line []string, stop <-chan struct{}, tell func(progress json.RawMessage)) (*outcome, error) {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	cmd := exec.CommandContext(ctx, o.Program, line...)
	cmd.Dir = folder
	cmd.Env = append(os.Environ(), "LAPWRIGHT_TELL=1", "LAPWRIGHT_ONLY_HERE=1", fmt.Sprintf("LAPWRIGHT_MEMORY=%d", o.Memory),
		fmt.Sprintf("LAPWRIGHT_SECONDS=%g", (o.Time+2*farewell).Seconds()), "NO_COLOR=1")
	cmd.WaitDelay = time.Second
	out := &limited{most: mostAnswer}
	cmd.Stdout = out
	said, err := cmd.StderrPipe()
	if err != nil {
		return nil, err
	}
	if err := cmd.Start(); err != nil {
		return nil, fmt.Errorf("the program cannot be run: %w", err)
	}
	done := &outcome{}
	over := make(chan struct{})
	listening := make(chan struct{})
	go func() {
		defer close(listening)
		done.listen(bufio.NewReaderSize(said, 64<<10), tell)
	}()
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
	<-listening
	err = cmd.Wait()
	close(over)
	<-watched
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		return nil, fmt.Errorf("the program broke off: %w", err)
	}
	if out.over {
		return nil, errors.New("the answer is larger than a page can show: ask for less")
	}
	done.answer, done.code = out.kept.Bytes(), cmd.ProcessState.ExitCode()
	return done, nil
}

// listen sorts what a command says: progress, and notes for people.
func (o *outcome) listen(said *bufio.Reader, tell func(json.RawMessage)) {
	for {
		line, err := said.ReadString('\n')
		var news struct {
			Progress json.RawMessage `json:"progress"`
		}
		switch {
		case strings.HasPrefix(line, "{") && json.Unmarshal([]byte(line), &news) == nil && news.Progress != nil:
			tell(news.Progress)
		case strings.TrimSpace(line) != "" && len(o.notes) < mostNotes:
			words := strings.TrimPrefix(strings.TrimSpace(line), "lapwright: ")
			o.notes = append(o.notes, strings.TrimPrefix(words, "note: "))
		}
		if err != nil {
			return
		}
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
