package drill

import (
	"cmp"
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"lapwright/figures"
	"lapwright/graph"
	"lapwright/search/postman"
	"lapwright/search/routine"
)

// Part is a figure in any way of dancing it, or a part of one, such as its steps 1 to 3,
// in any way.
type Part struct {
	Figure *figures.Figure
	Steps  string // as its label has them, such as "1-3"; empty for the whole figure
}

// partOf is the part that a way of dancing dances.
func partOf(v *figures.Variant) Part {
	steps, _, _ := strings.Cut(v.Label, ",")
	if steps, _, _ = strings.Cut(steps, " "); steps == "" || strings.Trim(steps, "0123456789-") != "" {
		return Part{Figure: v.Figure}
	}
	return Part{v.Figure, steps}
}

// Name is the part as variants are named: "Natural Turn (1-3)".
func (p Part) Name() string { return (&figures.Variant{Figure: p.Figure, Label: p.Steps}).Name() }

// Item is what a routine is to have in it at least once: a figure, or a join of two.
type Item struct {
	Before Part // none for a figure
	Figure Part
}

// Name is the item in words: a figure, or two with > between.
func (i Item) Name() string {
	if i.Before.Figure == nil {
		return i.Figure.Name()
	}
	return i.Before.Name() + " > " + i.Figure.Name()
}

// Cover is a short routine that has each figure or each join in it.
type Cover struct {
	Start routine.Start
	Steps []routine.Step
	Bars  int
	// Bound is a number of bars that no routine with all these in it can be shorter than.
	Bound int
	// Covered are in the routine, in the order in which they first come.
	Covered []Item
	// Apart can be danced one after the other by their stances and feet, in figures that
	// are known, but not where the drill is danced and so that it can be gone on with. By
	// name.
	Apart []Item
	// Left can be danced there, but no way was found to them any more. By name.
	Left []Item
}

// Proven reports whether no routine with as much in it can be shorter.
func (c *Cover) Proven() bool { return len(c.Left) == 0 && c.Bars == c.Bound }

// effort is how many states are looked at for a better routine.
const effort = 300_000

// Cover looks for the shortest routine that has every join in it that can be danced there
// at least once, or every figure. From where the couple is it goes on to what is nearest
// of what is still to be danced (A*, guided by how far that is for the stances alone); of
// what is as near it takes what leaves most to be danced from where it ends, and chance
// decides the rest. Again and again a part of the best routine is kept and the rest made
// anew. The bound is that of a postman to whom the floor is no matter. The error is that
// of ctx, with which nothing is found.
func (s *Source) Cover(ctx context.Context, joins bool, seed uint64) (*Cover, error) {
	c, err := newCovering(ctx, s, joins)
	if err != nil {
		return nil, err
	}
	random := rand.New(rand.NewPCG(seed, coverStream))
	best, err := c.from(ctx, false, nil, random)
	if err != nil {
		return nil, err
	}
	for c.looked < effort && (best.left > 0 || best.bars > c.bound) && len(best.legs) > 1 {
		keep := best.legs[:random.IntN(len(best.legs))]
		if c.hurry(best) {
			keep = nil
		}
		next, err := c.from(ctx, true, keep, random)
		if err != nil {
			return nil, err
		}
		// As good is taken too: it may lead on.
		if next.left < best.left || next.left == best.left && next.bars <= best.bars {
			best = next
		}
		c.looked++
	}
	return c.answer(best), nil
}

// hurry puts what a routine has left out before everything else, for no way may lead back
// to it; it reports whether that is new.
func (c *covering) hurry(r *covered) (news bool) {
	if r.left == 0 {
		return false
	}
	done := make([]bool, len(c.list))
	for _, l := range r.legs {
		for _, i := range l.items {
			done[i] = true
		}
	}
	for i := range done {
		if !done[i] && c.level[i] > atOnce {
			news, c.level[i] = true, atOnce
		}
	}
	return news
}

// atOnce is the level of what is danced before everything else.
const atOnce = math.MinInt

const coverStream = 0xc073

// covering is what there is to cover, and how far it is.
type covering struct {
	ground ground
	start  routine.Start
	joins  bool
	parts  []Part
	number map[Part]int32
	items  map[Item]int // what can be danced, by its number
	list   []Item
	apart  []Item
	level  []int // by item: those of a lower one are danced first
	reach  []int // by vertex of an endless wall: how many can be reached; nil in a room
	bound  int
	// The stances alone: a node is a stance after a figure.
	nodes  map[node]int
	arcs   []link // by what they lead to
	into   [][]int
	looked int
}

// node is a stance after a figure; −1 for none.
type node struct {
	stance figures.Stance
	figure int32
}

// link is a figure danced from a node.
type link struct {
	from, to int
	bars     int
	item     int // −1: none
}

func newCovering(ctx context.Context, s *Source, joins bool) (*covering, error) {
	c := &covering{ground: s.ground, start: s.problem.Start, joins: joins, number: map[Part]int32{}, items: map[Item]int{}, nodes: map[node]int{}}
	for _, v := range s.problem.Room.Variants {
		if _, known := c.number[partOf(v)]; !known {
			c.number[partOf(v)] = int32(len(c.parts))
			c.parts = append(c.parts, partOf(v))
		}
	}
	var corners []int
	if r := s.problem.Room.Room; r != nil {
		for _, w := range r.Walls {
			corners = append(corners, w.Eighths)
		}
	}
	// The postman's vertices: each figure, and the beginning.
	least := map[[2]int32]int{}
	begin := int32(len(c.parts))
	err := c.ground.joins(ctx, func(before, after *figures.Variant) {
		pair := [2]int32{begin, c.number[partOf(after)]}
		if before != nil {
			pair[0] = c.number[partOf(before)]
		}
		if bars, known := least[pair]; !known || after.Bars() < bars {
			least[pair] = after.Bars()
		}
	})
	if err != nil {
		return nil, err
	}
	pairs := make([][2]int32, 0, len(least))
	for p := range least {
		pairs = append(pairs, p)
	}
	slices.SortFunc(pairs, func(a, b [2]int32) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
	whole := map[*figures.Figure]bool{} // danced from beginning to end
	for _, p := range pairs {
		if part := c.parts[p[1]]; part.Steps == "" {
			whole[part.Figure] = true
		}
	}
	for _, p := range pairs {
		part := c.parts[p[1]]
		switch {
		case joins && p[0] != begin:
			c.add(Item{c.parts[p[0]], part})
		case !joins && (part.Steps == "" || !whole[part.Figure]):
			c.add(Item{Figure: part})
		}
	}
	c.level = make([]int, len(c.list))
	c.findLevels()
	c.findBound(pairs, least)
	c.layOut(s, graph.New(s.problem.Room.Variants, corners...))
	return c, nil
}

// add gives an item a number unless it has one.
func (c *covering) add(i Item) {
	if _, known := c.items[i]; !known {
		c.items[i] = len(c.list)
		c.list = append(c.list, i)
	}
}

// findBound asks the postman. Where figures are to be danced each is an arc of its own,
// from its beginning to its end.
func (c *covering) findBound(pairs [][2]int32, least map[[2]int32]int) {
	n := len(c.parts)
	var arcs []postman.Arc
	if c.joins {
		for _, p := range pairs {
			arcs = append(arcs, postman.Arc{From: int(p[0]), To: int(p[1]), Cost: least[p], Needed: int(p[0]) < n})
		}
		c.bound, _ = postman.Bound(n+1, n, arcs)
		return
	}
	bars := make([]int, n) // 0: never danced
	for _, p := range pairs {
		arcs = append(arcs, postman.Arc{From: int(p[0]), To: n + 1 + int(p[1])})
		if f := p[1]; bars[f] == 0 || least[p] < bars[f] {
			bars[f] = least[p]
		}
	}
	for f, b := range bars {
		if b > 0 {
			_, needed := c.items[Item{Figure: c.parts[f]}]
			arcs = append(arcs, postman.Arc{From: n + 1 + f, To: f, Cost: b, Needed: needed})
		}
	}
	c.bound, _ = postman.Bound(2*n+1, n, arcs)
}

// findLevels puts first, along an endless wall, what can be danced only where more can be
// reached than from where the rest can be danced, since no way may lead back to it; last
// of that comes what leads to where less can be reached. In a room nearly all can be
// reached from all.
func (c *covering) findLevels() {
	w, ok := c.ground.(*wall)
	if !ok {
		return
	}
	c.reach = make([]int, len(w.moves))
	for v := range w.moves {
		c.reach[v] = len(w.from(uint32(v)))
	}
	for i := range c.level {
		c.level[i] = atOnce + 1
	}
	for v, moves := range w.moves {
		if uint32(v) == w.begin() && c.joins {
			continue
		}
		for _, m := range moves {
			before := int32(-1)
			if uint32(v) != w.begin() {
				before = c.number[partOf(w.edges[v].Variant)]
			}
			level := -2 * c.reach[v]
			if c.reach[m.to] < c.reach[v] {
				level++
			}
			if i, is := c.items[c.item(before, c.number[partOf(m.variant)])]; is {
				c.level[i] = max(c.level[i], level)
			}
		}
	}
}

// leaves reports whether a vertex is one from which not all items of a level can be
// reached any more that could be before.
func (c *covering) leaves(to uint32, level int) bool {
	return c.reach != nil && level > atOnce && level%2 == 0 && c.reach[to] < -level/2
}

// layOut makes the graph of the stances alone, and finds what cannot be danced there.
func (c *covering) layOut(s *Source, g *graph.Graph) {
	usual := s.problem.Room.Couple.WithStride(figures.UsualStride)
	apart := map[Item]bool{}
	at := func(n node) int {
		i, known := c.nodes[n]
		if !known {
			i = len(c.nodes)
			c.nodes[n] = i
			c.into = append(c.into, nil)
		}
		return i
	}
	leads := func(from node, e graph.Edge) {
		item := -1
		f := c.number[partOf(e.Variant)]
		if i, known := c.items[c.item(from.figure, f)]; known {
			item = i
		}
		a, b := at(from), at(node{e.To, f})
		c.into[b] = append(c.into[b], len(c.arcs))
		c.arcs = append(c.arcs, link{a, b, e.Variant.Bars(), item})
	}
	turns := map[figures.Stance][]figures.Stance{}
	for _, corner := range g.Corners() {
		turns[corner.From] = append(turns[corner.From], corner.To)
	}
	start := s.problem.Start.Stance.Turned(0)
	type step struct {
		from node
		e    graph.Edge
	}
	seen := map[step]bool{}
	for _, e := range g.Edges() {
		n := node{e.To, c.number[partOf(e.Variant)]}
		for i, stance := range append([]figures.Stance{e.To}, turns[e.To]...) {
			if i == 0 && e.Variant.Corner {
				continue
			}
			for _, next := range g.From(stance) {
				if !seen[step{n, next}] {
					seen[step{n, next}] = true
					leads(n, next)
				}
				item := c.item(n.figure, c.number[partOf(next.Variant)])
				if _, danced := c.items[item]; !danced && !apart[item] && !refused(e.Variant, next.Variant, usual) {
					apart[item] = true
					c.apart = append(c.apart, item)
				}
			}
		}
	}
	for _, stance := range append([]figures.Stance{start}, turns[start]...) {
		for _, e := range g.From(stance) {
			leads(node{start, -1}, e)
		}
	}
	if !c.joins {
		c.apart = nil
		danced := map[*figures.Figure]bool{}
		for _, i := range c.list {
			danced[i.Figure.Figure] = danced[i.Figure.Figure] || i.Figure.Steps == ""
		}
		for _, p := range c.parts {
			if _, item := c.items[Item{Figure: p}]; !item && !danced[p.Figure] {
				c.apart = append(c.apart, Item{Figure: p})
			}
		}
	}
}

// item is what dancing one figure after another would cover.
func (c *covering) item(before, after int32) Item {
	switch {
	case !c.joins:
		return Item{Figure: c.parts[after]}
	case before < 0:
		return Item{}
	}
	return Item{c.parts[before], c.parts[after]}
}

// far is, by node, how many bars there are at least to the end of the nearest of some
// items; far too many where there is none.
func (c *covering) far(targets []bool) []int {
	const never = math.MaxInt32
	far := make([]int, len(c.nodes))
	for i := range far {
		far[i] = never
	}
	var open [][]int
	reach := func(n, bars int) {
		if bars >= far[n] {
			return
		}
		far[n] = bars
		for len(open) <= bars {
			open = append(open, nil)
		}
		open[bars] = append(open[bars], n)
	}
	for _, a := range c.arcs {
		if a.item >= 0 && targets[a.item] {
			reach(a.from, a.bars)
		}
	}
	for bars := 0; bars < len(open); bars++ {
		for k := 0; k < len(open[bars]); k++ {
			n := open[bars][k]
			if far[n] != bars {
				continue
			}
			for _, i := range c.into[n] {
				reach(c.arcs[i].from, bars+c.arcs[i].bars)
			}
		}
	}
	return far
}
