package search

import (
	"context"
	"math"
	"testing"

	"gonum.org/v1/gonum/graph"
	"gonum.org/v1/gonum/graph/iterator"
	"gonum.org/v1/gonum/graph/path"
	"gonum.org/v1/gonum/graph/simple"
	"pgregory.net/rapid"
)

// plainGraph is the finite graph of a plan, for Dijkstra's algorithm as gonum
// has it: no bound, no packing, no bucket queue. Its nodes are the states that
// can be reached, and one more for the lap that is closed.
type plainGraph struct {
	*plan
	start target
	// The arcs that leave the last node that was looked at.
	from int64
	arcs []arc
}

type arc struct {
	to   int64
	cost float64
}

const closed = int64(1) << 40

func (g *plainGraph) node(layer, place int, post int32) int64 {
	return (int64(g.ground.layers[layer].first)+int64(place))*int64(len(g.posts)) + int64(post)
}

// leaving are the arcs from a node, the cheapest to each node that they lead to.
func (g *plainGraph) leaving(id int64) []arc {
	if g.arcs != nil && g.from == id {
		return g.arcs
	}
	g.from, g.arcs = id, make([]arc, 0, 64)
	g.each(id, func(to int64, cost int32) {
		for i := range g.arcs {
			if a := &g.arcs[i]; a.to == to {
				a.cost = min(a.cost, float64(cost))
				return
			}
		}
		g.arcs = append(g.arcs, arc{to, float64(cost)})
	})
	return g.arcs
}

// each tells of all arcs from a node, of some that lead to the same node, too.
func (g *plainGraph) each(id int64, add func(to int64, cost int32)) {
	if id == closed {
		return
	}
	post := int32(id % int64(len(g.posts)))
	number := uint64(id / int64(len(g.posts)))
	layer := 0
	for layer+1 < len(g.ground.layers) && number >= g.ground.layers[layer+1].first {
		layer++
	}
	l := &g.ground.layers[layer]
	place := int(number - l.first)
	cell := l.cell(place)
	last := layer == len(g.ground.layers)-1
	if last && post == g.start.post {
		home := g.ground.layers[0].cell(g.start.place)
		if home.Point().Sub(cell.Point()).Len() <= Tolerance+1e-9 {
			add(closed, g.gapCost(cell.X-home.X, cell.Y-home.Y))
		}
	}
	dance := func(layer int, moves []move) {
		l := &g.ground.layers[layer]
		for _, m := range moves {
			e := &g.edges[m.edge]
			to := cell.Add(e.shapes[l.wall].shift)
			if !l.holds(to) || l.usable[l.place(to)] == 0 {
				continue
			}
			crowd := g.crowd(&e.shapes[l.wall], cell)
			if crowd == blocked {
				continue
			}
			lane := int32(l.lane[l.place(to)])
			add(g.node(layer, l.place(to), m.to), m.cost+(lane+crowd)*e.bars)
		}
	}
	if l.usable[place]&inUse != 0 {
		dance(layer, g.moves[0][post])
	}
	if !last && l.usable[place]&inCorner != 0 {
		dance(layer+1, g.moves[g.kindOf[layer]][post])
	}
}

func (g *plainGraph) From(id int64) graph.Nodes { return nodesOf(g.leaving(id)) }

func (g *plainGraph) Edge(u, v int64) graph.Edge { return edgeOf(g, u, v) }

// nodesOf are the nodes that arcs lead to.
func nodesOf(arcs []arc) graph.Nodes {
	if len(arcs) == 0 {
		return graph.Empty
	}
	nodes := make([]graph.Node, len(arcs))
	for i, a := range arcs {
		nodes[i] = simple.Node(a.to)
	}
	return iterator.NewOrderedNodes(nodes)
}

// edgeOf is the edge between two nodes; nil where there is none.
func edgeOf(g interface {
	Weight(u, v int64) (float64, bool)
}, u, v int64) graph.Edge {
	if w, ok := g.Weight(u, v); ok {
		return simple.WeightedEdge{F: simple.Node(u), T: simple.Node(v), W: w}
	}
	return nil
}

func (g *plainGraph) Weight(u, v int64) (float64, bool) {
	for _, a := range g.leaving(u) {
		if a.to == v {
			return a.cost, true
		}
	}
	return math.Inf(1), false
}

// optimum is the least cost of a lap from any of the starts in hundredths of a
// bar, by Dijkstra's algorithm; infinite when there is none.
func optimum(pl *plan, starts []target) float64 {
	best := math.Inf(1)
	for _, start := range starts {
		g := &plainGraph{plan: pl, start: start}
		_, cost := path.DijkstraFromTo(simple.Node(g.node(0, start.place, start.post)), simple.Node(closed), g)
		best = min(best, cost)
	}
	return best
}

// cost is what Find's lap costs in hundredths of a bar; infinite when there is
// none.
func cost(res *Result) float64 {
	if res.Lap == nil {
		return math.Inf(1)
	}
	return math.Round(100 * res.Lap.Costs.Total())
}

func TestFindIsOptimal(t *testing.T) {
	var laps share
	draws(t, 0.08, func(t *rapid.T) {
		p := small(t)
		if slower > 1 {
			p = problem(rooms(t)[0], of(t, core...))
			p.Weights = weights(t)
		}
		s, err := prepare(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		want := optimum(s.plan, s.starts)
		got := cost(find(t, p))
		if got != want {
			t.Errorf("the best lap costs %g, by Dijkstra's algorithm %g", got, want)
		}
		laps.add(!math.IsInf(want, 1))
	})
	laps.report(t, 0.1)
}
