package future

import (
	"cmp"

	"lapwright/search"
	"lapwright/search/tally"
)

// MostAhead is the greatest number of bars that can be looked ahead.
const MostAhead = 12

// Ways is in how many ways so many bars can be danced from a state. Two ways differ when
// they differ in a figure or the way of dancing it, in the share of the stride, or in a
// corner that is taken or not. A way counts once its figures fill the bars; the last
// figure may go on beyond them.
type Ways struct {
	All  tally.Count
	Live tally.Count // those after which dancing can go on for ever
	// Over tells that there are more than 128 bits can hold, and the counts mean nothing.
	Over bool
}

// Ways counts, exactly, the ways through the next bars, 0 to [MostAhead] of them, from
// each of some states. What is counted from a state serves wherever the state comes up
// again (dynamic programming), so that the work grows with the places that can be
// reached and not with the ways.
func (f *Future) Ways(bars int, from ...search.State) []Ways {
	bars = max(0, min(bars, MostAhead))
	a := ahead{states: f.States, number: make([]int32, f.States.Count())}
	at := make([]int32, len(from))
	for i, s := range from {
		at[i] = a.add(s, bars)
	}
	// Forward: what can be reached with so many bars left.
	for left := bars; left > 0; left-- {
		for _, i := range a.waiting[left] {
			for _, n := range a.follow(i) {
				a.wait(n.to, left-int(n.bars))
			}
		}
	}
	// Backward: the ways from there.
	counts := make([][]Ways, bars+1) // by bars left
	counts[0] = make([]Ways, len(a.state))
	for i, s := range a.state {
		counts[0][i].All = tally.One
		if f.Lives(s) {
			counts[0][i].Live = tally.One
		}
	}
	for left := 1; left <= bars; left++ {
		counts[left] = make([]Ways, len(a.state))
		for _, i := range a.waiting[left] {
			var sum Ways
			for _, n := range a.next[i] {
				sum = sum.plus(counts[max(0, left-int(n.bars))][n.to])
			}
			counts[left][i] = sum
		}
	}
	out := make([]Ways, len(from))
	for i := range from {
		out[i] = counts[bars][at[i]]
	}
	return out
}

// ahead is the part of the states that can be reached in some bars, numbered anew.
type ahead struct {
	states  *search.States
	number  []int32 // by state: one more than its number; 0: not reached yet
	state   []search.State
	next    [][]hop                // by number; nil: not looked at yet
	due     []uint32               // by number: bit n tells that it waits with n bars left
	waiting [MostAhead + 1][]int32 // by bars left
}

// hop is a figure from one of them to another.
type hop struct{ to, bars int32 }

// add takes a state in, with so many bars left.
func (a *ahead) add(s search.State, left int) int32 {
	i := a.number[s] - 1
	if i < 0 {
		i = int32(len(a.state))
		a.number[s] = i + 1
		a.state, a.next, a.due = append(a.state, s), append(a.next, nil), append(a.due, 0)
	}
	a.wait(i, left)
	return i
}

// wait notes that the ways through so many bars are wanted from a state.
func (a *ahead) wait(i int32, left int) {
	if left > 0 && a.due[i]&(1<<left) == 0 {
		a.due[i] |= 1 << left
		a.waiting[left] = append(a.waiting[left], i)
	}
}

// follow lists what can be danced from a state.
func (a *ahead) follow(i int32) []hop {
	if a.next[i] == nil {
		s := a.state[i]
		list := []hop{}
		for k := range a.states.Choices(s) {
			if to, bars, ok := a.states.Leads(s, k); ok {
				list = append(list, hop{a.add(to, 0), int32(bars)})
			}
		}
		a.next[i] = list
	}
	return a.next[i]
}

func (w Ways) plus(o Ways) Ways {
	all, fits := w.All.Plus(o.All)
	live, _ := w.Live.Plus(o.Live)
	return Ways{All: all, Live: live, Over: w.Over || o.Over || !fits}
}

// compare puts fewer ways that live first, and then fewer ways; too many to count are more
// than any.
func (w Ways) compare(o Ways) int {
	if w.Over || o.Over {
		return after(o.Over, w.Over)
	}
	return cmp.Or(w.Live.Compare(o.Live), w.All.Compare(o.All))
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
		e, any = e.or(next), true
	}
	if !any {
		e.Wall = f.States.Choices(at) > 0
		e.Stance = !e.Wall
	}
	f.ends[at] = e
	return e
}

// or is the end of what can be danced in either of two ways.
func (e End) or(o End) End {
	switch {
	case o.Bars > e.Bars:
		return o
	case o.Bars == e.Bars:
		e.Wall, e.Stance = e.Wall || o.Wall, e.Stance || o.Stance
	}
	return e
}
