// Package wording says amounts, times and places as people read them.
//
// What lives here: small pieces of sentences that the program's tables and its sheets
// share. What does not: whole messages, which stand where they are said.
//
//	wording.Many(2, "bar")  // "2 bars"
package wording

import (
	"fmt"
	"strings"

	"lapwright/figures"
)

// Many counts things: "1 figure", "3 figures".
func Many(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}

// Clock writes seconds as minutes and seconds: "1:06".
func Clock(seconds float64) string {
	s := int(seconds + 0.5)
	return fmt.Sprintf("%d:%02d", s/60, s%60)
}

// The puts the word before the name of a wall or an obstacle, but not where it ends in
// a number: "the stage apron", "column 3".
func The(name string) string {
	if name != "" && strings.Contains("0123456789", name[len(name)-1:]) || strings.HasPrefix(name, "the ") {
		return name
	}
	return "the " + name
}

// Hold is a hold as a sentence uses it, from its name in a table: "closed hold".
func Hold(name string) string {
	if h, err := figures.ParseHold(name); err == nil {
		return h.Words()
	}
	return name
}
