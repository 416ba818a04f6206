// Package future says what can become of a couple that stands somewhere in a room: from
// where dancing can go on for ever, how many ways there are through the next bars,
// whether the couple can still get right round, and after how many bars at most a choice
// runs out of room.
//
// What lives here: the set of the states from which dancing can go on for ever
// ([Alive]), and what is told of each figure that can follow ([Future.Next]). What does
// not: the states themselves and the figures that lead from one to the next
// ([search.States]), laps (package search) and anything that a person sees (the program).
//
//	states, err := search.NewStates(problem)
//	at, err := states.Start(start)
//	f, err := future.New(ctx, states)
//	for _, o := range f.Next(at, 8) { fmt.Println(o.Variant.Name(), o.Ways, o.Trap()) }
package future

import (
	"context"

	"lapwright/search"
)

// Future looks ahead in the states of a room. It keeps what it has found out, and is not
// to be used by several goroutines at once.
type Future struct {
	States *search.States
	Alive  *Alive
	ends   map[search.State]End
	round  round
}

// New finds from which states dancing can go on for ever; all else is found when it is
// asked for. The error is that of ctx.
func New(ctx context.Context, states *search.States) (*Future, error) {
	alive, err := NewAlive(ctx, states)
	if err != nil {
		return nil, err
	}
	return &Future{States: states, Alive: alive, ends: map[search.State]End{}, round: newRound(states)}, nil
}
