package main

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"lapwright/cmd/internal/answer"
	"lapwright/cmd/internal/wording"
	"lapwright/figures"
)

// figuresCommands is all that can be asked about figures.
type figuresCommands struct {
	Show  figuresCommand      `cmd:"" default:"withargs" help:"List the figures, or show one of them step by step; figures NAME is enough."`
	Check figureChecksCommand `cmd:"" help:"Say of each figure in a file whether it can be danced and, where not, which step and by how much."`
}

// figureChecksCommand checks a file of figures.
type figureChecksCommand struct {
	File        string   `arg:"" name:"file" help:"The file of figures."`
	Library     []string `group:"Figures:" placeholder:"FILE" sep:"none" help:"A file with more figures, on top of which it is read; can be given more than once."`
	OnlyLibrary bool     `group:"Figures:" help:"Leave out the figures that come with the program."`
}

// errUnread tells that the file, about which the answer tells, cannot be read.
var errUnread = errors.New("the file cannot be read as figures")

// Run checks the figures.
func (c *figureChecksCommand) Run(s *session) error {
	library, err := c.base()
	if err != nil {
		return err
	}
	data, err := readFile(c.File)
	if err != nil {
		return err
	}
	couple := figures.DefaultCouple()
	x, err := library.Examine(c.File, data, couple)
	if err != nil {
		return err
	}
	a := answer.NewFileOfFigures(c.File, x, newGraph(x.Danceable.Variants()), couple)
	if s.json {
		err = answer.Write(s.out, a)
	} else {
		err = s.fileOfFigures(a)
	}
	switch {
	case err != nil:
		return err
	case !a.Readable:
		return errUnread
	case !a.Danceable:
		return errNo
	}
	return nil
}

// base is the library on top of which the file is read.
func (c *figureChecksCommand) base() (*figures.Library, error) {
	if c.OnlyLibrary && len(c.Library) == 0 {
		return figures.Empty(), nil
	}
	library, _, err := repertoryFlags{Library: c.Library, OnlyLibrary: c.OnlyLibrary}.library()
	return library, err
}

// fileOfFigures prints what there is to say about a file of figures.
func (s *session) fileOfFigures(a answer.FileOfFigures) error {
	danced, faults, warnings := 0, a.Faults, 0
	for _, f := range a.Figures {
		if f.Danceable {
			danced++
		}
		faults = append(faults, f.Faults...)
		warnings += len(f.Warnings)
	}
	head := fmt.Sprintf("%s: %s", a.File, canBeDanced(danced, len(a.Figures)))
	if len(a.Faults) > 0 {
		head += ", but the file has faults of its own"
	}
	fmt.Fprintf(s.out, "%s\n\n", s.paint.bold(head))
	if err := s.checkedWays(a.Figures); err != nil {
		return err
	}
	if len(faults) > 0 {
		fmt.Fprintf(s.out, "\n%s:\n", s.paint.warn(wording.Many(len(faults), "fault")))
		s.figureFaults(a.File, a.Faults)
		for _, f := range a.Figures {
			s.figureFaults(f.Name, f.Faults)
		}
	}
	if warnings > 0 {
		fmt.Fprintf(s.out, "\n%s:\n", wording.Many(warnings, "warning"))
		for _, f := range a.Figures {
			if len(f.Warnings) == 0 {
				continue
			}
			fmt.Fprintf(s.out, "\n%s\n", s.paint.bold(f.Name))
			for _, w := range f.Warnings {
				fmt.Fprintf(s.out, "  %s\n", w.Words)
			}
		}
	}
	return nil
}

// canBeDanced says how many figures can be danced.
func canBeDanced(danced, of int) string {
	switch {
	case of == 0:
		return "no figures"
	case of == 1 && danced == 1:
		return "its figure can be danced"
	case of == 1:
		return "its figure cannot be danced"
	case danced == of:
		return fmt.Sprintf("all %d figures can be danced", of)
	}
	return fmt.Sprintf("%d of %d figures can be danced", danced, of)
}

// checkedWays shows the measures of the figures that can be danced.
func (s *session) checkedWays(all []answer.CheckedFigure) error {
	columns := []column{{"Figure", false}, {"Line", true}, {"Can be danced", false}, {"Longest step", true}, {"Closest feet", true}, {"Hold stretched", true}, {"Most turn", false}}
	var rows [][]string
	for _, f := range all {
		if !f.Danceable {
			rows = append(rows, []string{f.Name, strconv.Itoa(f.Line), "no: " + wording.Many(len(f.Faults), "fault"), "", "", "", ""})
			continue
		}
		for _, w := range f.Ways {
			m := w.Measures
			rows = append(rows, []string{w.Name, strconv.Itoa(w.Line), "yes",
				fmt.Sprintf("%.2f m", float64(max(m.LongestStep.Leader, m.LongestStep.Follower))),
				centimetres(m.FootClearance), centimetres(m.HoldStretch), turnsOfAnswer(m.MostTurn)})
		}
	}
	if len(rows) == 0 {
		return nil
	}
	return table(s.out, columns, rows)
}

func centimetres(n answer.Number) string { return fmt.Sprintf("%.0f cm", steady(float64(n))*100) }

// turnsOfAnswer names the greatest turns by kind.
func turnsOfAnswer(t answer.Turns) string {
	var words []string
	for _, kind := range []struct{ amount, name string }{{t.Step, ""}, {t.HeelTurn, " in a heel turn"}, {t.Pivot, " in a pivot"}, {t.OverFeet, " over the feet"}} {
		if kind.amount != "0" {
			words = append(words, kind.amount+kind.name)
		}
	}
	return strings.Join(words, ", ")
}

// figureFaults lists the faults of one figure.
func (s *session) figureFaults(name string, faults []answer.FigureFault) {
	if len(faults) == 0 {
		return
	}
	fmt.Fprintf(s.out, "\n%s\n", s.paint.bold(name))
	for _, f := range faults {
		var words []string
		if f.Line > 0 {
			words = append(words, fmt.Sprintf("line %d", f.Line))
		}
		if f.Field != "" {
			words = append(words, f.Field)
		}
		if f.Way != "" && f.Way != name {
			words = append(words, f.Way)
		}
		if f.Step > 0 {
			words = append(words, fmt.Sprintf("step %d", f.Step))
		}
		if at := strings.Join(words, ", "); at != "" {
			fmt.Fprintf(s.out, "  %s: %s\n", at, f.Words)
		} else {
			fmt.Fprintf(s.out, "  %s\n", f.Words)
		}
	}
}
