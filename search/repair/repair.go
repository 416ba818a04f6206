// Package repair finds the fewest changes that make a routine legal in a room: figures
// put in, put in place of others, and left out.
//
// What lives here: the search for the changes, over the figures of the routine that have
// been dealt with and the places and stances of the couple, and the bound that guides it.
// What does not: the floor and what can be danced from where ([search.States]), what is
// wrong with the routine (package check), and anything that a person sees (the program).
//
//	found, err := repair.Find(ctx, &repair.Problem{Problem: p, Routine: r, Count: 3}, nil)
//	for _, way := range found.Ways { fmt.Println(way.Routine.Steps) }
//
// # What is a change
//
// A figure put in, one left out, and one put in place of another are one change each (edit
// distance; Levenshtein 1966). A figure that stays may be danced at another share of the
// stride, and along another wall than the file says: these are adjustments, which count
// only between ways with as few changes. Where the file says nothing of the wall, either
// is free.
//
// Limits on the past (how often a figure is danced, how far apart, what must be danced)
// are not mended.
package repair

import (
	"context"
	"fmt"
	"math"
	"slices"

	"lapwright/figures"
	"lapwright/figures/geometry"
	"lapwright/floors"
	"lapwright/graph"
	"lapwright/search"
	"lapwright/search/routine"
)

// Problem asks for a repair.
type Problem struct {
	// Problem says on which floor and how it is danced. Its variants are those that may
	// come in. Of its limits those count that leave out a figure or a join by itself; its
	// start and its count do not count. Its laps count where the routine has to close.
	search.Problem
	// Routine begins at a place that is given; where it begins does not change.
	Routine routine.Routine
	// Allowed tells whether a figure may be used at all, be it that it stays or that it
	// comes in; nil allows all.
	Allowed func(*figures.Variant) bool
	// Closes tells that the routine has to be a lap, or several.
	Closes bool
	// Count is how many repairs are wanted at most, from 1 to [MostCount].
	Count int
	// Most is how many steps of the search are taken at most; 0 is [UsualMost].
	Most int
}

// MostCount is the greatest number of repairs that can be asked for.
const MostCount = 20

// MostChanges is up to how many changes are looked for: with more it would be another
// routine.
const MostChanges = 8

// UsualMost is how many steps a search takes at most, where nothing else is said.
const UsualMost = 1_000_000

// Result is what was found.
type Result struct {
	// Ways are repairs with the fewest changes that there can be, in the order of
	// [Order]; empty where none was found.
	Ways []Way
	// AtLeast is a number of changes that no repair does without; with Ways, as many as
	// these have. Never tells instead that no repair can be at all.
	AtLeast int
	Never   bool
	// All tells that Ways has all repairs with so many changes, or the first Count of them
	// in order. Otherwise there may be others, which come later in order.
	All bool
	// NoStart says why no couple can stand where the routine begins; empty where one can.
	// Nearest is the nearest place along the same wall where one can, and can dance on;
	// nil where there is none.
	NoStart string
	Nearest *geometry.Point
	// Expanded is how many steps of the search were taken.
	Expanded int
}

// Order says how repairs with as many changes are ordered.
const Order = "those come first that leave most figures at the share of the stride and along the wall that the file says; of these those that keep most of its figures, then those with the fewest awkward joins, those that change the number of bars least, and those that bring in the easiest figures, at shares of the stride nearest to the usual"

// Way is one repair.
type Way struct {
	Routine routine.Routine // each corner said
	Changes []Change        // in the order of the dance, with what stays
	// Edits is how many figures were put in, put in place of others and left out;
	// Adjusted is how many of those that stay are danced otherwise.
	Edits, Adjusted int
}

// What is done with a figure.
type What int8

// The kinds of change; Stays is none.
const (
	Stays What = iota
	PutIn
	PutInPlace
	LeftOut
)

// Change is a figure before and after.
type Change struct {
	What What
	Was  int // index of the figure in the routine as it was; −1 where there is none
	Now  int // index of the figure in the repaired routine; −1 where there is none
	// Scale and Corner tell that a figure which stays is danced at another share of the
	// stride, or along another wall than its file says.
	Scale, Corner bool
}

// Find finds the fewest changes. tell hears how many changes are being tried and how many
// steps were taken. The same problem has the same answer, on any number of cores. An
// error tells that the problem makes no sense or that ctx was cancelled.
func Find(ctx context.Context, p *Problem, tell func(changes, expanded int)) (*Result, error) {
	if err := p.sense(); err != nil {
		return nil, err
	}
	s, err := newSearch(p)
	if err != nil {
		return nil, err
	}
	start := p.Routine.Start
	s.start, err = s.states.Start(start)
	if err != nil {
		at, err2 := s.nearest(ctx)
		return &Result{NoStart: err.Error(), Nearest: at}, err2
	}
	if s.bound, err = newBound(ctx, s); err != nil {
		return nil, err
	}
	s.distance = newDistance(s)
	return s.run(ctx, tell)
}

// MostFigures is the greatest number of figures in a routine that can be repaired.
const MostFigures = 1000

func (p *Problem) sense() error {
	switch n := len(p.Routine.Steps); {
	case p.Room == nil:
		return fmt.Errorf("no room is given")
	case p.Routine.Start.At == nil || n == 0:
		return fmt.Errorf("the routine has no place to start from, or no figures")
	case n > MostFigures:
		return fmt.Errorf("the routine has %d figures; up to %d can be mended", n, MostFigures)
	case p.Count < 1 || p.Count > MostCount:
		return fmt.Errorf("%d repairs are asked for; 1 to %d can be had", p.Count, MostCount)
	case p.Laps < 0 || p.Laps > search.MostLaps:
		return fmt.Errorf("%d laps are out of range: 1 to %d", p.Laps, search.MostLaps)
	}
	return nil
}

// newSearch lays the figures of a problem on its floor: those that may come in, and those
// of the routine that may stay.
func newSearch(p *Problem) (*repairing, error) {
	own := p.Problem
	own.Variants, own.More = nil, nil
	s := &repairing{problem: p, begins: p.Routine.Start.Stance.Turned(0)}
	mayCome := map[*figures.Variant]bool{}
	allowed := func(v *figures.Variant) bool { return v != nil && (p.Allowed == nil || p.Allowed(v)) }
	for _, v := range p.Variants {
		if allowed(v) {
			mayCome[v] = true
			own.Variants = append(own.Variants, v)
		}
	}
	for _, step := range p.Routine.Steps {
		v := step.Variant
		stays := allowed(v)
		s.stays = append(s.stays, stays)
		if stays && !slices.Contains(own.Variants, v) {
			own.Variants = append(own.Variants, v)
		}
	}
	own.Scales = scales(p)
	marked := func(before, after *figures.Variant) bool {
		return graph.Awkward(p.Follows, before, after) != graph.Easy
	}
	states, err := search.NewMarkedStates(&own, marked)
	if err != nil {
		return nil, err
	}
	s.states = states.Exactly()
	s.corners = 0
	if p.Closes {
		s.corners = max(1, p.Laps) * len(p.Room.Walls)
	}
	s.edges = make([]edge, states.Edges())
	numbers := map[*figures.Variant]uint64{}
	for i := range s.edges {
		v, bars := states.Edge(i)
		if _, known := numbers[v]; !known {
			numbers[v] = uint64(len(numbers))
		}
		s.edges[i] = newEdge(v, numbers[v], bars, states.Scale(i), mayCome[v])
	}
	walls, posts := len(p.Room.Walls), states.Posts()
	s.options = make([][][]search.Option, walls)
	for w := range walls {
		s.options[w] = make([][]search.Option, posts)
		for post := range posts {
			s.options[w][post] = states.Options(w, post)
		}
	}
	return s, nil
}

// scales are the shares of the stride at which figures may be danced: those of the
// problem, and those of the routine.
func scales(p *Problem) []search.Scale {
	all := slices.Clone(p.Scales)
	if len(all) == 0 {
		all = slices.Clone(search.DefaultScales)
	}
	for _, step := range p.Routine.Steps {
		has := func(s search.Scale) bool { return s.Share == step.Scale }
		if step.Scale > 0 && !slices.ContainsFunc(all, has) {
			all = append(all, search.Scale{Share: step.Scale, Cost: math.Abs(1 - step.Scale)})
		}
	}
	return all
}

// farthestStart is how far in metres a better place for the start is looked for.
const farthestStart = 5.0

// nearest is the nearest place to the start, along its wall, where the couple can stand
// and dance something; nil where there is none, or where it is not the place that is
// wrong.
func (s *repairing) nearest(ctx context.Context) (*geometry.Point, error) {
	from := s.problem.Routine.Start
	if from.Wall < 0 || from.Wall >= len(s.problem.Room.Walls) {
		return nil, nil
	}
	middle := floors.CellAt(*from.At)
	reach := int(farthestStart / floors.Step)
	var best *geometry.Point
	least := farthestStart + 1e-9
	for y := -reach; y <= reach; y++ {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		for x := -reach; x <= reach; x++ {
			at := middle.Add(floors.Cell{X: x, Y: y}).Point()
			far := at.Sub(middle.Point()).Len()
			if far >= least-1e-9 || !s.problem.Room.InUse(from.Wall, at) {
				continue
			}
			there := from
			there.At = &at
			state, err := s.states.Start(there)
			if err != nil {
				continue
			}
			for range s.states.Moves(state) {
				best, least = &at, far
				break
			}
		}
	}
	return best, nil
}
