package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"lapwright/cmd/internal/answer"
	"lapwright/figures"
)

// technique shows how one dancer takes each step: footwork, sway, contra body
// movement, rise and fall. A column of which nothing is known is left out.
func (s *session) technique(d *figures.Danced, who figures.Dancer) error {
	head := "Leader"
	if who == figures.Follower {
		head = "Follower"
	}
	columns := []column{{head, true}, {"Count", false}, {"Footwork", false}, {"Sway", false}, {"CBM, CBMP", false}, {"Rise and fall", false}}
	var rows [][]string
	for i, step := range answer.NewSteps(d) {
		fall, rise := step.Leader, step.Rise.Leader
		if who == figures.Follower {
			fall, rise = step.Follower, step.Rise.Follower
		}
		row := []string{strconv.Itoa(i + 1), step.Count, "", "", "", rise}
		if fall != nil {
			row[2], row[3], row[4] = fall.Footwork, fall.Sway, fall.BodyMovement()
		}
		rows = append(rows, row)
	}
	nothing := func(r []string) bool { return strings.Join(r[2:], "") == "" }
	if !slices.ContainsFunc(rows, func(r []string) bool { return !nothing(r) }) {
		return nil // the figure's file says nothing about it
	}
	fmt.Fprintln(s.out)
	return table(s.out, columns, rows)
}
