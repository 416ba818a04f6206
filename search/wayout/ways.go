package wayout

import (
	"cmp"

	"lapwright/search"
)

// MostBars is the most bars that a way out may take.
const MostBars = 12

// MostWait is the most bars that a couple can be asked to wait.
const MostWait = 6

// Back lists ways back to a state in which the couple stands well (see [Finder.Good]), in
// at most so many bars: the quickest first, and of those that take as many bars the one
// that takes the least floor (in square metres) first. Of the ways with the same first
// figure, as many bars and the same stance at the end only the first is listed; ways that
// take more than one bar over the quickest are not. There is none where the list is empty.
func (f *Finder) Back(at search.State, near float64, bars int) []Way {
	c := f.chart(at, true, func(s search.State) bool { return f.Good(s, near) })
	for b := 0; b <= bars; b++ {
		if c.dance(b) {
			bars = min(bars, b+1)
			c.dance(bars)
			break
		}
	}
	return c.ways(bars, func(a, b Floor) int { return cmp.Compare(a.Area(), b.Area()) })
}

// Wait lists ways of waiting in place: of so many bars at the most, ending no farther than
// near metres from where they begin, in a state from which dancing can go on for ever.
// The shortest come first, and of those that take as many bars the ones that take the
// least of the line of dance, and then across it. Of the ways with the same first figure,
// as many bars and the same stance at the end only the first is listed.
func (f *Finder) Wait(at search.State, near float64, bars int) []Way {
	from := f.states.Standing(at).At()
	c := f.chart(at, false, func(s search.State) bool {
		return f.states.Standing(s).At().Sub(from).Len() <= near+hair && f.future.Lives(s)
	})
	for b := range bars {
		c.dance(b)
	}
	return c.ways(bars, func(a, b Floor) int {
		return cmp.Or(cmp.Compare(a.Along(), b.Along()), cmp.Compare(a.Across(), b.Across()))
	})
}
