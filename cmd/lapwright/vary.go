package main

import (
	"fmt"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
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

// alongWall parts a figure's name and the wall behind it.
var alongWall = regexp.MustCompile(`^(.*?)\s+wall\s+(\d+)\s*$`)

// beginWith finds the figure that comes first.
func (c *varyCommand) beginWith(q *varyQuestion) error {
	name, wall := strings.TrimSpace(c.BeginWith), ""
	if name == "" {
		return nil
	}
	if m := alongWall.FindStringSubmatch(name); m != nil {
		name, wall = m[1], m[2]
	}
	ways, err := q.repertory.library.Ways(name)
	if err != nil {
		return fmt.Errorf("--begin-with: %w", err)
	}
	p := &q.problem
	for _, v := range ways {
		if slices.Contains(p.Variants, v) {
			p.Begin = append(p.Begin, v)
		}
	}
	if len(p.Begin) == 0 {
		return fmt.Errorf("%s is to come first, but is not among the figures that may be: %s", name, q.repertory.reasonAgainst(ways[0].Figure))
	}
	if wall == "" {
		return nil
	}
	walls := p.Room.Walls
	before := p.Routine.Start.Wall
	for _, s := range p.Routine.Steps[:p.Stretches[0].First] {
		if s.Corner == routine.Take {
			before = (before + 1) % len(walls)
		}
	}
	switch n, err := strconv.Atoi(wall); {
	case err != nil || n < 1 || n > len(walls):
		return fmt.Errorf("--begin-with %q: walls are given by their number; %s", c.BeginWith, wallsOf(p.Room))
	case n-1 == before:
		p.BeginCorner = routine.Stay
	case n-1 == (before+1)%len(walls):
		p.BeginCorner = routine.Take
	default:
		return fmt.Errorf("--begin-with %q: the couple is at wall %d there, and can dance along that or along wall %d", c.BeginWith, before+1, (before+1)%len(walls)+1)
	}
	return nil
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

// stretches finds what may change.
func (c *varyCommand) stretches(q *varyQuestion) error {
	rows := q.checked.report.Rows
	tolerance := usualTolerance
	if c.Tolerance != "" {
		var err error
		if tolerance, err = number("tolerance", c.Tolerance, "metres", 0, 5); err != nil {
			return err
		}
	}
	replace, err := c.spans("replace", c.Replace, q.checked.report.Bars)
	if err != nil {
		return err
	}
	if err := c.lock(q); err != nil {
		return err
	}
	switch kept := slices.Contains(q.locked, true); {
	case len(replace) > 0 && c.Whole:
		return fmt.Errorf("--replace and --whole contradict each other: give one of them")
	case len(replace) == 0 && !c.Whole && !kept:
		return fmt.Errorf("say what may change: --replace 9-16 for some bars, --keep 3-8 or --keep-figure \"Whisk\" for all but those, or --whole")
	}
	change := make([]bool, len(rows))
	for i := range rows {
		change[i] = len(replace) == 0 && !q.locked[i]
	}
	for _, r := range replace {
		if err := r.mark(q, change); err != nil {
			return err
		}
	}
	for i := 0; i < len(rows); i++ {
		if !change[i] {
			q.locked[i] = true
			continue
		}
		// A stretch goes round the room once at most.
		s := search.Stretch{First: i, Tolerance: tolerance}
		for corners := 0; i < len(rows) && change[i] && s.MinBars+rows[i].Variant.Bars() <= search.MostVaried; i++ {
			if rows[i].NextWall {
				corners++
			}
			if corners > len(q.problem.Room.Walls) {
				break
			}
			s.MinBars += rows[i].Variant.Bars()
		}
		s.End, s.MaxBars = i, s.MinBars
		i--
		q.problem.Stretches = append(q.problem.Stretches, s)
	}
	if len(q.problem.Stretches) == 0 {
		return fmt.Errorf("all of the routine is kept, so nothing is left to dance otherwise")
	}
	return nil
}

// span is some bars of a routine, from 1.
type span struct{ first, last int }

func (b span) String() string {
	if b.first == b.last {
		return fmt.Sprintf("bar %d", b.first)
	}
	return fmt.Sprintf("bars %d-%d", b.first, b.last)
}

// spans reads bars such as "3-8".
func (c *varyCommand) spans(flag string, list []string, most int) (all []span, err error) {
	for _, words := range list {
		first, second, isRange := strings.Cut(strings.ReplaceAll(words, "–", "-"), "-")
		if !isRange {
			second = first
		}
		a, err1 := strconv.Atoi(strings.TrimSpace(first))
		b, err2 := strconv.Atoi(strings.TrimSpace(second))
		switch {
		case err1 != nil || err2 != nil || a < 1 || b < a:
			return nil, fmt.Errorf("--%s takes bars such as 3-8, or several such with commas between, not %q", flag, words)
		case b > most:
			return nil, fmt.Errorf("--%s %s: the routine has %s, so there is no bar %d", flag, words, wording.Many(most, "bar"), b)
		}
		all = append(all, span{a, b})
	}
	return all, nil
}

// lock finds the figures that are kept.
func (c *varyCommand) lock(q *varyQuestion) error {
	rows := q.checked.report.Rows
	q.locked = make([]bool, len(rows))
	keep, err := c.spans("keep", c.Keep, q.checked.report.Bars)
	if err != nil {
		return err
	}
	for i := range rows {
		for _, b := range keep {
			q.locked[i] = q.locked[i] || b.touches(&rows[i])
		}
	}
	for _, name := range c.KeepFigure {
		ways, err := q.repertory.library.Ways(name)
		if err != nil {
			return fmt.Errorf("--keep-figure: %w", err)
		}
		found := false
		for i := range rows {
			if slices.Contains(ways, rows[i].Variant) {
				q.locked[i], found = true, true
			}
		}
		if !found {
			return fmt.Errorf("--keep-figure: the routine has no %s to keep", strings.TrimSpace(name))
		}
	}
	return nil
}

// touches reports whether a figure is danced in any of the bars.
func (b span) touches(row *check.Row) bool {
	return row.Bar <= b.last && row.Bar+row.Variant.Bars()-1 >= b.first
}

// mark marks the figures of the bars as ones that may change. The bars must hold
// whole figures, and none that is kept.
func (b span) mark(q *varyQuestion, change []bool) error {
	rows := q.checked.report.Rows
	whole := b
	for i := range rows {
		if b.touches(&rows[i]) {
			whole.first = min(whole.first, rows[i].Bar)
			whole.last = max(whole.last, rows[i].Bar+rows[i].Variant.Bars()-1)
		}
	}
	if whole != b {
		return fmt.Errorf("%s would cut a figure in two; the figures there take %s, so write --replace %d-%d", b, whole, whole.first, whole.last)
	}
	for i := range rows {
		if !b.touches(&rows[i]) {
			continue
		}
		if q.locked[i] {
			return fmt.Errorf("%s are to be replaced, but %s in bar %d is kept: leave one of the two out", b, rows[i].Variant.Name(), rows[i].Bar)
		}
		change[i] = true
	}
	return nil
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
		Sort: string(q.problem.Sort), Tolerance: answer.Number(q.problem.Stretches[0].Tolerance), Kept: []answer.Span{}, Changes: []answer.Span{}, Variations: []answer.OtherWay{}}
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
