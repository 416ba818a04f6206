package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"lapwright/cmd/internal/answer"
	"lapwright/cmd/internal/wording"
)

// repairs prints how a routine can be mended.
func (s *session) repairs(a *answer.Repair) error {
	switch {
	case a == nil:
		return nil
	case !a.Found:
		fmt.Fprintf(s.out, "\n%s\n%s.\n", s.paint.bold("No repair:"), folded(a.Why, 96))
		return nil
	case a.Changes == 0 && !slices.ContainsFunc(a.Ways[0].Beside, isChanged):
		fmt.Fprintf(s.out, "\n%s\n%s\n", s.paint.bold("No repair:"),
			"the figures can be danced as they stand. What is wrong are limits, which are not mended.")
		return nil
	}
	fewest := fmt.Sprintf("The fewest changes: %d", a.Changes)
	if a.Changes == 0 {
		fewest += "; the same figures, danced otherwise"
	}
	fmt.Fprintf(s.out, "\n%s\nWhat comes in: %s.\n", s.paint.bold(fewest), a.ComesIn)
	for i := range a.Ways {
		m := &a.Ways[i]
		fmt.Fprintf(s.out, "\n%s\n\n", s.paint.bold(fmt.Sprintf("Repair %d: %s", m.Number, mendedWords(m))))
		if err := table(s.out, []column{{"Bar", true}, {"Was", false}, {"Bar", true}, {"Becomes", false}, {"What is done", false}}, mendedRows(m)); err != nil {
			return err
		}
		if len(m.Remaining) > 0 {
			fmt.Fprintf(s.out, "\nNot mended:\n")
		}
		for _, f := range m.Remaining {
			fmt.Fprintf(s.out, "  %s: %s\n", s.paint.warn(f.Kind), f.Words)
		}
	}
	if len(a.Ways) > 1 {
		fmt.Fprintf(s.out, "\n%s.\n", folded("Order: "+a.Order, 96))
	}
	if !a.All {
		fmt.Fprintf(s.out, "\nThere may be more repairs with as few changes; it was not looked any further.\n")
	}
	fmt.Fprintf(s.out, "\n%s", cautions)
	return nil
}

// isChanged reports whether anything is done with a figure.
func isChanged(e answer.MendedEntry) bool {
	return e.Done != "stays" || e.NowScale != e.WasScale || e.WallChanged
}

// mendedWords say what a repair does, in a few words.
func mendedWords(m *answer.Mended) string {
	var all []string
	for _, d := range []struct {
		n    int
		what string
	}{{m.PutIn, "put in"}, {m.PutInPlace, "put in place of another"}, {m.LeftOut, "left out"}} {
		if d.n > 0 {
			all = append(all, wording.Many(d.n, "figure")+" "+d.what)
		}
	}
	otherwise := 0
	for _, e := range m.Beside {
		if e.Done == "stays" && isChanged(e) {
			otherwise++
		}
	}
	if otherwise > 0 {
		all = append(all, wording.Many(otherwise, "figure")+" danced otherwise")
	}
	return strings.Join(all, ", ")
}

// mendedRows are the rows of a table that shows a repair: what is changed, and the figures
// just before and after. What stays besides is counted.
func mendedRows(m *answer.Mended) (rows [][]string) {
	shown := make([]bool, len(m.Beside))
	for i, e := range m.Beside {
		if isChanged(e) {
			shown[max(0, i-1)], shown[i], shown[min(len(shown)-1, i+1)] = true, true, true
		}
	}
	for i := 0; i < len(m.Beside); i++ {
		passed := 0
		for i+passed < len(shown) && !shown[i+passed] {
			passed++
		}
		// A line that counts a single figure would save nothing.
		if passed > 1 {
			rows = append(rows, []string{"", "… " + wording.Many(passed, "figure"), "", "", ""})
			i += passed - 1
			continue
		}
		e := &m.Beside[i]
		rows = append(rows, []string{barCell(e.WasBar), scaledName(e.Was, e.WasScale), barCell(e.NowBar), scaledName(e.Now, e.NowScale), doneWords(e)})
	}
	return rows
}

// scaledName is a figure's name, with its share of the stride where that is not 1.
func scaledName(name string, scale answer.Number) string {
	if name == "" || scale == 1 {
		return name
	}
	return name + " ×" + strconv.FormatFloat(float64(scale), 'f', -1, 64)
}

// barCell is a bar, or nothing.
func barCell(bar int) string {
	if bar == 0 {
		return ""
	}
	return strconv.Itoa(bar)
}

// doneWords say what is done with a figure; empty where it stays as it is.
func doneWords(e *answer.MendedEntry) string {
	if e.Done != "stays" {
		words := e.Done
		if words == "put in place" {
			words = "put in its place"
		}
		if e.NowWall {
			words += ", along the next wall"
		}
		return words
	}
	var all []string
	switch {
	case e.NowScale < e.WasScale:
		all = append(all, "danced shorter")
	case e.NowScale > e.WasScale:
		all = append(all, "danced longer")
	}
	if e.WallChanged {
		wall := "along the same wall"
		if e.NowWall {
			wall = "along the next wall"
		}
		all = append(all, wall)
	}
	return strings.Join(all, ", ")
}
