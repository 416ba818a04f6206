// Package graph joins stances and figures: a stance is a vertex, a figure
// danced from one of its entry stances is an edge.
//
// What lives here: what may be danced from a stance and what leads into it,
// which figure may follow which and why another may not, what can be reached,
// where a repertory runs dry, how many sequences there are, and the whole as a
// DOT drawing. What does not: steps and holds (package figures), rooms (floors),
// laps (search). It is not made for the inner loop of a search either, which
// keeps tables of its own.
//
// A first use:
//
//	g := graph.New(figures.BuiltIn().Variants(), -2)
//	s, _ := figures.ParseStance("DW, RF, closed")
//	for _, e := range g.From(s) {
//		fmt.Println(e.Variant.Name(), "leads to", e.To)
//	}
//
// # Corners
//
// A couple that goes round a corner of the room takes the next wall's line of
// dance, and its alignment reads differently from then on: diagonal to centre
// has become diagonal to wall where the walls meet at a right angle. That is no
// figure but an edge of its own kind, a [Corner]. Between two corners at least
// one figure is danced. Where a wall is so short that two corners are taken
// together, give [New] the sum of the two as one more corner.
//
// After a figure that is danced at a corner only ([figures.Variant].Corner) the
// couple takes the corner and nothing else.
//
// # The library underneath
//
// Components and reachability come from github.com/dominikbraun/graph. It keeps
// one edge for a pair of vertices, takes a zero key for "none", and answers in
// random order; so parallel figures are kept together in the edge's data, keys
// are words and never empty, and every answer is sorted here.
package graph

import (
	"cmp"
	"slices"

	braun "github.com/dominikbraun/graph"

	"lapwright/figures"
)

// Edge is one variant of a figure danced from one of its entry stances.
type Edge struct {
	Variant  *figures.Variant
	From, To figures.Stance
}

// Corner is the taking of the next wall's line of dance, which adds Eighths of
// a turn to the couple's heading. To is a stance from which a figure can be
// danced: where none can, no corner is taken.
type Corner struct {
	Eighths  int // −3 to 4; −2 where the walls meet at a right angle
	From, To figures.Stance
}

// Graph is a repertory of figures as a graph of stances. It is made by [New],
// does not change afterwards and may be used by several goroutines at once.
type Graph struct {
	stances []figures.Stance // sorted
	edges   []Edge           // sorted by From, name, To
	corners []int            // eighths, sorted, without 0 and doubles
	from    map[figures.Stance][]Edge
	into    map[figures.Stance][]Edge
	net     braun.Graph[string, place]
}

// place is a vertex of the library's graph: a stance, and what may come next.
type place struct {
	stance figures.Stance
	next   next
}

// next is what a couple in a stance may do next.
type next string

const (
	anything   next = "figure or corner"
	figureOnly next = "figure" // it has just taken a corner
	cornerOnly next = "corner" // it has just danced a figure of a corner
)

// key names a place in the library's graph. It is never empty.
func (p place) key() string { return short(p.stance) + ", then " + string(p.next) }

// after is the place in which a figure leaves the couple.
func after(e Edge) place {
	if e.Variant.Corner {
		return place{e.To, cornerOnly}
	}
	return place{e.To, anything}
}

// New makes the graph of the variants. The corners are the eighths of a turn
// that are added to the couple's heading when the next wall is taken: usually
// −2, and +2 at a re-entrant corner; none for dancing along one wall. A corner
// of a whole number of full turns is none.
//
// A variant given twice counts once. A nil variant, or an entry in which no
// couple stands (no foot free, an unknown hold), is left out; a library that
// has been loaded has neither.
func New(variants []*figures.Variant, corners ...int) *Graph {
	g := &Graph{
		corners: tidyCorners(corners),
		from:    map[figures.Stance][]Edge{},
		into:    map[figures.Stance][]Edge{},
		net:     braun.New(place.key, braun.Directed()),
	}
	known := map[Edge]bool{}
	for _, v := range variants {
		for _, s := range entries(v) {
			e := Edge{v, s, v.Exit(s)}
			if !known[e] && stands(e.To) {
				known[e] = true
				g.edges = append(g.edges, e)
			}
		}
	}
	slices.SortStableFunc(g.edges, compareEdges)
	for _, e := range g.edges {
		g.from[e.From] = append(g.from[e.From], e)
		g.into[e.To] = append(g.into[e.To], e)
		g.stances = append(g.stances, e.From, e.To)
	}
	slices.SortFunc(g.stances, compareStances)
	g.stances = slices.Compact(g.stances)
	g.weave()
	return g
}

// weave fills the library's graph. None of its calls can fail: every vertex is
// added once, and every edge once for a pair of vertices that are there.
func (g *Graph) weave() {
	for _, s := range g.stances {
		for _, n := range []next{anything, figureOnly, cornerOnly} {
			_ = g.net.AddVertex(place{s, n})
		}
	}
	for _, s := range g.stances {
		for to, parallel := range byPlace(g.from[s]) {
			data := braun.EdgeData(parallel)
			_ = g.net.AddEdge(place{s, anything}.key(), to.key(), data)
			_ = g.net.AddEdge(place{s, figureOnly}.key(), to.key(), data)
		}
		for _, c := range g.cornersFrom(s) {
			_ = g.net.AddEdge(place{s, anything}.key(), place{c.To, figureOnly}.key())
			_ = g.net.AddEdge(place{s, cornerOnly}.key(), place{c.To, figureOnly}.key())
		}
	}
}

// byPlace groups edges by the place they lead to.
func byPlace(edges []Edge) map[place][]Edge {
	groups := map[place][]Edge{}
	for _, e := range edges {
		groups[after(e)] = append(groups[after(e)], e)
	}
	return groups
}

// Stances lists the stances in which a figure begins or ends, by alignment (in
// eighths to the left from the line of dance), free foot and hold.
func (g *Graph) Stances() []figures.Stance { return slices.Clone(g.stances) }

// Edges lists every figure from every stance in which it may begin, by that
// stance and then by name. Of two stances it lists all figures between them.
func (g *Graph) Edges() []Edge { return slices.Clone(g.edges) }

// From lists what may be danced from a stance along the same wall, by name; of
// these a figure of a corner only where the next wall is taken after it.
func (g *Graph) From(s figures.Stance) []Edge { return slices.Clone(g.from[tidy(s)]) }

// Into lists what leads to a stance along the same wall, by the stance in which
// it begins and then by name.
func (g *Graph) Into(s figures.Stance) []Edge { return slices.Clone(g.into[tidy(s)]) }

// Between lists all figures that lead from one stance to another along the same
// wall, by name.
func (g *Graph) Between(from, to figures.Stance) []Edge {
	var all []Edge
	for _, n := range []next{anything, cornerOnly} {
		all = append(all, g.parallel(place{tidy(from), anything}, place{tidy(to), n})...)
	}
	slices.SortStableFunc(all, compareEdges)
	return all
}

// parallel returns the figures that the library's edge between two places holds.
func (g *Graph) parallel(from, to place) []Edge {
	e, err := g.net.Edge(from.key(), to.key())
	if err != nil {
		return nil // the library's way of saying that there is none
	}
	figures, _ := e.Properties.Data.([]Edge)
	return figures
}

// Corners lists where a corner may be taken: from every stance to the one that
// it reads as along the next wall, if a figure can be danced from that.
func (g *Graph) Corners() []Corner {
	var all []Corner
	for _, s := range g.stances {
		all = append(all, g.cornersFrom(s)...)
	}
	return all
}

func (g *Graph) cornersFrom(s figures.Stance) []Corner {
	var all []Corner
	for _, n := range g.corners {
		if to := s.Turned(n); len(g.from[to]) > 0 {
			all = append(all, Corner{n, s, to})
		}
	}
	return all
}

// entries lists the stances from which a variant can be danced, each once.
func entries(v *figures.Variant) []figures.Stance {
	if v == nil {
		return nil
	}
	var all []figures.Stance
	for _, s := range v.Entries {
		if s = tidy(s); stands(s) && !slices.Contains(all, s) {
			all = append(all, s)
		}
	}
	return all
}

// tidy returns the stance with its heading between 0 and 7.
func tidy(s figures.Stance) figures.Stance { return s.Turned(0) }

// stands reports whether a couple can stand so at all: one of the leader's feet
// is free, and the hold is one of the trade.
func stands(s figures.Stance) bool {
	return (s.Free == figures.LeftFoot || s.Free == figures.RightFoot) &&
		s.Hold >= 0 && int(s.Hold) < figures.Holds
}

// short is the stance as tables write it, for any stance whatever.
func short(s figures.Stance) string {
	if !stands(s) {
		return "no stance"
	}
	return s.Short()
}

// name is the variant's name, for any variant whatever.
func name(v *figures.Variant) string {
	switch {
	case v == nil:
		return ""
	case v.Figure == nil:
		return v.Label
	}
	return v.Name()
}

// tidyCorners brings each corner within half a turn, and leaves out doubles and
// those that are none.
func tidyCorners(corners []int) []int {
	var all []int
	for _, n := range corners {
		n %= figures.Headings
		switch {
		case n > figures.Headings/2:
			n -= figures.Headings
		case n <= -figures.Headings/2:
			n += figures.Headings
		}
		if n != 0 {
			all = append(all, n)
		}
	}
	slices.Sort(all)
	return slices.Compact(all)
}

func compareStances(a, b figures.Stance) int {
	return cmp.Or(cmp.Compare(a.Facing, b.Facing), cmp.Compare(a.Free, b.Free), cmp.Compare(a.Hold, b.Hold))
}

func compareEdges(a, b Edge) int {
	return cmp.Or(compareStances(a.From, b.From), cmp.Compare(name(a.Variant), name(b.Variant)), compareStances(a.To, b.To))
}
