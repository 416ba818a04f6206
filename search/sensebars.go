package search

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lapwright/figures"
)

// sizes refuses numbers of bars that contradict each other or cannot be had.
func (l *limitSense) sizes() error {
	asked, most := max(l.MinBars, l.MaxBars), l.Problem.MostBars()
	switch {
	case l.MaxBars > 0 && l.MinBars > l.MaxBars:
		return fmt.Errorf("at least %d and at most %d bars contradict each other", l.MinBars, l.MaxBars)
	case asked > most && l.rounds() > 1:
		return fmt.Errorf("a routine of %d bars is not searched: at most %d can be had, %d for each of %d laps", asked, most, MostBars, l.rounds())
	case asked > most:
		return fmt.Errorf("a lap of %d bars is not searched: at most %d can be had", asked, most)
	}
	return nil
}

// most is the greatest number of bars that the lap may have, with the words that
// say why.
func (l *limitSense) most() (bars int, words string) {
	if l.MaxBars > 0 {
		return l.MaxBars, fmt.Sprintf("at most %s asked for", areBars(l.MaxBars))
	}
	return l.Problem.MostBars(), fmt.Sprintf("at most %d bars can be had", l.Problem.MostBars())
}

// areBars is a number of bars with its verb: "1 bar is", "3 bars are".
func areBars(n int) string {
	if n == 1 {
		return "1 bar is"
	}
	return fmt.Sprintf("%d bars are", n)
}

// fewestBars is how many bars a figure takes at least.
func (l *limitSense) fewestBars(f *figures.Figure) int {
	least := math.MaxInt
	for _, v := range l.usable {
		if v.Figure == f {
			least = min(least, v.Bars())
		}
	}
	return least
}

// bars refuses more figures than the bars hold.
func (l *limitSense) bars() error {
	most, words := l.most()
	sum := 0
	for _, f := range l.needed {
		sum += l.needs[f] * l.fewestBars(f)
	}
	if sum > most {
		return fmt.Errorf("the figures that have to be danced take %d bars at least; %s", sum, words)
	}
	var others []int
	for _, f := range figuresOf(l.usable) {
		if l.needs[f] == 0 {
			others = append(others, l.fewestBars(f))
		}
	}
	slices.Sort(others)
	for _, bars := range others[:min(len(others), max(0, l.Different-len(l.needed)))] {
		sum += bars
	}
	if sum > most {
		return fmt.Errorf("%d different figures, with all that have to be danced, take %d bars at least; %s", l.Different, sum, words)
	}
	return nil
}

// filled refuses more bars than the figures fill that may be used, when none may be
// danced more than so often, or again within so many bars.
func (l *limitSense) filled() error {
	if l.MinBars == 0 || l.Limits.Uses == 0 && l.Apart == 0 {
		return nil
	}
	round := 0 // bars that all of them fill, each danced once
	for _, f := range figuresOf(l.usable) {
		longest := 0
		for _, v := range l.usable {
			if v.Figure == f {
				longest = max(longest, v.Bars())
			}
		}
		round += longest
	}
	fill := func(bars int) int {
		times := bars
		if l.Apart > 0 {
			times = (bars-1)/l.Apart + 1
		}
		if l.Limits.Uses > 0 {
			times = min(times, l.Limits.Uses)
		}
		return times * round
	}
	most, _ := l.most()
	for bars := l.MinBars; bars <= most; bars++ {
		if fill(bars) >= bars {
			return nil
		}
	}
	var why []string
	if l.Limits.Uses > 0 {
		why = append(why, fmt.Sprintf("no figure may be danced more than %s", count(l.Limits.Uses, "time")))
	}
	if l.Apart > 0 {
		why = append(why, fmt.Sprintf("none again within %s", count(l.Apart, "bar")))
	}
	return fmt.Errorf("%s are asked for, and the figures that may be used fill %d at the most: %s",
		barRange(l.MinBars, most), fill(l.MinBars), strings.Join(why, ", and "))
}

// phrase refuses a range of bars in which no phrase ends.
func (l *limitSense) phrase() error {
	if l.Phrase == 0 {
		return nil
	}
	least := max(1, l.MinBars)
	most, _ := l.most()
	last := most / l.Phrase * l.Phrase
	if last >= least {
		return nil
	}
	ends := fmt.Sprintf("the first ends after bar %d", l.Phrase)
	if last > 0 {
		ends = fmt.Sprintf("they end after bars %d and %d", last, last+l.Phrase)
	}
	return fmt.Errorf("no phrase of %s ends within %s: %s", count(l.Phrase, "bar"), barRange(least, most), ends)
}

// barRange is a range of bars in words: "24 to 31 bars", "25 bars".
func barRange(least, most int) string {
	if least == most {
		return count(least, "bar")
	}
	return fmt.Sprintf("%d to %d bars", least, most)
}
