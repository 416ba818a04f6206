package search

import (
	"fmt"
	"math"
	"slices"

	"lapwright/figures"
)

// steps finds the variants that keep to the longest steps, and refuses caps to
// which none does, or no way of dancing what has to be danced.
func (l *limitSense) steps() error {
	if l.LeaderStep == 0 && l.FollowerStep == 0 {
		l.usable = l.easy
		return nil
	}
	for _, v := range l.easy {
		if l.keepsSteps(v) {
			l.usable = append(l.usable, v)
		}
	}
	if len(l.usable) == 0 {
		words, v := l.tooLong(l.easy)
		if v == nil {
			return fmt.Errorf("no figure can be danced: %s", words)
		}
		return fmt.Errorf("no figure can be danced: %s, in %s", words, v.Name())
	}
	for _, f := range l.asked() {
		ways := slices.DeleteFunc(slices.Clone(l.easy), func(v *figures.Variant) bool { return v.Figure != f })
		if !slices.ContainsFunc(ways, l.keepsSteps) {
			words, _ := l.tooLong(ways)
			return fmt.Errorf("%s must be danced, and cannot be: %s", f.Name, words)
		}
	}
	return nil
}

// tooLong says for which dancer the steps of some variants are too long, and in
// which of them they are shortest; where each dancer alone could keep to the cap,
// there is none.
func (l *limitSense) tooLong(variants []*figures.Variant) (words string, shortest *figures.Variant) {
	for who, most := range l.longest() {
		least := math.Inf(1)
		for _, v := range variants {
			for _, long := range l.longestSteps(v) {
				if long[who] < least {
					least, shortest = long[who], v
				}
			}
		}
		if most > 0 && least > most+hair {
			// Rounded up, so that what is named can be asked for.
			return fmt.Sprintf("the %s's longest step may be %g m, and is %.2f m at the least", figures.Dancer(who), most,
				math.Ceil(100*(least-hair))/100), shortest
		}
	}
	return fmt.Sprintf("the longest steps may be %g m for the leader and %g m for the follower, which one of them goes beyond", l.LeaderStep, l.FollowerStep), nil
}

// keepsSteps reports whether a variant can be danced at some scale, from some
// entry, with steps no longer than allowed.
func (l *limitSense) keepsSteps(v *figures.Variant) bool {
	return slices.ContainsFunc(l.longestSteps(v), func(long [2]float64) bool {
		return (l.LeaderStep == 0 || long[figures.Leader] <= l.LeaderStep+hair) &&
			(l.FollowerStep == 0 || long[figures.Follower] <= l.FollowerStep+hair)
	})
}

// longestSteps are both dancers' longest steps in metres, at each scale and from
// each hold and foot in which a variant can begin: to which side it faces makes
// no difference.
func (l *limitSense) longestSteps(v *figures.Variant) (all [][2]float64) {
	for _, scale := range l.Scales {
		c := l.Couple.WithStride(l.Couple.Stride * scale.Share)
		seen := map[figures.Stance]bool{}
		for _, entry := range v.Entries {
			entry.Facing = v.Entries[0].Facing
			if seen[entry] {
				continue
			}
			seen[entry] = true
			var long [2]float64
			for _, t := range v.Dance(entry, c).Steps {
				for who := range long {
					long[who] = max(long[who], t.Falls[who].Length)
				}
			}
			all = append(all, long)
		}
	}
	return all
}
