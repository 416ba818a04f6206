package label

import (
	"lapwright/search/network"
)

// clock counts the bars of a lap as far as limits on bars can tell them apart: one
// by one up to the last bar that a limit names, and round the phrase from there.
// Its hand is a number from 0.
type clock struct {
	last, phrase int32
	size         int32
	minBars      int32
	// By hand below last: what must begin now, as an index into fixed, or -1; and
	// how many bars the next figure may take.
	now   []int32
	room  []int32
	fixed []Fixed
	// Impossible tells that two figures must begin at the same bar.
	impossible bool
}

func newClock(l *Limits) *clock {
	c := &clock{last: l.MinBars, phrase: max(1, l.Phrase), minBars: l.MinBars, fixed: l.Fixed}
	for _, f := range l.Fixed {
		c.last = max(c.last, f.Bar)
	}
	c.size = c.last + c.phrase
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

// step is the hand after so many bars.
func (c *clock) step(hand, bars int32) int32 {
	hand += bars
	if hand >= c.size {
		hand = c.last + (hand-c.last)%c.phrase
	}
	return hand
}

// allows reports whether a way may be danced along a wall from here.
func (c *clock) allows(hand int32, way *network.Way, wall int16) bool {
	if hand >= c.last {
		return true
	}
	if way.Bars > c.room[hand] {
		return false
	}
	i := c.now[hand]
	return i < 0 || c.fixed[i].Figure == way.Figure && (c.fixed[i].Wall < 0 || c.fixed[i].Wall == wall)
}

// ends reports whether a lap may end here.
func (c *clock) ends(hand int32) bool {
	return hand >= c.last && hand%c.phrase == 0
}

// before gives, for a number of bars, the hands from which each hand is reached.
func (c *clock) before(bars int32) [][]int32 {
	from := make([][]int32, c.size)
	for hand := range c.size {
		to := c.step(hand, bars)
		from[to] = append(from[to], hand)
	}
	return from
}
