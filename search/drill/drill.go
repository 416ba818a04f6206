// Package drill draws random routines for students to practise: so many bars, in a room
// or along an endless wall, each of the routines that can be danced as likely as any
// other.
//
// What lives here: the draw, by counting all routines of a length, and short routines that
// have every join or every figure in them ([Source.Cover]). What does not: what can be
// danced from where (package search, package graph), how short a walk over given arcs can
// be (search/postman), which drills are equally hard (the program, with package
// difficulty), and anything that a person sees.
//
//	source, err := drill.New(ctx, &drill.Problem{Room: &problem, Start: start})
//	drills, err := source.Draw(ctx, 32, 7)
//
// # How the draw is fair
//
// Let c(s, k) be the number of routines of exactly k bars from a state s that end where
// dancing can go on for ever. It is the sum of c(t, k − b) over the figures that lead
// from s to t in b bars. Who takes each figure with a probability in proportion to what
// it leads to draws every routine with the same probability (the recursive method;
// Nijenhuis and Wilf, Combinatorial Algorithms, 1978). With focus, figures and joins
// have a whole-number weight, and a routine is drawn in proportion to the product of
// its weights.
//
// The counts have dozens of digits and there are millions of them for each bar, so they
// are kept in two bytes each, rounded down by less than a sixty-third, and what that makes
// unequal is put right by rejection (von Neumann 1951): the probability with which a
// routine was drawn is known exactly, as a fraction of whole numbers, and it is kept with a
// probability that makes up for it; otherwise the draw begins again – of 32 bars about one
// time in four. The fraction is never more than it may be, since a count is at most the
// sum that it was rounded from and at least that over 1 + [search.Rounding]; were it more,
// the draw would fail rather than be unfair. What is left of a bias is that of random
// numbers of 64 and 128 bits.
package drill

import (
	"context"
	"errors"
	"fmt"

	"lapwright/figures"
	"lapwright/search"
	"lapwright/search/routine"
)

// MostBars is the greatest number of bars of a drill.
const MostBars = 160

// MostWeight is the greatest weight of a focus.
const MostWeight = 1000

// Problem says from which routines drills are drawn.
type Problem struct {
	// Room is the floor with the figures on it; its start does not count. Where it names
	// no room, drills are for anywhere: along one endless wall.
	Room *search.Problem
	// Start is where a drill begins. Anywhere only its stance counts.
	Start routine.Start
	// Focus is what is to be practised.
	Focus []Focus
	// Weight is how many times as likely a routine is with each figure or join of the
	// focus in it; 0 is 1.
	Weight uint64
}

// Focus is a figure, or a join of two, to be practised.
type Focus struct {
	// Before is what is danced before it; empty for a figure after whatever.
	Before []*figures.Variant
	// Figure is the ways of dancing it that count.
	Figure []*figures.Variant
}

// Drill is one routine that was drawn.
type Drill struct {
	Seed  uint64
	Start routine.Start
	Steps []routine.Step
}

// Source is what drills are drawn from. It may be used by several goroutines at once.
type Source struct {
	problem *Problem
	ground  ground
}

// ErrDeadEnd tells that no routine from the start can be gone on with for ever.
var ErrDeadEnd = errors.New("every way from the start ends at a wall or in a stance that no known figure leaves")

// ErrLength tells that no routine takes exactly so many bars; see [Source.Lengths].
var ErrLength = errors.New("no routine takes exactly so many bars")

// New prepares a draw. The error is [ErrDeadEnd], says that the problem makes no sense, or is
// that of ctx.
func New(ctx context.Context, p *Problem) (*Source, error) {
	own := *p
	if own.Weight == 0 {
		own.Weight = 1
	}
	switch {
	case own.Weight > MostWeight:
		return nil, fmt.Errorf("a weight of %d is out of range: 1 to %d", own.Weight, MostWeight)
	case len(own.Room.Variants) == 0:
		return nil, errors.New("no figures are left to dance")
	}
	s := &Source{problem: &own}
	var err error
	if own.Room.Room == nil {
		s.ground, err = newWall(&own)
	} else {
		s.ground, err = newRoom(ctx, &own)
	}
	if err != nil {
		return nil, err
	}
	return s, nil
}

// weight is how many times as likely a routine is with a figure in it, danced after
// anything that is not marked, or after something that is.
func (p *Problem) weight(v *figures.Variant, marked bool) uint64 {
	weight := uint64(1)
	for _, f := range p.Focus {
		if len(f.Before) == 0 && contains(f.Figure, v) {
			weight = p.Weight
		}
	}
	if marked {
		weight *= p.Weight
	}
	return weight
}

// marks reports whether a join is one of the focus; nil where none is.
func (p *Problem) marks() func(before, after *figures.Variant) bool {
	any := false
	for _, f := range p.Focus {
		any = any || len(f.Before) > 0
	}
	if !any {
		return nil
	}
	return func(before, after *figures.Variant) bool {
		for _, f := range p.Focus {
			if contains(f.Before, before) && contains(f.Figure, after) {
				return true
			}
		}
		return false
	}
}

func contains(list []*figures.Variant, v *figures.Variant) bool {
	for _, o := range list {
		if o == v {
			return true
		}
	}
	return false
}
