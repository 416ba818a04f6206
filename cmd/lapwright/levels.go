package main

import (
	"fmt"
	"slices"
	"strings"

	"lapwright/figures"
)

// wanted are the levels whose figures a couple dances, and their style.
type wanted struct {
	levels []figures.Level // nil: any
	style  figures.Style   // of the levels; any where none was asked for
	// asked tells that a style was asked for, be it "all". Where it was not, the
	// rungs of the technique books are of the international style.
	asked bool
}

// newWanted reads the two flags. Where no level is given it is the usual one;
// the country style has none of the technique books' rungs, and social in place
// of them.
func newWanted(levelWords, styleWords, usual string) (w wanted, err error) {
	if styleWords != "" {
		w.asked = true
		if w.style, err = style(styleWords); err != nil {
			return w, err
		}
	}
	if levelWords == "" {
		levelWords = usual
		if w.style == figures.Country && usual != "all" {
			levelWords = string(figures.Social)
		}
	}
	w.levels, err = levels(levelWords)
	return w, err
}

// styleOf is the style in which a level is meant.
func (w wanted) styleOf(l figures.Level) figures.Style {
	if w.asked || l == figures.Social {
		return w.style
	}
	return figures.International
}

// all reports whether every figure is wanted.
func (w wanted) all() bool { return w.levels == nil && w.style == figures.AnyStyle }

// has reports whether a figure is wanted.
func (w wanted) has(f *figures.Figure) bool {
	if w.levels == nil {
		return f.At(w.style)
	}
	return slices.ContainsFunc(w.levels, func(l figures.Level) bool { return f.At(w.styleOf(l), l) })
}

// String is what is wanted in words: "level bronze, international style",
// "levels social and gold".
func (w wanted) String() string {
	if w.levels == nil {
		return "all levels" + ofStyle(w.style)
	}
	// One run of levels for each style, in the order in which they were asked for.
	var styles []figures.Style
	runs := map[figures.Style][]string{}
	for _, l := range w.levels {
		s := w.styleOf(l)
		if !slices.Contains(styles, s) {
			styles = append(styles, s)
		}
		runs[s] = append(runs[s], string(l))
	}
	var words []string
	for _, s := range styles {
		head := "level "
		if len(runs[s]) > 1 {
			head = "levels "
		}
		words = append(words, head+and(runs[s])+ofStyle(s))
	}
	return strings.Join(words, ", and ")
}

func ofStyle(s figures.Style) string {
	if s == figures.AnyStyle {
		return ""
	}
	return ", " + s.String() + " style"
}

// and joins words as a sentence does: "a, b and c".
func and(words []string) string {
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
	return strings.Join(words, "")
}

// nothing says that the library has no figures of what is wanted, and at which
// levels it has some.
func (w wanted) nothing(library *figures.Library, dance string) error {
	var has []string
	for _, l := range figures.Levels {
		style := w.styleOf(l)
		at := func(f *figures.Figure) bool {
			return f.Dance == dance && slices.ContainsFunc(f.Levels, func(k figures.Listing) bool {
				return k.Level == l && (k.Style == style || k.Style == figures.AnyStyle || style == figures.AnyStyle)
			})
		}
		if slices.ContainsFunc(library.Figures(), at) {
			has = append(has, string(l))
		}
	}
	err := fmt.Sprintf("the library has no %s figures at %s", dance, w)
	if len(has) == 0 {
		return fmt.Errorf("%s, nor at any other level; lapwright figures --style all lists what it has", err)
	}
	return fmt.Errorf("%s; it has some at %s", err, and(has))
}

// levelNames are the levels as words, never nil.
func (w wanted) levelNames() []string {
	all := []string{}
	for _, l := range w.levels {
		all = append(all, string(l))
	}
	return all
}

// styleName is the style of the levels as a word; empty where any would do.
func (w wanted) styleName() string {
	if w.asked || w.levels == nil || !slices.ContainsFunc(w.levels, func(l figures.Level) bool { return l != figures.Social }) {
		return string(w.style)
	}
	return string(figures.International)
}
