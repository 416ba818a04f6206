// Package spread chooses laps that really differ out of a network of laps: not the
// next best ones, which are nearly twins of the best, but a set in which the two
// that are most alike differ as much as can be had.
//
// What lives here: how much two laps differ ([Distance]), candidates, and the choice
// among them. What does not: how a room and figures become a network (package
// search), and how laps are shown.
//
// Candidates are all laps where there are few. Else they are the laps through single
// places, each the cheapest through there, and the laps that are found when the
// figures of the laps so far are made dearer where those dance them, as is done for
// k shortest paths with limited overlap (Chondrogiannis, Bouros, Gamper, Leser and
// Blumenthal 2020). The choice begins with the best lap and takes the candidate that
// is farthest from all that are chosen, again and again (Gonzalez 1985): its least
// distance is at least half of what any choice of so many candidates can have (Ravi,
// Rosenkrantz and Tayi 1994).
//
// A first use is in the example of [Find].
package spread

import (
	"context"
	"fmt"
	"math"

	"lapwright/search/network"
)

// Problem is what is asked of a set of laps.
type Problem struct {
	Network *network.Network
	Places  []Place // by node
	// Same is by way the number of what counts as one way of dancing; nil: each
	// way is one by itself.
	Same  []int32
	Count int // how many laps, at least 1
	// Most is what the costliest lap may cost, in hundredths of a bar.
	Most int32
	// Seed decides among laps that serve equally well.
	Seed uint64
	// First is the lap that the set begins with; nil: the cheapest.
	First *Path
	// Keeps reports whether a lap keeps to limits that the network does not know;
	// nil: there are none. It is called from several goroutines at once.
	Keeps func(Path) bool
	// Solve finds laps under dearer figures; nil: a search that does not know the
	// limits, so that what it finds may be thrown away.
	Solve Solver
}

// Solver finds a lap that costs little when arcs cost so much more, by number of the
// arc, and that keeps to the limits and to the problem's Most without the extra. It
// is called from several goroutines at once, and must find the same for the same
// extra. It reports false where it finds none. The extra must not be kept.
type Solver func(ctx context.Context, extra []int32) (Path, bool, error)

// Set is a set of laps that differ.
type Set struct {
	Laps []Path // in the order of the choice, the first and then the farthest
	// Distances holds the distance of each two laps, by their places in Laps.
	Distances [][]float64
	// Whole tells that every lap that may be was a candidate, so that no set of
	// so many laps has a least distance of more than twice this one's.
	Whole bool
	// Candidates is how many laps the set was chosen from.
	Candidates int
}

// Find chooses laps for spread. The set is smaller than was asked for when so many
// laps that differ are not found, and has every lap that differs when it is Whole. An
// error tells of numbers that make no sense, or that ctx was cancelled. The answer
// depends on the problem only, not on how many cores there are.
func Find(ctx context.Context, p *Problem) (*Set, error) {
	switch {
	case p.Count < 1:
		return nil, fmt.Errorf("spread: %d laps are asked for", p.Count)
	case len(p.Places) != p.Network.Nodes():
		return nil, fmt.Errorf("spread: %d places for %d nodes", len(p.Places), p.Network.Nodes())
	}
	if p.Same != nil && len(p.Same) != len(p.Network.Ways) {
		return nil, fmt.Errorf("spread: %d numbers for %d ways", len(p.Same), len(p.Network.Ways))
	}
	pool := newPool(p)
	if p.First != nil {
		if err := p.follows(*p.First); err != nil {
			return nil, err
		}
		pool.add(*p.First)
	}
	complete, err := pool.addAll(ctx)
	if err != nil {
		return nil, err
	}
	if !complete {
		if err := pool.addThrough(ctx); err != nil {
			return nil, err
		}
		if err := pool.addDearer(ctx); err != nil {
			return nil, err
		}
	}
	return pool.choose(ctx, complete)
}

// Least is the distance of the two laps that are most alike; 0 where there are fewer
// than two.
func (s *Set) Least() float64 {
	least := math.Inf(1)
	for i := range s.Distances {
		for _, d := range s.Distances[i][:i] {
			least = min(least, d)
		}
	}
	if math.IsInf(least, 1) {
		return 0
	}
	return least
}

// Mean is the mean distance of each two laps; 0 where there are fewer than two.
func (s *Set) Mean() float64 {
	sum, pairs := 0.0, 0
	for i := range s.Distances {
		for _, d := range s.Distances[i][:i] {
			sum += d
			pairs++
		}
	}
	return sum / float64(max(1, pairs))
}
