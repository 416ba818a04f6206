package search

import (
	"errors"
	"fmt"
	"iter"
	"sync"

	"lapwright/figures"
	"lapwright/figures/geometry"
	"lapwright/floors"
	"lapwright/search/routine"
)

// States is the finite graph of where and how a couple can stand in a room, and of
// the figures that lead from there. Going round, it comes back to the same states:
// unlike a lap it has no end. It is made by [NewStates], does not change afterwards
// and may be used by several goroutines at once.
type States struct {
	plan    *plan
	posts   State
	walls   int
	count   int
	entered []bool      // by post
	into    [][]from    // by post
	sweeps  []lazySweep // by edge; nil where clearances are not exact
}

// lazySweep is what an edge sweeps, once it has been asked for.
type lazySweep struct {
	once  sync.Once
	discs []geometry.Disc
}

// from is an edge that leads from a post, round a corner of a kind; kind 0 is none.
type from struct {
	edge, post int32
	kind       int
}

// State is a place along a wall with a stance and what the feet refuse in it, packed:
// (number of the place) × posts + post. With 60 posts, place 1,000 in post 7 is state
// 60,007. Not every number is a place where a couple can be: see [States.Usable].
type State = uint32

// Standing is what a state stands for.
type Standing struct {
	Wall   int // index of the wall in use
	Cell   floors.Cell
	Stance figures.Stance
	// MustTurn tells that the next wall is to be taken now, as after a figure that is
	// danced at a corner only.
	MustTurn bool
	// InCorner tells that the next wall may be taken here.
	InCorner bool
}

// At is the place in the room, in metres.
func (s Standing) At() geometry.Point { return s.Cell.Point() }

// Start is the standing as a start.
func (s Standing) Start() routine.Start {
	at := s.At()
	return routine.Start{Wall: s.Wall, At: &at, Stance: s.Stance}
}

// Move is a figure danced from a state.
type Move struct {
	To      State
	Variant *figures.Variant
	Scale   float64 // share of the couple's stride
	Bars    int
	Turns   bool // the next wall is taken before it
	// Edge is the number of the variant from one of its entries at one scale, from 0
	// to under [States.Edges].
	Edge int
	// Marked tells that the join to it is one of those that are told apart; see
	// [NewMarkedStates].
	Marked bool
}

// Step is the move as a figure of a routine.
func (m Move) Step() routine.Step {
	corner := routine.Stay
	if m.Turns {
		corner = routine.Take
	}
	return routine.Step{Variant: m.Variant, Scale: m.Scale, Corner: corner}
}

// NewStates lays a problem's figures on its floor. Of the limits only those count that
// leave out a figure or a join by itself (the longest steps, the hardest figure); the
// start, the laps and the weights do not count. An error tells that the problem
// makes no sense, or that there is too much floor for so many figures.
func NewStates(p *Problem) (*States, error) { return NewMarkedStates(p, nil) }

// NewMarkedStates is [NewStates] with some joins told apart: states in which the couple
// can be after different figures differ where a marked join can follow the one and not
// the other. It is asked about from several goroutines at once.
func NewMarkedStates(p *Problem, marked func(before, after *figures.Variant) bool) (*States, error) {
	own := *p
	own.marked = marked
	own.Limits, own.Start, own.Weights, own.Laps, own.Count, own.bare = p.Limits.onlyMoves(), nil, DefaultWeights(), 1, 1, true
	settled, err := own.settled()
	if err != nil {
		return nil, err
	}
	g := newGround(settled.Room, settled.Weights, 0, 1)
	pl := compile(settled, g)
	pl.addBeginnings()
	s := &States{plan: pl, posts: State(len(pl.posts)), walls: len(settled.Room.Walls)}
	places := g.layers[s.walls].first
	if states := places * uint64(s.posts); states >= maxStates {
		return nil, tooLarge(states, 1)
	}
	s.count = int(places) * int(s.posts)
	s.entered = make([]bool, s.posts)
	for _, post := range pl.leads {
		s.entered[post] = true
	}
	s.into = make([][]from, s.posts)
	for k, byPost := range pl.moves {
		for post, moves := range byPost {
			for _, m := range moves {
				s.into[m.to] = append(s.into[m.to], from{m.edge, int32(post), k})
			}
		}
	}
	return s, nil
}

// Count is one more than the greatest number of a state.
func (s *States) Count() int { return s.count }

// StandingAt lists the states of a couple at a place that has danced something before
// and may stop there; none where it cannot be.
func (s *States) StandingAt(wall int, cell floors.Cell) (all []State) {
	l := &s.plan.ground.layers[wall]
	if !l.holds(cell) || l.usable[l.place(cell)]&inUse == 0 {
		return nil
	}
	for post := range s.posts {
		if s.entered[post] && !s.plan.posts[post].corner {
			all = append(all, s.pack(wall, l.place(cell), int32(post)))
		}
	}
	return all
}

// Posts is how many states there are at each place: state s is at place s / Posts, in
// post s % Posts.
func (s *States) Posts() int { return int(s.posts) }

// Edges is how many edges there are.
func (s *States) Edges() int { return len(s.plan.edges) }

// Edge is the variant of an edge, and its bars.
func (s *States) Edge(number int) (v *figures.Variant, bars int) {
	e := &s.plan.edges[number]
	return e.variant, int(e.bars)
}

// EdgeOf is the edge of a choice (see [States.Choice]), and whether its join is marked.
func (s *States) EdgeOf(at State, number int) (edge int, marked bool) {
	layer, _, post := s.unpack(at)
	m, _, use := s.choice(layer, post, number)
	if s.plan.marks == nil {
		return int(m.edge), false
	}
	kind := 0
	if use == inCorner {
		kind, number = s.plan.kindOf[layer], number-len(s.plan.moves[0][post])
	}
	return int(m.edge), s.plan.marks[kind][post][number]
}

// Room is the room that is danced in.
func (s *States) Room() *floors.Room { return s.plan.problem.Room }

// Usable reports whether a couple's centre may be at the place of a state.
func (s *States) Usable(at State) bool {
	layer, place, _ := s.unpack(at)
	return s.plan.ground.layers[layer].usable[place] != 0
}

// Entered reports whether a couple can be in a state after a figure. In the others it
// can only begin.
func (s *States) Entered(at State) bool { return s.entered[at%s.posts] }

// Standing is what a state stands for.
func (s *States) Standing(at State) Standing {
	layer, place, post := s.unpack(at)
	l := &s.plan.ground.layers[layer]
	p := &s.plan.posts[post]
	return Standing{Wall: l.wall, Cell: l.cell(place), Stance: p.stance, MustTurn: p.corner, InCorner: l.usable[place]&inCorner != 0}
}

// ErrNothingBegins tells that no figure begins in the stance of a start.
var ErrNothingBegins = errors.New("none of the figures begins in that stance")

// Start is the state of a couple that has danced nothing yet. The start's place must be
// given; an error says why no couple can stand there, or what stances figures begin in.
func (s *States) Start(at routine.Start) (State, error) { return s.After(at, nil) }

// After is the state of a couple that has just danced a figure, or nothing (nil).
func (s *States) After(at routine.Start, before *figures.Variant) (State, error) {
	switch {
	case at.At == nil:
		return 0, errors.New("no place is given from which to go on")
	case at.Wall < 0 || at.Wall >= s.walls:
		return 0, fmt.Errorf("the room has no wall %d: its walls are numbered from 1 to %d", at.Wall+1, s.walls)
	}
	l := &s.plan.ground.layers[at.Wall]
	cell := floors.CellAt(*at.At)
	if !l.holds(cell) || l.usable[l.place(cell)] == 0 {
		return 0, notOnFloor(s.Room(), at)
	}
	post, known := s.post(at.Stance.Turned(0), before)
	if !known {
		return 0, fmt.Errorf("%w: nothing is danced from %s, here or round a corner", ErrNothingBegins, at.Stance.Turned(0))
	}
	return s.pack(at.Wall, l.place(cell), post), nil
}

// post is the post of a stance after a figure.
func (s *States) post(stance figures.Stance, before *figures.Variant) (int32, bool) {
	if before == nil {
		post, known := s.plan.postOf[post{stance: stance, joins: s.plan.unjoined(stance)}]
		return post, known
	}
	post, known := s.plan.postOf[s.plan.signature(before, stance)]
	return post, known
}

// Choices is how many moves there may be from a state, some of which may leave the
// floor: see [States.Choice].
func (s *States) Choices(at State) int {
	layer, _, post := s.unpack(at)
	return len(s.plan.moves[0][post]) + len(s.plan.moves[s.plan.kindOf[layer]][post])
}

// Begin is how many figures begin in the stance of a state, in some way of dancing them,
// along the wall in use or, in a corner, along the next one, be there room for them or not.
func (s *States) Begin(at State) int {
	layer, place, post := s.unpack(at)
	seen := map[*figures.Figure]bool{}
	for i := range s.Choices(at) {
		next, _, use := s.choice(layer, post, i)
		if s.plan.ground.layers[layer].usable[place]&use != 0 {
			seen[s.plan.edges[next.edge].variant.Figure] = true
		}
	}
	return len(seen)
}

// Leads is where a choice leads and how many bars it takes; see [States.Choice].
func (s *States) Leads(at State, number int) (to State, bars int, ok bool) {
	layer, place, post := s.unpack(at)
	return s.leads(layer, place, post, number)
}

func (s *States) leads(layer, place int, post int32, number int) (to State, bars int, ok bool) {
	from := &s.plan.ground.layers[layer]
	next, layer, use := s.choice(layer, post, number)
	if from.usable[place]&use == 0 {
		return 0, 0, false
	}
	l, e := &s.plan.ground.layers[layer], &s.plan.edges[next.edge]
	shape := &e.shapes[l.wall]
	cell := from.cell(place)
	into := cell.Add(shape.shift)
	if !l.holds(into) || l.usable[l.place(into)] == 0 || !s.fits(next.edge, l.wall, cell) {
		return 0, 0, false
	}
	return s.pack(layer, l.place(into), next.to), int(e.bars), true
}

// choice is a move by its number, with the layer in which it is danced and what a place
// has to be for it to begin there.
func (s *States) choice(layer int, post int32, number int) (m *move, into int, use uint8) {
	if list := s.plan.moves[0][post]; number < len(list) {
		return &list[number], layer, inUse
	}
	number -= len(s.plan.moves[0][post])
	return &s.plan.moves[s.plan.kindOf[layer]][post][number], (layer + 1) % s.walls, inCorner
}

// Each visits where the choices of a state lead that stay on the floor, in the order of
// their numbers. What wanted refuses, by its edge and where it leads, is passed over
// before it is known whether the couple has room.
func (s *States) Each(at State, wanted func(edge int, to State) bool, visit func(number int, to State)) {
	layer, place, post := s.unpack(at)
	from := &s.plan.ground.layers[layer]
	cell := from.cell(place)
	number := 0
	for turns := range 2 {
		kind, to, use := 0, layer, uint8(inUse)
		if turns == 1 {
			kind, to, use = s.plan.kindOf[layer], (layer+1)%s.walls, inCorner
		}
		list := s.plan.moves[kind][post]
		if from.usable[place]&use == 0 {
			number += len(list)
			continue
		}
		l := &s.plan.ground.layers[to]
		for i := range list {
			shape := &s.plan.edges[list[i].edge].shapes[l.wall]
			if into := cell.Add(shape.shift); l.holds(into) && l.usable[l.place(into)] != 0 {
				if next := s.pack(to, l.place(into), list[i].to); wanted(int(list[i].edge), next) && s.fits(list[i].edge, l.wall, cell) {
					visit(number, next)
				}
			}
			number++
		}
	}
}

// Choice is a move from a state by its number, from 0 to under [States.Choices]; ok
// tells that the couple stays on the floor and at the wall in use.
func (s *States) Choice(at State, number int) (m Move, ok bool) {
	layer, place, post := s.unpack(at)
	to, bars, ok := s.leads(layer, place, post, number)
	if !ok {
		return Move{}, false
	}
	next, _, use := s.choice(layer, post, number)
	e := &s.plan.edges[next.edge]
	m = Move{To: to, Variant: e.variant, Scale: s.plan.problem.Scales[e.scale].Share, Bars: bars, Turns: use == inCorner, Edge: int(next.edge)}
	_, m.Marked = s.EdgeOf(at, number)
	return m, true
}

// Moves lists what can be danced from a state without leaving the floor, in a fixed
// order.
func (s *States) Moves(at State) iter.Seq[Move] {
	return func(yield func(Move) bool) {
		for i := range s.Choices(at) {
			if m, ok := s.Choice(at, i); ok && !yield(m) {
				return
			}
		}
	}
}

// Before visits the states from which a figure may lead to a state, those among them
// too from which it would leave the floor.
func (s *States) Before(at State, visit func(State)) {
	layer, place, post := s.unpack(at)
	l := &s.plan.ground.layers[layer]
	cell := l.cell(place)
	for _, f := range s.into[post] {
		shift := s.plan.edges[f.edge].shapes[l.wall].shift
		back, use := layer, uint8(inUse)
		if f.kind > 0 {
			back, use = (layer+s.walls-1)%s.walls, inCorner
			if s.plan.kindOf[back] != f.kind {
				continue
			}
		}
		b := &s.plan.ground.layers[back]
		if c := (floors.Cell{X: cell.X - shift.X, Y: cell.Y - shift.Y}); b.holds(c) && b.usable[b.place(c)]&use != 0 {
			visit(s.pack(back, b.place(c), f.post))
		}
	}
}

func (s *States) pack(layer, place int, post int32) State {
	return State(s.plan.ground.layers[layer].first+uint64(place))*s.posts + State(post)
}

func (s *States) unpack(at State) (layer, place int, post int32) {
	layer, place = s.plan.ground.locate(at / s.posts)
	return layer, place, int32(at % s.posts)
}

// addBeginnings adds the posts of a couple that has danced nothing yet, in every stance
// in which a figure begins, here or round a corner.
func (pl *plan) addBeginnings() {
	for i := range pl.edges {
		for _, turn := range pl.kinds {
			stance := pl.edges[i].entry.Turned(-turn)
			pl.addPost(post{stance: stance, joins: pl.unjoined(stance)})
		}
	}
	pl.sortPosts()
	pl.addMoves()
}

// unjoined are the costs of the joins from a stance in which nothing has been danced.
func (pl *plan) unjoined(s figures.Stance) string {
	n := 0
	for _, kind := range pl.ways(s) {
		n += len(kind)
	}
	return string(make([]byte, n))
}
