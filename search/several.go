package search

import (
	"context"
	"fmt"
	"math"

	"lapwright/floors"
	"lapwright/search/network"
	"lapwright/search/spread"
)

// MostLaps is how many laps can be asked for.
const MostLaps = 500

// senseCount refuses a number of laps, and a share, that make no sense.
func (p *Problem) senseCount() error {
	switch {
	case p.Count < 0 || p.Count > MostLaps:
		return fmt.Errorf("%d laps are out of range: up to %d can be asked for", p.Count, MostLaps)
	case !(p.Within >= 0 && p.Within <= 1):
		return fmt.Errorf("laps that are dearer than the best by a share of %g are out of range: 0 to 1", p.Within)
	}
	return nil
}

// Spread tells how much several laps differ, by the measure of [spread.Distance]: in
// figures, and as a share of the figures of the longer lap.
type Spread struct {
	// Distances holds the figures that each two laps differ in, by their places in
	// Result.Laps.
	Distances [][]float64
	// Least and Mean are taken over each two laps; 0 where there is one lap only.
	Least, Mean           float64
	LeastShare, MeanShare float64
	// Whole tells that the laps were chosen from all that may be, so that no choice
	// of so many has more than twice this least distance. When there are fewer laps
	// than were asked for, there are no more that differ.
	Whole bool
	// Within is by what share of the best at most the laps are dearer that were
	// looked at: the problem's, or less where those were too many.
	Within float64
	// Candidates is how many laps the choice was made from.
	Candidates int
}

// lapNetwork is a network of laps, and what its nodes and paths stand for.
type lapNetwork interface {
	network() *network.Network
	// cell is where a node lies.
	cell(node int32) floors.Cell
	// trail is a path as a lap.
	trail(spread.Path) trail
	// path is a lap as a path; it reports false when the network does not have it.
	path(trail) (spread.Path, bool)
}

// several adds laps that differ to the best lap.
func (s *searcher) several(ctx context.Context, best trail) error {
	first := s.result.Lap
	s.result.Laps = []*Lap{first}
	s.result.Spread = &Spread{Distances: [][]float64{{0}}, Within: s.problem.Within}
	if s.problem.Count < 2 {
		return nil
	}
	cost := hundredths(first.Costs.Total())
	for within := s.problem.Within; ; within /= 2 {
		if within < leastWithin {
			within = 0
		}
		cutoff := cost + int32(math.Floor(float64(cost)*within+1e-6))
		n, ok, err := s.newNearBest(ctx, best.start, cutoff)
		if err != nil {
			return err
		}
		if ok || within == 0 {
			s.result.Spread.Within = within
			if !ok {
				return nil
			}
			return s.choose(ctx, n, best, cutoff)
		}
	}
}

// leastWithin is the share below which only laps as good as the best are looked at.
const leastWithin = 0.001

// choose chooses laps that differ from a network.
func (s *searcher) choose(ctx context.Context, n lapNetwork, best trail, cutoff int32) error {
	net := n.network()
	p := &spread.Problem{Network: net, Count: s.problem.Count, Most: cutoff, Seed: s.problem.Seed}
	first, ok := n.path(best)
	if !ok {
		return fmt.Errorf("the best lap is not among the laps that cost up to %.2f bars", inBars(cutoff))
	}
	p.First = &first
	for node := range int32(net.Nodes()) {
		var at spread.Place
		if node != net.End {
			c := n.cell(node)
			const step = int(100 * floors.Step)
			at = spread.Place{X: int32(c.X * step), Y: int32(c.Y * step)}
		}
		p.Places = append(p.Places, at)
	}
	if s.problem.Limits.Any() {
		p.Keeps = func(path spread.Path) bool {
			t := n.trail(path)
			return s.keeps(&t)
		}
	}
	set, err := spread.Find(ctx, p)
	if err != nil {
		return err
	}
	bound := s.result.Lap.Bound
	for _, path := range set.Laps[1:] {
		lap := s.plan.lap(n.trail(path))
		lap.Bound = bound
		lap.Proven = lap.Costs.Total() <= bound
		s.result.Laps = append(s.result.Laps, lap)
	}
	r := s.result.Spread
	r.Distances, r.Least, r.Mean, r.Whole, r.Candidates = set.Distances, set.Least(), set.Mean(), set.Whole, set.Candidates
	r.LeastShare, r.MeanShare = s.shares()
	return nil
}

// shares are the least and the mean distance of each two laps as shares of the figures
// of the longer one.
func (s *searcher) shares() (least, mean float64) {
	laps, pairs := s.result.Laps, 0
	least = math.Inf(1)
	for i := range laps {
		for j := range laps[:i] {
			share := s.result.Spread.Distances[i][j] / float64(max(len(laps[i].Steps), len(laps[j].Steps), 1))
			least, mean, pairs = min(least, share), mean+share, pairs+1
		}
	}
	if pairs == 0 {
		return 0, 0
	}
	return least, mean / float64(pairs)
}
