package main

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"lapwright/cmd/internal/wording"
	"lapwright/search"
	"lapwright/search/check"
	"lapwright/search/routine"
)

// What of a routine may be danced otherwise: bars that are replaced, bars and figures
// that are kept, and the figure that comes first.

// mostBarsOff is the greatest number of bars by which a piece may become longer or shorter.
const mostBarsOff = 8

// stretches finds what may change.
func (c *varyCommand) stretches(q *varyQuestion) error {
	rows := q.checked.report.Rows
	tolerance := usualTolerance
	if c.Tolerance != "" {
		var err error
		if tolerance, err = number("tolerance", c.Tolerance, "metres", 0, 5); err != nil {
			return err
		}
	}
	if c.BarsOff != "" {
		var err error
		if q.off, err = whole("bars-off", c.BarsOff, "bars", 0, mostBarsOff); err != nil {
			return err
		}
	}
	replace, err := c.spans("replace", c.Replace, q.checked.report.Bars)
	if err != nil {
		return err
	}
	if err := c.lock(q); err != nil {
		return err
	}
	switch kept := slices.Contains(q.locked, true); {
	case len(replace) > 0 && c.Whole:
		return fmt.Errorf("--replace and --whole contradict each other: give one of them")
	case len(replace) == 0 && !c.Whole && !kept:
		return fmt.Errorf("say what may change: --replace 9-16 for some bars, --keep 3-8 or --keep-figure \"Whisk\" for all but those, or --whole")
	}
	change := make([]bool, len(rows))
	for i := range rows {
		change[i] = len(replace) == 0 && !q.locked[i]
	}
	for _, r := range replace {
		if err := r.mark(q, change); err != nil {
			return err
		}
	}
	for i := 0; i < len(rows); i++ {
		if !change[i] {
			q.locked[i] = true
			continue
		}
		// A stretch goes round the room once at most.
		s := search.Stretch{First: i, Tolerance: tolerance}
		for corners := 0; i < len(rows) && change[i] && s.MinBars+rows[i].Variant.Bars() <= search.MostVaried; i++ {
			if rows[i].NextWall {
				corners++
			}
			if corners > len(q.problem.Room.Walls) {
				break
			}
			s.MinBars += rows[i].Variant.Bars()
		}
		s.End, s.MinBars, s.MaxBars = i, max(1, s.MinBars-q.off), min(search.MostVaried, s.MinBars+q.off)
		i--
		q.problem.Stretches = append(q.problem.Stretches, s)
	}
	if len(q.problem.Stretches) == 0 {
		return fmt.Errorf("all of the routine is kept, so nothing is left to dance otherwise")
	}
	return nil
}

// span is some bars of a routine, from 1.
type span struct{ first, last int }

func (b span) String() string {
	if b.first == b.last {
		return fmt.Sprintf("bar %d", b.first)
	}
	return fmt.Sprintf("bars %d-%d", b.first, b.last)
}

// spans reads bars such as "3-8".
func (c *varyCommand) spans(flag string, list []string, most int) (all []span, err error) {
	for _, words := range list {
		first, second, isRange := strings.Cut(strings.ReplaceAll(words, "–", "-"), "-")
		if !isRange {
			second = first
		}
		a, err1 := strconv.Atoi(strings.TrimSpace(first))
		b, err2 := strconv.Atoi(strings.TrimSpace(second))
		switch {
		case err1 != nil || err2 != nil || a < 1 || b < a:
			return nil, fmt.Errorf("--%s takes bars such as 3-8, or several such with commas between, not %q", flag, words)
		case b > most:
			return nil, fmt.Errorf("--%s %s: the routine has %s, so there is no bar %d", flag, words, wording.Many(most, "bar"), b)
		}
		all = append(all, span{a, b})
	}
	return all, nil
}

// lock finds the figures that are kept.
func (c *varyCommand) lock(q *varyQuestion) error {
	rows := q.checked.report.Rows
	q.locked = make([]bool, len(rows))
	keep, err := c.spans("keep", c.Keep, q.checked.report.Bars)
	if err != nil {
		return err
	}
	for i := range rows {
		for _, b := range keep {
			q.locked[i] = q.locked[i] || b.touches(&rows[i])
		}
	}
	for _, name := range c.KeepFigure {
		ways, err := q.repertory.library.Ways(name)
		if err != nil {
			return fmt.Errorf("--keep-figure: %w", err)
		}
		found := false
		for i := range rows {
			if slices.Contains(ways, rows[i].Variant) {
				q.locked[i], found = true, true
			}
		}
		if !found {
			return fmt.Errorf("--keep-figure: the routine has no %s to keep", strings.TrimSpace(name))
		}
	}
	return nil
}

// touches reports whether a figure is danced in any of the bars.
func (b span) touches(row *check.Row) bool {
	return row.Bar <= b.last && row.Bar+row.Variant.Bars()-1 >= b.first
}

// mark marks the figures of the bars as ones that may change. The bars must hold
// whole figures, and none that is kept.
func (b span) mark(q *varyQuestion, change []bool) error {
	rows := q.checked.report.Rows
	whole := b
	for i := range rows {
		if b.touches(&rows[i]) {
			whole.first = min(whole.first, rows[i].Bar)
			whole.last = max(whole.last, rows[i].Bar+rows[i].Variant.Bars()-1)
		}
	}
	if whole != b {
		return fmt.Errorf("%s would cut a figure in two; the figures there take %s, so write --replace %d-%d", b, whole, whole.first, whole.last)
	}
	for i := range rows {
		if !b.touches(&rows[i]) {
			continue
		}
		if q.locked[i] {
			return fmt.Errorf("%s are to be replaced, but %s in bar %d is kept: leave one of the two out", b, rows[i].Variant.Name(), rows[i].Bar)
		}
		change[i] = true
	}
	return nil
}

// alongWall parts a figure's name and the wall behind it.
var alongWall = regexp.MustCompile(`^(.*?)\s+wall\s+(\d+)\s*$`)

// beginWith finds the figure that comes first.
func (c *varyCommand) beginWith(q *varyQuestion) error {
	name, wall := strings.TrimSpace(c.BeginWith), ""
	if name == "" {
		return nil
	}
	if m := alongWall.FindStringSubmatch(name); m != nil {
		name, wall = m[1], m[2]
	}
	ways, err := q.repertory.library.Ways(name)
	if err != nil {
		return fmt.Errorf("--begin-with: %w", err)
	}
	p := &q.problem
	for _, v := range ways {
		if slices.Contains(p.Variants, v) {
			p.Begin = append(p.Begin, v)
		}
	}
	if len(p.Begin) == 0 {
		return fmt.Errorf("%s is to come first, but is not among the figures that may be: %s", name, q.repertory.reasonAgainst(ways[0].Figure))
	}
	if wall == "" {
		return nil
	}
	n, err := wallIn("begin-with", c.BeginWith, wall, p.Room)
	if err != nil {
		return err
	}
	along := p.Routine.Start.Wall
	if first := p.Stretches[0].First; first > 0 {
		along = q.checked.report.Rows[first-1].Wall
	}
	next := (along + 1) % len(p.Room.Walls)
	switch n {
	case along:
		p.BeginCorner = routine.Stay
	case next:
		p.BeginCorner = routine.Take
	default:
		return fmt.Errorf("--begin-with %q: the couple is at wall %d there, and can dance along that or along wall %d", c.BeginWith, along+1, next+1)
	}
	return nil
}
