package search

import (
	"errors"
	"fmt"
	"math/big"

	"lapwright/floors"
	"lapwright/search/routine"
	"lapwright/search/tally"
)

// MostContinued is the greatest number of figures that are counted.
const MostContinued = 16

// Continuations counts, exactly, in how many ways a couple that stands at a
// start can dance so many more figures and stay on the floor. Two ways differ
// when they differ in a figure, in the share of the stride that it is danced at,
// or in a corner that is taken or not. There is one way of dancing no figure.
//
// The start's place must be given; the limits, the weights and the problem's own
// start do not count. The ways are added up by place and stance figure by figure
// (dynamic programming), so that the work grows with the places that can be
// reached and not with the ways. An error means that the problem or the start
// makes no sense.
func (p *Problem) Continuations(start routine.Start, n int) (*big.Int, error) {
	if n < 0 || n > MostContinued {
		return nil, fmt.Errorf("%d figures cannot be counted: 0 to %d can", n, MostContinued)
	}
	if start.At == nil {
		return nil, errors.New("no place is given from which to go on")
	}
	states, err := NewStates(p)
	if err != nil {
		return nil, err
	}
	at, err := states.Start(start)
	switch {
	case errors.Is(err, ErrNothingBegins) && n > 0:
		return new(big.Int), nil
	case errors.Is(err, ErrNothingBegins):
		return big.NewInt(1), nil
	case err != nil:
		return nil, err
	}
	ways, after := map[State]tally.Count{at: tally.One}, map[State]tally.Count{}
	for range n {
		clear(after)
		for s, count := range ways {
			for m := range states.Moves(s) {
				sum, ok := after[m.To].Plus(count)
				if !ok {
					return nil, fmt.Errorf("there are too many ways of dancing %d figures to count", n)
				}
				after[m.To] = sum
			}
		}
		ways, after = after, ways
	}
	sum := new(big.Int)
	for _, count := range ways {
		sum.Add(sum, count.Big())
	}
	return sum, nil
}

// notOnFloor says that a couple cannot stand at a start.
func notOnFloor(room *floors.Room, start routine.Start) error {
	return fmt.Errorf("no couple can begin at (%.2f, %.2f): it is not on the floor along %s", start.At.X, start.At.Y, room.Walls[start.Wall].Name)
}
