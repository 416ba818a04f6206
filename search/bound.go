package search

import (
	"context"
	"math"
	"slices"
)

// bound is the exact cost to go of a relaxed problem, for every layer, stretch
// of floor and post. In the relaxed problem the couple dances the same figures
// in the same stances, but its place is known to a stretch of 5 cm only, the lane
// costs what the best place of a stretch costs, and walls and obstacles block no
// figure. Every move of the real problem is one of the relaxed problem
// at no higher cost, so the bound is consistent (abstraction heuristics, Culberson
// and Schaeffer 1998), and it says at once where no way is left.
type bound struct {
	posts int
	base  []int   // by layer: number of its first stretch
	togo  []int32 // by (stretch, post); unreachable where there is no way
}

const unreachable = math.MaxInt32

// at is the bound in a layer, on a stretch, in a post.
func (b *bound) at(layer int, stretch int32, post int32) int32 {
	return b.togo[(b.base[layer]+int(stretch))*b.posts+int(post)]
}

// target is where a lap may end: a place of the last layer, in a post.
type target struct {
	place int
	post  int32
}

// solve computes the bound for laps that end near any of the targets, at the
// given tariff: layer by layer from the last, in each by uniform-cost search
// backward (Dijkstra 1959). It tells the share of the layers that are done.
func (r *relaxed) solve(ctx context.Context, targets []target, price *tariff, tell func(share float64)) (*bound, error) {
	layers := r.plan.ground.layers
	b := &bound{posts: len(r.plan.posts), base: r.base}
	b.togo = filled(r.stretches * b.posts)
	w := &wave{relaxed: r, price: price, bound: b, open: newOpenList()}
	last := len(layers) - 1
	for _, t := range targets {
		goal := layers[last].cell(t.place)
		for place, use := range layers[last].usable {
			c := layers[last].cell(place)
			if dx, dy := c.X-goal.X, c.Y-goal.Y; use != 0 && dx*dx+dy*dy <= toleranceCells*toleranceCells {
				w.reach((r.base[last]+int(layers[last].stretch[place]))*b.posts+int(t.post), 0)
			}
		}
	}
	for layer := last; layer >= 0; layer-- {
		tell(float64(last-layer) / float64(len(layers)))
		if err := w.spread(ctx, layer); err != nil {
			return nil, err
		}
		w.turnBack(layer)
	}
	return b, nil
}

// wave is the backward search under way in one layer.
type wave struct {
	*relaxed
	price *tariff
	bound *bound
	open  *openList
	front front
	// straight and round are the ways back to where the layer's wall was danced
	// along already, and to where the corner into it was just taken.
	straight, round ways
}

// front is the layer under way as a grid of stretches with a rim around it, so
// wide that no figure leads over it.
type front struct {
	layer               *layer
	alongRim, acrossRim int
	width, size         int // stretches
}

// at is the place of a stretch of the layer on the grid.
func (f *front) at(stretch int) int {
	return (stretch/f.layer.bands+f.alongRim)*f.width + stretch%f.layer.bands + f.acrossRim
}

// stretch is the stretch at a place that is not on the rim.
func (f *front) stretch(at int) int {
	return (at/f.width-f.alongRim)*f.layer.bands + at%f.width - f.acrossRim
}

// ways are figures taken back to the stretches from which they were danced.
type ways struct {
	list [][]wayBack // by post
	// togo holds the costs to go by stretch of the layer and post.
	togo []int32
	// dearest is, by group and place on the grid, no less than any of the
	// group's costs to go, so that one look at it tells most often that nothing
	// is gained; it is 0 where no couple can be.
	dearest []int32
}

// wayBack is a figure that leads to a post of a stretch, from a stretch so far off on
// the grid and any post of a group. The group's place in dearest is in the
// offset.
type wayBack struct {
	offset, cost, bars int32
	group, joins       int32
}

// reach lowers the cost to go of a stretch and post.
func (w *wave) reach(at int, cost int32) {
	if cost < w.bound.togo[at] {
		w.bound.togo[at] = cost
		w.open.push(cost, uint32(at), cost)
	}
}

// enter lays out a layer.
func (w *wave) enter(number int) {
	l := &w.plan.ground.layers[number]
	f := front{layer: l}
	for _, s := range w.shift[l.wall] {
		f.alongRim = max(f.alongRim, int(max(s.alongHigh, -s.alongLow)))
		f.acrossRim = max(f.acrossRim, int(max(s.acrossHigh, -s.acrossLow)))
	}
	f.width = l.bands + 2*f.acrossRim
	f.size = f.width * (l.length + 2*f.alongRim)
	w.front = f
	stretches := w.base[number]
	w.straight.lay(w, 0, w.isOpen[stretches:])
	w.straight.togo = w.bound.togo[stretches*w.bound.posts:][:l.length*l.bands*w.bound.posts]
	w.round.togo = w.round.togo[:0]
	if number > 0 {
		w.round.lay(w, w.plan.kindOf[number-1], w.isCorner[stretches:])
		w.round.togo = fill(w.round.togo, len(w.straight.togo))
	}
}

// lay lists the ways back of a kind of moves, and where they may lead.
func (w *ways) lay(v *wave, kind int, usable []bool) {
	f := &v.front
	w.list = make([][]wayBack, len(v.plan.posts))
	for post, into := range v.into[kind] {
		for _, m := range into {
			s := &v.shift[f.layer.wall][m.edge]
			for along := s.alongLow; along <= s.alongHigh; along++ {
				for across := s.acrossLow; across <= s.acrossHigh; across++ {
					w.list[post] = append(w.list[post], wayBack{
						offset: m.group*int32(f.size) - along*int32(f.width) - across,
						cost:   v.price.edges[m.edge], bars: v.bars[m.edge], group: m.group, joins: m.joins,
					})
				}
			}
		}
	}
	w.dearest = slices.Grow(w.dearest[:0], len(v.groups)*f.size)[:len(v.groups)*f.size]
	clear(w.dearest)
	for stretch, yes := range usable[:f.layer.length*f.layer.bands] {
		if yes {
			for at := f.at(stretch); at < len(w.dearest); at += f.size {
				w.dearest[at] = unreachable
			}
		}
	}
}

// spread settles the costs to go of a layer from those that are known.
func (w *wave) spread(ctx context.Context, number int) error {
	w.enter(number)
	posts := w.bound.posts
	for n := 1; ; n++ {
		cost, at, _, ok := w.open.pop()
		if !ok {
			return nil
		}
		if n%checkEvery == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		if cost > w.bound.togo[at] {
			continue
		}
		stretch, post := int(at)/posts-w.base[number], int(at)%posts
		lane := w.price.lane * int32(w.front.layer.leastLane[stretch])
		from := w.front.at(stretch)
		w.lower(&w.straight, from, post, cost, lane, w.open)
		if number > 0 {
			w.lower(&w.round, from, post, cost, lane, nil)
		}
	}
}

// lower lowers the costs to go from where figures lead to a place on the grid and
// a post from which the cost to go is known; lane is what that place costs each
// bar. An open list gets what was lowered.
func (w *wave) lower(back *ways, at, post int, cost, lane int32, open *openList) {
	f := &w.front
	for i := range back.list[post] {
		m := &back.list[post][i]
		togo := cost + m.cost + lane*m.bars
		from := at + int(m.offset)
		if togo >= back.dearest[from] {
			continue
		}
		g := w.groups[m.group]
		first := f.stretch(from-int(m.group)*f.size)*w.bound.posts + int(g.first)
		costs := back.togo[first:][:g.count]
		joins := w.price.joins[m.joins:][:g.count]
		most := int32(0)
		for i := range costs {
			if c := togo + joins[i]; c < costs[i] {
				costs[i] = c
				if open != nil {
					open.push(c, uint32(w.base[f.layer.number]*w.bound.posts+first+i), c)
				}
			}
			most = max(most, costs[i])
		}
		back.dearest[from] = most
	}
}

// turnBack takes the corner into a layer backward, to the layer before.
func (w *wave) turnBack(layer int) {
	posts := w.bound.posts
	for at, cost := range w.round.togo {
		if cost == unreachable {
			continue
		}
		for _, from := range w.back[w.base[layer]+at/posts] {
			w.reach(int(from)*posts+at%posts, cost)
		}
	}
}

// filled is a table of n costs, none of which is known.
func filled(n int) []int32 { return fill(nil, n) }

// fill makes a table of n costs in the memory of another.
func fill(table []int32, n int) []int32 {
	table = slices.Grow(table[:0], n)[:n]
	for i := range table {
		table[i] = unreachable
	}
	return table
}
