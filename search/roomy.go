package search

import "lapwright/floors"

// roomy finds from where each figure has room, for whole rows of the floor at a time: 64
// places lie in a word, and what a probe needs is a shift of one bit grid of the field.
type roomy struct {
	plan  *plan
	words int // of a row of the field
	// clear has, by need, the places of the field with so much clearance.
	clear map[int32]grid
	needs []int32
}

func newRoomy(pl *plan) *roomy {
	r := &roomy{plan: pl, words: (pl.ground.field.Columns + 63) / 64, clear: map[int32]grid{}}
	for i := range pl.edges {
		for k := range pl.edges[i].shapes {
			for _, probe := range pl.edges[i].shapes[k].probes {
				if _, known := r.clear[probe.need]; !known {
					r.clear[probe.need] = nil
					r.needs = append(r.needs, probe.need)
				}
			}
		}
	}
	grids := make([]grid, len(r.needs))
	onAllCores(len(grids), func(i int) { grids[i] = r.clearance(r.needs[i]) })
	for i, need := range r.needs {
		r.clear[need] = grids[i]
	}
	return r
}

// clearance are the places of the field with so many millimetres of clearance.
func (r *roomy) clearance(need int32) grid {
	f := r.plan.ground.field
	out := make(grid, r.words*f.Rows)
	for y := range f.Rows {
		for x, clear := range r.plan.ground.clear[y*f.Columns : (y+1)*f.Columns] {
			if clear >= need {
				out[y*r.words+x/64] |= 1 << (x % 64)
			}
		}
	}
	return out
}

// grids are, by 2 × layer, one more where the next wall is taken before it, and by edge,
// the places from which the figure stays on the floor.
func (r *roomy) grids(layers []sheet) [][]grid {
	edges := len(r.plan.edges)
	var usable [2][]grid // by layer
	for i := range layers {
		for k, use := range []uint8{inUse, inCorner} {
			usable[k] = append(usable[k], r.usable(&layers[i], i, use))
		}
	}
	var anyUse []grid
	for i := range layers {
		anyUse = append(anyUse, r.usable(&layers[i], i, inUse|inCorner))
	}
	out := make([][]grid, 2*len(layers))
	for i := range out {
		out[i] = make([]grid, edges)
	}
	onAllCores(2*len(layers)*edges, func(i int) {
		which, edge := i/edges, i%edges
		layer, to := which/2, (which/2+which%2)%len(layers)
		shape := &r.plan.edges[edge].shapes[r.plan.ground.layers[to].wall]
		g := pull(&layers[layer], &layers[to], anyUse[to], usable[which%2][layer], shape.shift)
		if g != nil {
			r.keepClear(&layers[layer], g, shape)
		} else {
			g = make(grid, layers[layer].size())
		}
		out[which][edge] = g
	})
	return out
}

// usable are the places of a layer that serve one of some uses.
func (r *roomy) usable(s *sheet, layer int, use uint8) grid {
	out := make(grid, s.size())
	for place, u := range r.plan.ground.layers[layer].usable {
		if u&use != 0 {
			word, bit := s.bit(place)
			out[word] |= bit
		}
	}
	return out
}

// keepClear takes out of some places those where a probe of a shape lacks clearance; see
// [plan.crowd].
func (r *roomy) keepClear(s *sheet, g grid, shape *shape) {
	ground := r.plan.ground
	right, down := s.low.X-ground.origin.X, s.low.Y-ground.origin.Y
	if shape.high.X-shape.low.X >= ground.field.Columns {
		clear(g)
		return
	}
	for _, probe := range shape.probes {
		by := r.apart(shape, probe.offset)
		enough := r.clear[probe.need]
		for y := range s.rows {
			row := g[y*s.words : (y+1)*s.words]
			at := y + down + by.Y
			if at < 0 || at >= ground.field.Rows {
				clear(row)
				continue
			}
			field := enough[at*r.words : (at+1)*r.words]
			for w := range row {
				if row[w] != 0 {
					row[w] &= bitsAt(field, 64*w+right+by.X)
				}
			}
		}
	}
}

// apart is the offset of a probe as columns and rows.
func (r *roomy) apart(s *shape, offset int32) floors.Cell {
	columns := r.plan.ground.field.Columns
	// The column lies within the shape's box, which is narrower than the field.
	x := (int(offset) - s.low.X) % columns
	if x < 0 {
		x += columns
	}
	x += s.low.X
	return floors.Cell{X: x, Y: (int(offset) - x) / columns}
}
