// Package handout makes the pages that a student takes home from a class: a routine
// on the floor of its room, to be called in large type, with the steps of its figures
// and what to mind; and drills on cards.
//
// What lives here: what stands on such pages, and how they are set on paper (PDF) and
// for a browser (HTML). What does not: the drawings (package sheet), how a routine is
// found or danced (search), files on disk (wholefile).
//
// A first use:
//
//	h := handout.New(handout.Asked{Title: "Evening lap", Report: report, Routine: routine})
//	data, err := h.PDF(handout.A4)
package handout

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"lapwright/cmd/internal/answer"
	"lapwright/cmd/internal/sheet"
	"lapwright/cmd/internal/wording"
	"lapwright/search/check"
)

// Asked says what a handout is to be of.
type Asked struct {
	Title string
	// Heading is what the routine is, in a few words: dance, figures, stride.
	Heading string
	Report  *check.Report
	Routine answer.Routine
	Faults  []answer.Fault
	// Cautions are the usual ones.
	Cautions string
	// Made is the command that makes the sheet, and how the routine came about.
	Made string
	// Date is when the sheet is made; it stands in the file, not on the page.
	Date time.Time
}

// Handout is what stands on the pages for one routine.
type Handout struct {
	Asked
	// Danced is how many of the report's rows are shown: all, or those before the
	// first fault.
	Danced int
	// Fault is the first fault at a figure; nil where there is none.
	Fault *Fault
	// Whole are the faults of the routine as a whole, in words.
	Whole []string
	// Calls are what is danced, a group for each stretch along a wall.
	Calls []Calls
	// Figures are the steps of each figure that is danced.
	Figures []FigureSteps
	// Remarks are what to mind.
	Remarks []Remark
}

// Fault is where a routine stops being danceable.
type Fault struct {
	Bar     int
	Figure  string
	Words   []string // what is wrong there
	CouldGo []string // what could be danced instead
	Left    []string // the figures that are not drawn, with their bars
}

// Calls are the figures along a wall, one after the other.
type Calls struct {
	Wall string // its number, name and whether it is long
	List []Call
}

// Call is one line of the call sheet.
type Call struct {
	Bar       int
	Figure    string
	Variation string // the way of dancing it; empty for the usual one
	Counts    string
	From, To  string // alignments, in full
}

// New makes a handout. The routine must have at least one figure.
func New(ask Asked) *Handout {
	h := &Handout{Asked: ask, Danced: len(ask.Report.Rows)}
	h.faults()
	h.calls()
	h.figures()
	h.remarks()
	return h
}

// mostCouldGo is how many figures are named that could be danced in place of a fault.
const mostCouldGo = 6

// faults finds where the routine stops.
func (h *Handout) faults() {
	for _, f := range h.Faults {
		switch {
		case f.Number == 0:
			h.Whole = append(h.Whole, f.Words)
		case h.Fault == nil:
			h.Danced = f.Number - 1
			h.Fault = &Fault{Bar: f.Bar, Figure: f.Figure, Words: []string{f.Words}, CouldGo: f.CouldGo}
			if n := len(f.CouldGo); n > mostCouldGo {
				h.Fault.CouldGo = append(slices.Clone(f.CouldGo[:mostCouldGo]), fmt.Sprintf("and %d more", n-mostCouldGo))
			}
		case f.Number == h.Danced+1:
			h.Fault.Words = append(h.Fault.Words, f.Words)
		}
	}
	if h.Fault == nil {
		return
	}
	h.Whole = nil // what is not danced to its end is not judged as a whole
	for i := h.Danced; i < len(h.Routine.Figures); i++ {
		f := &h.Routine.Figures[i]
		h.Fault.Left = append(h.Fault.Left, fmt.Sprintf("%d %s", f.Bar, f.Name))
	}
}

// calls sorts the figures by the stretches along walls.
func (h *Handout) calls() {
	wall := -1
	for i := range h.Danced {
		f, row := &h.Routine.Figures[i], &h.Report.Rows[i]
		if row.Wall != wall || f.TakesNextWall {
			wall = row.Wall
			h.Calls = append(h.Calls, Calls{Wall: strings.TrimPrefix(sheet.WallLabel(&h.Report.Room.Walls[wall]), "wall ")})
		}
		c := &h.Calls[len(h.Calls)-1]
		figure, way := wording.Call(row.Variant)
		c.List = append(c.List, Call{f.Bar, figure, way, f.Counts, f.From.Alignment, f.To.Alignment})
	}
}

// Facts are lines about the routine as a whole.
func (h *Handout) Facts() []string {
	t := &h.Routine.Totals
	facts := []string{h.Heading}
	line := fmt.Sprintf("%s in %s", wording.Many(t.Figures, "figure"), wording.Many(t.Bars, "bar"))
	if t.Tempo > 0 {
		line += fmt.Sprintf(", %s at %g bars a minute", wording.Clock(float64(t.Seconds)), float64(t.Tempo))
	}
	if t.Closes {
		line += "; it ends as it began"
	}
	facts = append(facts, line)
	start := &h.Routine.Start
	return append(facts, fmt.Sprintf("Begin %s, on wall %d at %.2f, %.2f m", stood(start), start.Wall, float64(start.X), float64(start.Y)))
}
