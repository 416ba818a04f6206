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
	"unicode"

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

// Sentence begins with a capital and ends with a full stop.
func Sentence(words string) string {
	words = strings.TrimSpace(words)
	if words == "" {
		return ""
	}
	letters := []rune(words)
	letters[0] = unicode.ToUpper(letters[0])
	if last := letters[len(letters)-1]; !strings.ContainsRune(".!?", last) {
		letters = append(letters, '.')
	}
	return string(letters)
}

// Call says a figure as it is called, and its way of dancing. Where the way begins
// with another figure, both are called: "Natural Spin Turn, Reverse Pivot".
func Call(v *figures.Variant) (figure, way string) {
	before, ok := strings.CutPrefix(v.Label, "after ")
	if !ok {
		return v.Figure.Name, v.Label
	}
	before, way, _ = strings.Cut(before, " to ")
	if way != "" {
		way = "to " + way
	}
	words := strings.Fields(before)
	for i, w := range words {
		words[i] = strings.ToUpper(w[:1]) + w[1:]
	}
	return strings.Join(words, " ") + ", " + v.Figure.Name, way
}
