package label

import (
	"math/bits"

	"lapwright/search/network"
)

// counted says which limits the labels of a round count; the others are left out,
// or priced. The limits on bars, on the order and on what must be danced are always
// counted.
type counted struct {
	uses, apart, different []bool // by figure
	caps                   []bool // by cap
	right, maxBars         bool
}

func newCounted(n *network.Network, l *Limits, all bool) *counted {
	c := &counted{
		uses: make([]bool, n.Figures), apart: make([]bool, n.Figures), different: make([]bool, n.Figures),
		caps: make([]bool, len(l.Caps)), right: all, maxBars: all,
	}
	for _, s := range [][]bool{c.uses, c.apart, c.different, c.caps} {
		for i := range s {
			s[i] = all
		}
	}
	return c
}

// layout packs what a label must remember into words. A field of a word is a number
// of which less is never worse, with a guard bit above it that is 0 in every label:
// so whole words can be compared, counted on and counted down at once. What a field
// holds is shifted so that a step too many sets the guard.
//
// With at most 3 uses a field of uses takes 3 bits: 0, 1, 2, 3, and 4 is too many.
//
// Words come in three runs: fields that a way adds to or sets; from aparts on bars
// until a figure may be danced again, which count down; and from different on, with
// no guards, one bit for each figure danced.
type layout struct {
	words, aparts, different int
	start                    []uint64
	guard                    []uint64
	// unit has the lowest bit of every field of the words that count down, which
	// are width bits wide.
	unit  []uint64
	width int
	// By way and word: what must be possible to add, what is emptied, what is then
	// added.
	test, empty, add []uint64
	// By way: word and bit of its figure among the different ones; -1: not counted.
	diffWord []int32
	diffBit  []uint64
	// undone has a bit for each figure that must still be danced.
	undone []uint64
	// soon tells of each way whether its figure may not be danced next again and
	// no field says so; blocks the same, whatever the fields say.
	soon, blocks    []bool
	varied, maxBars int32 // the limits themselves; 0: not counted
}

type field struct {
	word  int
	shift int
	width int
}

func newLayout(n *network.Network, l *Limits, c *counted) *layout {
	y := &layout{soon: make([]bool, len(n.Ways)), blocks: make([]bool, len(n.Ways)), varied: l.Different}
	if c.maxBars {
		y.maxBars = l.MaxBars
	}
	type step struct {
		way              int
		test, empty, add uint64
		f                field
	}
	var steps []step
	word, free := -1, 0
	place := func(width int) field {
		if free < width {
			word, free = word+1, 64
			y.start, y.guard, y.unit = append(y.start, 0), append(y.guard, 0), append(y.unit, 0)
		}
		f := field{word, 64 - free, width}
		free -= width
		y.guard[word] |= 1 << (f.shift + width - 1)
		y.unit[word] |= 1 << f.shift
		return f
	}
	// counter makes a field that holds at most so much.
	counter := func(most int32) field {
		w := bits.Len32(uint32(most)) + 1
		f := place(w)
		y.start[f.word] |= (1<<(w-1) - 1 - uint64(most)) << f.shift
		return f
	}
	if l.Uses > 0 {
		for figure, on := range c.uses {
			if !on {
				continue
			}
			f := counter(l.Uses)
			for w := range n.Ways {
				if int(n.Ways[w].Figure) == figure {
					steps = append(steps, step{w, 1, 0, 1, f})
				}
			}
		}
	}
	for i, on := range c.caps {
		if !on {
			continue
		}
		f := counter(l.Caps[i].Most)
		for w := range n.Ways {
			if n.Ways[w].Classes>>l.Caps[i].Class&1 == 1 {
				steps = append(steps, step{w, 1, 0, 1, f})
			}
		}
	}
	if l.RightTurns > 0 && c.right {
		f := counter(l.RightTurns)
		from := (1<<(f.width-1) - 1 - uint64(l.RightTurns))
		for w := range n.Ways {
			if n.Ways[w].Right {
				steps = append(steps, step{w, 1, 0, 1, f})
			} else {
				steps = append(steps, step{w, 0, 1<<(f.width-1) - 1, from, f})
			}
		}
	}
	// Figures of which it matters whether they have been danced: 1 as long as not.
	undone := make(map[int32]field)
	note := func(figure int32) field {
		f, ok := undone[figure]
		if !ok {
			f = place(2)
			undone[figure] = f
			y.start[f.word] |= 1 << f.shift
			for w := range n.Ways {
				if n.Ways[w].Figure == figure {
					steps = append(steps, step{w, 0, 1, 0, f})
				}
			}
		}
		return f
	}
	for _, o := range l.Orders {
		f := note(o.First)
		for w := range n.Ways {
			if n.Ways[w].Figure == o.Then {
				steps = append(steps, step{w, 1, 0, 0, f})
			}
		}
	}
	var must []field
	for _, m := range l.Must {
		must = append(must, note(m))
	}
	y.aparts, free = word+1, 0
	if l.Apart > 1 {
		y.width = bits.Len32(uint32(l.Apart-1)) + 1
		for w, way := range n.Ways {
			y.blocks[w] = way.Bars < l.Apart
			y.soon[w] = y.blocks[w] && (!c.apart[way.Figure] || way.Bars == l.Apart-1)
		}
		for figure, on := range c.apart {
			if !on {
				continue
			}
			f := place(y.width)
			for w, way := range n.Ways {
				if int(way.Figure) != figure {
					continue
				}
				s := step{w, 1<<(f.width-1) - 1, 0, 0, f}
				if !y.soon[w] {
					s.add = uint64(max(0, l.Apart-way.Bars))
				}
				steps = append(steps, s)
			}
		}
	}
	y.different = word + 1
	y.words = y.different
	y.diffWord, y.diffBit = make([]int32, len(n.Ways)), make([]uint64, len(n.Ways))
	count, at := 0, make([]int, n.Figures)
	for figure, on := range c.different {
		at[figure] = -1
		if on && l.Different > 0 {
			at[figure] = count
			count++
		}
	}
	for w, way := range n.Ways {
		y.diffWord[w] = -1
		if k := at[way.Figure]; k >= 0 {
			y.diffWord[w], y.diffBit[w] = int32(y.different+k/64), 1<<(k%64)
		}
	}
	y.words += (count + 63) / 64
	y.undone = make([]uint64, y.different)
	for _, f := range must {
		y.undone[f.word] |= 1 << f.shift
	}
	y.start = append(y.start, make([]uint64, y.words-y.different)...)
	size := len(n.Ways) * y.different
	y.test, y.empty, y.add = make([]uint64, size), make([]uint64, size), make([]uint64, size)
	for _, s := range steps {
		i := s.way*y.different + s.f.word
		y.test[i] |= s.test << s.f.shift
		y.empty[i] |= s.empty << s.f.shift
		y.add[i] += s.add << s.f.shift
	}
	return y
}

// dance writes into to what a label remembers after a way, and is false when the
// way may not be danced.
func (y *layout) dance(from, to []uint64, way, bars int32) bool {
	k := int(way) * y.different
	test, empty, add := y.test[k:k+y.different], y.empty[k:k+y.different], y.add[k:k+y.different]
	for i := range y.different {
		x := from[i]
		if (x+test[i])&y.guard[i] != 0 {
			return false
		}
		if i >= y.aparts {
			x = y.down(x, i, bars)
		}
		to[i] = x&^empty[i] + add[i]
	}
	copy(to[y.different:], from[y.different:])
	return true
}

// down counts every field of a word down by so many, to 0 at the least.
func (y *layout) down(x uint64, word int, by int32) uint64 {
	if x == 0 {
		return 0
	}
	if by >= 1<<(y.width-1) {
		return 0
	}
	g := y.guard[word]
	t := (x | g) - uint64(by)*y.unit[word]
	keep := t & g
	return t & (keep - keep>>(y.width-1))
}

// noMore reports whether no field of a is more than the same of b.
func (y *layout) noMore(a, b []uint64) bool {
	for i := range y.different {
		if ((b[i]|y.guard[i])-a[i])&y.guard[i] != y.guard[i] {
			return false
		}
	}
	return true
}
