package main

import (
	"slices"
	"time"

	"lapwright/figures"
)

// whyTime is how long it may take to find out why there is no lap; 0: as long as it
// takes.
var whyTime = 8 * time.Second

// more lists the ways of dancing that could be added to the repertory, where that
// helps: those that nobody took away, of the style that is danced. Figures of the
// lower rungs come first.
func (r *repertory) more() (all []*figures.Variant) {
	style := figures.Style(r.wanted.styleName())
	if len(r.known) > 0 && r.class == nil {
		style = figures.International
	}
	for _, v := range r.library.Variants() {
		f := v.Figure
		if f.Dance == r.dance && !slices.Contains(r.variants, v) && !r.takenAway(f) && f.At(style) {
			all = append(all, v)
		}
	}
	slices.SortStableFunc(all, func(a, b *figures.Variant) int { return rung(a.Figure) - rung(b.Figure) })
	return all
}

// takenAway reports whether --without names a figure, or a way of dancing it.
func (r *repertory) takenAway(f *figures.Figure) bool {
	return slices.ContainsFunc(r.without, func(name string) bool {
		v, ok := r.library.Variant(name)
		g, named := r.library.Figure(name)
		return ok && v.Figure == f || named && g == f
	})
}

// rung is how high a figure stands at the least.
func rung(f *figures.Figure) int {
	for i, l := range figures.Levels {
		if f.At(figures.AnyStyle, l) {
			return i
		}
	}
	return len(figures.Levels)
}
