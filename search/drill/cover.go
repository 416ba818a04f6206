package drill

import (
	"cmp"
	"context"
	"math"
	"math/rand/v2"
	"slices"

	"lapwright/figures"
	"lapwright/graph"
	"lapwright/search/postman"
	"lapwright/search/routine"
)

// Item is what a routine is to have in it at least once: a figure, or a join of two
// figures, each in any way of dancing it.
type Item struct {
	Before *figures.Figure // nil for a figure
	Figure *figures.Figure
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
	// are known, but not where the drill is danced and so that it can be gone on with.
	Apart []Item
	// Left can be danced there, but no way was found to them any more.
	Left []Item
}

// Proven reports whether no routine with as much in it can be shorter.
func (c *Cover) Proven() bool { return len(c.Left) == 0 && c.Bars == c.Bound }

// effort is how many states are looked at for a better routine.
const effort = 400_000

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
	best, err := c.from(ctx, nil, random)
	if err != nil {
		return nil, err
	}
	for c.looked < effort && (best.left > 0 || best.bars > c.bound) && len(best.legs) > 0 {
		keep := best.legs[:random.IntN(len(best.legs))]
		next, err := c.from(ctx, keep, random)
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

const coverStream = 0xc073

// covering is what there is to cover, and how far it is.
type covering struct {
	ground  ground
	start   routine.Start
	joins   bool
	figures []*figures.Figure
	number  map[*figures.Figure]int32
	items   map[Item]int // what can be danced, by its number
	list    []Item
	apart   []Item
	bound   int
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
	c := &covering{ground: s.ground, start: s.problem.Start, joins: joins, number: map[*figures.Figure]int32{}, items: map[Item]int{}, nodes: map[node]int{}}
	for _, v := range s.problem.Room.Variants {
		if _, known := c.number[v.Figure]; !known {
			c.number[v.Figure] = int32(len(c.figures))
			c.figures = append(c.figures, v.Figure)
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
	begin := int32(len(c.figures))
	err := c.ground.joins(ctx, func(before, after *figures.Variant) {
		pair := [2]int32{begin, c.number[after.Figure]}
		if before != nil {
			pair[0] = c.number[before.Figure]
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
	for _, p := range pairs {
		if p[0] != begin || !joins {
			var before *figures.Figure
			if joins {
				before = c.figures[p[0]]
			}
			c.add(Item{before, c.figures[p[1]]})
		}
	}
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
	n := len(c.figures)
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
			arcs = append(arcs, postman.Arc{From: n + 1 + f, To: f, Cost: b, Needed: true})
		}
	}
	c.bound, _ = postman.Bound(2*n+1, n, arcs)
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
		f := c.number[e.Variant.Figure]
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
		n := node{e.To, c.number[e.Variant.Figure]}
		for i, stance := range append([]figures.Stance{e.To}, turns[e.To]...) {
			if i == 0 && e.Variant.Corner {
				continue
			}
			for _, next := range g.From(stance) {
				if !seen[step{n, next}] {
					seen[step{n, next}] = true
					leads(n, next)
				}
				item := c.item(n.figure, c.number[next.Variant.Figure])
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
		for _, f := range c.figures {
			if _, danced := c.items[Item{nil, f}]; !danced {
				c.apart = append(c.apart, Item{nil, f})
			}
		}
	}
}

// item is what dancing one figure after another would cover.
func (c *covering) item(before, after int32) Item {
	switch {
	case !c.joins:
		return Item{nil, c.figures[after]}
	case before < 0:
		return Item{}
	}
	return Item{c.figures[before], c.figures[after]}
}

// far is, by node, how many bars there are at least to the end of the nearest item that
// is still to be danced; far too many where there is none.
func (c *covering) far(done []bool) []int {
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
		if a.item >= 0 && !done[a.item] {
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
