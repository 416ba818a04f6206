package future

import (
	"context"
	"runtime"
	"sync"

	"lapwright/search"
)

// Alive is the set of the states from which dancing can go on for ever.
type Alive struct {
	states *search.States
	// witness is, by state, the number of a move that leads to a state of the set; none
	// where there is none.
	witness []uint16
}

const none = ^uint16(0)

// NewAlive finds the set: from all states those with no way on are removed, again and
// again, until every one that is left leads to another one that is left. It is the
// greatest such set (a greatest fixed point; Tarski 1955), so it does not depend on the
// order. Each state remembers one move that leads on and looks for another one only when
// that fails, so that no move is tried twice. The error is that of ctx.
func NewAlive(ctx context.Context, states *search.States) (*Alive, error) {
	a := &Alive{states: states, witness: make([]uint16, states.Count())}
	a.inParallel(func(first, last search.State) {
		for s := first; s < last; s++ {
			if s%4096 == 0 && ctx.Err() != nil {
				return
			}
			a.witness[s] = none
			if !states.Entered(s) || !states.Usable(s) {
				continue
			}
			for i := range states.Choices(s) {
				if _, _, ok := states.Leads(s, i); ok {
					a.witness[s] = uint16(i)
					break
				}
			}
		}
	})
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	// Only what led to a state that was removed needs to look again.
	var removed []search.State
	for s := range search.State(states.Count()) {
		if a.witness[s] != none && !a.holds(s) {
			removed = append(removed, s)
		}
	}
	for n := 0; len(removed) > 0; n++ {
		if n%4096 == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		gone := removed[len(removed)-1]
		removed = removed[:len(removed)-1]
		states.Before(gone, func(s search.State) {
			if w := a.witness[s]; w == none {
				return
			} else if to, _, _ := states.Leads(s, int(w)); to == gone && !a.holds(s) {
				removed = append(removed, s)
			}
		})
	}
	return a, nil
}

// holds looks for a move that leads on, from the one that is remembered; without one
// the state is removed.
func (a *Alive) holds(s search.State) bool {
	for i := int(a.witness[s]); i < a.states.Choices(s); i++ {
		if to, _, ok := a.states.Leads(s, i); ok && a.witness[to] != none {
			a.witness[s] = uint16(i)
			return true
		}
	}
	a.witness[s] = none
	return false
}

// inParallel does work on runs of states, on all cores.
func (a *Alive) inParallel(work func(first, last search.State)) {
	var all sync.WaitGroup
	n, cores := a.states.Count(), runtime.GOMAXPROCS(0)
	for i := range cores {
		all.Go(func() { work(search.State(n*i/cores), search.State(n*(i+1)/cores)) })
	}
	all.Wait()
}

// Has reports whether dancing can go on for ever from a state.
func (a *Alive) Has(s search.State) bool { return a.witness[s] != none }
