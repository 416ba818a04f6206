package search

import (
	"cmp"
	"slices"

	"lapwright/figures"
	"lapwright/figures/geometry"
	"lapwright/graph/difficulty"
	"lapwright/search/routine"
)

// sort puts the variations in order; those that are alike in it stay as found.
func (v *Varied) sort(by VaryOrder) {
	slices.SortStableFunc(v.Variations, func(a, b Variation) int {
		switch by {
		case ByDifficulty:
			return cmp.Compare(a.Difficulty.Total(), b.Difficulty.Total())
		case ByTravel:
			return cmp.Compare(b.Travel, a.Travel)
		}
		return cmp.Compare(b.Novelty, a.Novelty)
	})
}

// names are the figures, with their ways of dancing, of some steps.
func names(steps []routine.Step) []string {
	all := make([]string, len(steps))
	for i, s := range steps {
		all[i] = s.Variant.Name()
	}
	return all
}

// novelty is the share of figures that differ.
func novelty(was, now []routine.Step) float64 {
	longer := max(len(was), len(now))
	if longer == 0 {
		return 0
	}
	before := make([]int, len(now)+1)
	for j := range before {
		before[j] = j
	}
	for i, w := range was {
		row := make([]int, len(now)+1)
		row[0] = i + 1
		for j, n := range now {
			row[j+1] = min(before[j+1], row[j]) + 1
			row[j+1] = min(row[j+1], before[j]+yes(w.Variant != n.Variant))
		}
		before = row
	}
	return float64(before[len(now)]) / float64(longer)
}

// Measures say what a routine is like to dance.
type Measures struct {
	// Difficulty is in points a bar.
	Difficulty difficulty.Parts
	// Travel is how far in metres the figures carry the couple along the line of
	// dance.
	Travel float64
	Bars   int
}

// measures measures a routine.
func (v *varying) measures(r *routine.Routine) (m Measures) {
	variants := make([]*figures.Variant, len(r.Steps))
	walls := v.Room.Walls
	stands := v.dance(v.start(), r.Steps)
	for i, s := range r.Steps {
		from, to := stands[i], stands[i+1]
		variants[i] = s.Variant
		m.Bars += s.Variant.Bars()
		m.Travel += geometry.Unit(walls[to.wall].Direction).Dot(to.cell.Point().Sub(from.cell.Point()))
	}
	// As the checker does, the join from the end to the beginning counts where the
	// routine closes.
	first, last := stands[0], stands[len(stands)-1]
	m.Difficulty = difficulty.Routine(v.Follows, variants)
	if corners(r.Steps) > 0 && first.wall == last.wall && first.stance == last.stance && last.cell.Point().Sub(first.cell.Point()).Len() <= Tolerance+1e-9 {
		m.Difficulty = difficulty.Round(v.Follows, variants)
	}
	return m
}
