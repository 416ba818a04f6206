package label

import (
	"slices"

	"lapwright/search/network"
)

// clock tells how far a lap has come as far as some limits can tell: it counts bars
// one by one up to the last bar that a limit names, and round the phrase from
// there; and it knows of a few figures whether they have been danced. Its hand is a
// number from 0: the bars times the number of sets of those figures, and the set.
type clock struct {
	last, phrase int32
	sets         int32 // 1 for each set of the figures that are watched
	size         int32 // number of hands
	// By bar below last: what must begin now, as an index into fixed, or -1; and
	// how many bars the next figure may take.
	now   []int32
	room  []int32
	fixed []Fixed
	// By figure: its bit in the set, and the bits that must be in the set before.
	bit, need []int32
	must      int32 // bits that must be in the set at the end
	// impossible tells that two figures must begin at the same bar.
	impossible bool
}

// mostWatched is how many figures that must be danced a clock watches.
const mostWatched = 4

func newClock(n *network.Network, l *Limits) *clock {
	c := &clock{last: l.MinBars, phrase: max(1, l.Phrase), sets: 1, fixed: l.Fixed}
	for _, f := range l.Fixed {
		c.last = max(c.last, f.Bar)
	}
	c.bit, c.need = make([]int32, n.Figures), make([]int32, n.Figures)
	watched := slices.Clone(l.Must)
	for _, o := range l.Orders {
		watched = append(watched, o.First)
	}
	for i, f := range watched {
		if c.bit[f] == 0 && c.sets < 1<<mostWatched {
			c.bit[f] = c.sets
			c.sets *= 2
		}
		if i < len(l.Must) {
			c.must |= c.bit[f]
		}
	}
	for _, o := range l.Orders {
		c.need[o.Then] |= c.bit[o.First]
	}
	c.size = (c.last + c.phrase) * c.sets
	c.now, c.room = make([]int32, c.last), make([]int32, c.last)
	for i := range c.now {
		c.now[i], c.room[i] = -1, most
	}
	for i, f := range l.Fixed {
		if k := c.now[f.Bar-1]; k >= 0 {
			g := l.Fixed[k]
			if g.Figure != f.Figure || g.Wall >= 0 && f.Wall >= 0 && g.Wall != f.Wall {
				c.impossible = true
			}
			if f.Wall < 0 {
				continue
			}
		}
		c.now[f.Bar-1] = int32(i)
	}
	next := int32(-1)
	for i := c.last - 1; i >= 0; i-- {
		if next >= 0 {
			c.room[i] = next - i
		}
		if c.now[i] >= 0 {
			next = i
		}
	}
	return c
}

// later is the bar of the clock after so many more.
func (c *clock) later(bar, bars int32) int32 {
	bar += bars
	if bar >= c.last+c.phrase {
		bar = c.last + (bar-c.last)%c.phrase
	}
	return bar
}

// step is the hand after a way.
func (c *clock) step(hand int32, way *network.Way) int32 {
	if c.size == 1 {
		return 0
	}
	return c.later(hand/c.sets, way.Bars)*c.sets + (hand%c.sets | c.bit[way.Figure])
}

// allows reports whether a way may be danced along a wall from here.
func (c *clock) allows(hand int32, way *network.Way, wall int16) bool {
	if hand&(c.sets-1)&c.need[way.Figure] != c.need[way.Figure] {
		return false
	}
	bar := hand / c.sets
	if bar >= c.last {
		return true
	}
	if way.Bars > c.room[bar] {
		return false
	}
	i := c.now[bar]
	return i < 0 || c.fixed[i].Figure == way.Figure && (c.fixed[i].Wall < 0 || c.fixed[i].Wall == wall)
}

// ends reports whether a lap may end here.
func (c *clock) ends(hand int32) bool {
	bar, set := hand/c.sets, hand%c.sets
	return bar >= c.last && bar%c.phrase == 0 && set&c.must == c.must
}

// before gives, for a number of bars, the bars from which each bar is reached.
func (c *clock) before(bars int32) [][]int32 {
	from := make([][]int32, c.last+c.phrase)
	for bar := range c.last + c.phrase {
		to := c.later(bar, bars)
		from[to] = append(from[to], bar)
	}
	return from
}
