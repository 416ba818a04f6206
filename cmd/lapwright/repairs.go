package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"time"

	"lapwright/cmd/internal/answer"
	"lapwright/cmd/internal/routinefile"
	"lapwright/cmd/internal/wording"
	"lapwright/figures"
	"lapwright/search"
	"lapwright/search/check"
	"lapwright/search/repair"
	"lapwright/search/routine"
)

// repairFlags say what is done about the faults of a routine.
type repairFlags struct {
	Repairs string `group:"Repair:" placeholder:"N" help:"How many repairs of a faulty routine are shown at most, 0 to 20 (3)."`
	Repair  string `group:"Repair:" placeholder:"N" help:"Which of the repairs --out writes (1)."`
	Out     string `group:"Repair:" placeholder:"FILE.yaml" help:"Write a repair as a routine's file; the routine's own file stays as it is."`
}

// repairQuestion is what is asked for, in full.
type repairQuestion struct {
	count, which int
	words        string // which figures may come in
	problem      repair.Problem
	ways         []*routinefile.File
	reports      []*check.Report
}

// usualRepairs is how many repairs are shown.
const usualRepairs = 3

// readyToRepair reads the flags, and tells before any work is done why the file could not
// be written.
func (c *checkCommand) readyToRepair() (*repairQuestion, error) {
	q := &repairQuestion{count: usualRepairs, which: 1}
	var err error
	if c.Repairs != "" {
		if q.count, err = whole("repairs", c.Repairs, "repairs", 0, repair.MostCount); err != nil {
			return nil, err
		}
	}
	if c.Repair != "" {
		if q.which, err = whole("repair", c.Repair, "the repairs", 1, repair.MostCount); err != nil {
			return nil, err
		}
	}
	switch {
	case c.Repair != "" && c.Out == "":
		return nil, errors.New("--repair says which repair is written: name the file with --out")
	case c.Out != "" && q.count == 0:
		return nil, errors.New("--out writes a repair, and --repairs 0 asks for none: leave one of them out")
	case c.Repair != "" && c.Repairs != "" && q.which > q.count:
		return nil, fmt.Errorf("--repair %d is to be written, and only %s asked for with --repairs", q.which, manyAre(q.count, "repair"))
	}
	if q.count > 0 {
		q.count = max(q.count, q.which)
	}
	if c.Out == "" {
		return q, nil
	}
	if out, err := os.Stat(c.Out); err == nil {
		if own, err := os.Stat(c.File); err == nil && os.SameFile(own, out) {
			return nil, fmt.Errorf("%s is the routine's own file, which stays as it is; name another one with --out", c.Out)
		}
	}
	return q, outputFlags{Out: c.Out, SVG: c.SVG, Force: c.Force}.ready()
}

// repair looks for repairs of a faulty routine and has the checker dance them.
func (c *checkCommand) repair(s *session, q *repairQuestion, r *checked) error {
	if r.answer.Clean || q.count == 0 {
		return nil
	}
	var coming []*figures.Variant
	coming, q.words = r.repertory.coming(r.file.Steps, c.Style)
	q.problem = repair.Problem{Routine: r.file.Routine, Closes: r.ask.Lap, Count: q.count,
		Problem: search.Problem{Room: r.room.Room, Variants: coming, Follows: r.ask.Follows, Limits: r.limits.Limits, Laps: r.limits.laps,
			Couple: figures.DefaultCouple().WithStride(r.file.Stride), Margin: r.file.Margin, Weights: search.DefaultWeights()}}
	q.problem.Allowed = r.ask.Allowed
	line := s.progress()
	defer line.clear()
	var tell func(int, int)
	if s.watched() {
		tell = func(changes, expanded int) {
			line.say(time.Now(), func() string {
				return fmt.Sprintf("looking for repairs with %s: %d ways looked at", wording.Many(changes, "change"), expanded)
			})
		}
	}
	a := &answer.Repair{ComesIn: q.words, Order: repair.Order, Ways: []answer.Mended{}}
	if n := len(r.file.Steps); n > repair.MostFigures {
		a.Why = fmt.Sprintf("the routine has %d figures, and repairs are looked for up to %d", n, repair.MostFigures)
		r.answer.Repair = a
		return nil
	}
	found, err := repair.Find(s.ctx, &q.problem, tell)
	if errors.Is(err, search.ErrTooLarge) {
		a.Why = "no repairs were looked for: " + err.Error()
		r.answer.Repair = a
		return nil
	}
	if err != nil {
		return err
	}
	a.Changes, a.Found, a.All, a.Why = found.AtLeast, len(found.Ways) > 0, found.All, whyNoRepair(found)
	if found.Nearest != nil {
		a.Nearest = &answer.Point{X: answer.Number(found.Nearest.X), Y: answer.Number(found.Nearest.Y)}
	}
	for i := range found.Ways {
		m, err := q.mended(r, i+1, &found.Ways[i])
		if err != nil {
			return err
		}
		a.Ways = append(a.Ways, m)
	}
	r.answer.Repair = a
	return nil
}

// whyNoRepair says why no repair was found; it is empty where one was.
func whyNoRepair(found *repair.Result) string {
	switch {
	case len(found.Ways) > 0:
		return ""
	case found.NoStart != "" && found.Nearest != nil:
		return fmt.Sprintf("the start has to be mended first: %s; the nearest place along that wall where a couple can begin is (%.2f, %.2f)", found.NoStart, found.Nearest.X, found.Nearest.Y)
	case found.NoStart != "":
		return "the start has to be mended first: " + found.NoStart
	case found.Never:
		return "whatever is changed with the figures that may come in, the stances never fit from this start"
	case found.AtLeast == 0:
		return "no repair was found, not even one without a change, and it was not looked any further"
	case found.AtLeast == 1:
		return "no repair does without a change; it was not looked any further"
	}
	return fmt.Sprintf("no repair has fewer than %d changes; it was not looked any further", found.AtLeast)
}

// coming are the figures that may come in, in words too: those that may be danced, and
// where no level is said, up to the highest level of the routine.
func (r *repertory) coming(steps []routine.Step, style string) ([]*figures.Variant, string) {
	if r.class != nil || len(r.known) > 0 || !r.wanted.all() {
		return r.variants, r.words()
	}
	upTo, err := newWanted("", style, highest(steps))
	if err != nil {
		return r.variants, r.words()
	}
	var all []*figures.Variant
	for _, v := range r.variants {
		if upTo.has(v.Figure) {
			all = append(all, v)
		}
	}
	return all, "figures of " + upTo.String()
}

// mended has the checker dance a repair before anybody sees it. Limits on the past may
// still be broken, and nothing else.
func (q *repairQuestion) mended(r *checked, number int, w *repair.Way) (answer.Mended, error) {
	file := *r.file
	file.Routine = w.Routine
	file.Steps = slices.Clone(w.Routine.Steps)
	for i := range file.Steps {
		file.Steps[i].Line = 0
	}
	dance := func() *check.Report {
		return check.Dance(r.room.Room, figures.DefaultCouple(), &file.Routine, r.ask)
	}
	report := dance()
	for _, f := range report.Faults() {
		if f.Kind != check.Limit {
			return answer.Mended{}, faultOfOurs{fmt.Errorf("the checker objects to a repair that was found, and it is not shown: %s", f)}
		}
	}
	// What the file says nothing of stays unsaid where the figures tell by themselves.
	said := file.Steps
	file.Steps = slices.Clone(said)
	for _, c := range w.Changes {
		if c.Now >= 0 && (c.Was < 0 || q.problem.Routine.Steps[c.Was].Corner == routine.Unsaid) {
			file.Steps[c.Now].Corner = routine.Unsaid
		}
	}
	if plain := dance(); len(plain.Faults()) == len(report.Faults()) && sameWay(report, plain) {
		report = plain
	} else {
		file.Steps = said
	}
	q.ways, q.reports = append(q.ways, &file), append(q.reports, report)
	return answer.NewMended(number, &r.answer.Routine, q.problem.Routine.Steps, w, report, &file.Routine), nil
}

// write writes the repair that was asked for, and says where.
func (q *repairQuestion) write(c *checkCommand, s *session, r *checked) ([]string, error) {
	if c.Out == "" {
		return nil, nil
	}
	switch n := len(q.ways); {
	case r.answer.Clean:
		return nil, errors.New("the routine has no faults, so there is no repair for --out to write")
	case n == 0:
		return nil, fmt.Errorf("there is no repair for --out to write: %s", r.answer.Repair.Why)
	case q.which > n:
		return nil, fmt.Errorf("there is no repair %d for --out to write: %s found", q.which, manyAre(n, "repair"))
	}
	file := q.ways[q.which-1]
	file.Room, file.Made = r.room.nameIn(filepath.Dir(c.Out)), s.command
	return outputFlags{Out: c.Out, Force: c.Force}.write(s.ctx, file, q.reports[q.which-1], "")
}

// manyAre counts things that are: "1 repair is", "3 repairs are".
func manyAre(n int, thing string) string {
	if n == 1 {
		return wording.Many(n, thing) + " is"
	}
	return wording.Many(n, thing) + " are"
}
