package main

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"lapwright/cmd/internal/answer"
	"lapwright/cmd/internal/routinefile"
	"lapwright/cmd/internal/wholefile"
	"lapwright/cmd/internal/wording"
	"lapwright/figures"
	"lapwright/search"
	"lapwright/search/check"
	"lapwright/search/routine"
)

// varyCommand finds variations of a routine.
type varyCommand struct {
	File           string   `arg:"" name:"file" help:"The routine's file."`
	Replace        []string `group:"Variation:" placeholder:"\"9-16\"" help:"Dance these bars otherwise; several with commas between."`
	Keep           []string `group:"Variation:" placeholder:"\"3-8\"" help:"Keep these bars as they are and dance the rest otherwise."`
	KeepFigure     []string `group:"Variation:" placeholder:"\"A,B\"" help:"Keep these figures where they are."`
	BeginWith      string   `group:"Variation:" placeholder:"FIGURE" help:"The first bars that are danced otherwise begin with this figure, along a given wall if you like: \"Whisk\", \"Natural Turn wall 3\"."`
	Whole          bool     `group:"Variation:" help:"Dance everything otherwise that is not kept; the start, the end and the music stay."`
	Tolerance      string   `group:"Variation:" placeholder:"METRES" help:"How far from where it was a piece may end that is danced otherwise (0.3)."`
	BarsOff        string   `group:"Variation:" placeholder:"N" help:"How many bars more or fewer a piece may take than before (0: what follows keeps its music)."`
	Count          string   `group:"Variation:" placeholder:"N" help:"How many variations (3)."`
	Sort           string   `group:"Variation:" placeholder:"ORDER" help:"What comes first: novelty (the most figures changed), difficulty (the easiest) or travel (the farthest along the line of dance)."`
	Seed           string   `group:"Variation:" placeholder:"N" help:"Decides among variations that are as good (0)."`
	Room           string   `placeholder:"NAME|FILE" help:"Dance it in this room instead of the one that the file names."`
	repertoryFlags `embed:"" set:"level_help=Levels of the figures that may come in: social, bronze, silver or gold, several with commas between, or all (up to the highest of the routine)."`
	floorFlags     `embed:""`
	Out            string `group:"Files:" placeholder:"FILE.yaml" help:"Write the variations as routines' files: FILE-1.yaml, FILE-2.yaml …"`
	Force          bool   `group:"Files:" help:"Write over files that are there already."`
}

// varyQuestion is what is asked for, in full.
type varyQuestion struct {
	checked   *checked
	repertory *repertory
	problem   search.VaryProblem
	locked    []bool // by figure
	off       int    // how many bars more or fewer a stretch may take
}

// usualTolerance is how far a piece may end from where it was, in metres.
const usualTolerance = 0.3

// question reads the routine and all flags.
func (c *varyCommand) question(s *session) (*varyQuestion, error) {
	read := checkCommand{File: c.File, Room: c.Room, repertoryFlags: c.repertoryFlags, floorFlags: c.floorFlags}
	read.Level, read.Style, read.Known, read.Without, read.classFlags = "all", "", nil, nil, classFlags{}
	q := &varyQuestion{}
	class, err := c.classOf()
	if err != nil {
		return nil, err
	}
	if q.checked, err = read.check(s.ctx, class); err != nil {
		return nil, err
	}
	file, report := q.checked.file, q.checked.report
	if faults := report.Faults(); len(faults) > 0 {
		return nil, fmt.Errorf("%s has %s, so there is nothing to vary yet; lapwright check %s tells them all. The first: %s", c.File, wording.Many(len(faults), "fault"), c.File, faults[0])
	}
	if q.repertory, err = c.repertoryFlags.choose(highest(file.Steps)); err != nil {
		return nil, err
	}
	p := &q.problem
	p.Problem = search.Problem{Room: q.checked.room.Room, Variants: q.repertory.variants, Follows: q.repertory.library.Follows(),
		Couple: figures.DefaultCouple().WithStride(file.Stride), Margin: file.Margin, Weights: search.DefaultWeights()}
	p.Routine, p.Closes, p.Count = file.Routine, file.Lap, 3
	p.Routine.Steps = said(report, file.Steps)
	if c.Count != "" {
		if p.Count, err = whole("count", c.Count, "variations", 1, search.MostVariations); err != nil {
			return nil, err
		}
	}
	if c.Seed != "" {
		if p.Seed, err = seed(c.Seed); err != nil {
			return nil, err
		}
	}
	switch p.Sort = search.VaryOrder(strings.ToLower(strings.TrimSpace(c.Sort))); p.Sort {
	case "":
		p.Sort = search.ByNovelty
	case search.ByNovelty, search.ByDifficulty, search.ByTravel:
	default:
		return nil, fmt.Errorf("--sort takes novelty, difficulty or travel, not %q", c.Sort)
	}
	if err := c.stretches(q); err != nil {
		return nil, err
	}
	return q, c.beginWith(q)
}

// highest is the highest level of the figures of a routine.
func highest(steps []routine.Step) string {
	best := 0
	for _, s := range steps {
		best = max(best, min(rung(s.Variant.Figure), len(figures.Levels)-1))
	}
	return string(figures.Levels[best])
}

// said is the steps with what the checker found about the walls.
func said(report *check.Report, steps []routine.Step) []routine.Step {
	all := slices.Clone(steps)
	for i := range all {
		all[i].Corner = routine.Stay
		if report.Rows[i].NextWall {
			all[i].Corner = routine.Take
		}
	}
	return all
}

// Run finds the variations and prints them.
func (c *varyCommand) Run(s *session) error {
	q, err := c.question(s)
	if err != nil {
		return err
	}
	files := c.files(q.problem.Count)
	if err := (outputs{"variations", c.Force, append(c.repertoryFlags.files(), c.File, c.Room), files}).ready(); err != nil {
		return err
	}
	s.notes(q.repertory)
	result, err := search.Vary(s.ctx, &q.problem, nil)
	if err != nil {
		return err
	}
	a := answer.Varied{File: c.File, Room: q.checked.room.name, Class: q.repertory.class.answer(), Why: result.Why, Was: q.checked.answer.Routine,
		Difficulty: answer.Number(result.Was.Difficulty.Total()), Travel: answer.Number(result.Was.Travel),
		Sort: string(q.problem.Sort), Tolerance: answer.Number(q.problem.Stretches[0].Tolerance), BarsOff: q.off, Kept: []answer.Span{}, Changes: []answer.Span{}, Variations: []answer.OtherWay{}}
	a.Kept, a.Changes = q.bars(true), q.bars(false)
	var all []wholefile.File
	for i := range result.Variations {
		v, file, err := c.variation(q, &result.Variations[i])
		if err != nil {
			return err
		}
		a.Variations = append(a.Variations, v)
		if files == nil {
			continue
		}
		file.Room, file.Made = q.checked.room.nameIn(filepath.Dir(files[i])), s.command
		all = append(all, wholefile.File{Path: files[i], Data: routinefile.Format(file)})
	}
	written, err := writeTogether(s.ctx, c.Force, all)
	if err != nil {
		return err
	}
	if s.json {
		err = answer.Write(s.out, a)
	} else {
		err = s.varied(q, &a, written)
	}
	if err == nil && len(a.Variations) == 0 {
		return errNo
	}
	return err
}

// files are the names of the files to be written, one for each variation.
func (c *varyCommand) files(count int) (all []string) {
	if c.Out == "" {
		return nil
	}
	end := filepath.Ext(c.Out)
	for i := range count {
		all = append(all, fmt.Sprintf("%s-%d%s", strings.TrimSuffix(c.Out, end), i+1, end))
	}
	return all
}

// variation has the checker dance a variation before anybody sees it.
func (c *varyCommand) variation(q *varyQuestion, v *search.Variation) (answer.OtherWay, *routinefile.File, error) {
	file := *q.checked.file
	file.Routine = v.Routine
	if file.Name != "" {
		file.Name += ", varied"
	}
	report := check.Dance(q.checked.room.Room, figures.DefaultCouple(), &file.Routine, check.Limits{Lap: file.Lap, Laps: file.Laps, Margin: file.Margin,
		Library: q.repertory.variants, Follows: q.problem.Follows})
	if faults := report.Faults(); len(faults) > 0 {
		return answer.OtherWay{}, nil, faultOfOurs{fmt.Errorf("the checker objects to a variation that was found, and it is not shown: %s", faults[0])}
	}
	danced := answer.NewRoutine(report, &file.Routine)
	return answer.OtherWay{Novelty: answer.Number(v.Novelty), Difficulty: answer.Number(v.Difficulty.Total()), Travel: answer.Number(v.Travel), Off: answer.Number(v.Off),
		Beside: answer.Beside(&q.checked.answer.Routine, &danced), Routine: danced}, &file, nil
}

// bars lists the runs of bars that are kept, or not.
func (q *varyQuestion) bars(kept bool) []answer.Span {
	all := []answer.Span{}
	for i, row := range q.checked.report.Rows {
		if q.locked[i] != kept {
			continue
		}
		last := row.Bar + row.Variant.Bars() - 1
		if n := len(all); n > 0 && all[n-1].Last == row.Bar-1 {
			all[n-1].Last = last
		} else {
			all = append(all, answer.Span{First: row.Bar, Last: last})
		}
	}
	return all
}
