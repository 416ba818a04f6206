package search

import (
	"fmt"
	"math"
	"slices"

	"lapwright/figures"
	"lapwright/graph/difficulty"
)

// hardest leaves out the variants that are harder than allowed, and refuses a limit
// that leaves none, or no way of dancing what has to be danced.
func (l *limitSense) hardest() error {
	for _, v := range l.Variants {
		if !difficulty.Figure(v).Beyond(l.Hardest) {
			l.easy = append(l.easy, v)
		}
	}
	if len(l.easy) == 0 {
		words, v := l.tooHard(l.Variants)
		return fmt.Errorf("no figure can be danced: %s, in %s", words, v.Name())
	}
	for _, f := range l.asked() {
		of := func(v *figures.Variant) bool { return v.Figure == f }
		if !slices.ContainsFunc(l.easy, of) {
			words, _ := l.tooHard(slices.DeleteFunc(slices.Clone(l.Variants), func(v *figures.Variant) bool { return !of(v) }))
			return fmt.Errorf("%s must be danced, and cannot be: %s", f.Name, words)
		}
	}
	return nil
}

// tooHard says that some variants are too hard, and which of them is the easiest.
func (l *limitSense) tooHard(variants []*figures.Variant) (words string, easiest *figures.Variant) {
	least := math.Inf(1)
	for _, v := range variants {
		if points := difficulty.Figure(v).Total(); points < least {
			least, easiest = points, v
		}
	}
	// Rounded up, so that what is named can be asked for.
	return fmt.Sprintf("the hardest figure may have %g points a bar, and the easiest of them has %.2f", l.Hardest, math.Ceil(100*(least-hair))/100), easiest
}

// asked are the figures that have to be danced, and those that come before them.
func (l *limitSense) asked() []*figures.Figure {
	asked := slices.Clone(l.Must)
	for _, x := range l.Fixed {
		asked = append(asked, x.Figure)
	}
	for _, f := range asked {
		asked = append(asked, l.precede(f)...)
	}
	return asked
}
