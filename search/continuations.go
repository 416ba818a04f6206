package search

import (
	"errors"
	"fmt"
	"math/big"
	"math/bits"

	"lapwright/floors"
	"lapwright/search/routine"
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
	own := *p
	own.Limits, own.Start, own.Weights = Limits{}, &start, DefaultWeights()
	settled, err := own.settled()
	if err != nil {
		return nil, err
	}
	g := newGround(settled.Room, settled.Weights, start.Wall, 1)
	c := counter{plan: compile(settled, g), walls: len(settled.Room.Walls), follows: map[state][]state{}}
	at := floors.CellAt(*start.At)
	if l := &g.layers[0]; !l.holds(at) || l.usable[l.place(at)] == 0 {
		return nil, notOnFloor(settled.Room, start)
	}
	if n == 0 {
		return big.NewInt(1), nil
	}
	states := g.states * uint64(len(c.plan.posts))
	if states >= maxStates {
		return nil, tooLarge(states, 1)
	}
	ways, after := tally{}, tally{}
	overflow := false
	c.follow(standing{cell: at}, c.plan.ways(start.Stance), false, func(to state) { overflow = !ways.add(to, wide{0, 1}) || overflow })
	for range n - 1 {
		clear(after)
		for s, count := range ways {
			for _, to := range c.after(s) {
				overflow = !after.add(to, count) || overflow
			}
		}
		ways, after = after, ways
	}
	if overflow {
		return nil, fmt.Errorf("there are too many ways of dancing %d figures to count", n)
	}
	sum := new(big.Int)
	for _, count := range ways {
		high := new(big.Int).SetUint64(count[0])
		sum.Add(sum, high.Lsh(high, 64).Or(high, new(big.Int).SetUint64(count[1])))
	}
	return sum, nil
}

// state is a packed place in a lap: (number of the place) × posts + post.
//
// With 60 posts, place 1,000 in post 7 is state 60,007.
type state = uint32

// tally holds, by state, in how many ways it is reached. A lap that goes on past
// its end is back on layer 0.
type tally map[state]wide

// wide is a whole number of 128 bits, the higher half first.
type wide [2]uint64

// add counts more ways to a state; it reports whether the sum can be held.
func (t tally) add(s state, more wide) bool {
	sum, carry := t[s], uint64(0)
	sum[1], carry = bits.Add64(sum[1], more[1], 0)
	sum[0], carry = bits.Add64(sum[0], more[0], carry)
	t[s] = sum
	return carry == 0
}

// standing is where and how a couple stands while ways are counted.
type standing struct {
	cell  floors.Cell
	layer int
	post  int32
}

// standing unpacks a state.
func (c *counter) standing(s state) standing {
	posts := uint32(len(c.plan.posts))
	layer, place := c.plan.ground.locate(s / posts)
	return standing{c.plan.ground.layers[layer].cell(place), layer, int32(s % posts)}
}

// counter counts on a plan; what follows a state is found once.
type counter struct {
	plan    *plan
	walls   int
	follows map[state][]state
}

// after lists where everything that can be danced from a state leads to.
func (c *counter) after(s state) []state {
	list, known := c.follows[s]
	if !known {
		from := c.standing(s)
		post := &c.plan.posts[from.post]
		c.follow(from, c.plan.danceable(post), post.corner, func(to state) { list = append(list, to) })
		c.follows[s] = list
	}
	return list
}

// follow visits where each edge of ways, by kind, leads to on the floor; only
// those round a corner if the next wall must be taken.
func (c *counter) follow(s standing, ways [][]int32, corner bool, visit func(to state)) {
	l := &c.plan.ground.layers[s.layer]
	if !corner {
		c.dance(s, s.layer, ways[0], visit)
	}
	if l.usable[l.place(s.cell)]&inCorner != 0 {
		c.dance(s, (s.layer+1)%c.walls, ways[c.plan.kindOf[s.layer]], visit)
	}
}

func (c *counter) dance(s standing, layer int, edges []int32, visit func(to state)) {
	l := &c.plan.ground.layers[layer]
	for _, i := range edges {
		shape := &c.plan.edges[i].shapes[l.wall]
		to := s.cell.Add(shape.shift)
		if l.holds(to) && l.usable[l.place(to)] != 0 && c.plan.crowd(shape, s.cell) != blocked {
			visit(state(l.first+uint64(l.place(to)))*state(len(c.plan.posts)) + state(c.plan.leads[i]))
		}
	}
}

// notOnFloor says that a couple cannot stand at a start.
func notOnFloor(room *floors.Room, start routine.Start) error {
	return fmt.Errorf("no couple can begin at (%.2f, %.2f): it is not on the floor along %s", start.At.X, start.At.Y, room.Walls[start.Wall].Name)
}
