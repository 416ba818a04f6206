package label

import (
	"context"
	"math/bits"

	"lapwright/search/network"
)

// label is a beginning of a lap. Its words lie in the round, in the same order.
type label struct {
	node, parent, arc int32
	hand              int32
	cost              int32 // without prices
	loose             int32 // prices of the limits that the round does not count
	bound             int32 // no lap that begins so and keeps the limits costs less
	full              int32 // prices of all limits
	bars              int32
	next              int32 // next label of the same slot
	last              int32 // figure that may not come next; -1: none
	only              int32 // the one figure that may come next; -1: any
	// fresh is how many uses of figures that are not counted as different there
	// are; varied when there are different ones enough.
	fresh int32
	dead  bool
}

const varied = -1

// round is one search with labels, in which some limits are counted.
type round struct {
	s          *solver
	y          *layout
	loose      []int32 // by way: prices of what is not counted
	looseTotal int32
	labels     []label
	words      []uint64
	slots      []int32 // by node and hand: first label + 1
	hands      int32   // hands that have slots of their own
	open       network.Queue

	made, expanded, dominated int
}

func newRound(s *solver, c *counted) *round {
	r := &round{s: s, y: newLayout(s.n, s.l, c), hands: s.togo.hands}
	r.loose, r.looseTotal = s.prices.loose(c).ways(s.n, s.l)
	return r
}

// reuse takes over the memory of a round that is done with; it may be nil.
func (r *round) reuse(old *round) *round {
	if old != nil {
		r.labels, r.words, r.slots, r.open = old.labels[:0], old.words[:0], old.slots, old.open
	}
	return r
}

// begin makes the labels of the sources.
func (r *round) begin(each func(i int32)) {
	for _, source := range r.s.n.Sources {
		h := r.s.togo.after(source, 0, -1)
		if h == network.Unreachable || source == r.s.n.End {
			continue
		}
		b := label{node: source, parent: -1, arc: -1, last: -1, only: -1, bound: h - r.s.total}
		if r.y.varied == 0 {
			b.fresh = varied
		}
		r.labels = append(r.labels, b)
		r.words = append(r.words, r.y.start...)
		each(int32(len(r.labels) - 1))
	}
}

// danced are the words of a label.
func (r *round) danced(i int32) []uint64 {
	return r.words[int(i)*r.y.words : (int(i)+1)*r.y.words]
}

// extend makes the label that an arc leads to as the last one of the round, and is
// false when the limits that are counted do not let it, or no lap that costs less
// than the best one can follow.
func (r *round) extend(i, number int32, arc *network.Arc) bool {
	s, y, from := r.s, r.y, &r.labels[i]
	b := label{
		node: arc.To, parent: i, arc: number, hand: from.hand, cost: from.cost + arc.Cost, loose: from.loose,
		full: from.full, bars: from.bars, last: -1, only: -1, fresh: from.fresh,
	}
	if arc.Way == network.Closing {
		words := r.danced(i)
		for k, u := range y.undone {
			if words[k]&u != 0 {
				return false
			}
		}
		if !s.clock.ends(b.hand) || b.fresh != varied || y.maxBars > 0 && b.bars > y.maxBars {
			return false
		}
		b.bound = max(from.bound, b.cost+b.loose-r.looseTotal)
		if b.bound >= s.upper {
			return false
		}
		r.labels = append(r.labels, b)
		r.words = append(r.words, words...)
		return true
	}
	way := &s.n.Ways[arc.Way]
	if from.last == way.Figure || from.only >= 0 && from.only != way.Figure || !s.clock.allows(b.hand, way, s.n.Walls[arc.To]) {
		return false
	}
	b.bars += way.Bars
	if y.maxBars > 0 && b.bars+s.barsToGo[arc.To] > y.maxBars {
		return false
	}
	b.hand = s.clock.step(b.hand, way)
	b.loose += r.loose[arc.Way]
	b.full += s.extra[arc.Way]
	blocked := int32(-1)
	if y.blocks[arc.Way] {
		blocked = way.Figure
	}
	h := s.togo.after(b.node, b.hand, blocked)
	if h == network.Unreachable {
		return false
	}
	b.bound = max(from.bound, b.cost+b.full+h-s.total)
	if b.bound >= s.upper {
		return false
	}
	if y.soon[arc.Way] {
		b.last = way.Figure
	}
	at := len(r.words)
	r.words = append(r.words, y.start...)
	to := r.words[at:]
	if !y.dance(r.danced(i), to, arc.Way, way.Bars) {
		r.words = r.words[:at]
		return false
	}
	if b.fresh != varied {
		if w := y.diffWord[arc.Way]; w < 0 {
			b.fresh++
		} else {
			to[w] |= y.diffBit[arc.Way]
		}
		if b.fresh+y.count(to) >= y.varied {
			b.fresh = varied
			clear(to[y.different:])
		}
	}
	r.labels = append(r.labels, b)
	return true
}

// count is how many of the figures that are counted as different were danced.
func (y *layout) count(words []uint64) int32 {
	n := 0
	for _, w := range words[y.different:] {
		n += bits.OnesCount64(w)
	}
	return int32(n)
}

// drop takes away the last label.
func (r *round) drop() {
	last := len(r.labels) - 1
	r.labels = r.labels[:last]
	r.words = r.words[:last*r.y.words]
}

// How a label makes another needless.
const (
	not       = iota
	exceptOne // but for going on with the figure that may not come next
	fully
)

// covers tells whether everything that can follow b can follow a, at no more cost.
func (r *round) covers(a, b int32) int {
	x, z := &r.labels[a], &r.labels[b]
	if x.cost+x.loose > z.cost+z.loose || x.hand != z.hand || r.y.maxBars > 0 && x.bars > z.bars {
		return not
	}
	p, q := r.danced(a), r.danced(b)
	if !r.y.noMore(p, q) {
		return not
	}
	if x.fresh != varied {
		if z.fresh == varied {
			return not
		}
		// What follows b may be new to b and not to a as often as a has danced a
		// figure that b has not.
		lead := x.fresh - z.fresh
		for k := r.y.different; k < r.y.words; k++ {
			lead -= int32(bits.OnesCount64(q[k] &^ p[k]))
		}
		if lead < 0 {
			return not
		}
	}
	if x.last < 0 || x.last == z.last {
		return fully
	}
	return exceptOne
}

// enter puts the last label among those of its slot, with what it makes needless
// marked; it is false, and the label gone, when it is needless itself.
func (r *round) enter() bool {
	i := int32(len(r.labels) - 1)
	b := &r.labels[i]
	slot := b.node
	if r.hands > 1 {
		slot = b.node*r.hands + b.hand
	}
	link := &r.slots[slot]
	for *link != 0 {
		j := *link - 1
		other := &r.labels[j]
		switch r.covers(j, i) {
		case fully:
			r.drop()
			return false
		case exceptOne:
			if b.only >= 0 && b.only != other.last || other.last == b.last {
				r.drop()
				return false
			}
			b.only = other.last
		default:
			switch r.covers(i, j) {
			case fully:
				other.dead = true
				r.dominated++
			case exceptOne:
				if other.only >= 0 && other.only != b.last {
					other.dead = true
					r.dominated++
				} else {
					other.only = b.last
				}
			}
			if other.dead {
				*link = other.next
				continue
			}
		}
		link = &other.next
	}
	b.next = r.slots[slot]
	r.slots[slot] = i + 1
	return true
}

// outcome is how a round ended.
type outcome struct {
	// End is the label of the cheapest lap that keeps what was counted; -1 when
	// none costs less than the best lap known.
	end int32
	// Bound is what no lap that keeps the limits costs less than.
	bound int32
	// Stopped tells that the labels ran out, or the time.
	stopped bool
}

// run takes labels in the order of their bounds (A*) until the first end.
func (r *round) run(ctx context.Context, most int) outcome {
	n := r.s.n
	if size := n.Nodes() * int(r.hands); len(r.slots) == size {
		clear(r.slots)
	} else {
		r.slots = make([]int32, size)
	}
	first := int32(network.Unreachable)
	r.begin(func(i int32) { first = min(first, r.labels[i].bound) })
	r.open.Reset(first)
	for i := range r.labels {
		r.open.Push(int32(i), r.labels[i].bound)
	}
	r.made = len(r.labels)
	for {
		i, key, ok := r.open.Pop()
		if !ok || key >= r.s.upper {
			return outcome{-1, r.s.upper, false}
		}
		at := r.labels[i]
		if at.dead {
			continue
		}
		if at.node == n.End {
			return outcome{i, at.bound, false}
		}
		if r.made >= most || r.expanded%256 == 0 && ctx.Err() != nil {
			return outcome{-1, key, true}
		}
		r.expanded++
		number := int32(n.ArcNumber(at.node))
		arcs := n.Arcs(at.node)
		for k := range arcs {
			if !r.extend(i, number+int32(k), &arcs[k]) {
				continue
			}
			r.made++
			made := int32(len(r.labels) - 1)
			if arcs[k].Way == network.Closing {
				r.s.offer(r, made)
				if r.labels[made].bound >= r.s.upper {
					r.drop()
					continue
				}
			} else if !r.enter() {
				r.dominated++
				continue
			}
			r.open.Push(made, r.labels[made].bound)
		}
	}
}

// lap is the source and the arcs that lead to a label.
func (r *round) lap(i int32) (source int32, arcs []int32) {
	for ; r.labels[i].parent >= 0; i = r.labels[i].parent {
		arcs = append(arcs, r.labels[i].arc)
	}
	for a, b := 0, len(arcs)-1; a < b; a, b = a+1, b-1 {
		arcs[a], arcs[b] = arcs[b], arcs[a]
	}
	return r.labels[i].node, arcs
}
