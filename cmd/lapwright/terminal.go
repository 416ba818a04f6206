package main

import (
	"io"
	"os"

	"github.com/mattn/go-isatty"
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
