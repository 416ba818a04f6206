package main

import (
	"fmt"
	"io"
	"os"
	"time"

	"github.com/mattn/go-isatty"

	"lapwright/search"
)

// isTerminal tells whether somebody sees what is written.
func isTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && isatty.IsTerminal(f.Fd())
}

// wantsColour tells whether what is written may be in colour: on a terminal that
// knows it, unless NO_COLOR is set (no-color.org).
func wantsColour(w io.Writer) bool {
	return isTerminal(w) && os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"
}

// paint colours words, or leaves them alone. Nothing is ever told by colour
// only.
type paint bool

func (p paint) in(code, words string) string {
	if !p || words == "" {
		return words
	}
	return "\x1b[" + code + "m" + words + "\x1b[0m"
}

// bold is for headings.
func (p paint) bold(words string) string { return p.in("1", words) }

// warn is for faults.
func (p paint) warn(words string) string { return p.in("1;33", words) }

// clearLine takes away what stands on a terminal's line.
const clearLine = "\r\x1b[K"

// progress tells on a terminal how far a search has come, once it takes more
// than a second.
type progress struct {
	w     io.Writer
	began time.Time
	last  time.Time
	shown bool
}

// Times of the progress line.
const (
	patience = time.Second
	renewal  = 200 * time.Millisecond
)

// say shows some words, where it is time for them.
func (p *progress) say(now time.Time, words func() string) {
	if now.Sub(p.began) < patience || now.Sub(p.last) < renewal {
		return
	}
	p.last, p.shown = now, true
	fmt.Fprint(p.w, clearLine+words())
}

func (p *progress) tell(now time.Time, s search.Progress) {
	p.say(now, func() string { return searching(s) })
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
	return fmt.Sprintf("searching: %d ways looked at, start %d of %d, no lap costs less than %.2f bars, best so far %s",
		s.Expanded, min(s.Starts+1, max(1, s.Of)), max(1, s.Of), s.Least, best)
}

// clear takes the line away again.
func (p *progress) clear() {
	if p.shown {
		fmt.Fprint(p.w, clearLine)
	}
}
