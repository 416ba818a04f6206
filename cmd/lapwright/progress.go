package main

import (
	"encoding/json"
	"fmt"
	"io"
	"time"

	"lapwright/cmd/internal/answer"
	"lapwright/search"
)

// clearLine takes away what stands on a terminal's line.
const clearLine = "\r\x1b[K"

// told is how far something has come. Where [page.Tell] asks for it, it is written to the
// error output as a line of JSON: {"progress": {"words": "…"}}.
type told struct {
	Words string        `json:"words"`
	Best  answer.Number `json:"best"`  // cost of the best lap so far in bars; 0: none yet
	Least answer.Number `json:"least"` // no lap costs less
	// Routine is the best lap so far, when it is new.
	Routine *answer.Routine `json:"routine"`
	// File is the routine's file.
	File string `json:"file"`
}

// progress tells how far a search has come: on a terminal once it takes more than a
// second; in lines for a program from the first.
type progress struct {
	w     io.Writer
	lines bool
	began time.Time
	last  time.Time
	shown bool
}

// Times of the progress line.
const (
	patience = time.Second
	renewal  = 200 * time.Millisecond
)

// watched tells whether somebody wants to know how far things have come.
func (s *session) watched() bool { return s.terminal || s.lines }

func (s *session) progress() *progress {
	return &progress{w: s.errors, lines: s.lines, began: time.Now()}
}

// due tells whether it is time for news, and takes note of the time.
func (p *progress) due(now time.Time) bool {
	if !p.lines && now.Sub(p.began) < patience || now.Sub(p.last) < renewal {
		return false
	}
	p.last = now
	return true
}

// say shows some words, where it is time for them.
func (p *progress) say(now time.Time, words func() string) {
	if p.due(now) {
		p.show(told{Words: words()})
	}
}

// show shows what is told.
func (p *progress) show(t told) {
	if p.lines {
		data, err := json.Marshal(struct {
			Progress told `json:"progress"`
		}{t})
		if err == nil {
			fmt.Fprintf(p.w, "%s\n", data)
		}
		return
	}
	p.shown = true
	fmt.Fprint(p.w, clearLine+t.Words)
}

// tell tells of a search for laps; a new lap is told at once to a program, with the
// routine that it is.
func (p *progress) tell(now time.Time, s search.Progress, routine func(*search.Lap) (*answer.Routine, string)) {
	t := told{Best: answer.Number(s.Best), Least: answer.Number(s.Least)}
	if s.Lap != nil && p.lines && routine != nil {
		t.Routine, t.File = routine(s.Lap)
	} else if !p.due(now) {
		return
	}
	t.Words = searching(s)
	p.show(t)
}

// searching says how far a search for laps has come.
func searching(s search.Progress) string {
	if s.Ahead > 0 {
		return fmt.Sprintf("searching: looking back from the end of the lap, %.0f %% of the floor", 100*s.Ahead)
	}
	best := "none yet"
	if s.Best > 0 {
		best = fmt.Sprintf("costs %.2f bars", s.Best)
	}
	least := ""
	if s.Least > 0 {
		least = fmt.Sprintf("no lap costs less than %.2f bars, ", s.Least)
	}
	return fmt.Sprintf("searching: %d ways looked at, start %d of %d, %sbest so far %s",
		s.Expanded, min(s.Starts+1, max(1, s.Of)), max(1, s.Of), least, best)
}

// clear takes the line away again.
func (p *progress) clear() {
	if p.shown {
		fmt.Fprint(p.w, clearLine)
	}
}
