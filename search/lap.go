package search

import (
	"math"
	"slices"

	"lapwright/floors"
	"lapwright/search/routine"
)

// Costs are the parts of a lap's cost, in bars; each is a whole number of
// hundredths, as the search counts them.
type Costs struct {
	Bars, Lane, Crowding, Awkward, Repeat, Stretch, Gap float64
}

// Total is the sum of the parts.
func (c Costs) Total() float64 {
	sum := c.Bars + c.Lane + c.Crowding + c.Awkward + c.Repeat + c.Stretch + c.Gap
	return math.Round(100*sum) / 100
}

// Lap is a chain of figures once round the room.
type Lap struct {
	Start routine.Start
	Steps []routine.Step
	Bars  int
	Costs Costs
	// Bound is a cost in bars below which no lap from the starts that were
	// tried can be.
	Bound float64
	// Proven tells that no lap from those starts costs less.
	Proven bool
}

// trail is a lap as the search finds it: edges from the start on.
type trail struct {
	start target
	steps []trailStep
}

type trailStep struct {
	edge   int32
	corner bool
}

// gapCost is the cost of closing a lap so many cells from its start.
func (pl *plan) gapCost(dx, dy int) int32 {
	return hundredths(pl.problem.Weights.Gap * math.Hypot(float64(dx), float64(dy)) * floors.Step)
}

// trail follows the parents back from the state that closes the lap.
func (k *kernel) trail(last state) trail {
	var steps []trailStep
	s := last
	for n := k.nodes[s]; n.parent != s; n = k.nodes[s] {
		post := int32(n.parent % k.posts)
		number := n.move &^ (cornerFlag | closedFlag)
		kind := 0
		if n.move&cornerFlag != 0 {
			kind = k.plan.kindOf[k.plan.layerOf(n.parent/k.posts)]
		}
		m := k.plan.moves[kind][post][number]
		steps = append(steps, trailStep{m.edge, kind != 0})
		s = n.parent
	}
	slices.Reverse(steps)
	return trail{target{int(s / k.posts), int32(s % k.posts)}, steps}
}

// layerOf is the layer in which a place number lies.
func (pl *plan) layerOf(number uint32) int {
	layer := len(pl.ground.layers) - 1
	for uint64(number) < pl.ground.layers[layer].first {
		layer--
	}
	return layer
}

// lap turns a trail into a lap with its parts of the cost.
func (pl *plan) lap(t trail) *Lap {
	g := pl.ground
	w := pl.problem.Weights
	cell := g.layers[0].cell(t.start.place)
	start := cell
	at := cell.Point()
	lap := &Lap{Start: routine.Start{Wall: g.layers[0].wall, At: &at, Stance: pl.posts[t.start.post].stance}}
	layer, post := 0, t.start.post
	var sums struct{ bars, lane, crowding, awkward, repeat, stretch int32 } // hundredths
	for _, s := range t.steps {
		e := &pl.edges[s.edge]
		kind, corner := 0, routine.Stay
		if s.corner {
			kind, corner = pl.kindOf[layer], routine.Take
			layer++
		}
		l := &g.layers[layer]
		shape := &e.shapes[l.wall]
		to := cell.Add(shape.shift)
		lap.Steps = append(lap.Steps, routine.Step{
			Variant: e.variant, Scale: pl.problem.Scales[e.scale].Share, Corner: corner,
		})
		code, next := pl.step(post, kind, s.edge)
		sums.bars += hundredths(w.Bars) * e.bars
		sums.awkward += hundredths(e.variant.Awkward) + pl.joinCost(code&joinAwkward)
		sums.repeat += pl.joinCost(code & joinRepeat)
		sums.stretch += pl.stretchCost(e.scale, int(e.bars))
		sums.lane += int32(l.lane[l.place(to)]) * e.bars
		sums.crowding += pl.crowd(shape, cell) * e.bars
		lap.Bars += int(e.bars)
		cell, post = to, next
	}
	lap.Costs = Costs{
		Bars: inBars(sums.bars), Lane: inBars(sums.lane), Crowding: inBars(sums.crowding), Awkward: inBars(sums.awkward),
		Repeat: inBars(sums.repeat), Stretch: inBars(sums.stretch), Gap: inBars(pl.gapCost(cell.X-start.X, cell.Y-start.Y)),
	}
	return lap
}

// inBars is a cost in hundredths of a bar, in bars.
func inBars(hundredths int32) float64 { return float64(hundredths) / 100 }

// step is the join's cost code and the post that an edge leads to from a post.
func (pl *plan) step(from int32, kind int, edge int32) (code byte, to int32) {
	at := 0
	for k, list := range pl.ways(pl.posts[from].stance) {
		for _, next := range list {
			if k == kind && next == edge {
				return pl.posts[from].joins[at], pl.leads[edge]
			}
			at++
		}
	}
	panic("search: a lap holds a figure that does not follow")
}
