// Package routine holds a routine as data: the figures that a couple dances in
// order, and where it begins. Laps, drills and what a teacher writes are all
// routines.
//
// What lives here: the plain data that search makes and check reads. What does
// not: whether a routine can be danced (package check), how one is found
// (package search), and its file (the program's).
package routine

import (
	"lapwright/figures"
	"lapwright/figures/geometry"
)

// Routine is a chain of figures danced from a place in a room.
type Routine struct {
	Name  string // may be empty
	Dance string
	Room  string // the name of the room, or of its file
	// Stride is the couple's stride in metres.
	Stride float64
	// Tempo is in bars a minute; 0 where none is given.
	Tempo float64
	Start Start
	Steps []Step
}

// The range of a tempo, in bars a minute.
const (
	LeastTempo = 10.0
	MostTempo  = 60.0
)

// Start is a place and a stance to begin in.
type Start struct {
	Wall int // index of the wall in use, from 0
	// At is the couple's centre in the room, in metres, rounded to the lattice
	// before it is used. Nil means that the place is chosen.
	At     *geometry.Point
	Stance figures.Stance
}

// Step is one figure of a routine.
type Step struct {
	Variant *figures.Variant
	// Scale is the share of the couple's stride at which the figure is danced;
	// 1 is usual.
	Scale  float64
	Corner Corner
	Line   int // in the routine's file; 0 where there is none
}

// Corner says whether the next wall's line of dance is taken before a figure.
type Corner int8

// The three answers. Where nothing is said, the next wall is taken at a corner
// when the figure can only be danced along it.
const (
	Unsaid Corner = iota
	Stay
	Take
)
