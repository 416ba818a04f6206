package main

import (
	"fmt"
	"strconv"
	"strings"

	"lapwright/cmd/internal/answer"
)

// difficultyWords are a difficulty with the parts that make it: "3.75 points a bar:
// level 1.00, turn 2.50, alignment 0.25".
func difficultyWords(d answer.Difficulty) string {
	var parts []string
	for _, p := range difficultyParts(d) {
		if p.points > 0 {
			parts = append(parts, fmt.Sprintf("%s %.2f", p.name, float64(p.points)))
		}
	}
	words := fmt.Sprintf("%.2f points a bar", float64(d.Total))
	if len(parts) > 0 {
		words += ": " + strings.Join(parts, ", ")
	}
	return words
}

// difficultyPart is a part of a difficulty.
type difficultyPart struct {
	name   string
	points answer.Number
}

// difficultyParts are the parts of a difficulty, in the order in which they are told.
func difficultyParts(d answer.Difficulty) []difficultyPart {
	return []difficultyPart{{"level", d.Level}, {"turn", d.Turn}, {"hold changes", d.Holds}, {"alignment", d.Alignment}, {"awkwardness", d.Awkwardness}}
}

// difficulties prints how hard each figure of a routine and each join is.
func (s *session) difficulties(r *answer.Routine) error {
	columns := []column{{"Bar", true}, {"Figure, and its join to the one before", false}, {"Level", true}, {"Turn", true}, {"Hold changes", true}, {"Alignment", true}, {"Awkwardness", true}, {"Points", true}}
	row := func(bar, name string, d answer.Difficulty, unit string) []string {
		cells := []string{bar, name}
		for _, p := range difficultyParts(d) {
			cell := ""
			if p.points > 0 {
				cell = fmt.Sprintf("%.2f", float64(p.points))
			}
			cells = append(cells, cell)
		}
		return append(cells, fmt.Sprintf("%.2f%s", float64(d.Total), unit))
	}
	var rows [][]string
	for i, f := range r.Figures {
		if f.JoinDifficulty.Total > 0 {
			before := r.Figures[(i+len(r.Figures)-1)%len(r.Figures)]
			rows = append(rows, row("", "  joined to "+before.Name, f.JoinDifficulty, "      "))
		}
		rows = append(rows, row(strconv.Itoa(f.Bar), f.Name, f.Difficulty, " a bar"))
	}
	rows = append(rows, row("", "all", r.Totals.Difficulty, " a bar"))
	fmt.Fprintf(s.out, "\n%s\n\n", s.paint.bold("Difficulty"))
	if err := table(s.out, columns, rows); err != nil {
		return err
	}
	fmt.Fprint(s.out, "\nA figure has points a bar, a join points; joins without any are left out. A measure of\nour own: common practice, no source.\n")
	return nil
}
