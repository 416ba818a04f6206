package search

import (
	"math"

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

// gap is the cost of closing at a cell a lap that began at another, and whether it
// is near enough.
func (pl *plan) gap(at, home floors.Cell) (cost int32, near bool) {
	dx, dy := at.X-home.X, at.Y-home.Y
	if dx*dx+dy*dy > toleranceCells*toleranceCells {
		return 0, false
	}
	return pl.gapCost(dx, dy), true
}

// ends visits the places of the last layer near enough to a start to close a lap,
// with what that costs.
func (pl *plan) ends(start target, visit func(place int, gap int32)) {
	l := &pl.ground.layers[len(pl.ground.layers)-1]
	home := pl.ground.layers[0].cell(start.place)
	for y := home.Y - toleranceCells; y <= home.Y+toleranceCells; y++ {
		for x := home.X - toleranceCells; x <= home.X+toleranceCells; x++ {
			c := floors.Cell{X: x, Y: y}
			if gap, near := pl.gap(c, home); near && l.holds(c) && l.usable[l.place(c)] != 0 {
				visit(l.place(c), gap)
			}
		}
	}
}

// trail follows the exact costs to go from a start to the end of a lap.
func (k *kernel) trail(start target) trail {
	t := trail{start: start}
	pl := k.plan
	layer, place, post := 0, start.place, start.post
	for {
		togo, _ := k.exact(layer, place, post)
		if k.ended(layer, place, post, togo) {
			return t
		}
		kinds := []int{0}
		if layer+1 < len(pl.ground.layers) {
			kinds = append(kinds, pl.kindOf[layer])
		}
		from := layer
		stepped := false
		for i, kind := range kinds {
			pl.dance(from, place, pl.moves[kind][post], i == 1, nil, func(m *move, to int, cost int32) bool {
				if rest, known := k.exact(from+i, to, m.to); !known || rest+cost != togo {
					return true
				}
				t.steps = append(t.steps, trailStep{m.edge, i == 1})
				layer, place, post, stepped = from+i, to, m.to, true
				return false
			})
			if stepped {
				break
			}
		}
		if !stepped {
			panic("search: the costs to go lead nowhere")
		}
	}
}

// ended reports whether a lap ends in a state at the cost to go of it.
func (k *kernel) ended(layer, place int, post, togo int32) bool {
	if layer != len(k.plan.ground.layers)-1 {
		return false
	}
	at := k.plan.ground.layers[layer].cell(place)
	for _, t := range k.ends {
		home := k.plan.ground.layers[0].cell(t.place)
		if gap, near := k.plan.gap(at, home); near && t.post == post && gap == togo {
			return true
		}
	}
	return false
}

// dance visits what can be danced of some moves from a place of a layer, along its
// wall or round its corner along the next, until visit returns false: where each
// leads and what it costs in all. What wanted refuses is passed over before it is
// known whether the couple has room; nil wants everything.
func (pl *plan) dance(layer, place int, moves []move, corner bool, wanted func(m *move, to int) bool, visit func(m *move, to int, cost int32) bool) {
	from := &pl.ground.layers[layer]
	use := uint8(inUse)
	l := from
	if corner {
		use, l = inCorner, &pl.ground.layers[layer+1]
	}
	if from.usable[place]&use == 0 {
		return
	}
	cell := from.cell(place)
	for i := range moves {
		m := &moves[i]
		e := &pl.edges[m.edge]
		shape := &e.shapes[l.wall]
		to := cell.Add(shape.shift)
		if !l.holds(to) || l.usable[l.place(to)] == 0 {
			continue
		}
		if wanted != nil && !wanted(m, l.place(to)) {
			continue
		}
		if crowd := pl.crowd(shape, cell); crowd != blocked && !visit(m, l.place(to), m.cost+(int32(l.lane[l.place(to)])+crowd)*e.bars) {
			return
		}
	}
}

// endPost is the post in which a trail ends.
func (pl *plan) endPost(t trail) int32 {
	if len(t.steps) == 0 {
		return t.start.post
	}
	return pl.leads[t.steps[len(t.steps)-1].edge]
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
