package search

import (
	"cmp"
	"context"
	"maps"
	"math/bits"
	"slices"

	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search/routine"
)

// atPost is a post of a layer, with the marks of what was danced.
type atPost struct {
	layer int
	post  int32
	marks int
}

// Tally counts the laps from one state, bar by bar.
type Tally struct {
	// Shortest is how many bars the shortest lap takes; 0 where there is none of at most
	// the bars that were looked at.
	Shortest int
	// Laps is how many there are; Over that they are too many for the number.
	Laps uint64
	Over bool
}

// Shortest is how many bars the shortest lap takes that begins in a state, up to most;
// 0: there is none. It is found bar by bar (breadth-first search).
func (r *Reach) Shortest(ctx context.Context, home State, most int, asked Asked) (int, error) {
	f, err := r.forward(ctx, home, most, asked, true)
	if err != nil {
		return 0, err
	}
	return f.shortest, nil
}

// Laps counts the laps of at most so many bars that begin in a state: the different
// chains of figures, each at the share of the stride at which it is danced, with the
// places where the corners are taken. Only places in which a lap can still be closed in
// time are counted through.
func (r *Reach) Laps(ctx context.Context, home State, most int, asked Asked) (Tally, error) {
	f, err := r.forward(ctx, home, most, asked, false)
	if err != nil || f.shortest == 0 {
		return Tally{}, err
	}
	f.backward()
	t := Tally{Shortest: f.shortest}
	err = f.count(ctx, home, &t)
	return t, err
}

// Path is one of the laps of the fewest bars that begin in a state, of at most so many
// bars; nil where there is none. Of several it takes, from its end backward, the figure
// that it has danced least, not the one just taken, rather in the usual way and at the
// usual stride.
func (r *Reach) Path(ctx context.Context, home State, most int, asked Asked) (*Path, error) {
	w, err := r.forward(ctx, home, most, asked, true)
	if err != nil || w.shortest == 0 {
		return nil, err
	}
	return w.path(home), nil
}

// Path is a lap, figure by figure.
type Path struct {
	Start routine.Start
	Steps []routine.Step
	Bars  int
}

// path goes back from where the lap closes to its beginning.
func (w *byBars) path(home State) *Path {
	pl := w.states.plan
	columns := 64 * w.words
	p := &Path{Start: w.states.Standing(home).Start(), Bars: w.shortest}
	at, s := -1, w.last()
	for i, word := range w.at[w.shortest][s] {
		if word &= w.near[i]; word != 0 {
			at = 64*i + bits.TrailingZeros64(word)
			break
		}
	}
	danced := map[*figures.Figure]int{}
	var just *figures.Figure
	for done := w.shortest; done > 0; {
		type way struct {
			edge, turns, at, bars int
			from                  atPost
			price                 int
		}
		var best *way
		for before := done - 1; before >= 0; before-- {
			for _, from := range sortedPosts(w.at[before]) {
				w.each(from, func(edge, turns int, to atPost, shift floors.Cell, length int) {
					if to != s || before+length != done {
						return
					}
					there := at - shift.Y*columns - shift.X
					if there < 0 || there/64 >= len(w.near) {
						return
					}
					bit := uint64(1) << (there % 64)
					if w.at[before][from][there/64]&w.from(from.layer%w.states.walls, turns, edge)[there/64]&bit == 0 {
						return
					}
					e := &pl.edges[edge]
					f := e.variant.Figure
					price := 4 * danced[f]
					if f == just {
						price += 6
					}
					if pl.problem.Scales[e.scale].Share != 1 {
						price += 3
					}
					if e.variant != f.Variants[0] {
						price += 2
					}
					if best == nil || price < best.price {
						best = &way{edge, turns, there, length, from, price}
					}
				})
			}
		}
		e := &pl.edges[best.edge]
		step := routine.Step{Variant: e.variant, Scale: pl.problem.Scales[e.scale].Share, Corner: routine.Stay}
		if best.turns == 1 {
			step.Corner = routine.Take
		}
		p.Steps = append(p.Steps, step)
		just = e.variant.Figure
		danced[just]++
		at, s, done = best.at, best.from, done-best.bars
	}
	slices.Reverse(p.Steps)
	return p
}

// sortedPosts are the posts of a map in a fixed order.
func sortedPosts(at map[atPost]grid) []atPost {
	return slices.SortedFunc(maps.Keys(at), func(a, b atPost) int {
		return cmp.Or(cmp.Compare(a.layer, b.layer), cmp.Compare(a.post, b.post), cmp.Compare(a.marks, b.marks))
	})
}

// byBars is where a couple can be after so many bars.
type byBars struct {
	*Reach
	asked    Asked
	home     int32
	near     grid
	at       []map[atPost]grid // by bars
	shortest int
}

// forward finds where the couple can be after each number of bars, until it can close a
// lap or all along.
func (r *Reach) forward(ctx context.Context, home State, most int, asked Asked, first bool) (*byBars, error) {
	layer, place, post := r.states.unpack(home)
	w := &byBars{Reach: r, asked: asked, home: post, near: r.newGrid()}
	if layer != 0 {
		return w, nil
	}
	cell := r.states.plan.ground.layers[0].cell(place)
	r.addNear(w.near, cell)
	start := r.newGrid()
	word, bit := r.bit(cell)
	start[word] = bit
	w.at = []map[atPost]grid{{atPost{post: post}: start}}
	seen := map[atPost]grid{} // only where the first lap is wanted
	last := w.last()
	for bars := 0; bars < len(w.at) && bars <= most; bars++ {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if g := w.at[bars][last]; w.shortest == 0 && g != nil && meets(g, w.near) {
			if w.shortest = bars; first {
				return w, nil
			}
		}
		for s, from := range w.at[bars] {
			if first {
				if old := seen[s]; old == nil {
					seen[s] = append(grid(nil), from...)
				} else if !add(old, from) {
					continue
				}
			}
			w.each(s, func(edge, turns int, to atPost, shift floors.Cell, length int) {
				if bars+length > most {
					return
				}
				for len(w.at) <= bars+length {
					w.at = append(w.at, map[atPost]grid{})
				}
				into := w.at[bars+length][to]
				if into == nil {
					into = r.newGrid()
				}
				if r.carry(&r.layers[s.layer], from, r.from(s.layer%r.states.walls, turns, edge), into, shift) {
					w.at[bars+length][to] = into
				}
			})
		}
	}
	return w, nil
}

// last is where a lap closes.
func (w *byBars) last() atPost { return atPost{len(w.layers) - 1, w.home, w.asked.Marks} }

// each visits the edges that may be danced from a post.
func (w *byBars) each(s atPost, visit func(edge, turns int, to atPost, shift floors.Cell, bars int)) {
	pl := w.states.plan
	for turns := range 2 {
		kind, to := 0, s.layer
		if turns == 1 {
			kind, to = pl.kindOf[s.layer%w.states.walls], s.layer+1
			if to == len(w.layers) {
				return
			}
		}
		for _, m := range pl.moves[kind][s.post] {
			e := &pl.edges[m.edge]
			marks := s.marks
			if w.asked.Marks > 0 {
				marks |= w.asked.Mark(int(m.edge)) & w.asked.Marks
			}
			if w.asked.Allowed(int(m.edge)) && !(w.asked.Usual && pl.problem.Scales[e.scale].Share != 1) {
				visit(int(m.edge), turns, atPost{to, m.to, marks}, e.shapes[pl.ground.layers[to].wall].shift, int(e.bars))
			}
		}
	}
}

// backward leaves only the places from which a lap can be closed in time.
func (w *byBars) backward() {
	last := w.last()
	for bars := len(w.at) - 1; bars >= 0; bars-- {
		for s, here := range w.at[bars] {
			keep := w.newGrid()
			if s == last {
				for i := range keep {
					keep[i] = here[i] & w.near[i]
				}
			}
			box := &w.layers[s.layer]
			w.each(s, func(edge, turns int, to atPost, shift floors.Cell, length int) {
				if bars+length >= len(w.at) {
					return
				}
				next := w.at[bars+length][to]
				if next == nil {
					return
				}
				from := append(grid(nil), w.from(s.layer%w.states.walls, turns, edge)...)
				w.within(box, from, next, shift.X, shift.Y)
				for i, word := range from {
					keep[i] |= word & here[i]
				}
			})
			if meets(keep, keep) {
				w.at[bars][s] = keep
			} else {
				delete(w.at[bars], s)
			}
		}
	}
}

// count counts the ways along the places that are left.
func (w *byBars) count(ctx context.Context, home State, t *Tally) error {
	last := w.last()
	ways := make([]map[atPost]map[int]uint64, len(w.at)) // by bars, post and bit
	_, place, _ := w.states.unpack(home)
	cell := w.states.plan.ground.layers[0].cell(place)
	columns := 64 * w.words
	number := func(c floors.Cell) int {
		o := w.states.plan.ground.origin
		return (c.Y-o.Y)*columns + c.X - o.X
	}
	for i := range ways {
		ways[i] = map[atPost]map[int]uint64{}
	}
	ways[0][atPost{post: w.home}] = map[int]uint64{number(cell): 1}
	plus := func(a *uint64, b uint64) {
		sum, carry := bits.Add64(*a, b, 0)
		*a, t.Over = sum, t.Over || carry > 0
	}
	for bars := range ways {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		for s, counts := range ways[bars] {
			if s == last {
				for at, n := range counts {
					if w.near[at/64]&(1<<(at%64)) != 0 {
						plus(&t.Laps, n)
					}
				}
			}
			w.each(s, func(edge, turns int, to atPost, shift floors.Cell, length int) {
				if bars+length >= len(w.at) || w.at[bars+length][to] == nil {
					return
				}
				fits, next := w.from(s.layer%w.states.walls, turns, edge), w.at[bars+length][to]
				into := ways[bars+length][to]
				by := shift.Y*columns + shift.X
				for at, n := range counts {
					if there := at + by; fits[at/64]&(1<<(at%64)) != 0 && next[there/64]&(1<<(there%64)) != 0 {
						if into == nil {
							into = map[int]uint64{}
							ways[bars+length][to] = into
						}
						sum := into[there]
						plus(&sum, n)
						into[there] = sum
					}
				}
			})
		}
		ways[bars] = nil
	}
	return nil
}

// carry adds to a grid where an edge leads from some places, and reports whether there
// are any.
func (r *Reach) carry(box *strip, from, fits, into grid, shift floors.Cell) (any bool) {
	by, low := floorDiv(shift.X, 64)
	for row := box.firstRow; row < box.endRow; row++ {
		for w := box.firstWord; w < box.endWord; w++ {
			word := from[row*r.words+w] & fits[row*r.words+w]
			if word == 0 {
				continue
			}
			any = true
			i := (row+shift.Y)*r.words + w + by
			if part := word << low; part != 0 {
				into[i] |= part
			}
			if part := word >> (64 - low); part != 0 {
				into[i+1] |= part
			}
		}
	}
	return any
}

// addNear adds the places near enough to a cell for a lap to close.
func (r *Reach) addNear(near grid, cell floors.Cell) {
	l := &r.states.plan.ground.layers[0]
	for y := -toleranceCells; y <= toleranceCells; y++ {
		for x := -toleranceCells; x <= toleranceCells; x++ {
			c := cell.Add(floors.Cell{X: x, Y: y})
			if _, ok := r.states.plan.gap(c, cell); ok && l.holds(c) && l.usable[l.place(c)] != 0 {
				word, bit := r.bit(c)
				near[word] |= bit
			}
		}
	}
}

// meets reports whether two grids have a place in common.
func meets(a, b grid) bool {
	for i, word := range a {
		if word&b[i] != 0 {
			return true
		}
	}
	return false
}

// add adds places to a grid, takes those away from them that it had, and reports whether
// any were new.
func add(to, places grid) (any bool) {
	for i, word := range places {
		places[i] = word &^ to[i]
		any = any || places[i] != 0
		to[i] |= word
	}
	return any
}

// Endless counts the states in which the couple can be after one of some figures, and
// those of them from which dancing can go on for ever with others.
func (r *Reach) Endless(ctx context.Context, ends, allowed func(edge int) bool) (all, endless int, err error) {
	pl, walls := r.states.plan, r.states.walls
	posts := int(r.states.posts)
	alive := make([]grid, walls*posts)
	ended := make([]bool, posts)
	for edge, post := range pl.leads {
		ended[post] = ended[post] || ends(edge)
		if alive[post] == nil && allowed(edge) {
			for w := range walls {
				alive[w*posts+int(post)] = append(grid(nil), r.layers[w].usable...)
			}
		}
	}
	for changed := true; changed; {
		changed = false
		for i, here := range alive {
			if here == nil {
				continue
			}
			if ctx.Err() != nil {
				return 0, 0, ctx.Err()
			}
			wall, post := i/posts, int32(i%posts)
			w := &byBars{Reach: r, asked: Asked{Allowed: allowed}}
			keep := r.newGrid()
			w.each(atPost{layer: wall, post: post}, func(edge, turns int, to atPost, shift floors.Cell, _ int) {
				next := alive[to.layer%walls*posts+int(to.post)]
				if next == nil {
					return
				}
				from := append(grid(nil), r.from(wall, turns, edge)...)
				r.within(&r.layers[wall], from, next, shift.X, shift.Y)
				for k, word := range from {
					keep[k] |= word
				}
			})
			for k := range here {
				if now := here[k] & keep[k]; now != here[k] {
					here[k], changed = now, true
				}
			}
		}
	}
	for i, here := range alive {
		if !ended[i%posts] {
			continue
		}
		where := r.layers[i/posts].usable
		if pl.posts[i%posts].corner {
			where = r.layers[i/posts].inCorner
		}
		for k, word := range where {
			all += bits.OnesCount64(word)
			if here != nil {
				endless += bits.OnesCount64(here[k] & word)
			}
		}
	}
	return all, endless, nil
}
