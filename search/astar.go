package search

import (
	"context"
	"errors"
	"math"
	"slices"

	"lapwright/floors"
)

// kernel runs A* (Hart, Nilsson and Raphael 1968) over the finite graph of a plan,
// backward from the end of a lap to its start, with a survey made forward as the
// bound. Backward, because few figures lead to a post but many leave it. It keeps
// records of the states that it comes by only, and allocates nothing per expansion
// once they have room.
type kernel struct {
	plan     *plan
	grouping *grouping
	bound    *survey
	open     *openList

	// table finds clusters by hash: number plus one, 0 where there is none.
	table    []uint32
	clusters []cluster
	entries  []entry
	taken    []taken

	starts, ends []target
	arrived      bool // a state at the starts' place has been closed
	// limit is a cost that a lap must be below to be of use.
	limit int32
	// most is how many states may have been expanded before a run is given up.
	most int
	// cut tells that something was left out for costing as much or more.
	cut bool

	expanded, generated, popped int
}

// cluster is a place and a group whose posts' entries follow each other: a state
// is the place and one of the posts.
type cluster struct {
	place uint32 // number of the place
	group int32
	first uint32 // the first post's entry
	open  int32  // posts that are not closed yet
}

// entry is what is known of a state.
type entry struct {
	togo    int32 // the least cost to go so far
	cluster uint32
	closed  bool // it has been expanded; togo is exact
}

// taken is a figure taken back: danced from a place in any post of a group, it
// leads to an entry.
type taken struct {
	place       uint32
	group       int32
	to          uint32
	edge, joins int32
	cost        int32 // without the join
}

// waits marks, in the open list, an entry that waits to be closed at a cost; other
// numbers are those of figures taken back.
const waits = 1 << 31

// target is where a lap may begin or end: a place of the first layer, in a post.
type target struct {
	place int
	post  int32
}

// leastTable is how large the table of clusters is at first; a power of two.
const leastTable = 1 << 12

// checkEvery is how many expansions go by between looks at the context.
const checkEvery = 1 << 12

// errGivenUp tells that a run took more expansions than it may.
var errGivenUp = errors.New("search: given up")

func newKernel(g *grouping) *kernel {
	return &kernel{plan: g.plan, grouping: g, open: newOpenList(), table: make([]uint32, leastTable)}
}

// begin sets the bound, in which states a lap may start, near which it may end, and
// a cost that it must be below, which must not be more than what the bound is
// settled to.
func (k *kernel) begin(bound *survey, starts, ends []target, limit int32) {
	clear(k.table)
	k.clusters, k.entries = k.clusters[:0], k.entries[:0]
	k.taken = k.taken[:0]
	k.open.reset()
	k.bound, k.starts, k.ends, k.limit = bound, starts, ends, limit
	k.cut, k.arrived, k.most = false, false, math.MaxInt
	last := len(k.plan.ground.layers) - 1
	l := &k.plan.ground.layers[last]
	for _, t := range ends {
		k.plan.ends(t, func(place int, gap int32) {
			group := k.grouping.groupOf[t.post]
			bound := k.bound.at(last, place, k.bound.kind(t.post))
			if bound == unreachable {
				return
			}
			if bound+gap >= limit {
				k.cut = true
			} else {
				c := k.cluster(uint32(l.first)+uint32(place), group)
				k.wait(c.first+uint32(t.post-k.grouping.groups[group].first), gap, bound)
			}
		})
	}
}

// wait has a state wait to be closed at a cost to go.
func (k *kernel) wait(at uint32, togo, bound int32) {
	if e := &k.entries[at]; togo < e.togo {
		e.togo = togo
		k.open.push(togo+bound, at|waits, togo)
	}
}

// cluster finds or makes the cluster of a group at a place.
func (k *kernel) cluster(place uint32, group int32) *cluster {
	slot := k.slot(place, group)
	if n := k.table[slot]; n != 0 {
		return &k.clusters[n-1]
	}
	n, count := uint32(len(k.clusters)), k.grouping.groups[group].count
	k.clusters = append(k.clusters, cluster{place, group, uint32(len(k.entries)), count})
	for range count {
		k.entries = append(k.entries, entry{togo: unreachable, cluster: n})
	}
	k.table[slot] = n + 1
	if 2*len(k.clusters) > len(k.table) {
		k.table = make([]uint32, 2*len(k.table))
		for i, c := range k.clusters {
			k.table[k.slot(c.place, c.group)] = uint32(i + 1)
		}
	}
	return &k.clusters[n]
}

// slot is where the cluster of a group at a place is in the table, or would be
// (linear probing; multiplicative hashing, Knuth, The Art of Computer Programming
// 3, section 6.4).
func (k *kernel) slot(place uint32, group int32) int {
	key := place*uint32(len(k.grouping.groups)) + uint32(group)
	mask := len(k.table) - 1
	for slot := int(key*2654435769>>8) & mask; ; slot = (slot + 1) & mask {
		n := k.table[slot]
		if n == 0 || k.clusters[n-1].place == place && k.clusters[n-1].group == group {
			return slot
		}
	}
}

// exact is the exact cost to go of a state that has been expanded.
func (k *kernel) exact(layer, place int, post int32) (togo int32, known bool) {
	group := k.grouping.groupOf[post]
	n := k.table[k.slot(uint32(k.plan.ground.layers[layer].first)+uint32(place), group)]
	if n == 0 {
		return 0, false
	}
	e := &k.entries[k.clusters[n-1].first+uint32(post-k.grouping.groups[group].first)]
	return e.togo, e.closed
}

// run searches until the least cost of a lap is known, and from which start it can
// be danced. It reports false when there is no lap, or none below the limit.
func (k *kernel) run(ctx context.Context, tick func(least int32)) (start target, cost int32, ok bool, err error) {
	for {
		if any, err := k.next(ctx, tick); !any || err != nil {
			return target{}, 0, false, err
		}
		if !k.arrived {
			continue
		}
		k.arrived = false
		// The first start to be closed is the best.
		for _, t := range k.starts {
			if togo, known := k.exact(0, t.place, t.post); known && (!ok || togo < cost) {
				start, cost, ok = t, togo, true
			}
		}
		if ok {
			return start, cost, true, nil
		}
	}
}

// flood closes every state that may lie on a lap below the limit.
func (k *kernel) flood(ctx context.Context, tick func(least int32)) error {
	for {
		if any, err := k.next(ctx, tick); !any || err != nil {
			return err
		}
	}
}

// next takes the most promising entry of the open list, if there is any.
func (k *kernel) next(ctx context.Context, tick func(least int32)) (any bool, err error) {
	least, number, togo, any := k.open.pop()
	if !any || least >= k.limit {
		return false, nil
	}
	if k.expanded >= k.most {
		return false, errGivenUp
	}
	if number&waits != 0 {
		if at := number &^ waits; !k.entries[at].closed {
			k.close(at, togo)
		}
	} else {
		t := &k.taken[number]
		if c := k.cluster(t.place, t.group); c.open > 0 {
			first, group := c.first, k.grouping.groups[t.group]
			row := k.bound.row(k.plan.ground.locate(t.place))
			for j, join := range k.grouping.joins[t.joins:][:group.count] {
				at := first + uint32(j)
				if k.entries[at].closed {
					continue
				}
				switch bound := row.at(k.kind(t.group, j)); {
				case bound == unreachable:
				case togo+join+bound >= k.limit:
					k.cut = true
				case togo+join+bound <= least:
					k.close(at, togo+join)
				default:
					k.wait(at, togo+join, bound)
				}
			}
		}
	}
	if k.popped++; k.popped%checkEvery == 0 {
		if tick != nil {
			tick(least)
		}
		return true, ctx.Err()
	}
	return true, nil
}

// close settles the cost to go of a state and takes back the figures that lead to
// it.
func (k *kernel) close(at uint32, togo int32) {
	e := &k.entries[at]
	e.closed, e.togo = true, togo
	k.expanded++
	c := &k.clusters[e.cluster]
	c.open--
	post := k.grouping.groups[c.group].first + int32(at-c.first)
	layer, place := k.plan.ground.locate(c.place)
	// All starts lie in one place.
	k.arrived = k.arrived || layer == 0 && place == k.starts[0].place
	k.back(at, layer, layer, place, togo, k.grouping.into[0][post])
	if layer > 0 {
		k.back(at, layer, layer-1, place, togo, k.grouping.into[k.plan.kindOf[layer-1]][post])
	}
}

// back takes figures that lead to a place back to where they began, in the same
// layer or, round the corner, in the one before.
func (k *kernel) back(to uint32, layer, from, place int, togo int32, into []intoMove) {
	pl := k.plan
	l, b := &pl.ground.layers[layer], &pl.ground.layers[from]
	cell, lane := l.cell(place), int32(l.lane[place])
	use := uint8(inUse)
	if from != layer {
		use = inCorner
	}
	for i := range into {
		m := &into[i]
		e := &pl.edges[m.edge]
		shape := &e.shapes[l.wall]
		was := floors.Cell{X: cell.X - shape.shift.X, Y: cell.Y - shape.shift.Y}
		if !b.holds(was) {
			continue
		}
		at := b.place(was)
		if b.usable[at]&use == 0 {
			continue
		}
		k.generated++
		cost := togo + e.cost + lane*e.bars
		bound := k.least(k.bound.row(from, at), m)
		if bound == unreachable {
			continue
		}
		if cost+bound >= k.limit {
			k.cut = true
			continue
		}
		crowd := pl.crowd(shape, was)
		if crowd == blocked {
			continue
		}
		if cost += crowd * e.bars; cost+bound >= k.limit {
			k.cut = true
		} else {
			k.taken = append(k.taken, taken{uint32(b.first) + uint32(at), m.group, to, m.edge, m.joins, cost - togo})
			k.open.push(cost+bound, uint32(len(k.taken)-1), cost)
		}
	}
}

// least is the least bound with the join to a figure, over the posts from which it
// can be danced.
func (k *kernel) least(row bounds, m *intoMove) int32 {
	joins := k.grouping.joins[m.joins:][:k.grouping.groups[m.group].count]
	least := int32(unreachable)
	if !k.bound.byPost {
		if bound := row.at(m.group); bound != unreachable {
			least = bound + slices.Min(joins)
		}
		return least
	}
	for j, join := range joins {
		if bound := row.at(k.kind(m.group, j)); bound != unreachable {
			least = min(least, bound+join)
		}
	}
	return least
}

// kind is what stands in the bound for a group's post.
func (k *kernel) kind(group int32, post int) int32 {
	if k.bound.byPost {
		return k.grouping.groups[group].first + int32(post)
	}
	return group
}

// unreachable is the cost where there is no way.
const unreachable = math.MaxInt32
