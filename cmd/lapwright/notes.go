package main

import (
	"fmt"
	"slices"
	"strings"

	"lapwright/figures"
)

// notes says of the figures of the user's files which take the place of others,
// and where they lead nowhere: a figure
// that ends in a stance in which nothing else in the library begins. That is for
// whoever wrote them to know, and no fault: more figures may come.
func (s *session) notes(r *repertory) {
	for _, words := range append(r.replaced, r.deadEnds()...) {
		fmt.Fprintln(s.errors, "lapwright: note:", words)
	}
}

// deadEnds are the notes, one for each way of dancing.
func (r *repertory) deadEnds() []string {
	builtIn := figures.BuiltIn().Figures()
	own := func(f *figures.Figure) bool { return !slices.Contains(builtIn, f) }
	if !slices.ContainsFunc(r.library.Figures(), own) {
		return nil
	}
	var variants []*figures.Variant
	for _, v := range r.library.Variants() {
		if v.Figure.Dance == r.dance {
			variants = append(variants, v)
		}
	}
	var notes []string
	g := newGraph(variants)
	for _, v := range variants {
		if !own(v.Figure) {
			continue
		}
		var ends []string
		for _, loose := range g.LooseEnds(v) {
			ends = append(ends, loose.String())
		}
		if len(ends) > 0 {
			notes = append(notes, fmt.Sprintf("%s:%d: %s ends %s; nothing else in the library begins so, along a wall or round a right-angled corner",
				v.Figure.File, v.Line, v.Name(), strings.Join(ends, " or ")))
		}
	}
	return notes
}

// replacements are the notes on a file's figures that have taken the place of a
// library's.
func replacements(before, after *figures.Library, file string) []string {
	var notes []string
	for _, f := range after.Figures() {
		if old, ok := before.Figure(f.Name); ok && old != f && f.File == file && figures.NameKey(old.Name) == figures.NameKey(f.Name) {
			notes = append(notes, fmt.Sprintf("%s:%d: %s takes the place of the figure of that name in %s", file, f.Line, f.Name, old.File))
		}
	}
	return notes
}
