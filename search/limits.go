package search

import "lapwright/figures"

// Limits are what a lap must keep to besides the floor. The zero value sets
// none. Bars are counted from the beginning of the lap, the first is bar 1, and a
// figure is danced in the bar in which it begins.
type Limits struct {
	Must    []*figures.Figure // to be danced at least once
	MinBars int               // 0: no least number of bars
	MaxBars int               // 0: no greatest number of bars
	Uses    int               // most uses of any one figure; 0: no limit
	// Apart is the least number of bars between the beginnings of two uses of
	// a figure; 0: no limit.
	Apart int
	// Caps limit how often figures of a set are danced, all together.
	Caps []Cap
	// Different is the least number of different figures; 0: no limit.
	Different int
	// Orders say which figure must have been danced before another is danced at
	// all.
	Orders []Order
	// Fixed are figures that must begin at a given bar.
	Fixed []Fixed
	// Phrase is the number of bars of a phrase of the music, at the end of one of
	// which the lap must end; 0: anywhere.
	Phrase int
	// RightTurns is the most figures in a row that turn to the right, in all, so
	// that nobody gets dizzy; 0: no limit. Any other figure is a rest.
	RightTurns int
	// LeaderStep and FollowerStep are the longest steps in metres that the
	// dancers may take; 0: no limit.
	LeaderStep, FollowerStep float64
	// Hardest is the greatest difficulty (package difficulty) of a figure in points
	// a bar, and of a join in points; 0: no limit.
	Hardest float64
}

// Cap is the most uses, all together, of the figures of a set.
type Cap struct {
	// Name is the set in a teacher's words: "Whisk", "turns to the left",
	// "figures above bronze".
	Name string
	Has  func(*figures.Variant) bool
	Most int // may be 0
}

// Order says that Then is not danced before First has been.
type Order struct{ First, Then *figures.Figure }

// Fixed is a figure that must begin at a bar.
type Fixed struct {
	Figure *figures.Figure
	Bar    int // from 1
	Wall   int // index of the wall along which it must be danced; negative: any
}

// Any reports whether any limit is set.
func (l *Limits) Any() bool { return l.past() || l.moves() != moveLimits{} }

// moveLimits are the limits on which moves there are at all, whatever was danced
// before: the longest steps and the greatest difficulty.
type moveLimits struct{ leaderStep, followerStep, hardest float64 }

// moves are the limits on which moves there are.
func (l *Limits) moves() moveLimits { return moveLimits{l.LeaderStep, l.FollowerStep, l.Hardest} }

// onlyMoves are the limits on which moves there are by themselves, without the others.
func (l *Limits) onlyMoves() Limits {
	return Limits{LeaderStep: l.LeaderStep, FollowerStep: l.FollowerStep, Hardest: l.Hardest}
}

// past reports whether any limit depends on what has been danced before.
func (l *Limits) past() bool {
	return len(l.Must) > 0 || l.MinBars > 0 || l.MaxBars > 0 || l.Uses > 0 || l.Apart > 0 || len(l.Caps) > 0 ||
		l.Different > 0 || len(l.Orders) > 0 || len(l.Fixed) > 0 || l.Phrase > 0 || l.RightTurns > 0
}
