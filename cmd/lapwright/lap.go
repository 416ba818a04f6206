package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"lapwright/cmd/internal/answer"
	"lapwright/cmd/internal/routinefile"
	"lapwright/cmd/internal/sheet"
	"lapwright/cmd/internal/wholefile"
	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search"
	"lapwright/search/check"
	"lapwright/search/export"
	"lapwright/search/routine"
)

// lapCommand makes a lap.
type lapCommand struct {
	Room           string `placeholder:"NAME|FILE" help:"The room: studio, village hall, ballroom, clubroom, or a room's file (village hall)."`
	repertoryFlags `embed:"" set:"level_help=The couple's level: social, bronze, silver or gold, several with commas between, or all (bronze)."`
	limitFlags     `embed:""`
	floorFlags     `embed:""`
	Start          string   `group:"Floor:" placeholder:"START" help:"How the lap starts: alignment, free foot, hold, and the place and the wall if you like: \"DW, RF, closed at 3,1.5 wall 1\" (chosen)."`
	Weight         []string `group:"Choice:" placeholder:"NAME=N" help:"How much a part of the cost counts: bars, lane, crowding, awkward, repeat, stretch or gap."`
	Time           string   `group:"Choice:" placeholder:"DURATION" help:"How long to look for a better lap, such as 10s or 2m; then the best so far is shown (until it is proven)."`
	Seed           string   `group:"Choice:" placeholder:"N" help:"Decides among laps that are equally good (0)."`
	countFlags     `embed:""`
	outputFlags    `embed:""`
}

// outputFlags say where an answer is written besides the screen.
type outputFlags struct {
	Export string `group:"Files:" placeholder:"FILE" help:"Write the graph of all laps that cost no more than this one, with the limits, as plain text for other programs."`
	Out    string `group:"Files:" placeholder:"FILE.yaml" help:"Write the lap as a routine's file, which lapwright check reads."`
	SVG    string `name:"svg" group:"Files:" placeholder:"FILE" help:"Draw the room from above with both dancers' footprints."`
	Force  bool   `group:"Files:" help:"Write over files that are there already."`
}

// ready tells before any work is done why a file could not be written.
func (o outputFlags) ready() error {
	flags := map[string]string{} // by file
	for _, f := range []struct{ flag, path string }{{"--export", o.Export}, {"--out", o.Out}, {"--svg", o.SVG}} {
		if f.path == "" {
			continue
		}
		if err := wholefile.Ready(f.path, o.Force); err != nil {
			return err
		}
		file := filepath.Clean(f.path)
		if other := flags[file]; other != "" {
			return fmt.Errorf("%s and %s name the same file, %s", other, f.flag, f.path)
		}
		flags[file] = f.flag
	}
	return nil
}

// lapQuestion is what is asked for, in full.
type lapQuestion struct {
	room      chosenRoom
	repertory *repertory
	limits    limits
	problem   search.Problem
	tempo     float64
	time      time.Duration // how long the search may take; 0: as long as it needs
	asked     answer.Asked
}

// question reads all flags.
func (c *lapCommand) question() (*lapQuestion, error) {
	var q lapQuestion
	var err error
	if q.repertory, err = c.repertoryFlags.choose(string(figures.Bronze)); err != nil {
		return nil, err
	}
	class := q.repertory.class
	if q.room, err = class.room(c.Room); err != nil {
		return nil, err
	}
	if q.limits, err = c.limitFlags.choose(q.repertory, q.room.Room, 0); err != nil {
		return nil, err
	}
	p := &q.problem
	*p = search.Problem{Room: q.room.Room, Variants: q.repertory.variants, Follows: q.repertory.library.Follows(), Couple: figures.DefaultCouple(), Margin: -1,
		Limits: q.limits.Limits, Laps: q.limits.laps}
	p.More, p.WhyTime = q.repertory.more(), whyTime
	q.tempo, p.Couple.Stride = class.tempo(defaultTempo), class.stride(p.Couple.Stride)
	if c.Stride != "" {
		if p.Couple.Stride, err = stride(c.Stride); err != nil {
			return nil, err
		}
	}
	if c.Margin != "" {
		if p.Margin, err = margin(c.Margin); err != nil {
			return nil, err
		}
	}
	if c.Tempo != "" {
		if q.tempo, err = tempo(c.Tempo); err != nil {
			return nil, err
		}
	}
	if p.Weights, err = weights(c.Weight); err != nil {
		return nil, err
	}
	if p.Count, p.Within, err = c.countFlags.choose(); err != nil {
		return nil, err
	}
	if c.Seed != "" {
		if p.Seed, err = seed(c.Seed); err != nil {
			return nil, err
		}
	}
	if c.Time != "" {
		if q.time, err = duration(c.Time); err != nil {
			return nil, err
		}
	}
	if c.Start != "" {
		if p.Start, err = start(c.Start, q.room.Room); err != nil {
			return nil, err
		}
	}
	q.asked = answer.Asked{Dance: q.repertory.dance, Class: class.answer(), Level: q.repertory.wanted.levelNames(), Style: q.repertory.wanted.styleName(), Known: q.repertory.known, Without: q.repertory.without,
		Must: answer.Names(q.limits.Must), Limits: answer.NewLimits(&q.limits.Limits, q.limits.laps), Time: answer.Number(q.time.Seconds()),
		Start: c.Start, Stride: answer.Number(p.Couple.Stride), Tempo: answer.Number(q.tempo), Margin: answer.Number(q.margin()), Seed: p.Seed,
		Count: p.Count, Within: answer.Number(100 * p.Within),
		Weights: answer.NewWeights(p.Weights)}
	return &q, nil
}

// margin is the floor kept free, in metres.
func (q *lapQuestion) margin() float64 {
	if q.problem.Margin >= 0 {
		return q.problem.Margin
	}
	return q.room.Margin
}

// Run makes the lap.
func (c *lapCommand) Run(s *session) error {
	q, err := c.question()
	if err != nil {
		return err
	}
	if q.problem.Export = c.Export != ""; q.problem.Export && q.problem.Count > 1 {
		return errors.New("--export writes the graph for one lap; leave --count out")
	}
	if err := c.outputFlags.readyFor(q.problem.Count); err != nil {
		return err
	}
	if err := c.outputFlags.spare("lap", append(c.repertoryFlags.files(), c.Room)...); err != nil {
		return err
	}
	s.notes(q.repertory)
	if words := tempoWarning(q.tempo); words != "" {
		fmt.Fprintln(s.errors, "lapwright: note:", words)
	}
	result, err := s.find(q)
	if err != nil {
		return err
	}
	a := answer.Lap{Found: result.Lap != nil, Why: result.Why, Asked: q.asked, Room: q.room.name, Laps: []answer.NumberedLap{}, Search: answer.NewSearch(result)}
	if a.Why == nil {
		a.Why = []string{}
	}
	if result.Lap == nil {
		if err := s.noLap(q, &a); err != nil {
			return err
		}
		return errNo
	}
	if q.problem.Count > 1 {
		return s.severalLaps(q, &a, result, c.outputFlags)
	}
	file := q.file(result.Lap, c.Out)
	file.Made = s.command
	report, err := q.proof(file)
	if err != nil {
		return err
	}
	danced := answer.NewRoutine(report, &file.Routine)
	a.Routine, a.Cost = &danced, answer.NewCost(result.Lap)
	var graph bytes.Buffer
	if c.Export != "" {
		if result.Instance == nil {
			return errors.New("the search was stopped before the graph for --export could be made; give it more time")
		}
		if err := export.Write(&graph, result.Instance); err != nil {
			return err
		}
	}
	// A search that was stopped shows what it has, and writes it.
	ctx := s.ctx
	if result.Stopped {
		ctx = context.WithoutCancel(ctx)
	}
	written, err := c.outputFlags.write(ctx, file, report, drawingLine(q.heading(), danced.Totals))
	if err != nil {
		return err
	}
	if c.Export != "" {
		if err := wholefile.Write(c.Export, c.Force, graph.Bytes()); err != nil {
			return err
		}
		written = append(written, c.Export)
	}
	return s.lap(q, &a, written)
}

// find searches until the proof, or as long as it may, and tells how far it has come.
func (s *session) find(q *lapQuestion) (*search.Result, error) {
	ctx := s.ctx
	if q.time > 0 {
		var stop context.CancelFunc
		ctx, stop = context.WithTimeout(ctx, q.time)
		defer stop()
	}
	line := s.progress()
	defer line.clear()
	var tell func(search.Progress)
	if s.watched() {
		tell = func(p search.Progress) { line.tell(time.Now(), p, q.soFar) }
	}
	result, err := search.Find(ctx, &q.problem, tell)
	if errors.Is(err, context.DeadlineExceeded) {
		return nil, fmt.Errorf("no lap was found in the time that --time gives, %s, and it is not known whether there is one; give more", q.time)
	}
	return result, err
}

// soFar is a lap that was found on the way, as it is danced, and its file; nil where the
// checker objects to it.
func (q *lapQuestion) soFar(lap *search.Lap) (*answer.Routine, string) {
	file := q.file(lap, "")
	report, err := q.proof(file)
	if err != nil {
		return nil, ""
	}
	danced := answer.NewRoutine(report, &file.Routine)
	return &danced, string(routinefile.Format(file))
}

// file is the lap as a routine.
func (q *lapQuestion) file(lap *search.Lap, out string) *routinefile.File {
	f := &routinefile.File{Floor: q.room.Room, Margin: q.problem.Margin, Lap: true, Routine: routine.Routine{
		Dance: q.repertory.dance, Room: q.room.nameIn(filepath.Dir(out)), Stride: q.problem.Couple.Stride, Tempo: q.tempo,
		Start: lap.Start, Steps: lap.Steps}}
	if q.limits.laps > 1 {
		f.Laps = q.limits.laps
	}
	f.Name = q.name()
	return f
}

// name is what is asked for, in a few words.
func (q *lapQuestion) name() string {
	if q.limits.laps > 1 {
		return fmt.Sprintf("%d laps of %s", q.limits.laps, q.room.Name)
	}
	return "Lap of " + q.room.Name
}

// checks are the limits that a lap was asked to keep to, for the checker.
func (q *lapQuestion) checks() check.Limits {
	l := check.Limits{Allowed: q.repertory.has, Lap: true, Margin: q.problem.Margin, Library: q.repertory.variants, Follows: q.problem.Follows}
	q.limits.put(&l)
	return l
}

// proof has the checker dance the lap before anybody sees it. Where the figures
// tell by themselves that the wall stays the same, the routine need not say so.
func (q *lapQuestion) proof(f *routinefile.File) (*check.Report, error) {
	dance := func() (*check.Report, error) {
		report := check.Dance(q.room.Room, q.problem.Couple, &f.Routine, q.checks())
		if faults := report.Faults(); len(faults) > 0 {
			return nil, faultOfOurs{fmt.Errorf("the checker objects to the lap that was found, and it is not shown: %s", faults[0])}
		}
		return report, nil
	}
	report, err := dance()
	if err != nil {
		return nil, err
	}
	said := f.Steps
	f.Steps = unsaid(q, f, report)
	plain, err := dance()
	if err != nil || !sameWay(report, plain) {
		f.Steps = said
		return report, nil
	}
	return plain, nil
}

// unsaid leaves out that the wall stays the same where nobody would take the
// next one.
func unsaid(q *lapQuestion, f *routinefile.File, report *check.Report) []routine.Step {
	steps := make([]routine.Step, len(f.Steps))
	for i, s := range f.Steps {
		row := &report.Rows[i]
		if s.Corner == routine.Stay && !q.room.InCorner(row.Wall, row.From) {
			s.Corner = routine.Unsaid
		}
		steps[i] = s
	}
	return steps
}

func sameWay(a, b *check.Report) bool {
	for i := range a.Rows {
		if a.Rows[i].Wall != b.Rows[i].Wall || a.Rows[i].To != b.Rows[i].To {
			return false
		}
	}
	return true
}

// heading is what the lap is, in a few words.
func (q *lapQuestion) heading() string {
	return fmt.Sprintf("%s, %s, stride %g m", q.repertory.dance, q.repertory.words(), q.problem.Couple.Stride)
}

// write writes the files that were asked for, and says which.
func (o outputFlags) write(ctx context.Context, f *routinefile.File, report *check.Report, heading string) ([]string, error) {
	var written []string
	save := func(path string, data []byte) error {
		if path == "" {
			return nil
		}
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := wholefile.Write(path, o.Force, data); err != nil {
			return err
		}
		written = append(written, path)
		return nil
	}
	if err := save(o.Out, routinefile.Format(f)); err != nil {
		return nil, err
	}
	if o.SVG != "" {
		drawing := sheet.Draw(report, sheet.Title{Name: f.Name, Line: heading})
		if err := save(o.SVG, drawing); err != nil {
			return nil, err
		}
	}
	return written, nil
}

// drawRoom draws an empty room, if that was asked for, and says where.
func (o outputFlags) drawRoom(room *floors.Room) (string, error) {
	if o.SVG == "" {
		return "", nil
	}
	return o.SVG, wholefile.Write(o.SVG, o.Force, sheet.DrawRoom(room))
}

// noLap prints that there is no lap, and why.
func (s *session) noLap(q *lapQuestion, a *answer.Lap) error {
	if s.json {
		return answer.Write(s.out, a)
	}
	none := "No lap of " + q.room.Name
	if q.limits.laps > 1 {
		none = fmt.Sprintf("No routine of %d laps of %s", q.limits.laps, q.room.Name)
	}
	fmt.Fprintf(s.out, "%s (%s)\n%s", s.paint.bold(none), q.heading(), q.limits.line(q.room.Room))
	for _, why := range a.Why {
		fmt.Fprintf(s.out, "  %s\n", why)
	}
	return nil
}

// lap prints a lap.
func (s *session) lap(q *lapQuestion, a *answer.Lap, written []string) error {
	if s.json {
		return answer.Write(s.out, a)
	}
	if err := s.lapInFull(q, a); err != nil {
		return err
	}
	s.afterLaps(written)
	return nil
}

// lapInFull prints a lap figure by figure, with its sums and its cost.
func (s *session) lapInFull(q *lapQuestion, a *answer.Lap) error {
	fmt.Fprintf(s.out, "%s (%s)\n%s\n", s.paint.bold(q.name()), q.heading(), q.limits.line(q.room.Room))
	if err := printFigures(s.out, q.room.Room, a.Routine, nil); err != nil {
		return err
	}
	fmt.Fprintln(s.out)
	facts := append(append(totals(a.Routine.Totals), awkwardJoins(a.Routine)...), costs(a.Cost, a.Search.Stopped)...)
	printFacts(s.out, facts)
	return nil
}

// afterLaps prints what stands under laps: what to take care of, and the files that
// were written.
func (s *session) afterLaps(written []string) {
	fmt.Fprintf(s.out, "\n%s", cautions)
	for _, path := range written {
		fmt.Fprintf(s.out, "\nWritten: %s", path)
	}
	if len(written) > 0 {
		fmt.Fprintln(s.out)
	}
}

// costs are the parts of the cost and how good it is.
func costs(c *answer.Cost, stopped bool) []fact {
	var parts []string
	for _, p := range []struct {
		name  string
		value answer.Number
	}{{"bars", c.Parts.Bars}, {"lane", c.Parts.Lane}, {"crowding", c.Parts.Crowding}, {"awkward joins", c.Parts.Awkward},
		{"repeats", c.Parts.Repeat}, {"stretching", c.Parts.Stretch}, {"gap at the end", c.Parts.Gap}} {
		parts = append(parts, fmt.Sprintf("%s %.2f", p.name, float64(p.value)))
	}
	best := "proven: no lap from the starts that were tried costs less"
	if !c.Proven {
		best = fmt.Sprintf("not proven, but within %.1f %% of the bound: no lap costs less than %.2f bars", float64(c.OverBound), float64(c.Bound))
	}
	if stopped {
		best += "; the search was stopped"
	}
	return []fact{{"Cost", fmt.Sprintf("%.2f bars: %s", float64(c.Total), strings.Join(parts, ", "))}, {"Best", best}}
}
