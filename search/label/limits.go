// Package label finds the best lap of a network that keeps to limits on the past,
// and proves how good it is.
//
// What lives here: the search with labels, which carry what a limit must remember;
// the rule by which a label makes another one needless; the prices put on limits
// that tighten the bound; and a plain reading of the limits to check laps with.
// What does not: how a room and figures become a network (package search), and what
// a limit is called in a teacher's words.
//
// A first use is in the example of [Solve].
package label

import (
	"fmt"

	"lapwright/search/network"
)

// Limits are what a lap must keep to, in the numbers of a network. The zero value
// sets none. Bars are counted from the beginning of the lap, the first is bar 1.
type Limits struct {
	MinBars, MaxBars int32 // bars of the whole lap; 0: no limit
	Phrase           int32 // the bars of the whole lap are a multiple of it; 0: any
	Uses             int32 // most uses of any one figure; 0: no limit
	// Apart is the least number of bars between the beginnings of two uses of a
	// figure; 0: no limit.
	Apart int32
	// Different is the least number of different figures; 0: no limit.
	Different int32
	Caps      []Cap
	Must      []int32 // figures to be danced at least once
	Orders    []Order
	Fixed     []Fixed
	// RightTurns is the most figures in a row that turn to the right; 0: no limit.
	RightTurns int32
}

// Cap is the most uses, all together, of the ways of a class.
type Cap struct {
	Class uint8 // number of the bit in the classes of a way
	Most  int32 // may be 0
}

// Order says that figure Then is not danced before First has been.
type Order struct{ First, Then int32 }

// Fixed is a figure that must begin at a bar.
type Fixed struct {
	Figure, Bar int32 // the bar from 1
	Wall        int16 // number of the wall along which it must be danced; negative: any
}

// most is the greatest number that a limit may say.
const most = 1 << 20

// check tells of numbers that are out of range.
func (l *Limits) check(n *network.Network) error {
	figures := func(fs ...int32) error {
		for _, f := range fs {
			if f < 0 || int(f) >= n.Figures {
				return fmt.Errorf("limits: there is no figure %d; there are %d", f, n.Figures)
			}
		}
		return nil
	}
	for _, v := range []int32{l.MinBars, l.MaxBars, l.Phrase, l.Uses, l.Apart, l.Different, l.RightTurns} {
		if v < 0 || v > most {
			return fmt.Errorf("limits: %d is not in the range from 0 to %d", v, most)
		}
	}
	for _, c := range l.Caps {
		if c.Class > 63 || c.Most < 0 || c.Most > most {
			return fmt.Errorf("limits: most uses %d of class %d; they go to %d and 63", c.Most, c.Class, most)
		}
	}
	for _, o := range l.Orders {
		if err := figures(o.First, o.Then); err != nil {
			return err
		}
	}
	for _, f := range l.Fixed {
		if err := figures(f.Figure); err != nil {
			return err
		}
		if f.Bar < 1 || f.Bar > most {
			return fmt.Errorf("limits: bar %d is not in the range from 1 to %d", f.Bar, most)
		}
	}
	return figures(l.Must...)
}

// Keeps reads the limits off a lap, one after another, with nothing carried over
// from the search: source is the node where the lap begins, arcs are the numbers of
// its arcs in order (see [network.Network.ArcNumber]). It is false, too, when they
// are no lap of the network.
func Keeps(n *network.Network, l *Limits, source int32, arcs []int32) bool {
	// b is the number of bars danced, seen the bar in which each figure last began.
	var b, right int32
	seen := map[int32]int32{}
	uses := map[int32]int32{}
	caps := make([]int32, len(l.Caps))
	starts := map[int32]Fixed{}
	node, isSource := source, false
	for _, s := range n.Sources {
		isSource = isSource || s == source
	}
	if !isSource || len(arcs) == 0 {
		return false
	}
	for _, number := range arcs {
		i := int(number) - n.ArcNumber(node)
		if i < 0 || i >= len(n.Arcs(node)) {
			return false
		}
		arc := n.Arcs(node)[i]
		node = arc.To
		if arc.Way == network.Closing {
			continue
		}
		way := n.Ways[arc.Way]
		for _, o := range l.Orders {
			if way.Figure == o.Then && uses[o.First] == 0 {
				return false
			}
		}
		if last, ok := seen[way.Figure]; ok && b+1-last < l.Apart {
			return false
		}
		seen[way.Figure] = b + 1
		uses[way.Figure]++
		if l.Uses > 0 && uses[way.Figure] > l.Uses {
			return false
		}
		for c := range caps {
			if way.Classes>>l.Caps[c].Class&1 == 1 {
				caps[c]++
			}
			if caps[c] > l.Caps[c].Most {
				return false
			}
		}
		right++
		if !way.Right {
			right = 0
		}
		if l.RightTurns > 0 && right > l.RightTurns {
			return false
		}
		starts[b+1] = Fixed{way.Figure, b + 1, n.Walls[arc.To]}
		b += way.Bars
	}
	if node != n.End || b < l.MinBars || l.MaxBars > 0 && b > l.MaxBars || l.Phrase > 0 && b%l.Phrase != 0 {
		return false
	}
	for _, m := range l.Must {
		if uses[m] == 0 {
			return false
		}
	}
	for _, f := range l.Fixed {
		s, ok := starts[f.Bar]
		if !ok || s.Figure != f.Figure || f.Wall >= 0 && s.Wall != f.Wall {
			return false
		}
	}
	return len(uses) >= int(l.Different)
}
