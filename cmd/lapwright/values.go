package main

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"lapwright/cmd/internal/wording"
	"lapwright/figures"
	"lapwright/figures/geometry"
	"lapwright/floors"
	"lapwright/search"
	"lapwright/search/routine"
)

// What people write after a flag, and what it means. All of these end in one
// sentence that says what is expected.

// number reads a number in a range; unit says what it counts.
func number(flag, words, unit string, least, most float64) (float64, error) {
	x, err := strconv.ParseFloat(strings.TrimSpace(words), 64)
	if err != nil || math.IsNaN(x) || x < least || x > most {
		return 0, fmt.Errorf("--%s takes %s from %g to %g, not %q", flag, unit, least, most, words)
	}
	return x, nil
}

// whole reads a whole number in a range.
func whole(flag, words, unit string, least, most int) (int, error) {
	n, err := strconv.Atoi(strings.TrimSpace(words))
	if err != nil || n < least || n > most {
		return 0, fmt.Errorf("--%s takes a whole number of %s from %d to %d, not %q", flag, unit, least, most, words)
	}
	return n, nil
}

// seed reads a seed.
func seed(words string) (uint64, error) {
	n, err := strconv.ParseUint(strings.TrimSpace(words), 10, 64)
	if err != nil {
		return 0, fmt.Errorf("--seed takes a whole number from 0 to %d, not %q", uint64(math.MaxUint64), words)
	}
	return n, nil
}

// bars reads a number of bars, up to one, or a range of it: "32", "24-40".
func bars(words string, upTo int) (least, most int, err error) {
	bad := fmt.Errorf("--bars takes a number of bars up to %d or a range such as 24-40, not %q", upTo, words)
	first, second, isRange := strings.Cut(strings.ReplaceAll(words, "–", "-"), "-")
	if !isRange {
		second = first
	}
	least, err1 := strconv.Atoi(strings.TrimSpace(first))
	most, err2 := strconv.Atoi(strings.TrimSpace(second))
	if err1 != nil || err2 != nil || least < 1 || most < 1 || least > upTo || most > upTo {
		return 0, 0, bad
	}
	if least > most {
		return 0, 0, fmt.Errorf("--bars %s contradicts itself: at least %d and at most %d bars", words, least, most)
	}
	return least, most, nil
}

// mostTime is the longest that a search may be given.
const mostTime = 24 * time.Hour

// duration reads how long a search may take: "10s", "2m", or seconds.
func duration(words string) (time.Duration, error) {
	written := strings.TrimSpace(words)
	if isNumber(written) {
		written += "s"
	}
	d, err := time.ParseDuration(written)
	if err != nil || d <= 0 || d > mostTime {
		return 0, fmt.Errorf("--time takes seconds or a duration such as 10s or 2m, up to %g hours, not %q", mostTime.Hours(), words)
	}
	return d, nil
}

// stride reads a stride: a word or metres.
func stride(words string) (float64, error) {
	metres, err := figures.ParseStride(words)
	if err != nil {
		return 0, fmt.Errorf("--stride takes usual, social, crowded or metres from %g to %g, not %q", figures.LeastStride, figures.MostStride, words)
	}
	return metres, nil
}

// The published range of tempo for the international waltz: DTV Turnier- und
// Sportordnung, state 05/2023, as quoted by Tanzclub Schwarz-Weiss Reutlingen;
// the same in the NDCA's recommended tempi.
const (
	publishedLeast = 28.0 // bars a minute
	publishedMost  = 30.0
)

// tempo reads a tempo in bars a minute.
func tempo(words string) (float64, error) {
	return number("tempo", words, "bars a minute", routine.LeastTempo, routine.MostTempo)
}

// tempoWarning is what there is to say about a tempo; empty when nothing.
func tempoWarning(tempo float64) string {
	if tempo == 0 || tempo >= publishedLeast && tempo <= publishedMost {
		return ""
	}
	return fmt.Sprintf("a tempo of %g bars a minute is outside the %g to %g that are published for the waltz; for practice only",
		tempo, publishedLeast, publishedMost)
}

// margin reads the floor to be kept free.
func margin(words string) (float64, error) {
	return number("margin", words, "metres", 0, floors.MaxMargin)
}

// levels reads a list of levels; nil stands for all.
func levels(words string) ([]figures.Level, error) {
	if strings.EqualFold(strings.TrimSpace(words), "all") {
		return nil, nil
	}
	var all []figures.Level
	for _, w := range strings.Split(words, ",") {
		l, err := figures.ParseLevel(strings.TrimSpace(w))
		if err != nil {
			return nil, fmt.Errorf("--level takes social, bronze, silver or gold, several with commas between, or all, not %q", words)
		}
		if !slices.Contains(all, l) {
			all = append(all, l)
		}
	}
	return all, nil
}

// style reads a style; any stands for all of them.
func style(words string) (figures.Style, error) {
	if strings.EqualFold(strings.TrimSpace(words), "all") {
		return figures.AnyStyle, nil
	}
	s, err := figures.ParseStyle(words)
	if err != nil {
		return s, fmt.Errorf("--style takes international, american, country or all, not %q", words)
	}
	return s, nil
}

// weights reads weights such as "lane=0.2,gap=0" over the usual ones.
func weights(list []string) (search.Weights, error) {
	w := search.DefaultWeights()
	parts := []struct {
		name  string
		value *float64
	}{{"bars", &w.Bars}, {"lane", &w.Lane}, {"crowding", &w.Crowding}, {"awkward", &w.Awkward},
		{"repeat", &w.Repeat}, {"stretch", &w.Stretch}, {"gap", &w.Gap}}
next:
	for _, item := range list {
		name, words, _ := strings.Cut(item, "=")
		for _, p := range parts {
			if strings.EqualFold(strings.TrimSpace(name), p.name) {
				least := 0.0
				if p.name == "bars" {
					least = 0.01 // or a lap could go on for ever at no cost
				}
				x, err := number("weight "+p.name, words, "bars", least, 100)
				if err != nil {
					return w, err
				}
				*p.value = x
				continue next
			}
		}
		return w, fmt.Errorf("--weight takes bars, lane, crowding, awkward, repeat, stretch or gap, an equals sign and a number, such as lane=0.2, not %q", item)
	}
	return w, nil
}

var (
	startAt   = regexp.MustCompile(`(?i)\s+at\s+([^\s,]+)\s*,\s*([^\s,]+)`)
	startWall = regexp.MustCompile(`(?i)\s+wall\s+(\S+)\s*$|\s+wall\s+(-?\d+)\b`)
)

// start reads where a lap starts: a stance, and the place and the wall if they
// are given: "DW, RF, closed at 3,1.5 wall 1". The place is in metres in the
// room's own frame; walls are counted from 1 along the line of dance.
func start(words string, room *floors.Room) (*routine.Start, error) {
	return startOf("start", words, room)
}

// startOf reads what start reads after another flag.
func startOf(flag, words string, room *floors.Room) (*routine.Start, error) {
	bad := func(format string, args ...any) (*routine.Start, error) {
		return nil, fmt.Errorf("--%s %q: "+format, append([]any{flag, words}, args...)...)
	}
	var s routine.Start
	rest := " " + words
	wall := ""
	if m := startWall.FindStringSubmatch(rest); m != nil && (m[2] != "" || isNumber(m[1])) {
		wall = m[1] + m[2]
		rest = strings.Replace(rest, m[0], "", 1)
	}
	if m := startAt.FindStringSubmatch(rest); m != nil {
		x, err1 := strconv.ParseFloat(m[1], 64)
		y, err2 := strconv.ParseFloat(m[2], 64)
		if err1 != nil || err2 != nil {
			return bad("a place is two numbers in metres with a comma between, such as at 3,1.5")
		}
		if !(math.Abs(x) <= floors.MaxReach) || !(math.Abs(y) <= floors.MaxReach) {
			return bad("a place is at most %g m along the room's first axis and across it", floors.MaxReach)
		}
		s.At = &geometry.Point{X: x, Y: y}
		rest = strings.Replace(rest, m[0], "", 1)
	}
	var err error
	if s.Stance, err = figures.ParseStance(strings.TrimSpace(rest)); err != nil {
		return bad("write alignment, free foot, hold, and the place and the wall if you like, such as DW, RF, closed at 3,1.5 wall 1")
	}
	switch {
	case wall != "":
		n, err := strconv.Atoi(wall)
		if err != nil || n < 1 || n > len(room.Walls) {
			return bad("%s", wallsOf(room))
		}
		s.Wall = n - 1
	case s.At != nil:
		s.Wall, _ = room.LineOfDance(*s.At)
	}
	return &s, nil
}

// wallsOf says which walls a room has, by number and by name.
func wallsOf(room *floors.Room) string {
	words := fmt.Sprintf("%s has walls 1 to %d", room.Name, len(room.Walls))
	var all []string
	named := false
	for i, w := range room.Walls {
		all = append(all, fmt.Sprintf("%d is %s", i+1, wording.The(w.Name)))
		named = named || w.Name != fmt.Sprintf("wall %d", i+1)
	}
	if !named {
		return words
	}
	return words + ": " + and(all)
}

func isNumber(words string) bool {
	_, err := strconv.ParseFloat(words, 64)
	return err == nil
}
