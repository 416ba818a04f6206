// Package wayout finds ways out of a bad spot: the quickest ways back to the lane and to
// a good stance, and the ways of waiting where the couple is.
//
// What lives here: which states are good ones, the ways to them with the floor that they
// take, and what they leave free for others ([Finder.Back], [Finder.Wait],
// [Finder.Free]). What does not: the states and the figures between them
// ([search.States]), whether dancing can go on from there (package future), and anything
// that a person sees (the program).
//
//	f := wayout.New(future.New(states), couple)
//	back, _ := f.Back(at, wayout.UsualNear, 8)
//	for _, w := range back { fmt.Println(w.Bars, w.Ends.Stance, w.Floor.Along()) }
package wayout

import (
	"math"

	"lapwright/figures"
	"lapwright/figures/geometry"
	"lapwright/search"
	"lapwright/search/future"
)

// UsualNear is how far in metres from the middle of the lane a couple is still in it, and
// how far from where it began it has still waited in place. The figure is ours.
const UsualNear = 0.5

// Way is a chain of figures out of a spot.
type Way struct {
	Moves []search.Move
	Bars  int
	To    search.State
	Ends  search.Standing
	Floor Floor
}

// Floor is the floor that both dancers take on a way, as a rectangle along the wall in use
// at its beginning: metres from where the couple's centre was then.
type Floor struct{ Back, Ahead, Wall, Centre float64 }

// Along is how much of the line of dance it takes, in metres.
func (f Floor) Along() float64 { return f.Back + f.Ahead }

// Across is how much it takes across the line of dance, in metres.
func (f Floor) Across() float64 { return f.Wall + f.Centre }

// Area is the rectangle in square metres.
func (f Floor) Area() float64 { return f.Along() * f.Across() }

// with is the least rectangle that holds both.
func (f Floor) with(o Floor) Floor {
	return Floor{math.Max(f.Back, o.Back), math.Max(f.Ahead, o.Ahead), math.Max(f.Wall, o.Wall), math.Max(f.Centre, o.Centre)}
}

// within reports whether the other rectangle holds this one.
func (f Floor) within(o Floor) bool {
	return f.Back <= o.Back && f.Ahead <= o.Ahead && f.Wall <= o.Wall && f.Centre <= o.Centre
}

// Finder finds ways out in the states of a room. It keeps what it has found out, and is
// not to be used by several goroutines at once.
type Finder struct {
	future *future.Future
	states *search.States
	couple figures.Couple
	laid   map[lay]Floor
}

// lay is an edge laid along a wall and seen along another one.
type lay struct{ edge, wall, seen int }

// New makes a finder. The couple is that of the states.
func New(f *future.Future, couple figures.Couple) *Finder {
	return &Finder{future: f, states: f.States, couple: couple, laid: map[lay]Floor{}}
}

// Good reports whether a couple stands well in a state: in the lane, no farther from its
// middle than near metres, facing along the line of dance or diagonally off it, with
// figures from there to dance for ever and to get right round the room.
func (f *Finder) Good(at search.State, near float64) bool {
	s := f.states.Standing(at)
	switch s.Stance.Facing {
	case figures.LineOfDance, figures.DiagonalToCentre, figures.DiagonalToWall:
	default:
		return false
	}
	w := &f.states.Room().Walls[s.Wall]
	_, across := w.Locate(s.At())
	return math.Abs(across-w.Lane) <= near+hair && f.future.Lives(at) && f.future.Round(at)
}

// hair is what a distance may be over for the last digits of a sum.
const hair = 1e-6

// taken is the floor of a figure danced from a state, as a rectangle along a wall around
// a place.
func (f *Finder) taken(from search.Standing, m *search.Move, seen int, around geometry.Point) Floor {
	room := f.states.Room()
	wall, stance := from.Wall, from.Stance
	if m.Turns {
		stance = stance.Turned(room.Walls[wall].Eighths)
		wall = (wall + 1) % len(room.Walls)
	}
	key := lay{m.Edge, wall, seen}
	floor, known := f.laid[key]
	if !known {
		turned := room.Walls[wall].Direction - room.Walls[seen].Direction
		floor = Floor{math.Inf(-1), math.Inf(-1), math.Inf(-1), math.Inf(-1)}
		for _, disc := range m.Variant.Dance(stance, f.couple.WithStride(f.couple.Stride*m.Scale)).Sweep() {
			p := disc.Centre.Rotate(turned)
			floor = floor.with(Floor{disc.Radius - p.X, disc.Radius + p.X, disc.Radius - p.Y, disc.Radius + p.Y})
		}
		f.laid[key] = floor
	}
	p := from.At().Sub(around).Rotate(-room.Walls[seen].Direction)
	return Floor{floor.Back - p.X, floor.Ahead + p.X, floor.Wall - p.Y, floor.Centre + p.Y}
}
