package search

import (
	"context"

	"lapwright/floors"
)

// rejoining tells from where a stretch can still be ended in the bars that are left, so that
// nobody goes on from anywhere else. It is found from the end backward, bar by bar, for
// all places at once (dynamic programming over bits; see [Reach]).
type rejoining struct {
	*Reach
	at    []map[atPost]grid // by the bars that are left; shorter where there is no more room
	spare grid
}

// mostGrids is how many words of grids are kept: 96 MB. Farther from the end than these
// reach, every place counts.
const mostGrids = 12 << 20

// newRejoining looks back from the places in which a stretch may end.
func (f *wayFinder) newRejoining(ctx context.Context, ends []floors.Cell, r *Reach) (*rejoining, error) {
	b := &rejoining{Reach: r, at: []map[atPost]grid{{}}}
	places := r.newGrid()
	for _, cell := range ends {
		word, bit := r.bit(cell)
		places[word] |= bit
	}
	slack := f.stretch.MaxBars - f.stretch.MinBars
	used := 0
	for left := 1; left < f.stretch.MaxBars && used < mostGrids; left++ {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		now := map[atPost]grid{}
		for layer := int(f.last); layer >= 0; layer-- {
			for post := range f.plan.posts {
				s := atPost{layer: layer, post: int32(post)}
				var sum grid
				f.eachMove(s, func(m *move, turns int) {
					e := &f.plan.edges[m.edge]
					rest := left - int(e.bars)
					if rest < 0 {
						return
					}
					to := atPost{layer: layer + turns, post: m.to}
					if rest <= slack && to.layer == int(f.last) && e.exit == f.to.stance && f.goesOn(e.variant) {
						sum = b.back(sum, layer, turns, int(m.edge), places)
					}
					if next := b.at[rest][to]; next != nil {
						sum = b.back(sum, layer, turns, int(m.edge), next)
					}
				})
				if sum != nil {
					now[s] = sum
					used += len(sum)
				}
			}
		}
		b.at = append(b.at, now)
	}
	return b, nil
}

// eachMove visits what can be danced from a post of a layer.
func (f *wayFinder) eachMove(s atPost, visit func(m *move, turns int)) {
	for turns := range 2 {
		kind := 0
		if turns == 1 {
			if s.layer == int(f.last) {
				return
			}
			kind = f.plan.kindOf[s.layer]
		}
		moves := f.plan.moves[kind][s.post]
		for i := range moves {
			visit(&moves[i], turns)
		}
	}
}

// back adds to a grid the places from which an edge leads to one of some places.
func (b *rejoining) back(sum grid, layer, turns, edge int, to grid) grid {
	pl := b.states.plan
	wall := layer % b.states.walls
	if b.spare == nil {
		b.spare = b.newGrid()
	}
	copy(b.spare, b.from(wall, turns, edge))
	shift := pl.edges[edge].shapes[pl.ground.layers[layer+turns].wall].shift
	b.within(&b.layers[layer], b.spare, to, shift.X, shift.Y)
	for i, word := range b.spare {
		if word != 0 {
			if sum == nil {
				sum = b.newGrid()
			}
			sum[i] |= word
		}
	}
	return sum
}

// holds reports whether a stretch can be ended from a place and post in the bars that
// are left.
func (b *rejoining) holds(left int, key spotKey, cell floors.Cell) bool {
	if left >= len(b.at) {
		return true
	}
	g := b.at[left][atPost{layer: int(key.layer), post: key.post}]
	if g == nil {
		return false
	}
	word, bit := b.bit(cell)
	return g[word]&bit != 0
}
