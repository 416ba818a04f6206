package search

import (
	"context"
	"fmt"

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
	within := false
	for _, t := range s.starts {
		within = within || s.least(t) != unreachable
	}
	if !within {
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
		pl.dance(at.layer, place, pl.moves[0][at.post], false, func(m *move, to int, _ int32) bool {
			visit(at.layer, to, m.to)
			return true
		})
		if at.layer+1 < len(pl.ground.layers) {
			pl.dance(at.layer, place, pl.moves[pl.kindOf[at.layer]][at.post], true, func(m *move, to int, _ int32) bool {
				visit(at.layer+1, to, m.to)
				return true
			})
		}
	}
	return farthest
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

// noLimited says why there is no lap within the limits; plain is the best lap
// without them.
func (s *searcher) noLimited(ctx context.Context, plain *Lap) []string {
	l := s.problem.Limits
	if l.MaxBars > 0 {
		if bars, ok := s.fewestBars(ctx); ok && bars > l.MaxBars {
			return []string{fmt.Sprintf("the shortest lap of these figures takes %s; at most %d are asked for (proven)", count(bars, "bar"), l.MaxBars)}
		}
	}
	why := []string{fmt.Sprintf("no lap was found within these limits; without them there is one of %d bars (that none exists is not proven)", plain.Bars)}
	for _, try := range []struct {
		words  string
		limits Limits
	}{
		{"with any number of bars", Limits{Must: l.Must, Uses: l.Uses, Apart: l.Apart}},
		{"with any number of uses of a figure", Limits{Must: l.Must, MinBars: l.MinBars, MaxBars: l.MaxBars, Apart: l.Apart}},
		{"with any number of bars from one use of a figure to the next", Limits{Must: l.Must, MinBars: l.MinBars, MaxBars: l.MaxBars, Uses: l.Uses}},
		{"with none of the figures that must be danced", Limits{MinBars: l.MinBars, MaxBars: l.MaxBars, Uses: l.Uses, Apart: l.Apart}},
	} {
		if sameLimits(try.limits, l) {
			continue
		}
		if bars, ok := s.without(ctx, try.limits, plain); ok {
			why = append(why, fmt.Sprintf("%s (all else as asked) there is a lap of %d bars", try.words, bars))
		}
	}
	return why
}

// count is a number of things in words: "1 use", "3 uses".
func count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}

func sameLimits(a, b Limits) bool {
	return len(a.Must) == len(b.Must) && a.MinBars == b.MinBars && a.MaxBars == b.MaxBars && a.Uses == b.Uses && a.Apart == b.Apart
}

// without looks for a lap under other limits.
func (s *searcher) without(ctx context.Context, l Limits, plain *Lap) (bars int, ok bool) {
	if !l.Any() {
		return plain.Bars, true
	}
	p := *s.problem
	p.Limits = l
	other := *s
	other.problem = &p
	barsGo, err := s.barsGo(ctx)
	if err != nil {
		return 0, false
	}
	b := newBeam(&other, widths[0], barsGo, int32(plain.Bars))
	if b.run(ctx, 0) != nil || !b.found {
		return 0, false
	}
	return s.plan.lap(b.trail()).Bars, true
}

// fewestBars is the number of bars of the shortest lap of all; proven.
func (s *searcher) fewestBars(ctx context.Context) (int, bool) {
	p := *s.problem
	p.Weights = Weights{Bars: 1}
	p.Limits = Limits{}
	other, err := prepare(ctx, &p, nil)
	if err != nil {
		return 0, false
	}
	best, err := other.plain(ctx)
	if err != nil || best == nil {
		return 0, false
	}
	return other.plan.lap(*best).Bars, true
}
