package future

import (
	"lapwright/search"
	"lapwright/search/tally"
)

// MostAhead is the greatest number of bars that can be looked ahead.
const MostAhead = 16

// Ways is in how many ways so many bars can be danced from a state. Two ways differ when
// they differ in a figure or the way of dancing it, in the share of the stride, or in a
// corner that is taken or not. A way counts once its figures fill the bars; the last
// figure may go on beyond them.
type Ways struct {
	All  tally.Count
	Live tally.Count // those after which dancing can go on for ever
	// Over tells that there are more than can be counted.
	Over bool
}

type waysKey struct {
	at   search.State
	bars int8
}

// Ways counts, exactly, the ways through the next bars, up to [MostAhead] of them. What
// was counted from a state serves wherever the state comes up again (dynamic
// programming), so that the work grows with the places that can be reached and not with
// the ways.
func (f *Future) Ways(at search.State, bars int) Ways {
	if bars <= 0 {
		w := Ways{All: tally.One}
		if f.lives(at) {
			w.Live = tally.One
		}
		return w
	}
	key := waysKey{at, int8(min(bars, MostAhead))}
	if w, known := f.ways[key]; known {
		return w
	}
	var w Ways
	for m := range f.States.Moves(at) {
		next := f.Ways(m.To, int(key.bars)-m.Bars)
		w = w.plus(next)
	}
	f.ways[key] = w
	return w
}

func (w Ways) plus(o Ways) Ways {
	var held, alive bool
	w.All, held = w.All.Plus(o.All)
	w.Live, alive = w.Live.Plus(o.Live)
	w.Over = w.Over || o.Over || !held || !alive
	return w
}

// lives reports whether dancing can go on for ever from a state, be it one in which the
// couple has only just begun.
func (f *Future) lives(at search.State) bool {
	if f.States.Entered(at) {
		return f.Alive.Has(at)
	}
	for m := range f.States.Moves(at) {
		if f.Alive.Has(m.To) {
			return true
		}
	}
	return false
}

// End is how dancing ends from a state from which it cannot go on for ever.
type End struct {
	// Bars is how many bars can be danced at most.
	Bars int
	// Wall tells that one of the ways of that many bars ends where figures begin but none
	// has room, Stance that one ends in a stance in which no known figure begins.
	Wall, Stance bool
}

// End is the longest way from a state that does not live. Such states never come round
// again, so that it is a longest path in a graph without cycles.
func (f *Future) End(at search.State) End {
	if e, known := f.ends[at]; known {
		return e
	}
	var e End
	any := false
	for m := range f.States.Moves(at) {
		next := f.End(m.To)
		next.Bars += m.Bars
		switch {
		case !any || next.Bars > e.Bars:
			e = next
		case next.Bars == e.Bars:
			e.Wall, e.Stance = e.Wall || next.Wall, e.Stance || next.Stance
		}
		any = true
	}
	if !any {
		e.Wall = f.States.Choices(at) > 0
		e.Stance = !e.Wall
	}
	f.ends[at] = e
	return e
}
