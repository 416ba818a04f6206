//go:build compare

package search

import (
	"errors"
	"math"
	"runtime"
	"time"

	"lapwright/search/compare"

	"gonum.org/v1/gonum/graph"
	"gonum.org/v1/gonum/graph/path"
	"gonum.org/v1/gonum/graph/simple"
)

// fanned is a graph that is made as it is walked.
type fanned interface{ leaving(id int64) []arc }

// walk shows a graph to gonum, and gives up when its time is over, as gonum's searches
// cannot be stopped.
type walk struct {
	fanned
	until time.Time
	looks int
	next  int // place of the arc after the one that was last asked for
}

var errOver = errors.New("the time is over")

func (g *walk) From(id int64) graph.Nodes {
	if g.looks++; g.looks%256 == 0 && time.Now().After(g.until) {
		panic(errOver)
	}
	g.next = 0
	return nodesOf(g.leaving(id))
}

func (g *walk) Edge(u, v int64) graph.Edge { return edgeOf(g, u, v) }

// Weight looks from the arc on that was last asked for, as gonum asks for them in turn.
func (g *walk) Weight(u, v int64) (float64, bool) {
	arcs := g.leaving(u)
	for range arcs {
		if g.next >= len(arcs) {
			g.next = 0
		}
		a := arcs[g.next]
		if g.next++; a.to == v {
			return a.cost, true
		}
	}
	return math.Inf(1), false
}

// bound is what it costs at least to go on from a node.
type bound func(id int64) float64

// byGonum is what gonum's A* with a bound, or its Dijkstra's algorithm where there is
// none, finds from one node to another, and how long it takes on one thread; the cost is
// infinite where there is no way. Only its search is timed, which makes the graph on its way.
func byGonum(g fanned, from, to int64, togo bound, most time.Duration) (cost float64, took compare.Time) {
	defer alone()()
	started := time.Now()
	within := &walk{fanned: g, until: started.Add(most)}
	defer func() {
		if r := recover(); r == errOver {
			cost, took = math.NaN(), compare.Time{Took: most, Over: true}
		} else if r != nil {
			panic(r)
		}
	}()
	if togo != nil {
		ahead := func(u, _ graph.Node) float64 { return togo(u.ID()) }
		shortest, _ := path.AStar(simple.Node(from), simple.Node(to), within, ahead)
		cost = shortest.WeightTo(to)
	} else {
		_, cost = path.DijkstraFromTo(simple.Node(from), simple.Node(to), within)
	}
	return cost, compare.Time{Took: time.Since(started)}
}

// alone makes what is timed run on one thread, with no garbage of what was before, until
// what it returns is called.
func alone() (back func()) {
	threads := runtime.GOMAXPROCS(1)
	runtime.GC()
	return func() { runtime.GOMAXPROCS(threads) }
}

// wholeGraph is the whole problem without limits for gonum, from all starts at once: a
// node before them all, the places and stances once for each start, as a lap ends where
// it began, and the lap that is closed. It is made as it is walked.
type wholeGraph struct {
	starts []*plainGraph
	span   int64 // nodes of each start
	// The arcs that leave the last node that was looked at.
	from int64
	arcs []arc
}

// outset is the node before all starts.
const outset = closed + 1

func newWholeGraph(pl *plan, starts []target) *wholeGraph {
	g := &wholeGraph{span: int64(pl.ground.states) * int64(len(pl.posts)), from: -1}
	for _, s := range starts {
		g.starts = append(g.starts, &plainGraph{plan: pl, start: s})
	}
	return g
}

func (g *wholeGraph) node(start, layer, place int, post int32) int64 {
	return int64(start)*g.span + g.starts[start].node(layer, place, post)
}

// decode is the layer, place and post of a node.
func (g *wholeGraph) decode(id int64) (layer, place int, post int32) {
	return g.starts[0].decode(id % g.span)
}

func (g *wholeGraph) leaving(id int64) []arc {
	if g.from == id {
		return g.arcs
	}
	g.from, g.arcs = id, g.arcs[:0]
	switch id {
	case closed:
	case outset:
		for i, s := range g.starts {
			g.arcs = append(g.arcs, arc{g.node(i, 0, s.start.place, s.start.post), 0})
		}
	default:
		start := id / g.span
		g.starts[start].each(id%g.span, func(to int64, cost int32) {
			if to != closed {
				to += start * g.span
			}
			g.arcs = append(g.arcs, arc{to, float64(cost)})
		})
	}
	return g.arcs
}
