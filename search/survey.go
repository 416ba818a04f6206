package search

import (
	"context"
	"math"
)

// survey finds the least costs of a sketch by uniform-cost search (Dijkstra 1959)
// from a lap's starts forward or from its ends backward; with a guide, a survey
// made the other way, by A* (Hart, Nilsson and Raphael 1968), so that only what may
// lie on a cheap lap is looked at.
type survey struct {
	*sketch
	backward bool
	guide    *survey
	// guided gives, by layer and cell, where the guide has the cell, and what its
	// slopes add at least.
	guided [][]guidedCell
	// cost is what it costs at least to come to a cell in a group or post, or to
	// go on from there, in parts and base more; 0: not known.
	cost    []int32
	touched []uint32 // the costs that are known
	open    *openList
	// limit is a cost in hundredths of a bar: whatever lies on a lap that costs
	// less by this survey and its guide gets its least cost. cut tells that
	// something was left out for costing more.
	limit    int32
	cut      bool
	expanded int
	// tell is told from time to time of the layer that the survey has come to,
	// and of each layer that it comes to for the first time on its way.
	tell func(layer int)
}

// guidedCell is a cell of the guide; extra is what its slope adds, and least what a
// lap through it costs at least on the guide's side.
type guidedCell struct{ cell, extra, least int32 }

// base is what costs of a survey have more, so that none is below 1.
const base = 1 << 20

func (s *sketch) survey(backward bool, guide *survey) *survey {
	v := &survey{sketch: s, backward: backward, guide: guide, cost: make([]int32, s.size), open: newOpenList(), limit: unreachable}
	if guide != nil {
		v.follow(guide)
	}
	return v
}

// follow finds where the guide has each cell. The guide's cells must be made up of
// whole cells of the sketch, and its slope must be the same.
func (v *survey) follow(guide *survey) {
	v.guided = make([][]guidedCell, len(v.layers))
	for i := range v.layers {
		o, g := &v.layers[i], &guide.layers[i]
		least := make([]int32, g.cells)
		for cell := range least {
			least[cell] = unreachable
			for _, cost := range guide.cost[g.first+cell*guide.kinds:][:guide.kinds] {
				if cost != 0 {
					least[cell] = min(least[cell], cost-base)
				}
			}
		}
		l := &v.grouping.plan.ground.layers[i]
		v.guided[i] = make([]guidedCell, o.cells)
		for place, use := range l.usable {
			if use == 0 {
				continue
			}
			// A place is so far from the beginning of its cell in both, but for
			// how far one cell's beginning is from the other's.
			x := float64(l.along[place])
			apart := v.slope * (float64(whole(x, v.along))*v.along - float64(whole(x, guide.along))*guide.along)
			if !v.backward {
				apart = -apart
			}
			at := guidedCell{g.cell[place], int32(math.Floor(fine * apart)), least[g.cell[place]]}
			if at.least != unreachable {
				at.least += at.extra
			}
			v.guided[i][o.cell[place]] = at
		}
	}
}

// begin forgets all costs and sets the limit.
func (v *survey) begin(limit int32) {
	for _, at := range v.touched {
		v.cost[at] = 0
	}
	v.touched = v.touched[:0]
	v.open.reset()
	v.limit, v.cut = limit, false
}

// kind is what stands for a post in the survey: the post or its group.
func (v *survey) kind(post int32) int32 {
	if v.byPost {
		return post
	}
	return v.grouping.groupOf[post]
}

// from gives a place in a post a cost of 0 or more, in hundredths of a bar, to
// begin with.
func (v *survey) from(layer, place int, post, cost int32) {
	o := &v.layers[layer]
	parts := base + fine*cost
	if v.backward {
		parts += o.rise[place]
	} else {
		parts -= o.rise[place]
	}
	v.lower(layer, o.cell[place], v.kind(post), parts)
}

// lower lowers the cost of a cell in a group or post.
func (v *survey) lower(layer int, cell, kind, cost int32) {
	o := &v.layers[layer]
	if v.guide != nil {
		least := v.guided[layer][cell].least
		if least == unreachable {
			return
		}
		if v.over(cost + least) {
			return
		}
	}
	at := o.first + int(cell)*v.kinds + int(kind)
	was := v.cost[at]
	if was != 0 && was <= cost || cost > math.MaxInt32/2 {
		return
	}
	least := cost
	if v.guide != nil {
		g := v.guided[layer][cell]
		group := kind
		if v.byPost {
			group = v.grouping.groupOf[kind]
		}
		more := v.guide.cost[v.guide.layers[layer].first+int(g.cell)*len(v.grouping.groups)+int(group)]
		if more == 0 {
			return
		}
		least += more - base + g.extra
	}
	if v.over(least) {
		return
	}
	if was == 0 {
		v.touched = append(v.touched, uint32(at))
	}
	v.cost[at] = cost
	v.open.push(max(0, least-base)/fine, uint32(at), cost)
}

// over reports whether a lap that costs so much, in parts and base more, is over the
// limit.
func (v *survey) over(cost int32) bool {
	over := max(0, cost-base)/fine > v.limit
	v.cut = v.cut || over
	return over
}

// run searches until everything that lies on laps within the limit is settled.
func (v *survey) run(ctx context.Context) error {
	pl := v.grouping.plan
	told := -1
	for n := 1; ; n++ {
		_, at, cost, any := v.open.pop()
		if !any {
			return nil
		}
		look := n%checkEvery == 0
		if look && ctx.Err() != nil {
			return ctx.Err()
		}
		if cost > v.cost[at] {
			continue
		}
		v.expanded++
		layer := len(v.layers) - 1
		for int(at) < v.layers[layer].first {
			layer--
		}
		if v.tell != nil && (look || told < 0 || (layer < told) == v.backward && layer != told) {
			v.tell(layer)
			told = layer
		}
		cell, group := int32((int(at)-v.layers[layer].first)/v.kinds), int32((int(at)-v.layers[layer].first)%v.kinds)
		offset := int32(0)
		if v.byPost {
			post := group
			group = v.grouping.groupOf[post]
			offset = post - v.grouping.groups[group].first
		}
		wall := pl.ground.layers[layer].wall
		if v.backward {
			v.retreat(layer, cell, cost, v.back[wall][0][group])
			if layer > 0 {
				v.retreatTurn(layer, cell, cost, v.back[wall][pl.kindOf[layer-1]][group])
			}
			continue
		}
		v.advance(layer, cell, cost, v.onward[wall][0][group], offset)
		if layer+1 < len(v.layers) {
			next := pl.ground.layers[layer+1].wall
			for _, t := range v.layers[layer].turns.at(cell) {
				v.advance(layer+1, t.cell, cost+t.cost, v.onward[next][pl.kindOf[layer]][group], offset)
			}
		}
	}
}

// advance dances figures on from a cell, in the post that is so far in its group.
func (v *survey) advance(layer int, from, cost int32, ways []sketchWay, offset int32) {
	o := &v.layers[layer]
	for i := range ways {
		m := &ways[i]
		cell := from + m.along*int32(o.columns) + m.across
		lane := o.lane[cell]
		if lane == shut {
			continue
		}
		to := cost + m.cost + m.bars*lane
		if v.byPost {
			to += fine * v.grouping.joins[m.joins+offset]
		}
		v.lower(layer, cell, m.kind, to)
	}
}

// retreat takes figures that lead to a cell back to where they began.
func (v *survey) retreat(layer int, to, cost int32, ways []sketchWay) {
	o := &v.layers[layer]
	lane := o.lane[to]
	for i := range ways {
		m := &ways[i]
		cell := to - m.along*int32(o.columns) - m.across
		if o.lane[cell] != shut {
			v.lower(layer, cell, m.kind, cost+m.cost+m.bars*lane)
		}
	}
}

// retreatTurn takes figures that lead to a cell back to where the corner before
// them was taken.
func (v *survey) retreatTurn(layer int, to, cost int32, ways []sketchWay) {
	o := &v.layers[layer]
	lane := o.lane[to]
	for i := range ways {
		m := &ways[i]
		for _, t := range o.turnsBack.at(to - m.along*int32(o.columns) - m.across) {
			v.lower(layer-1, t.cell, m.kind, cost+m.cost+m.bars*lane+t.cost)
		}
	}
}

// at is the least cost at a place in a group or post, in hundredths of a bar,
// rounded down; unreachable where it is not known.
func (v *survey) at(layer, place int, kind int32) int32 { return v.row(layer, place).at(kind) }

// bounds are the costs at one place by group or post.
type bounds struct {
	costs []int32
	less  int32 // to be taken off
}

// row is the costs at a place.
func (v *survey) row(layer, place int) bounds {
	o := &v.layers[layer]
	rise := o.rise[place]
	if v.backward {
		rise = -rise
	}
	return bounds{v.cost[o.first+int(o.cell[place])*v.kinds:][:v.kinds], base - rise}
}

// at is the cost of a group or post, as [survey.at].
func (b bounds) at(kind int32) int32 {
	cost := b.costs[kind]
	if cost == 0 {
		return unreachable
	}
	return max(0, cost-b.less) / fine
}
