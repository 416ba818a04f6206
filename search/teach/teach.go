// Package teach says what a class needs to get round a room, and what it is best taught
// next.
//
// What lives here: which sets of figures get a couple right round ([Round]), and what a
// figure opens to those who know some. What does not: how hard figures are
// (graph/difficulty), how fast routines grow in number (graph/growth), the best lap
// (package search), and anything that a person sees (the program).
package teach

import (
	"cmp"
	"math/bits"
	"slices"

	"lapwright/figures"
	"lapwright/graph/difficulty"
)

// Item is what is taught at a time: a figure in some ways of dancing it.
type Item struct {
	Figure   *figures.Figure
	Variants []*figures.Variant // at least one
}

// Turns says how an item turns as it usually is danced: to the right (-1), to the left (1)
// or not at all (0), which makes it a link.
func (it Item) Turns() int {
	switch v := it.Variants[0]; {
	case v.TurnsRight():
		return -1
	case v.TurnsLeft():
		return 1
	}
	return 0
}

// Built counts the items of a set that turn to the right, to the left, and not at all.
func Built(items []Item, set Set) (right, left, links int) {
	for _, i := range set.Items() {
		switch items[i].Turns() {
		case -1:
			right++
		case 1:
			left++
		default:
			links++
		}
	}
	return right, left, links
}

// TurnsAndLink reports whether a set is built of one right turn, one left turn, and a
// link between, or none.
func TurnsAndLink(items []Item, set Set) bool {
	right, left, links := Built(items, set)
	return right == 1 && left == 1 && links <= 1
}

// Items are figures with all their ways of dancing among some, in the order in which
// they first come.
func Items(variants []*figures.Variant) (all []Item) {
	index := map[*figures.Figure]int{}
	for _, v := range variants {
		i, known := index[v.Figure]
		if !known {
			i = len(all)
			index[v.Figure] = i
			all = append(all, Item{Figure: v.Figure})
		}
		all[i].Variants = append(all[i].Variants, v)
	}
	return all
}

// Usual are figures each in its first way of dancing among some, which is the usual one.
func Usual(variants []*figures.Variant) []Item {
	all := Items(variants)
	for i := range all {
		all[i].Variants = all[i].Variants[:1]
	}
	return all
}

// MostItems is the greatest number of items that can be looked at together.
const MostItems = 256

// Set is a set of items by their numbers.
type Set [MostItems / 64]uint64

// Of is the set of some items.
func Of(items ...int) (s Set) {
	for _, i := range items {
		s[i/64] |= 1 << (i % 64)
	}
	return s
}

// All is the set of all of some items.
func All(items []Item) (s Set) {
	for i := range items {
		s = s.With(i)
	}
	return s
}

// Has reports whether an item is in the set.
func (s Set) Has(item int) bool { return s[item/64]&(1<<(item%64)) != 0 }

// With is the set with one more item.
func (s Set) With(item int) Set {
	s[item/64] |= 1 << (item % 64)
	return s
}

// Without is the set without an item.
func (s Set) Without(item int) Set {
	s[item/64] &^= 1 << (item % 64)
	return s
}

// In reports whether all items of the set are in another.
func (s Set) In(o Set) bool {
	for i := range s {
		if s[i]&^o[i] != 0 {
			return false
		}
	}
	return true
}

// Len is how many items are in the set.
func (s Set) Len() (n int) {
	for _, word := range s {
		n += bits.OnesCount64(word)
	}
	return n
}

// Items lists the numbers of the items.
func (s Set) Items() (all []int) {
	for i, word := range s {
		for ; word != 0; word &= word - 1 {
			all = append(all, 64*i+bits.TrailingZeros64(word))
		}
	}
	return all
}

// Easiest orders items by their difficulty in points a bar, as they usually are danced,
// the easiest first; of items that are as hard each stays where it is.
func Easiest(items []Item) {
	slices.SortStableFunc(items, func(a, b Item) int { return cmp.Compare(a.Points(), b.Points()) })
}

// Points is the difficulty of an item in points a bar, as it usually is danced.
func (it Item) Points() float64 { return difficulty.Figure(it.Variants[0]).Total() }

// Less is the set without the items of another.
func (s Set) Less(o Set) Set {
	for i := range s {
		s[i] &^= o[i]
	}
	return s
}
