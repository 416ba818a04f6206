package search

import (
	"math"
	"math/bits"
	"sync"
	"sync/atomic"
)

// Numbers holds a number for each state, 0 or at least 1, rounded down to seven binary
// digits: by layer, post and place. It is nil where all are 0.
type Numbers [][][]uint16

// Rounding is a little more than what rounding down can take from a number, as a share of
// what is left: a number of 1 stands for less than 1 + Rounding.
const Rounding = 1.0 / 63

// A number is kept as the first digits of a floating-point number: 10 bits of its
// exponent, 6 after the leading digit; one more than those, so that 0 is 0.
const (
	keptShift = 52 - 6
	keptBase  = 1023<<6 - 1
)

func keep(x float64) uint16 {
	if x < 1 {
		return 0
	}
	return uint16(math.Float64bits(x)>>keptShift - keptBase)
}

func kept(code uint16) float64 {
	if code == 0 {
		return 0
	}
	return math.Float64frombits((uint64(code) + keptBase) << keptShift)
}

// mostKept is a number beyond which there is no room.
const mostKept = 0x1p1023

// At is the number of a state.
func (f *Sheets) At(n Numbers, at State) float64 {
	layer, place, post := f.unpack(at)
	if n == nil || n[layer][post] == nil {
		return 0
	}
	return kept(n[layer][post][place])
}

// Ones has a 1 for each state from which dancing can go on for ever.
func (f *Sheets) Ones() Numbers {
	n := f.numbers()
	for layer := range f.alive {
		for post, g := range f.alive[layer] {
			if g != nil {
				n[layer][post] = make([]uint16, len(f.plan.ground.layers[layer].usable))
				eachPlace(&f.layers[layer], g, func(place int) { n[layer][post][place] = keep(1) })
			}
		}
	}
	return n
}

// Size is how many places the sheets have on which anything can be danced for ever:
// what [Numbers] keep a number for.
func (f *Sheets) Size() (n int) {
	for layer := range f.alive {
		for _, g := range f.alive[layer] {
			if g != nil {
				n += len(f.plan.ground.layers[layer].usable)
			}
		}
	}
	return n
}

func (f *Sheets) numbers() Numbers {
	n := make(Numbers, len(f.layers))
	for i := range n {
		n[i] = make([][]uint16, f.posts)
	}
	return n
}

// eachPlace visits the places of a grid.
func eachPlace(s *sheet, g grid, visit func(place int)) {
	for y := range s.rows {
		for w := range s.words {
			for word := g[y*s.words+w]; word != 0; word &= word - 1 {
				visit(y*s.cols + 64*w + bits.TrailingZeros64(word))
			}
		}
	}
}

// Sum has for each state the sum over what can be danced from it: the number, in another
// layer, of where that leads, times its weight. ahead is the layer that counts so many
// bars further on; weigh must give at least 1. Only the states within a set need be right
// (nil: all). It fails where a number is too large to be kept.
func (f *Sheets) Sum(ahead func(bars int) Numbers, weigh func(edge int, marked bool) float64, within *Set) (Numbers, bool) {
	out := f.numbers()
	var over atomic.Bool
	type scratch struct {
		sums [][]float64
		any  []bool
	}
	pool := sync.Pool{New: func() any { return &scratch{} }}
	onAllCores(len(f.layers)*len(f.groups), func(i int) {
		layer, group := i/len(f.groups), &f.groups[i%len(f.groups)]
		s := pool.Get().(*scratch)
		defer pool.Put(s)
		places := len(f.plan.ground.layers[layer].usable)
		mask := f.wanted(layer, group, within)
		if mask == nil {
			return
		}
		for len(s.sums) < len(group.posts) {
			s.sums, s.any = append(s.sums, nil), append(s.any, false)
		}
		for k := range group.posts {
			if len(s.sums[k]) < places {
				s.sums[k] = make([]float64, places)
			}
			clear(s.sums[k][:places])
			s.any[k] = false
		}
		for turns := range 2 {
			for k := range group.moves[turns*f.plan.kindOf[layer]] {
				m := &group.moves[turns*f.plan.kindOf[layer]][k]
				if f.addMove(layer, turns, m, ahead(int(f.plan.edges[m.edge].bars)), mask, weigh, s.sums) {
					for _, p := range m.from {
						s.any[p] = true
					}
				}
			}
		}
		for k, post := range group.posts {
			g := f.alive[layer][post]
			if g == nil || !s.any[k] {
				continue
			}
			row := make([]uint16, places)
			sums := s.sums[k]
			eachPlace(&f.layers[layer], g, func(place int) {
				if sums[place] >= mostKept {
					over.Store(true)
				}
				row[place] = keep(sums[place])
			})
			out[layer][post] = row
		}
	})
	return out, !over.Load()
}

// wanted are the places at which any post of a group is within a set; nil for none.
func (f *Sheets) wanted(layer int, group *sheetGroup, within *Set) (mask grid) {
	at := f.alive[layer]
	if within != nil {
		at = within.at[layer]
	}
	for _, post := range group.posts {
		if at[post] == nil {
			continue
		}
		if mask == nil {
			mask = make(grid, f.layers[layer].size())
		}
		for i, word := range at[post] {
			mask[i] |= word
		}
	}
	return mask
}

// addMove adds what one figure leads to to the sums of the posts from which it can be
// danced; it reports whether that was anything.
func (f *Sheets) addMove(layer, turns int, m *sharedMove, ahead Numbers, mask grid, weigh func(int, bool) float64, sums [][]float64) bool {
	to := (layer + turns) % len(f.layers)
	live := f.live[2*layer+turns][m.edge]
	if live == nil || ahead == nil || ahead[to][m.to] == nil {
		return false
	}
	numbers := ahead[to][m.to]
	from, into := &f.layers[layer], &f.layers[to]
	by := f.plan.edges[m.edge].shapes[f.plan.ground.layers[to].wall].shift
	right, down := from.low.X+by.X-into.low.X, from.low.Y+by.Y-into.low.Y
	plain, marked := weigh(int(m.edge), false), weigh(int(m.edge), true)
	any := false
	for y := range from.rows {
		for w := range from.words {
			word := live[y*from.words+w] & mask[y*from.words+w]
			if word == 0 {
				continue
			}
			any = true
			at, there := y*from.cols+64*w, (y+down)*into.cols+64*w+right
			if len(m.from) == 1 {
				sum, weight := sums[m.from[0]], plain
				if m.marked[0] {
					weight = marked
				}
				if word == ^uint64(0) {
					row := sum[at : at+64]
					for i, number := range numbers[there : there+64 : there+64] {
						row[i] += weight * kept(number)
					}
					continue
				}
				for ; word != 0; word &= word - 1 {
					bit := bits.TrailingZeros64(word)
					sum[at+bit] += weight * kept(numbers[there+bit])
				}
				continue
			}
			for ; word != 0; word &= word - 1 {
				bit := bits.TrailingZeros64(word)
				number := kept(numbers[there+bit])
				for k, p := range m.from {
					if weight := plain; m.marked[k] {
						sums[p][at+bit] += marked * number
					} else {
						sums[p][at+bit] += weight * number
					}
				}
			}
		}
	}
	return any
}
