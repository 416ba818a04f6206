package drill

import (
	"context"
	"math"
	"math/rand/v2"
)

// leg is a way to the next item: figures of which the last one ends it.
type leg struct {
	path []arc
	item int
	bars int
	to   where
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

// from goes on from some legs until all items are danced.
func (c *covering) from(ctx context.Context, legs []leg, random *rand.Rand) (*covered, error) {
	out := &covered{legs: append([]leg(nil), legs...), left: len(c.list)}
	done := make([]bool, len(c.list))
	at := where{c.ground.begin(), -1}
	for _, l := range legs {
		done[l.item] = true
		out.bars += l.bars
		out.left--
		at = l.to
	}
	// What is still to be danced from each figure.
	ahead := make([]int, len(c.figures))
	for i, item := range c.list {
		if !done[i] && item.Before != nil {
			ahead[c.number[item.Before]]++
		}
	}
	// A leg may dance other items on its way only once those are done: it ends with the
	// first one that is not.
	for out.left > 0 {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		l, ok := c.nearest(at, done, ahead, random)
		if !ok {
			break
		}
		done[l.item] = true
		if before := c.list[l.item].Before; before != nil {
			ahead[c.number[before]]--
		}
		out.legs = append(out.legs, l)
		out.bars += l.bars
		out.left--
		at = l.to
	}
	return out, nil
}

// waiting is a place in the open list.
type waiting struct {
	at     where
	bars   int
	before int // index of what it was reached from; −1: none
	by     arc
}

// mostLooked is how many states are looked at for one leg.
const mostLooked = 300_000

// nearest finds a shortest way to an item that is still to be danced.
func (c *covering) nearest(from where, done []bool, ahead []int, random *rand.Rand) (best leg, ok bool) {
	far := c.far(done)
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
	looked := 0
	for estimate := 0; estimate < len(open); estimate++ {
		for k := 0; k < len(open[estimate]); k++ {
			i := open[estimate][k]
			here := seen[i]
			if known[here.at] < here.bars {
				continue
			}
			c.looked++
			if looked++; looked > mostLooked {
				return best, ok
			}
			c.ground.each(here.at.vertex, func(m move) {
				f := c.number[m.variant.Figure]
				bars := here.bars + m.bars
				to := where{m.to, f}
				if item, is := c.items[c.item(here.at.figure, f)]; is && !done[item] {
					if bars > estimate {
						put(i, bars) // there may be a nearer one
						return
					}
					// What leaves most to be danced from its end comes first.
					score := 2*random.Float64() + float64(ahead[f])/4
					if next := c.after(to); next >= 0 && far[next] < math.MaxInt32 {
						score -= 2 * float64(far[next])
					} else {
						score -= 100
					}
					if score > bestScore {
						bestScore, ok = score, true
						best = leg{c.path(seen, i, arc{here.at.vertex, m.number}), item, bars, to}
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

// path lists the arcs that lead to a place in the open list, and one more.
func (c *covering) path(seen []waiting, at int, last arc) []arc {
	path := []arc{last}
	for ; seen[at].before >= 0; at = seen[at].before {
		path = append(path, seen[at].by)
	}
	for i, k := 0, len(path)-1; i < k; i, k = i+1, k-1 {
		path[i], path[k] = path[k], path[i]
	}
	return path
}

// answer writes a routine out.
func (c *covering) answer(r *covered) *Cover {
	out := &Cover{Start: c.start, Bars: r.bars, Bound: c.bound, Apart: c.apart}
	done := make([]bool, len(c.list))
	var path []arc
	for _, l := range r.legs {
		path = append(path, l.path...)
		done[l.item] = true
		out.Covered = append(out.Covered, c.list[l.item])
	}
	out.Steps = c.ground.steps(path)
	for i, item := range c.list {
		if !done[i] {
			out.Left = append(out.Left, item)
		}
	}
	return out
}

// Name is the item in words: a figure, or two with > between.
func (i Item) Name() string {
	if i.Before == nil {
		return i.Figure.Name
	}
	return i.Before.Name + " > " + i.Figure.Name
}
