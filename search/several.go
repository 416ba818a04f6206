package search

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search/network"
	spreads "lapwright/search/spread"
)

// MostCount is how many laps can be asked for.
const MostCount = 500

// senseCount refuses a number of laps, and a share, that make no sense.
func (p *Problem) senseCount() error {
	switch {
	case p.Count < 0 || p.Count > MostCount:
		return fmt.Errorf("%d laps are out of range: up to %d can be asked for", p.Count, MostCount)
	case !(p.Within >= 0 && p.Within <= 1):
		return fmt.Errorf("laps that are dearer than the best by a share of %g are out of range: 0 to 1", p.Within)
	}
	return nil
}

// Spread tells how much several laps differ, by the measure of [spreads.Distance]: in
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
	// Stopped tells that the search ended before other laps were found, or that there
	// were too many to look at any.
	Stopped bool
	// Candidates is how many laps the choice was made from.
	Candidates int
}

// several adds laps that differ to the best lap. When ctx ends before they are found
// there is the best lap only.
func (s *searcher) several(ctx context.Context, best trail) error {
	first := s.result.Lap
	s.result.Laps = []*Lap{first}
	s.result.Spread = &Spread{Distances: [][]float64{{0}}, Within: s.problem.Within}
	if s.problem.Count < 2 {
		return nil
	}
	// All laps begin as the best one does, so that a corridor has each place once.
	same := *s
	same.starts = []target{best.start}
	cost := hundredths(first.Costs.Total())
	for within := s.problem.Within; ; within /= 2 {
		if within < leastWithin {
			within = 0
		}
		cutoff := cost + int32(math.Floor(float64(cost)*within+1e-6))
		c, err := same.corridor(ctx, cutoff, func(*figures.Variant) uint64 { return 0 })
		if errors.Is(err, errTooWide) && within > 0 {
			continue
		}
		s.result.Spread.Within = within
		if err == nil && c != nil {
			err = s.choose(ctx, c, best, cutoff)
		}
		if err != nil && (errors.Is(err, errTooWide) || ctx.Err() != nil) {
			s.result.Spread.Stopped = true
			return nil
		}
		return err
	}
}

// leastWithin is the share below which only laps as good as the best are looked at.
const leastWithin = 0.001

// choose chooses laps that differ from a corridor.
func (s *searcher) choose(ctx context.Context, c *corridor, best trail, cutoff int32) error {
	p := &spreads.Problem{Network: c.Network, Count: s.problem.Count, Most: cutoff, Seed: s.problem.Seed}
	first, ok := c.pathOf(best)
	if !ok {
		return fmt.Errorf("the best lap is not among the laps that cost up to %.2f bars", inBars(cutoff))
	}
	p.First = &first
	const step = int(100 * floors.Step)
	for _, at := range c.nodes {
		p.Places = append(p.Places, spreads.Place{X: int32(at.cell.X * step), Y: int32(at.cell.Y * step)})
	}
	// Edges that differ in their scale only are one way of dancing.
	numbers := map[*figures.Variant]int32{}
	for i := range s.plan.edges {
		v := s.plan.edges[i].variant
		if _, known := numbers[v]; !known {
			numbers[v] = int32(len(numbers))
		}
		p.Same = append(p.Same, numbers[v])
	}
	if s.problem.Limits.past() {
		p.Keeps = func(path spreads.Path) bool {
			t := c.trail(path.Source, path.Arcs)
			return s.keeps(&t)
		}
	}
	set, err := spreads.Find(ctx, p)
	if err != nil {
		return err
	}
	bound := s.result.Lap.Bound
	for _, path := range set.Laps[1:] {
		lap := s.plan.lap(c.trail(path.Source, path.Arcs))
		lap.Bound = bound
		lap.Proven = lap.Costs.Total() <= bound
		s.result.Laps = append(s.result.Laps, lap)
	}
	r := s.result.Spread
	r.Distances, r.Least, r.Mean, r.Whole, r.Candidates = set.Distances, set.Least(), set.Mean(), set.Whole, set.Candidates
	r.LeastShare, r.MeanShare = s.shares()
	return nil
}

// pathOf is a lap as a path; it reports false when the corridor does not have it.
func (c *corridor) pathOf(t trail) (p spreads.Path, ok bool) {
	start := standing{c.plan.ground.layers[0].cell(t.start.place), 0, t.start.post}
	i := slices.IndexFunc(c.Sources, func(node int32) bool { return c.nodes[node] == start })
	if i < 0 {
		return p, false
	}
	p.Source = c.Sources[i]
	node, layer := p.Source, 0
	add := func(way int32, layer int) bool {
		for i, a := range c.Arcs(node) {
			if a.Way == way && (a.To == c.End || c.nodes[a.To].layer == layer) {
				p.Arcs = append(p.Arcs, int32(c.ArcNumber(node)+i))
				node = a.To
				return true
			}
		}
		return false
	}
	for _, s := range t.steps {
		if s.corner {
			layer++
		}
		if !add(s.edge, layer) {
			return p, false
		}
	}
	return p, add(network.Closing, layer)
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
