// Package teach says what a class needs to get round a room, and what it is best taught
// next.
//
// What lives here: which sets of figures get a couple right round ([Round]), and what a
// figure opens to those who know some. What does not: how hard figures are
// (graph/difficulty), how fast routines grow in number (graph/growth), the best lap
// (package search), and anything that a person sees (the program).
package teach

import (
	"math/bits"

	"lapwright/figures"
)

// Item is what is taught at a time: a figure in some ways of dancing it.
type Item struct {
	Figure   *figures.Figure
	Variants []*figures.Variant // at least one
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
	for i := range MostItems {
		if s.Has(i) {
			all = append(all, i)
		}
	}
	return all
}
