package future

import (
	"cmp"
	"math"
	"slices"

	"lapwright/search"
)

// Option is a figure that can follow, with its future.
type Option struct {
	// Move is the figure, at the share of the stride nearest to the usual one where
	// several can be danced.
	search.Move
	Ends search.Standing
	// Ways is in how many ways the bars that follow it can be danced, at every share of
	// the stride at which it can be.
	Ways Ways
	// Live tells that dancing can go on for ever after it, Round that the couple can
	// still get right round the room.
	Live, Round bool
	// End is how dancing ends where it cannot go on for ever; its bars are those after
	// the figure.
	End End
}

// Trap reports whether every way after the figure ends in a wall, or in a stance which
// nobody can leave.
func (o *Option) Trap() bool { return !o.Live }

// Next lists every figure that can follow in a state, each way of dancing it once along
// the wall in use and once round the corner, with the ways through so many bars after
// it. Those come first after which the couple can get right round and dance on for ever,
// those with more ways that can go on for ever before those with fewer; traps come last,
// the one that runs out of room soonest at the very end.
func (f *Future) Next(at search.State, bars int) []Option {
	type key struct {
		variant any
		turns   bool
	}
	index := map[key]int{}
	var all []Option
	moves := slices.Collect(f.States.Moves(at))
	targets := make([]search.State, len(moves))
	for i, m := range moves {
		targets[i] = m.To
	}
	for i, ways := range f.Ways(bars, targets...) {
		m := moves[i]
		o := Option{Move: m, Ends: f.States.Standing(m.To), Ways: ways, Live: f.Lives(m.To), Round: f.Round(m.To)}
		if !o.Live {
			o.End = f.End(m.To)
		}
		k := key{m.Variant, m.Turns}
		i, known := index[k]
		if !known {
			index[k] = len(all)
			all = append(all, o)
			continue
		}
		all[i] = all[i].with(o)
	}
	slices.SortStableFunc(all, func(a, b Option) int {
		return cmp.Or(after(a.Live, b.Live), after(a.Round, b.Round), cmp.Compare(b.End.Bars, a.End.Bars), b.Ways.compare(a.Ways),
			cmp.Compare(a.Variant.Name(), b.Variant.Name()), after(b.Turns, a.Turns))
	})
	return all
}

// with is the option danced at any of two shares of the stride.
func (o Option) with(other Option) Option {
	ways := o.Ways.plus(other.Ways)
	if better := after(o.Live, other.Live); better > 0 || better == 0 && math.Abs(other.Scale-1) < math.Abs(o.Scale-1) {
		o, other = other, o
	}
	o.Ways, o.Round = ways, o.Round || other.Round
	if !o.Live {
		o.End = o.End.or(other.End)
	}
	return o
}

// after puts what is true before what is not.
func after(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return -1
	}
	return 1
}
