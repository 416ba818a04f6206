package main

import (
	"fmt"
	"slices"
	"strings"

	"lapwright/figures"
)

// notes says of the figures of the user's files where they lead nowhere: a figure
// that ends in a stance in which no figure of the library begins. That is for
// whoever wrote them to know, and no fault: more figures may come.
func (s *session) notes(r *repertory) {
	for _, words := range r.deadEnds() {
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
	ends := map[*figures.Variant][]string{}
	for _, e := range newGraph(variants).Stranding() {
		if words := e.To.String(); own(e.Variant.Figure) && !slices.Contains(ends[e.Variant], words) {
			ends[e.Variant] = append(ends[e.Variant], words)
		}
	}
	var notes []string
	for _, v := range variants {
		if len(ends[v]) > 0 {
			notes = append(notes, fmt.Sprintf("%s:%d: %s ends %s; no figure of the library begins so, along a wall or round a right-angled corner",
				v.Figure.File, v.Line, v.Name(), strings.Join(ends[v], " or ")))
		}
	}
	return notes
}
