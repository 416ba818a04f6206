package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strconv"
	"strings"

	"lapwright/cmd/internal/answer"
	"lapwright/cmd/internal/routinefile"
	"lapwright/cmd/internal/sheet"
	"lapwright/cmd/internal/wholefile"
	"lapwright/cmd/internal/wording"
	"lapwright/floors"
	"lapwright/search"
)

// countFlags ask for several laps.
type countFlags struct {
	Count  string `group:"Choice:" placeholder:"K" help:"So many laps that really differ, the best first (1)."`
	Within string `group:"Choice:" placeholder:"PERCENT" help:"By how much the other laps may cost more than the best (5)."`
}

// usualWithin is the share by which laps may be dearer where nothing is said.
const usualWithin = 0.05

// choose reads the flags: how many laps, and by what share they may be dearer.
func (c countFlags) choose() (count int, within float64, err error) {
	count, within = 1, usualWithin
	if c.Count != "" {
		if count, err = whole("count", c.Count, "laps", 1, search.MostCount); err != nil {
			return 0, 0, err
		}
	}
	if c.Within != "" {
		words := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(c.Within), "%"))
		percent, err := number("within", words, "per cent", 0, 100)
		if err != nil {
			return 0, 0, err
		}
		if count == 1 {
			return 0, 0, errors.New("--within is about the other laps: say with --count how many laps are wanted")
		}
		within = percent / 100
	}
	return count, within, nil
}

// numbered is the name of the file of one of several laps: lap-3.yaml.
func numbered(path string, number int) string {
	if path == "" {
		return ""
	}
	ending := filepath.Ext(path)
	return strings.TrimSuffix(path, ending) + "-" + strconv.Itoa(number) + ending
}

// forLap are the files of one of several laps.
func (o outputFlags) forLap(number int) outputFlags {
	o.Out, o.SVG = numbered(o.Out, number), numbered(o.SVG, number)
	return o
}

// readyFor tells before any work is done why a file of so many laps could not be
// written.
func (o outputFlags) readyFor(count int) error {
	if count == 1 {
		return o.ready()
	}
	for number := 1; number <= count; number++ {
		if err := o.forLap(number).ready(); err != nil {
			return err
		}
	}
	return nil
}

// severalLaps dances, writes and prints several laps.
func (s *session) severalLaps(q *lapQuestion, a *answer.Lap, result *search.Result, out outputFlags) error {
	// A search that was stopped shows, and writes, what it has so far.
	ctx := s.ctx
	if ctx.Err() != nil {
		ctx = context.WithoutCancel(ctx)
	}
	var files []wholefile.File
	for i, lap := range result.Laps {
		names := out.forLap(i + 1)
		file := q.file(lap, names.Out)
		file.Made = s.command
		file.Name = fmt.Sprintf("Lap of %s, no. %d", q.room.Name, i+1)
		report, err := q.proof(file)
		if err != nil {
			return err
		}
		a.Laps = append(a.Laps, answer.NewNumberedLap(result, i+1, report, &file.Routine))
		danced := &a.Laps[i]
		if names.Out != "" {
			files = append(files, wholefile.File{Path: names.Out, Data: routinefile.Format(file)})
		}
		if names.SVG != "" {
			line := drawingLine(q.heading(), danced.Routine.Totals)
			files = append(files, wholefile.File{Path: names.SVG, Data: sheet.Draw(report, sheet.Title{Name: file.Name, Line: line})})
		}
		if err := ctx.Err(); err != nil {
			return err
		}
	}
	a.Routine, a.Cost, a.Spread = &a.Laps[0].Routine, a.Laps[0].Cost, answer.NewSpread(result.Spread)
	written, err := writeTogether(ctx, out.Force, files)
	if err != nil {
		return err
	}
	if s.json {
		return answer.Write(s.out, a)
	}
	if err := s.lapInFull(q, a); err != nil {
		return err
	}
	if err := s.compare(q, a); err != nil {
		return err
	}
	s.afterLaps(written)
	return nil
}

// writeTogether writes files, all or none, and returns their names.
func writeTogether(ctx context.Context, force bool, files []wholefile.File) (written []string, err error) {
	if len(files) == 0 {
		return nil, nil
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if err := wholefile.WriteAll(force, files...); err != nil {
		return nil, err
	}
	for _, f := range files {
		written = append(written, f.Path)
	}
	return written, nil
}

// compare prints several laps beside each other, and how much they differ.
func (s *session) compare(q *lapQuestion, a *answer.Lap) error {
	within := fmt.Sprintf("within %g %% of the best", float64(a.Asked.Within))
	if a.Spread.Stopped {
		fmt.Fprintf(s.out, "\n%s\nThe search ended before other laps were found: give it more time, or ask with --within\nfor laps nearer to the best.\n", s.paint.bold("No other lap yet"))
		return nil
	}
	if len(a.Laps) == 1 {
		fmt.Fprintf(s.out, "\n%s\n%s\n", s.paint.bold("No other lap "+within), reason(a))
		return nil
	}
	fmt.Fprintf(s.out, "\n%s\n\n", s.paint.bold(fmt.Sprintf("%d laps %s, chosen to differ", len(a.Laps), within)))
	columns := []column{{"Lap", true}, {"Cost", true}, {"Over the best", true}, {"Bars", true}, {"Figures", true}, {"Difficulty", true}, {"Differs from lap 1 in", true}, {"Most like it", false}}
	var rows [][]string
	for i, l := range a.Laps {
		over, from := "", ""
		if i > 0 {
			over, from = fmt.Sprintf("%.1f %%", float64(l.OverBest)), figuresApart(l.FromFirst)
		}
		rows = append(rows, []string{strconv.Itoa(l.Number), fmt.Sprintf("%.2f", float64(l.Cost.Total)), over,
			strconv.Itoa(l.Routine.Totals.Bars), strconv.Itoa(l.Routine.Totals.Figures), fmt.Sprintf("%.2f", float64(l.Routine.Totals.Difficulty.Total)), from,
			fmt.Sprintf("lap %d, %s apart", l.Nearest, figuresApart(l.ToNearest))})
	}
	if err := table(s.out, columns, rows); err != nil {
		return err
	}
	for i := range a.Laps {
		fmt.Fprintln(s.out)
		s.wallByWall(q.room.Room, &a.Laps[i])
	}
	p := a.Spread
	fmt.Fprintf(s.out, "\n%s\n\n", measureWords)
	fmt.Fprintf(s.out, "Any two of these laps are at least %s apart, on average %.1f: of the figures of the\nlonger lap at least %.0f %%, on average %.0f %%.\n",
		figuresApart(p.Least), float64(p.Mean), float64(p.LeastPercent), float64(p.MeanPercent))
	fmt.Fprintln(s.out, reason(a))
	return nil
}

// measureWords say how it is measured how much two laps differ.
const measureWords = `Two laps are as many figures apart as have to be put in, taken out or exchanged to make
one of the other; the same figure danced elsewhere along the same wall counts a third
for each metre, danced another way a quarter, and never more than one.`

// reason says what the laps were chosen from, and why there are fewer than were asked
// for.
func reason(a *answer.Lap) string {
	p := a.Spread
	words := fmt.Sprintf("They were chosen from %d laps; others may be farther apart.", p.Candidates)
	if p.Whole {
		words = fmt.Sprintf("They were chosen from all %s there are, and no others are more than twice as far apart.", wording.Many(p.Candidates, "lap"))
	}
	if n := len(a.Laps); n < a.Asked.Count {
		words = fmt.Sprintf("%d were asked for, but no more that differ were found.", a.Asked.Count)
		if p.Whole {
			words = fmt.Sprintf("%d were asked for, but there are no more that differ.", a.Asked.Count)
		}
	}
	if p.Within < a.Asked.Within {
		words += fmt.Sprintf("\nThere are so many laps that only those within %.3g %% of the best were looked at.", float64(p.Within))
	}
	return words
}

// figuresApart is a distance in words.
func figuresApart(n answer.Number) string {
	words := fmt.Sprintf("%.1f figures", float64(n))
	if words == "1.0 figures" {
		return "1 figure"
	}
	return words
}

// wallByWall prints a lap in short: a line for each wall.
func (s *session) wallByWall(room *floors.Room, l *answer.NumberedLap) {
	fmt.Fprintf(s.out, "%s (%s, %.2f)\n", s.paint.bold(fmt.Sprintf("Lap %d", l.Number)), wording.Many(l.Routine.Totals.Bars, "bar"), float64(l.Cost.Total))
	width := 0
	for i := range room.Walls {
		width = max(width, len(strings.TrimSpace(wallCell(room, i+1, false))))
	}
	var names []string
	for i, f := range l.Routine.Figures {
		names = append(names, f.Name)
		if i+1 < len(l.Routine.Figures) && !l.Routine.Figures[i+1].TakesNextWall {
			continue
		}
		wall := strings.TrimSpace(wallCell(room, f.From.Wall, false))
		fmt.Fprintln(s.out, wrapped(fmt.Sprintf("  %-*s  ", width, wall), names))
		names = nil
	}
}
