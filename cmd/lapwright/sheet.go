package main

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"lapwright/cmd/internal/answer"
	"lapwright/cmd/internal/handout"
	"lapwright/cmd/internal/sheet"
	"lapwright/cmd/internal/wholefile"
	"lapwright/cmd/internal/wording"
)

// sheetCommand makes the sheets that a class takes home.
type sheetCommand struct {
	Files          []string `arg:"" name:"file" help:"The routine's file; of several files, as drills have them, each gets a card."`
	paperFlags     `embed:""`
	SVG            string `name:"svg" group:"Files:" placeholder:"FILE.svg" help:"Write the drawing of the floor by itself, in metres."`
	Force          bool   `group:"Files:" help:"Write over files that are there already."`
	Cards          bool   `group:"Sheet:" help:"A card, with no more than is called, of one file too."`
	Room           string `placeholder:"NAME|FILE" help:"Dance it in this room instead of the one that the file names."`
	repertoryFlags `embed:"" set:"level_help=Allow only figures of this level: social, bronze, silver or gold, several with commas between (all)."`
}

// paperFlags say what is set on paper.
type paperFlags struct {
	PDF   string `name:"pdf" group:"Files:" placeholder:"FILE.pdf" help:"Write sheets to be printed."`
	HTML  string `name:"html" group:"Files:" placeholder:"FILE.html" help:"Write the sheets for a browser, all in one file."`
	Paper string `group:"Sheet:" placeholder:"NAME" help:"The paper: A4 or Letter (A4)."`
}

// paper is the paper that is asked for.
func (f *paperFlags) paper() (handout.Paper, error) {
	if f.Paper == "" {
		return handout.A4, nil
	}
	if f.PDF == "" && f.HTML == "" {
		return handout.A4, errors.New("--paper is what a sheet is set on: name its file with --pdf or --html")
	}
	paper, err := handout.ParsePaper(f.Paper)
	if err != nil {
		err = fmt.Errorf("--paper: %w", err)
	}
	return paper, err
}

// set sets something on the paper that is asked for.
func (f *paperFlags) set(paper handout.Paper, what interface {
	PDF(handout.Paper) ([]byte, error)
	HTML(handout.Paper) ([]byte, error)
}) (files []wholefile.File, err error) {
	for _, way := range []struct {
		path string
		set  func(handout.Paper) ([]byte, error)
	}{{f.PDF, what.PDF}, {f.HTML, what.HTML}} {
		if way.path == "" {
			continue
		}
		data, err := way.set(paper)
		if err != nil {
			return nil, faultOfOurs{err}
		}
		files = append(files, wholefile.File{Path: way.path, Data: data})
	}
	return files, nil
}

// ready tells before any work is done what cannot be made.
func (c *sheetCommand) ready() error {
	cards := c.Cards || len(c.Files) > 1
	switch {
	case c.PDF == "" && c.HTML == "" && c.SVG == "":
		return errors.New("say what the sheet is to be: --pdf FILE.pdf, --html FILE.html or --svg FILE.svg, or several of them")
	case cards && c.SVG != "":
		return errors.New("--svg draws the floor of one routine; cards have no drawing: leave one of them out")
	}
	return outputs{"sheet", c.Force, append(c.repertoryFlags.files(), append(c.Files, c.Room)...), []string{c.PDF, c.HTML, c.SVG}}.ready()
}

// Run makes the sheet.
func (c *sheetCommand) Run(s *session) error {
	if err := c.ready(); err != nil {
		return err
	}
	paper, err := c.paper()
	if err != nil {
		return err
	}
	a := answer.Sheets{Paper: paper.Name, Cards: c.Cards || len(c.Files) > 1, Routines: []answer.Sheet{}}
	var handouts []*handout.Handout
	for i, file := range c.Files {
		h, routine, err := c.handout(s, file, i == 0)
		if err != nil {
			return err
		}
		handouts = append(handouts, h)
		a.Routines = append(a.Routines, routine)
	}
	files, err := c.files(s, paper, handouts, a.Cards)
	if err != nil {
		return err
	}
	if a.Written, err = writeTogether(s.ctx, c.Force, files); err != nil {
		return err
	}
	if s.json {
		err = answer.Write(s.out, a)
	} else {
		s.sheets(&a)
	}
	if err == nil && a.Faulty() {
		return errNo
	}
	return err
}

// handout reads and dances a routine.
func (c *sheetCommand) handout(s *session, file string, first bool) (*handout.Handout, answer.Sheet, error) {
	none := answer.Sheet{}
	read := checkCommand{File: file, Room: c.Room, repertoryFlags: c.repertoryFlags}
	class, err := c.repertoryFlags.classOf()
	if err != nil {
		return nil, none, err
	}
	r, err := read.check(s.ctx, class)
	if err != nil {
		return nil, none, err
	}
	if first {
		s.notes(r.repertory)
	}
	if words := tempoWarning(r.file.Tempo); words != "" {
		fmt.Fprintln(s.errors, "lapwright: note:", words)
	}
	made := s.command
	if r.file.Made != "" {
		made += "; the routine by: " + r.file.Made
	}
	h := handout.New(handout.Asked{Title: r.title(), Heading: r.heading() + ", in " + r.room.Room.Name, Report: r.report, Routine: r.answer.Routine,
		Faults: r.answer.Faults, Cautions: flowing(cautions), Made: made, Date: time.Now()})
	return h, answer.Sheet{File: file, Title: r.title(), Bars: r.report.Bars, Drawn: h.Danced, Figures: len(r.report.Rows), Faults: r.answer.Faults}, nil
}

// flowing is a text without the ends of its lines.
func flowing(text string) string { return strings.Join(strings.Fields(text), " ") }

// files are what is written.
func (c *sheetCommand) files(s *session, paper handout.Paper, handouts []*handout.Handout, cards bool) ([]wholefile.File, error) {
	if cards {
		all := handout.Cards{Title: wording.Many(len(handouts), "card"), Cautions: flowing(cautions), Made: s.command, Date: time.Now()}
		for _, h := range handouts {
			all.List = append(all.List, handout.NewCard(h))
		}
		return c.set(paper, &all)
	}
	h := handouts[0]
	files, err := c.set(paper, h)
	if err == nil && c.SVG != "" {
		files = append(files, wholefile.File{Path: c.SVG, Data: h.Floor(sheet.Title{Name: h.Title, Line: drawingLine(h.Heading, h.Routine.Totals)})})
	}
	return files, err
}

// sheets prints what was made.
func (s *session) sheets(a *answer.Sheets) {
	for _, r := range a.Routines {
		fmt.Fprintf(s.out, "%s: %s in %s\n", s.paint.bold(r.Title), wording.Many(r.Figures, "figure"), wording.Many(r.Bars, "bar"))
		if len(r.Faults) == 0 {
			continue
		}
		f := r.Faults[0]
		where := faultPlace(f)
		if f.Number > 0 {
			where = "drawn up to the first. " + where
		}
		fmt.Fprintf(s.out, "  %s; %s: %s\n  lapwright check %s tells them all, with repairs.\n", s.paint.warn(wording.Many(len(r.Faults), "fault")), where, f.Words, r.File)
	}
	s.afterLaps(a.Written)
}
