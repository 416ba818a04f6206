package main

import (
	"fmt"
	"math"
	"strings"

	"lapwright/figures"
)

// measureFacts are the numbers that tell how comfortably a figure is danced.
func measureFacts(d *figures.Danced) []fact {
	m := d.Measures()
	each := func(of [2]float64) string {
		return fmt.Sprintf("leader %.2f m, follower %.2f m", of[figures.Leader], of[figures.Follower])
	}
	return []fact{
		{"Walked", each(m.Walked)},
		{"Longest step", each(m.LongestStep) + fmt.Sprintf(" from foot to foot (of at most %.2f m)", d.Couple.LongestStep)},
		{"Closest feet", clearanceWords(m.SoleGap)},
		{"Hold", stretchWords(m.Stretch) + "; the middles of the bodies " + apartWords(m.Nearest, m.Farthest) + " apart"},
		{"Most turn", turnWords(&m)},
	}
}

// clearanceWords says how near a foot lands to one of the partner's.
func clearanceWords(gap float64) string {
	switch cm := math.Round(gap * 100); {
	case cm > 0:
		return fmt.Sprintf("%.0f cm between a foot that lands and the partner's", cm)
	case cm == 0:
		return "a foot lands beside the partner's and brushes it"
	default:
		return fmt.Sprintf("the soles' edges overlap by %.0f cm", -cm)
	}
}

// stretchWords says how far the hold gives.
func stretchWords(stretch float64) string {
	if cm := math.Round(stretch * 100); cm > 0 {
		return fmt.Sprintf("stretched by %.0f cm at most", cm)
	}
	return "not stretched"
}

// turnWords says what the greatest turns with one step are, by kind.
func turnWords(m *figures.Measures) string {
	var words []string
	for k := figures.StepTurn; int(k) < figures.TurnKinds; k++ {
		if t := m.MostOf[k]; t != 0 {
			words = append(words, fmt.Sprintf("%s %s (of at most %s)", t.Amount(), k, k.Most().Amount()))
		}
	}
	if len(words) == 0 {
		return "none with any step"
	}
	return strings.Join(words, ", ")
}

// apartWords is a range of metres.
func apartWords(least, most float64) string {
	a, b := fmt.Sprintf("%.2f", least), fmt.Sprintf("%.2f", most)
	if a == b {
		return a + " m"
	}
	return a + " to " + b + " m"
}
