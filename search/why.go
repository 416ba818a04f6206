package search

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"lapwright/graph"
)

// noStart says why no lap can begin.
func (s *searcher) noStart() []string {
	if !s.placed {
		return []string{fmt.Sprintf("there is no room for a couple to begin along %s", s.problem.Room.Walls[s.plan.ground.layers[0].wall].Name)}
	}
	if given := s.problem.Start; given != nil {
		return []string{fmt.Sprintf("none of the figures that may be used ends %s, so a lap that begins so never comes back to it", given.Stance)}
	}
	return []string{"none of the figures that may be used ends in closed hold facing diagonal to wall, line of dance or diagonal to centre, where a lap is begun; give a start of your own, or allow more figures"}
}

// noLap says why there is no lap at all.
func (s *searcher) noLap() []string {
	if why := s.noChain(); why != "" {
		return []string{why}
	}
	walls := s.problem.Room.Walls
	layers := s.plan.ground.layers
	if !s.within() {
		return []string{fmt.Sprintf("the figures that may be used join up, but no chain of them travels once round %s to where it began", s.problem.Room.Name)}
	}
	farthest := s.farthest()
	far := layers[farthest].wall
	if farthest == len(layers)-1 {
		return []string{"every chain of the figures that may be used comes round the room, but none ends in the stance and near the place in which it began"}
	}
	return []string{fmt.Sprintf("every chain of the figures that may be used runs out of room along %s; none of them reaches %s with both dancers on the floor",
		walls[far].Name, walls[layers[farthest+1].wall].Name)}
}

// farthest is the last layer that can be danced in from any of the starts.
func (s *searcher) farthest() int {
	pl := s.plan
	posts := len(pl.posts)
	seen := make([]uint64, (int(pl.ground.states)*posts+63)/64)
	farthest := 0
	var open []standing
	visit := func(layer, place int, post int32) {
		at := (int(pl.ground.layers[layer].first)+place)*posts + int(post)
		if seen[at/64]&(1<<(at%64)) == 0 {
			seen[at/64] |= 1 << (at % 64)
			open = append(open, standing{pl.ground.layers[layer].cell(place), layer, post})
		}
	}
	for _, t := range s.starts {
		visit(0, t.place, t.post)
	}
	for len(open) > 0 {
		at := open[len(open)-1]
		open = open[:len(open)-1]
		place := pl.ground.layers[at.layer].place(at.cell)
		farthest = max(farthest, at.layer)
		pl.dance(at.layer, place, pl.moves[0][at.post], false, nil, func(m *move, to int, _ int32) bool {
			visit(at.layer, to, m.to)
			return true
		})
		if at.layer+1 < len(pl.ground.layers) {
			pl.dance(at.layer, place, pl.moves[pl.kindOf[at.layer]][at.post], true, nil, func(m *move, to int, _ int32) bool {
				visit(at.layer+1, to, m.to)
				return true
			})
		}
	}
	return farthest
}

// within reports whether the figures carry a couple once round the room, if there is
// room for them everywhere.
func (s *searcher) within() bool {
	return slices.ContainsFunc(s.starts, func(t target) bool { return s.least(t) != unreachable })
}

// noChain says why no chain of figures comes back to a start, wherever it is
// danced; it is empty when one does.
func (s *searcher) noChain() string {
	g := graph.New(s.problem.Variants, s.plan.kinds[1:]...)
	turns := false
	for _, t := range s.starts {
		stance := s.plan.posts[t.post].stance
		for _, e := range g.From(stance) {
			for _, back := range g.Reachable(e.To) {
				turns = turns || back == stance
			}
		}
	}
	if turns {
		return ""
	}
	stance := s.plan.posts[s.starts[0].post].stance
	if len(g.From(stance)) == 0 {
		return fmt.Sprintf("none of the figures that may be used begins %s", stance)
	}
	return fmt.Sprintf("no chain of the figures that may be used comes back to the stance it began in: begun %s, it cannot get there again", stance)
}

// noLimited says why there is no lap within the limits, though there is one without.
func (s *searcher) noLimited(ctx context.Context, a *answerer) ([]string, error) {
	reasons, err := s.wonder(ctx, a, false)
	if err != nil {
		return nil, err
	}
	if reasons == nil || len(reasons.Clash) == 0 {
		// The beam found a lap, or nothing before the time was over.
		why := []string{fmt.Sprintf("no lap was found within these limits; without them there is one of %d bars (that none exists is not proven)", a.plain.Bars)}
		if reasons != nil {
			why = append(why, reasons.Sentences(s.problem)...)
		}
		return why, nil
	}
	return reasons.Sentences(s.problem), nil
}

// wonder looks for reasons, as long as the problem says.
func (s *searcher) wonder(ctx context.Context, a *answerer, noRoom bool) (*Reasons, error) {
	if s.problem.WhyTime > 0 {
		var stop context.CancelFunc
		ctx, stop = context.WithTimeout(ctx, s.problem.WhyTime)
		defer stop()
	}
	w := newWondering(ctx, s.problem, a.answer)
	w.noRoom = noRoom
	return w.wonder()
}

// noLapEver says why there is no lap whatever the limits, and what would help. Where only
// the limits on moves are in the way it says that instead.
func (s *searcher) noLapEver(ctx context.Context, why []string) ([]string, error) {
	// More room is no help to figures that do not join up or do not travel.
	noRoom := s.placed && (len(s.starts) == 0 || s.noChain() != "" || !s.within())
	reasons, err := s.wonder(ctx, &answerer{problem: s.problem, searcher: s}, noRoom)
	if err != nil || reasons == nil {
		return why, err
	}
	if len(reasons.Clash) > 0 {
		return reasons.Sentences(s.problem), nil
	}
	return append(why, reasons.Sentences(s.problem)...), nil
}

// count is a number of things in words: "1 use", "3 uses".
func count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}

// fewestBars is a lap of the fewest bars, whatever else it costs, proven so, and the
// search in which nothing but bars costs anything. Of the limits those on moves hold.
// There must be a lap.
func (s *searcher) fewestBars(ctx context.Context) (*searcher, *Lap, error) {
	p := *s.problem
	p.Weights = Weights{Bars: 1}
	p.Limits = s.problem.Limits.onlyMoves()
	other, err := prepare(ctx, &p, nil)
	if err != nil {
		return nil, nil, err
	}
	best, _, err := other.plain(ctx)
	if err == nil && best == nil {
		err = errors.New("search: a lap that was found is lost where only bars count")
	}
	if err != nil {
		return nil, nil, err
	}
	return other, other.plan.lap(*best), nil
}
