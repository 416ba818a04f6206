package main

import (
	"fmt"
	"strconv"

	"lapwright/cmd/internal/answer"
	"lapwright/cmd/internal/wording"
)

// drills prints drills that were drawn.
func (s *session) drills(q *drillQuestion, a *answer.Drills, written []string) error {
	where := "in " + q.room.Name
	if a.Anywhere {
		where = "for anywhere"
	}
	what := "Drill"
	if len(a.Drills) > 1 {
		what = wording.Many(len(a.Drills), "drill")
	}
	fmt.Fprintf(s.out, "%s (%s)\n%s, %s at %g bars a minute", s.paint.bold(what+" "+where), q.heading(), wording.Many(a.Bars, "bar"), wording.Clock(float64(a.Seconds)), float64(a.Tempo))
	if len(a.Focus) > 0 {
		fmt.Fprintf(s.out, "; %d times as likely with each: %s", a.Weight, and(a.Focus))
	}
	fmt.Fprintln(s.out)
	turns := false
	for i := range a.Drills {
		d := &a.Drills[i]
		fmt.Fprintln(s.out)
		if len(a.Drills) > 1 {
			fmt.Fprintf(s.out, "%s\n", s.paint.bold(fmt.Sprintf("Card %d: seed %d", d.Number, d.Seed)))
		} else {
			fmt.Fprintf(s.out, "%s\n", s.paint.bold(fmt.Sprintf("Seed %d", d.Seed)))
		}
		if err := s.calls(q, a, d); err != nil {
			return err
		}
		for _, c := range d.Calls {
			turns = turns || c.TakesNextWall
		}
		fmt.Fprintf(s.out, "Difficulty: %s\n", difficultyWords(d.Difficulty))
	}
	fmt.Fprintln(s.out)
	if turns {
		fmt.Fprintln(s.out, "> the next wall's line of dance is taken before this figure, at the corner")
	}
	if len(a.Drills) > 1 {
		fmt.Fprintf(s.out, "Order: as they were drawn. The cards have %.2f to %.2f points a bar. --seed with the seed of a card draws\nthat drill again by itself, with --bars, --focus, the figures and the room as here.\n", float64(a.EasiestDrill), float64(a.HardestDrill))
	}
	if a.Anywhere {
		fmt.Fprintln(s.out, "Along one endless wall, without corners: whether it fits a room, the room decides.")
	}
	s.afterLaps(written)
	return nil
}

// calls prints a drill figure by figure.
func (s *session) calls(q *drillQuestion, a *answer.Drills, d *answer.Drill) error {
	columns := []column{{"Bar", true}, {"Figure", false}, {"Counts", false}, {"From", false}, {"To", false}, {"Wall", false}}
	var rows [][]string
	for i, c := range d.Calls {
		wall := ""
		if d.Routine != nil {
			wall = wallCell(q.room.Room, d.Routine.Figures[i].From.Wall, c.TakesNextWall)
		}
		rows = append(rows, []string{strconv.Itoa(c.Bar), optionName(c.Name), c.Counts, c.FromShort, c.ToShort, wall})
	}
	return table(s.out, columns, rows)
}
