// Package future says what can become of a couple that stands somewhere in a room: from
// where dancing can go on for ever, how many ways there are through the next bars,
// whether the couple can still get right round, and after how many bars at most a choice
// runs out of room.
//
// What lives here: the set of the states from which dancing can go on for ever
// ([Future.Lives] for one of them, [Alive] for all), and what is told of each figure that can follow ([Future.Next]). What does
// not: the states themselves and the figures that lead from one to the next
// ([search.States]), laps (package search) and anything that a person sees (the program).
//
//	states, err := search.NewStates(problem)
//	at, err := states.Start(start)
//	f := future.New(states)
//	for _, o := range f.Next(at, 8) { fmt.Println(o.Variant.Name(), o.Ways, o.Trap()) }
package future

import "lapwright/search"

// Future looks ahead in the states of a room. It keeps what it has found out, and is not
// to be used by several goroutines at once.
type Future struct {
	States *search.States
	living living
	ends   map[search.State]End
	round  round
}

// New looks at nothing yet: all is found when it is asked for.
func New(states *search.States) *Future {
	return &Future{States: states, living: newLiving(states), ends: map[search.State]End{}, round: newRound(states)}
}

// Lives reports whether dancing can go on for ever from a state.
func (f *Future) Lives(at search.State) bool { return f.living.has(at) }
