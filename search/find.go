package search

import (
	"cmp"
	"context"
	"errors"
	"slices"

	"lapwright/figures"
	"lapwright/floors"
)

// Progress is how far a search has come.
type Progress struct {
	Expanded int
	Starts   int     // starts settled so far
	Of       int     // starts to be tried
	Least    float64 // no lap from the present start costs less, in bars
	Best     float64 // cost of the best lap so far in bars; 0: none yet
}

// Result is what a search found and what it took.
type Result struct {
	Lap       *Lap     // nil when there is none
	Why       []string // why there is none, in words
	Starts    int  // starts tried
	States    uint64
	Posts     int
	Edges     int
	Expanded  int
	Generated int
}

// ErrNoStart tells that a start cannot be danced from.
var ErrNoStart = errors.New("no lap can begin there")

// Find looks for the best lap once round the room. It returns a result without
// a lap when there is none; an error when the problem makes no sense or ctx was
// cancelled.
func Find(ctx context.Context, p *Problem, tell func(Progress)) (*Result, error) {
	if len(p.Variants) == 0 {
		return nil, errors.New("no figures are left to dance")
	}
	if len(p.Scales) == 0 {
		p.Scales = DefaultScales
	}
	g := newGround(p.Room, p.Weights)
	pl := compile(p, g)
	k := newKernel(pl)
	r := newRelaxed(pl)
	res := &Result{States: g.states * uint64(len(pl.posts)), Posts: len(pl.posts), Edges: len(pl.edges)}
	places, err := pl.startPlaces()
	if err != nil {
		return nil, err
	}
	var all []target
	for _, place := range places {
		for i, q := range pl.posts {
			if p.Start == nil && commonStart(q.stance) || p.Start != nil && q.stance == p.Start.Stance {
				all = append(all, target{place, int32(i)})
			}
		}
	}
	b := r.solve(all, func(m *intoMove) int32 { return m.cost }, 1)
	togo := func(t target) int32 { return b.at(0, g.layers[0].stretch[t.place], t.post) }
	slices.SortStableFunc(all, func(a, b target) int { return cmp.Compare(togo(a), togo(b)) })
	best, bestCost := (*trail)(nil), int32(unreachable)
	for i, c := range all {
		if togo(c) >= bestCost {
			break
		}
		k.begin(b, c.place, c.post)
		k.limit = bestCost
		k.reach(k.start, 0, 0, 0, 0, c.place, c.post)
		last, cost, ok, err := k.run(ctx, func(least int32) {
			if tell != nil {
				tell(Progress{k.Expanded, i, len(all), float64(least) / 100, float64(bestCost) / 100})
			}
		})
		if err != nil {
			return nil, err
		}
		if ok {
			t := k.trail(last)
			best, bestCost = &t, cost
		}
	}
	res.Starts, res.Expanded, res.Generated = len(all), k.Expanded, k.Generated
	if best != nil {
		res.Lap = pl.lap(*best)
		res.Lap.Proven, res.Lap.Bound = true, float64(bestCost)/100
	}
	return res, nil
}

// commonStart reports whether a stance is one in which a lap is usually begun:
// closed hold, facing along the line of dance or diagonally off it.
func commonStart(s figures.Stance) bool {
	switch s.Facing {
	case figures.LineOfDance, figures.DiagonalToCentre, figures.DiagonalToWall:
		return s.Hold == figures.Closed
	}
	return false
}

// startPlaces lists the places in layer 0 at which a lap may begin.
func (pl *plan) startPlaces() ([]int, error) {
	l := &pl.ground.layers[0]
	if s := pl.problem.Start; s != nil && s.At != nil {
		c := floors.CellAt(*s.At)
		if !l.holds(c) || l.usable[l.place(c)]&inUse == 0 {
			return nil, ErrNoStart
		}
		return []int{l.place(c)}, nil
	}
	w := &pl.problem.Room.Walls[0]
	along := min(w.Length/2, w.Lane+1.5)
	c := floors.CellAt(w.Place(along, w.Lane))
	if !l.holds(c) || l.usable[l.place(c)]&inUse == 0 {
		return nil, ErrNoStart
	}
	return []int{l.place(c)}, nil
}
