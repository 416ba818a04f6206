package search

import (
	"context"
	"errors"
	"math"

	"lapwright/floors"
)

// state is a packed place in a lap: (number of the place in its layer) × posts +
// post. Number 0 is a state like any other.
//
// With 60 posts, place 1,000 in post 7 is state 60,007.
type state = uint32

// terminal stands for "the lap is closed here"; the state that closes it is
// kept beside it.
const terminal = ^state(0)

// node is what is known of a state: the cost so far, how it was reached, and
// whether it has been expanded.
type node struct {
	cost   int32 // plus one; 0: not reached
	parent state
	move   uint32 // number of the move in its list, with the corner flag
}

const (
	cornerFlag = 1 << 31
	closedFlag = 1 << 30
)

// kernel runs A* (Hart, Nilsson and Raphael 1968) over the finite graph of a
// plan. It keeps one record for each state in one array, and allocates nothing
// per expansion.
type kernel struct {
	plan    *plan
	bound   *bound
	posts   uint32
	nodes   []node
	touched []state
	open    *openList

	// isGoal tells, by post, whether a lap may end in it, near goalCell.
	isGoal   []bool
	goalCell floors.Cell
	// limit is a cost that a lap must be below to be of use.
	limit int32
	// most is a number of expansions after which a run is given up.
	most int
	// farthest is the last layer in which a state was expanded.
	farthest int

	expanded, generated int
}

// checkEvery is how many expansions go by between looks at the context.
const checkEvery = 1 << 14

// errGivenUp tells that a run took more expansions than it may.
var errGivenUp = errors.New("search: given up")

func newKernel(pl *plan) *kernel {
	n := pl.ground.states * uint64(len(pl.posts))
	return &kernel{plan: pl, posts: uint32(len(pl.posts)), nodes: make([]node, n),
		isGoal: make([]bool, len(pl.posts)), open: newOpenList()}
}

// begin sets where a lap starts and ends, and a cost that it must be below. The
// starts lie in one place; a lap may begin in the post of one and end in the
// post of another.
func (k *kernel) begin(b *bound, starts []target, limit int32) {
	for _, s := range k.touched {
		k.nodes[s] = node{}
	}
	k.touched = k.touched[:0]
	k.open.reset()
	k.bound, k.limit, k.most = b, limit, math.MaxInt
	clear(k.isGoal)
	for _, t := range starts {
		k.isGoal[t.post] = true
		k.goalCell = k.plan.ground.layers[0].cell(t.place)
		s := state(t.place)*k.posts + uint32(t.post)
		k.reach(s, 0, s, 0, 0, t.place, t.post) // its own parent
	}
}

// reach records a way to a state, if it is the best so far and can still close
// the lap.
func (k *kernel) reach(s state, cost int32, parent state, move uint32, layer, place int, post int32) {
	k.generated++
	n := &k.nodes[s]
	if n.cost != 0 {
		if n.cost <= cost+1 {
			return
		}
	}
	togo := k.bound.at(layer, k.plan.ground.layers[layer].stretch[place], post)
	if togo == unreachable || cost+togo >= k.limit {
		return
	}
	if n.cost == 0 {
		k.touched = append(k.touched, s)
	}
	*n = node{cost + 1, parent, move}
	k.open.push(cost+togo, s, cost)
}

// run searches until the lap is closed at least cost. It returns the state
// that closes the lap and its cost; ok is false when there is no lap, or none
// below the limit. The error is errGivenUp when the run took too many
// expansions.
func (k *kernel) run(ctx context.Context, tick func(least int32)) (last state, cost int32, ok bool, err error) {
	ground := k.plan.ground
	final := len(ground.layers) - 1
	var closing state
	best := int32(unreachable)
	for {
		f, s, g, any := k.open.pop()
		if !any || f >= k.limit {
			return 0, 0, false, nil
		}
		if s == terminal {
			return closing, f, true, nil
		}
		n := &k.nodes[s]
		if n.cost != g+1 || n.move&closedFlag != 0 {
			continue
		}
		if k.expanded >= k.most {
			return 0, 0, false, errGivenUp
		}
		n.move |= closedFlag
		k.expanded++
		if k.expanded%checkEvery == 0 {
			if err := ctx.Err(); err != nil {
				return 0, 0, false, err
			}
			if tick != nil {
				tick(f)
			}
		}
		number, post := s/k.posts, int32(s%k.posts)
		layer := k.plan.layerOf(number)
		k.farthest = max(k.farthest, layer)
		l := &ground.layers[layer]
		place := int(number) - int(l.first)
		cell := l.cell(place)
		if layer == final && k.isGoal[post] {
			if gap, near := k.gap(cell); near && g+gap < best {
				best = g + gap
				closing = s
				k.open.push(best, terminal, best)
			}
		}
		if l.usable[place]&inUse != 0 {
			k.expand(s, g, cell, layer, k.plan.moves[0][post], 0)
		}
		if layer < final && l.usable[place]&inCorner != 0 {
			k.expand(s, g, cell, layer+1, k.plan.moves[k.plan.kindOf[layer]][post], cornerFlag)
		}
	}
}

// gap is the cost of ending at a cell, and whether it is near enough to the
// start.
func (k *kernel) gap(c floors.Cell) (int32, bool) {
	dx, dy := c.X-k.goalCell.X, c.Y-k.goalCell.Y
	if dx*dx+dy*dy > toleranceCells*toleranceCells {
		return 0, false
	}
	return k.plan.gapCost(dx, dy), true
}

// expand generates what can be danced from a cell along a layer's wall.
func (k *kernel) expand(s state, g int32, cell floors.Cell, layer int, moves []move, flag uint32) {
	pl := k.plan
	l := &pl.ground.layers[layer]
	for i := range moves {
		m := &moves[i]
		e := &pl.edges[m.edge]
		shape := &e.shapes[l.wall]
		to := cell.Add(shape.shift)
		if !l.holds(to) {
			continue
		}
		place := l.place(to)
		if l.usable[place] == 0 {
			continue
		}
		// What the move costs without a look at walls and obstacles may be
		// enough to drop it.
		cost := g + m.cost + int32(l.lane[place])*e.bars
		target := state(l.first+uint64(place))*k.posts + uint32(m.to)
		if n := &k.nodes[target]; n.cost != 0 && n.cost <= cost+1 {
			k.generated++
			continue
		}
		if togo := k.bound.at(layer, l.stretch[place], m.to); togo == unreachable || cost+togo >= k.limit {
			continue
		}
		crowd := pl.crowd(shape, cell)
		if crowd == blocked {
			continue
		}
		k.reach(target, cost+crowd*e.bars, s, uint32(i)|flag, layer, place, m.to)
	}
}
