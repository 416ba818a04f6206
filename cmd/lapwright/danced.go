package main

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"lapwright/cmd/internal/answer"
	"lapwright/cmd/internal/wording"
	"lapwright/floors"
)

// printFigures prints what is danced, bar by bar. The faults, by number of the
// figure, get a column of their own where there are any.
func printFigures(w io.Writer, room *floors.Room, r *answer.Routine, faults map[int]string) error {
	columns := []column{{"Bar", true}, {"Figure", false}, {"Counts", false}, {"From", false}, {"To", false},
		{"Wall", false}, {"Place", false}, {"Free foot", false}, {"Hold", false}}
	scaled := false
	for _, f := range r.Figures {
		scaled = scaled || f.Scale != 1
	}
	if scaled {
		columns = append(columns, column{"Scale", true})
	}
	if len(faults) > 0 {
		columns = append(columns, column{"Fault", false})
	}
	var rows [][]string
	row := func(cells ...string) {
		rows = append(rows, append(cells, make([]string, len(columns)-len(cells))...))
	}
	for _, f := range r.Figures {
		cells := []string{strconv.Itoa(f.Bar), nameInTwo(f), f.Counts, f.From.Short, f.To.Short, wallCell(room, f.From.Wall, f.TakesNextWall),
			place(f.From.X, f.From.Y), f.From.Foot, f.From.Hold}
		if scaled {
			scale := ""
			if f.Scale != 1 {
				scale = strconv.FormatFloat(float64(f.Scale), 'f', -1, 64)
			}
			cells = append(cells, scale)
		}
		if len(faults) > 0 {
			cells = append(cells, faults[f.Number])
		}
		row(cells...)
	}
	if n := len(r.Figures); n > 0 {
		end := r.Figures[n-1].To
		row("", "end", "", end.Short, "", wallCell(room, end.Wall, false), place(end.X, end.Y), end.Foot, end.Hold)
	}
	if err := table(w, columns, rows); err != nil {
		return err
	}
	explain(w, r, scaled)
	return nil
}

// explain says under a table what its marks mean, where they occur.
func explain(w io.Writer, r *answer.Routine, scaled bool) {
	var notes []string
	for _, f := range r.Figures {
		if f.TakesNextWall {
			notes = append(notes, "> the next wall's line of dance is taken before this figure, at the corner")
			break
		}
	}
	if scaled {
		notes = append(notes, "Scale: the share of the stride at which a figure is danced, where it is not 1")
	}
	if len(notes) > 0 {
		fmt.Fprintf(w, "\n%s\n", strings.Join(notes, "\n"))
	}
}

// widestName is the number of letters above which a figure's way of dancing goes
// on a line of its own.
const widestName = 32

func nameInTwo(f answer.Figure) string {
	if len([]rune(f.Name)) > widestName && f.Variation != "" {
		return f.Figure + "\n(" + f.Variation + ")"
	}
	return f.Name
}

// wallCell is a wall's number and name; a mark tells that its line of dance has
// just been taken.
func wallCell(room *floors.Room, number int, taken bool) string {
	cell := strconv.Itoa(number)
	if name := room.Walls[number-1].Name; name != fmt.Sprintf("wall %d", number) {
		cell += " " + name
	}
	if taken {
		return "> " + cell
	}
	return "  " + cell
}

func place(x, y answer.Number) string { return fmt.Sprintf("%5.2f, %5.2f", float64(x), float64(y)) }

// fact is a line under a table: what, and how much.
type fact struct{ name, value string }

// printFacts prints facts one below the other. A value may have several lines.
func printFacts(w io.Writer, facts []fact) {
	width := 0
	for _, f := range facts {
		width = max(width, len([]rune(f.name)))
	}
	for _, f := range facts {
		value := strings.ReplaceAll(f.value, "\n", "\n"+strings.Repeat(" ", width+2))
		fmt.Fprintf(w, "%s%s  %s\n", f.name, strings.Repeat(" ", width-len([]rune(f.name))), value)
	}
}

// totals are the sums of a routine.
func totals(t answer.Totals) []fact {
	facts := []fact{{"Bars", fmt.Sprintf("%d, in %s", t.Bars, wording.Many(t.Figures, "figure"))}}
	if t.Tempo > 0 {
		facts = append(facts, fact{"Time", fmt.Sprintf("%s at %g bars a minute", wording.Clock(float64(t.Seconds)), float64(t.Tempo))})
	}
	facts = append(facts,
		fact{"Leader walks", fmt.Sprintf("%.1f m", float64(t.Walked.Leader))},
		fact{"Follower walks", fmt.Sprintf("%.1f m", float64(t.Walked.Follower))})
	if c := t.Closest; c.Figure > 0 {
		how := fmt.Sprintf("%.2f m from %s", float64(c.Clearance), wording.The(c.To))
		if c.Clearance < 0 {
			how = fmt.Sprintf("%.2f m into %s", -float64(c.Clearance), wording.The(c.To))
		}
		facts = append(facts, fact{"Closest approach", fmt.Sprintf("%s, in bar %d near %.1f, %.1f", how, c.Bar, float64(c.X)+0, float64(c.Y)+0)})
	}
	return append(facts, fact{"Difficulty", difficultyWords(t.Difficulty)})
}

// cautions are printed under a lap.
const cautions = `Take care: this is a plan for an empty floor. Leave room for other couples and
shorten the stride where it is crowded; build up fast turns slowly. The limits
that the venue posts and the local rules come first, and a licensed teacher
decides what a couple is ready for.
`

// drawingLine is what stands under a drawing's title.
func drawingLine(heading string, t answer.Totals) string {
	line := fmt.Sprintf("%s; %s", heading, wording.Many(t.Bars, "bar"))
	if t.Tempo > 0 {
		line += fmt.Sprintf(", %s at %g bars a minute", wording.Clock(float64(t.Seconds)), float64(t.Tempo))
	}
	return line
}
