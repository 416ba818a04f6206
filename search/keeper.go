package search

import "slices"

// keeper tells step by step whether a way of dancing keeps to the limits on the
// past.
type keeper struct {
	plan   *plan
	limits *Limits
	must   []int32    // figures
	orders [][2]int32 // figures
	fixed  []int32    // figures, in the order of the limits
	in     [][]bool   // by cap and edge: whether it is of the set

	bar    int32
	counts []int32 // uses by figure
	latest []int32 // bar, from 0, in which the last use of each figure began
	capped []int32 // uses by cap
	right  int32   // figures that turn to the right, last in a row
	kept   int     // fixed figures that were danced
	used   int     // different figures
}

func newKeeper(s *searcher) *keeper {
	l := &s.problem.Limits
	pl := s.plan
	k := &keeper{plan: pl, limits: l, counts: make([]int32, len(pl.figures)), latest: make([]int32, len(pl.figures)), capped: make([]int32, len(l.Caps))}
	for _, m := range l.Must {
		k.must = append(k.must, int32(slices.Index(pl.figures, m)))
	}
	for _, o := range l.Orders {
		k.orders = append(k.orders, [2]int32{int32(slices.Index(pl.figures, o.First)), int32(slices.Index(pl.figures, o.Then))})
	}
	for _, f := range l.Fixed {
		k.fixed = append(k.fixed, int32(slices.Index(pl.figures, f.Figure)))
	}
	for _, c := range l.Caps {
		in := make([]bool, len(pl.edges))
		for i := range pl.edges {
			in[i] = c.Has(pl.edges[i].variant)
		}
		k.in = append(k.in, in)
	}
	return k
}

// restart forgets what was danced.
func (k *keeper) restart() {
	clear(k.counts)
	clear(k.latest)
	clear(k.capped)
	k.bar, k.right, k.kept, k.used = 0, 0, 0, 0
}

// dance takes an edge as danced.
func (k *keeper) dance(edge int32) {
	e := &k.plan.edges[edge]
	for _, f := range k.limits.Fixed {
		if int32(f.Bar) == k.bar+1 {
			k.kept++
		}
	}
	if k.counts[e.figure]++; k.counts[e.figure] == 1 {
		k.used++
	}
	k.latest[e.figure] = k.bar
	for i := range k.capped {
		if k.in[i][edge] {
			k.capped[i]++
		}
	}
	if k.right++; e.variant.Turn() >= 0 {
		k.right = 0
	}
	k.bar += e.bars
}

// allows reports whether an edge may be danced next, along a wall.
func (k *keeper) allows(edge int32, wall int) bool {
	l, e := k.limits, &k.plan.edges[edge]
	uses := k.counts[e.figure]
	switch {
	case l.MaxBars > 0 && k.bar+e.bars > int32(l.MaxBars),
		l.Uses > 0 && uses >= int32(l.Uses),
		l.Apart > 0 && uses > 0 && k.bar-k.latest[e.figure] < int32(l.Apart),
		l.RightTurns > 0 && e.variant.Turn() < 0 && k.right >= int32(l.RightTurns):
		return false
	}
	for i, c := range l.Caps {
		if k.in[i][edge] && k.capped[i] >= int32(c.Most) {
			return false
		}
	}
	for _, o := range k.orders {
		if e.figure == o[1] && k.counts[o[0]] == 0 {
			return false
		}
	}
	for i, f := range l.Fixed {
		switch begins := int32(f.Bar) - 1; {
		case begins == k.bar && (k.fixed[i] != e.figure || f.Wall >= 0 && f.Wall != wall),
			begins > k.bar && begins < k.bar+e.bars:
			return false
		}
	}
	return true
}

// ends reports whether the lap may end here.
func (k *keeper) ends() bool {
	l := k.limits
	for _, m := range k.must {
		if k.counts[m] == 0 {
			return false
		}
	}
	return int(k.bar) >= l.MinBars && (l.MaxBars == 0 || int(k.bar) <= l.MaxBars) && k.used >= l.Different && k.kept == len(l.Fixed) &&
		(l.Phrase == 0 || int(k.bar)%l.Phrase == 0)
}

// keepsPast is keeps where there may be no such limits.
func (s *searcher) keepsPast(t *trail) bool { return !s.problem.Limits.past() || s.keeps(t) }

// keeps reports whether a lap keeps to the limits that depend on the past.
func (s *searcher) keeps(t *trail) bool {
	k := newKeeper(s)
	wall := s.plan.ground.layers[0].wall
	for _, step := range t.steps {
		if step.corner {
			wall = (wall + 1) % len(s.problem.Room.Walls)
		}
		if !k.allows(step.edge, wall) {
			return false
		}
		k.dance(step.edge)
	}
	return k.ends()
}
