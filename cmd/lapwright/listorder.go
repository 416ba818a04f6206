package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"lapwright/figures"
	"lapwright/graph/difficulty"
)

// listOrder is how a list of figures is ordered.
type listOrder string

// The orders.
const (
	byBook       listOrder = "book"
	byName       listOrder = "name"
	byLevel      listOrder = "level"
	byDifficulty listOrder = "difficulty"
)

// figuresOrder reads an order; nothing is that of the library.
func figuresOrder(words string) (listOrder, error) {
	switch o := listOrder(strings.ToLower(strings.TrimSpace(words))); o {
	case "":
		return byBook, nil
	case byBook, byName, byLevel, byDifficulty:
		return o, nil
	}
	return "", fmt.Errorf("--sort takes book, name, level or difficulty, not %q", words)
}

// words say how the list is ordered.
func (o listOrder) words() string {
	switch o {
	case byName:
		return "by name"
	case byLevel:
		return "the lowest level first"
	case byDifficulty:
		return "the easiest first"
	}
	return "in the order of the library"
}

// sorted is the variants in the order; the ways of dancing a figure stay together, and
// the figure stands where its first way does.
func (o listOrder) sorted(variants []*figures.Variant) []*figures.Variant {
	if o == byBook {
		return variants
	}
	first := map[*figures.Figure]*figures.Variant{}
	for _, v := range variants {
		if first[v.Figure] == nil {
			first[v.Figure] = v
		}
	}
	all := slices.Clone(variants)
	slices.SortStableFunc(all, func(a, b *figures.Variant) int {
		switch o {
		case byName:
			return strings.Compare(figures.NameKey(a.Figure.Name), figures.NameKey(b.Figure.Name))
		case byLevel:
			return cmp.Compare(rung(a.Figure), rung(b.Figure))
		}
		easier := cmp.Compare(difficulty.Figure(first[a.Figure]).Total(), difficulty.Figure(first[b.Figure]).Total())
		// Of figures that are as hard the ways of dancing stay together too.
		return cmp.Or(easier, strings.Compare(figures.NameKey(a.Figure.Name), figures.NameKey(b.Figure.Name)))
	})
	return all
}
