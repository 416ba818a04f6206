package search

import "context"

// Joins visits what can be danced one after the other somewhere in the room, by a couple
// that begins in a state and that can go on for ever: each pair of edges once, and as
// the first of a pair −1 for what it can begin with. The error is that of ctx.
func (f *Sheets) Joins(ctx context.Context, from State, visit func(before, after int)) error {
	reached := f.newSet()
	fresh := f.newSet()
	layer, place, post := f.unpack(from)
	fresh.at[layer][post] = make(grid, f.layers[layer].size())
	word, bit := f.layers[layer].bit(place)
	fresh.at[layer][post][word] |= bit
	begun := map[int]bool{}
	for again := true; again; {
		again = false
		for layer := range f.layers {
			for post, news := range fresh.at[layer] {
				if news == nil {
					continue
				}
				if err := ctx.Err(); err != nil {
					return err
				}
				again = true
				fresh.at[layer][post] = nil
				f.eachMove(layer, int32(post), func(turns, to int, m *move) {
					var ahead grid
					f.pushMove(layer, turns, to, m, news, &ahead)
					if ahead == nil {
						return
					}
					if layerOf, _, postOf := f.unpack(from); !begun[int(m.edge)] && layerOf == layer && int(postOf) == post && f.layers[layer].has(f.live[2*layer+turns][m.edge], place) {
						begun[int(m.edge)] = true
						visit(-1, int(m.edge))
					}
					f.come(reached, fresh, to, m.to, ahead)
				})
			}
		}
	}
	// Where each figure ends, and what can follow there.
	if reached.at[layer][post] == nil {
		reached.at[layer][post] = make(grid, f.layers[layer].size())
	}
	reached.at[layer][post][word] |= bit
	seen := map[[2]int32]bool{}
	for layer := range f.layers {
		for post, places := range reached.at[layer] {
			if places == nil {
				continue
			}
			if err := ctx.Err(); err != nil {
				return err
			}
			f.eachMove(layer, int32(post), func(turns, to int, m *move) {
				var ends grid
				f.pushMove(layer, turns, to, m, places, &ends)
				if ends == nil {
					return
				}
				f.eachMove(to, m.to, func(turns, _ int, next *move) {
					pair := [2]int32{m.edge, next.edge}
					if seen[pair] {
						return
					}
					for i, word := range f.live[2*to+turns][next.edge] {
						if word&ends[i] != 0 {
							seen[pair] = true
							visit(int(m.edge), int(next.edge))
							return
						}
					}
				})
			})
		}
	}
	return nil
}

// eachMove visits what can be danced from a post along a layer's wall.
func (f *Sheets) eachMove(layer int, post int32, visit func(turns, to int, m *move)) {
	for turns := range 2 {
		list := f.plan.moves[turns*f.plan.kindOf[layer]][post]
		for i := range list {
			if f.live[2*layer+turns][list[i].edge] != nil {
				visit(turns, (layer+turns)%len(f.layers), &list[i])
			}
		}
	}
}

// pushMove adds to a grid where a move leads from some places.
func (f *Sheets) pushMove(layer, turns, to int, m *move, places grid, out *grid) {
	shift := f.plan.edges[m.edge].shapes[f.plan.ground.layers[to].wall].shift
	push(&f.layers[layer], &f.layers[to], places, f.live[2*layer+turns][m.edge], shift, out)
}

// come notes where the couple can come to, and what of that is new.
func (f *Sheets) come(reached, fresh *Set, layer int, post int32, places grid) {
	at := reached.at[layer][post]
	if at == nil {
		at = make(grid, len(places))
		reached.at[layer][post] = at
	}
	for i, word := range places {
		news := word &^ at[i]
		if news == 0 {
			continue
		}
		if at[i] |= news; fresh.at[layer][post] == nil {
			fresh.at[layer][post] = make(grid, len(places))
		}
		fresh.at[layer][post][i] |= news
	}
}
