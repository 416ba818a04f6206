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
	// cost is what it costs at least to come to a cell in a group, or to go on
	// from there, in parts and base more; 0: not known.
	cost []int32
	open *openList
	// settled is a cost in hundredths of a bar: whatever lies on a lap that costs
	// less by this survey and its guide has its least cost.
	settled  int32
	expanded int
}

type guidedCell struct{ cell, extra int32 }

// base is what costs of a survey have more, so that none is below 1.
const base = 1 << 20

func (s *sketch) survey(backward bool, guide *survey) *survey {
	v := &survey{sketch: s, backward: backward, guide: guide, cost: make([]int32, s.size), open: newOpenList()}
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
			v.guided[i][o.cell[place]] = guidedCell{g.cell[place], int32(math.Floor(fine * apart))}
		}
	}
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
	v.lower(layer, o.cell[place], v.grouping.groupOf[post], parts)
}

// lower lowers the cost of a cell in a group.
func (v *survey) lower(layer int, cell, group, cost int32) {
	o := &v.layers[layer]
	at := o.first + int(cell)*len(v.grouping.groups) + int(group)
	if was := v.cost[at]; was != 0 && was <= cost || cost > math.MaxInt32/2 {
		return
	}
	least := cost
	if v.guide != nil {
		g := v.guided[layer][cell]
		more := v.guide.cost[v.guide.layers[layer].first+int(g.cell)*len(v.grouping.groups)+int(group)]
		if more == 0 {
			return
		}
		least += more - base + g.extra
	}
	v.cost[at] = cost
	v.open.push(max(0, least-base)/fine, uint32(at), cost)
}

// run searches until everything that lies on laps that cost less is settled. It
// reports whether anything is left beyond.
func (v *survey) run(ctx context.Context, settled int32) (more bool, err error) {
	groups := len(v.grouping.groups)
	pl := v.grouping.plan
	for n := 1; ; n++ {
		if n%checkEvery == 0 && ctx.Err() != nil {
			return true, ctx.Err()
		}
		if least, any := v.open.peek(); !any || least > settled {
			v.settled = settled
			return any, nil
		}
		_, at, cost, _ := v.open.pop()
		if cost > v.cost[at] {
			continue
		}
		v.expanded++
		layer := len(v.layers) - 1
		for int(at) < v.layers[layer].first {
			layer--
		}
		cell, group := int32((int(at)-v.layers[layer].first)/groups), (int(at)-v.layers[layer].first)%groups
		wall := pl.ground.layers[layer].wall
		if v.backward {
			v.retreat(layer, cell, cost, v.back[wall][0][group])
			if layer > 0 {
				v.retreatTurn(layer, cell, cost, v.back[wall][pl.kindOf[layer-1]][group])
			}
			continue
		}
		v.advance(layer, cell, cost, v.onward[wall][0][group])
		if layer+1 < len(v.layers) {
			next := pl.ground.layers[layer+1].wall
			for _, t := range v.layers[layer].turns.at(cell) {
				v.advance(layer+1, t.cell, cost+t.cost, v.onward[next][pl.kindOf[layer]][group])
			}
		}
	}
}

// advance dances figures on from a cell.
func (v *survey) advance(layer int, from, cost int32, ways []sketchWay) {
	o := &v.layers[layer]
	for i := range ways {
		m := &ways[i]
		cell := from + m.along*int32(o.columns) + m.across
		if lane := o.lane[cell]; lane != shut {
			v.lower(layer, cell, m.group, cost+m.cost+m.bars*lane)
		}
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
			v.lower(layer, cell, m.group, cost+m.cost+m.bars*lane)
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
			v.lower(layer-1, t.cell, m.group, cost+m.cost+m.bars*lane+t.cost)
		}
	}
}

// at is the least cost at a place in a group, in hundredths of a bar, rounded
// down; unreachable where it is not known.
func (v *survey) at(layer, place int, group int32) int32 {
	o := &v.layers[layer]
	cost := v.cost[o.first+int(o.cell[place])*len(v.grouping.groups)+int(group)]
	if cost == 0 {
		return unreachable
	}
	if v.backward {
		cost -= o.rise[place]
	} else {
		cost += o.rise[place]
	}
	return max(0, cost-base) / fine
}
