package drill

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
)

// leg is a way to the next item: figures of which the last one ends it.
type leg struct {
	path  []arc
	items []int // that it dances for the first time; none where it only goes elsewhere
	bars  int
	to    where
}

// where is a vertex with the figure that was danced before, −1 for none.
type where struct {
	vertex uint32
	figure int32
}

// covered is a routine made of legs.
type covered struct {
	legs []leg
	bars int
	left int // items that no way leads to any more
}

// mostWandered is how often in a row a couple goes elsewhere where nothing is near.
const mostWandered = 8

// from goes on from some legs until all items are danced, those of a lower level before others. again
// tells that it is no first try.
func (c *covering) from(ctx context.Context, again bool, legs []leg, random *rand.Rand) (*covered, error) {
	out := &covered{left: len(c.list)}
	done := make([]bool, len(c.list))
	// What is still to be danced from each figure.
	ahead := make([]int, len(c.parts))
	for _, item := range c.list {
		if item.Before.Figure != nil {
			ahead[c.number[item.Before]]++
		}
	}
	at := where{c.ground.begin(), -1}
	take := func(l leg) {
		for _, i := range l.items {
			done[i] = true
			out.left--
			if before := c.list[i].Before; before.Figure != nil {
				ahead[c.number[before]]--
			}
		}
		out.legs, out.bars, at = append(out.legs, l), out.bars+l.bars, l.to
	}
	for _, l := range legs {
		take(l)
	}
	levels := c.levels()
	if again && random.IntN(2) == 0 {
		levels = []int{math.MaxInt} // perhaps the order does not matter
	}
	for _, level := range levels {
		wandered := 0
		for out.left > 0 && wandered < mostWandered {
			if err := ctx.Err(); err != nil {
				return nil, err
			}
			l, ok := c.nearest(at, done, level, ahead, random)
			if !ok {
				break
			}
			if wandered++; len(l.items) > 0 {
				wandered = 0
			}
			take(l)
		}
	}
	for len(out.legs) > 0 && len(out.legs[len(out.legs)-1].items) == 0 {
		out.bars -= out.legs[len(out.legs)-1].bars
		out.legs = out.legs[:len(out.legs)-1]
	}
	return out, nil
}

// levels are those of the items, the first first.
func (c *covering) levels() []int {
	levels := slices.Clone(c.level)
	slices.Sort(levels)
	return slices.Compact(levels)
}

// targets are the items up to a level that are not done.
func (c *covering) targets(done []bool, level int) []bool {
	all := make([]bool, len(done))
	for i := range done {
		all[i] = !done[i] && c.level[i] <= level
	}
	return all
}

// waiting is a place in the open list.
type waiting struct {
	at     where
	bars   int
	before int // index of what it was reached from; −1: none
	by     arc
}

// mostLooked is how many states are looked at for one leg, by the number of legs there
// may be.
func mostLooked(items int) int { return max(2_000, min(20_000, 1_000_000/max(1, items))) }

// mostExact is with how many items it is found out for each how far it is from its end to
// the others, rather than to any.
const mostExact = 400

// nearest finds a shortest way to an item that is to be danced next; where none is found
// among so many states, a way elsewhere. It fails where no way leads to any.
func (c *covering) nearest(from where, done []bool, level int, ahead []int, random *rand.Rand) (best leg, ok bool) {
	targets := c.targets(done, level)
	far := c.far(targets)
	seen := []waiting{{at: from, before: -1}}
	known := map[where]int{from: 0}
	open := [][]int{}
	put := func(i, bars int) {
		for len(open) <= bars {
			open = append(open, nil)
		}
		open[bars] = append(open[bars], i)
	}
	put(0, 0)
	bestScore := math.Inf(-1)
	farWithout := map[int][]int{} // by item: how far it is to the others
	looked := 0
	for estimate := 0; estimate < len(open); estimate++ {
		for k := 0; k < len(open[estimate]); k++ {
			i := open[estimate][k]
			here := seen[i]
			if known[here.at] < here.bars {
				continue
			}
			c.looked++
			if looked++; looked > mostLooked(len(c.list)) {
				if !ok && i > 0 {
					best, ok = c.leg(seen, here.before, here.by, here.at, here.bars, done), true
				}
				return best, ok
			}
			c.ground.each(here.at.vertex, func(m move) {
				if c.leaves(m.to, level) {
					return
				}
				f := c.number[partOf(m.variant)]
				bars := here.bars + m.bars
				to := where{m.to, f}
				if item, is := c.items[c.item(here.at.figure, f)]; is && targets[item] {
					if bars > estimate {
						put(i, bars) // there may be a nearer one
						return
					}
					// What leaves most to be danced from its end comes first.
					score := 2*random.Float64() + float64(ahead[f])/4
					beyond := far
					if len(c.list) <= mostExact {
						if farWithout[item] == nil {
							targets[item] = false
							farWithout[item] = c.far(targets)
							targets[item] = true
						}
						beyond = farWithout[item]
					}
					if next := c.after(to); next >= 0 && beyond[next] < math.MaxInt32 {
						score -= 2 * float64(beyond[next])
					} else {
						score -= 100
					}
					if score > bestScore {
						bestScore, ok = score, true
						best = c.leg(seen, i, arc{here.at.vertex, m.number}, to, bars, done)
					}
					return
				}
				if before, is := known[to]; is && before <= bars {
					return
				}
				next := c.after(to)
				if next < 0 || far[next] == math.MaxInt32 {
					return
				}
				known[to] = bars
				seen = append(seen, waiting{to, bars, i, arc{here.at.vertex, m.number}})
				put(len(seen)-1, bars+far[next])
			})
		}
		if ok {
			return best, true
		}
	}
	return best, false
}

// after is the node of a state after a figure; −1 where nothing follows.
func (c *covering) after(w where) int {
	if n, known := c.nodes[node{c.ground.stance(w.vertex), w.figure}]; known {
		return n
	}
	return -1
}

// leg is the way to a place in the open list, and one figure more.
func (c *covering) leg(seen []waiting, at int, last arc, to where, bars int, done []bool) leg {
	l := leg{path: []arc{last}, bars: bars, to: to}
	parts := []int32{to.figure}
	for ; seen[at].before >= 0; at = seen[at].before {
		l.path, parts = append(l.path, seen[at].by), append(parts, seen[at].at.figure)
	}
	parts = append(parts, seen[at].at.figure)
	slices.Reverse(l.path)
	slices.Reverse(parts)
	for i := range l.path {
		if item, is := c.items[c.item(parts[i], parts[i+1])]; is && !done[item] && !slices.Contains(l.items, item) {
			l.items = append(l.items, item)
		}
	}
	return l
}

// answer writes a routine out.
func (c *covering) answer(r *covered) *Cover {
	out := &Cover{Start: c.start, Bars: r.bars, Bound: c.bound, Apart: slices.Clone(c.apart)}
	done := make([]bool, len(c.list))
	var path []arc
	for _, l := range r.legs {
		path = append(path, l.path...)
		for _, i := range l.items {
			done[i] = true
			out.Covered = append(out.Covered, c.list[i])
		}
	}
	out.Steps = c.ground.steps(path)
	for i, item := range c.list {
		if !done[i] {
			out.Left = append(out.Left, item)
		}
	}
	byName := func(a, b Item) int { return strings.Compare(a.Name(), b.Name()) }
	slices.SortFunc(out.Apart, byName)
	slices.SortFunc(out.Left, byName)
	return out
}
