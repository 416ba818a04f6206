package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"lapwright/cmd/internal/answer"
	"lapwright/cmd/internal/handout"
	"lapwright/cmd/internal/routinefile"
	"lapwright/cmd/internal/wholefile"
	"lapwright/cmd/internal/wording"
	"lapwright/figures"
	"lapwright/graph/difficulty"
	"lapwright/search"
	"lapwright/search/check"
	"lapwright/search/drill"
	"lapwright/search/routine"
)

// drillCommand draws drills.
type drillCommand struct {
	Bars       string   `group:"Drill:" placeholder:"N" help:"So many bars, 1 to 160 (16)."`
	Minutes    string   `group:"Drill:" placeholder:"N" help:"So many minutes at the tempo, to the nearest bar."`
	Tempo      string   `group:"Drill:" placeholder:"N" help:"Bars a minute (29; for the waltz 28 to 30 are published)."`
	Seed       string   `group:"Drill:" placeholder:"N" help:"Which drill is drawn; the same seed draws the same one (0)."`
	Focus      []string `group:"Drill:" placeholder:"\"A,B > C\"" help:"Figures to practise, and joins of two with > between: they come more often."`
	Weight     string   `group:"Drill:" placeholder:"N" help:"How many times as likely a drill is with each of the focus in it (4)."`
	Cards      string   `group:"Drill:" placeholder:"K" help:"So many different drills of about the same difficulty, numbered, each with a seed of its own."`
	Difficulty string   `group:"Drill:" placeholder:"POINTS" help:"Of many drills those nearest to so many points a bar; lapwright check --difficulty shows how they are counted."`
	Cover      string   `group:"Drill:" placeholder:"WHAT" help:"Not a random drill but a short routine with every one of the known joins in it, or figures."`
	standFlags `embed:""`
	paperFlags `embed:""`
	Out        string `group:"Files:" placeholder:"FILE.yaml" help:"Write the drill as a routine's file; several as FILE-1.yaml, FILE-2.yaml …"`
	Force      bool   `group:"Files:" help:"Write over files that are there already."`
}

const (
	usualDrill = 16 // bars
	usualFocus = 4  // weight
	mostCards  = 100
	// candidates is how many drills are drawn for each card that is asked for.
	candidates = 24
)

// anywhere is the room's name where drills are for any room.
const anywhere = "anywhere"

// drillQuestion is what is asked for, in full.
type drillQuestion struct {
	*stand
	anywhere   bool
	anyStart   bool // no start is given
	bars       int
	tempo      float64
	seed       uint64
	focus      []drill.Focus
	practised  []string // the focus as it was written
	weight     uint64
	cards      int
	difficulty float64 // 0: any
	cover      string  // joins or figures; empty for drills that are drawn
}

// question reads all flags.
func (c *drillCommand) question(s *session) (*drillQuestion, error) {
	q := &drillQuestion{bars: usualDrill, tempo: defaultTempo, weight: usualFocus, cards: 1}
	var err error
	q.anywhere = strings.EqualFold(strings.TrimSpace(c.Room), anywhere)
	flags := c.standFlags
	if q.anywhere {
		flags.Room = ""
		if c.After != "" {
			return nil, errors.New("--after says where in a room a couple stands; leave it out, or --room anywhere")
		}
	}
	if q.stand, err = flags.place(s); err != nil {
		return nil, err
	}
	q.anyStart = c.From == "" && c.After == ""
	if class := q.repertory.class; class != nil && class.Tempo > 0 {
		q.tempo = class.Tempo
	}
	if c.Tempo != "" {
		if q.tempo, err = tempo(c.Tempo); err != nil {
			return nil, err
		}
	}
	if q.cover, err = c.covers(); err != nil {
		return nil, err
	}
	if q.bars, err = c.length(q.tempo); err != nil {
		return nil, err
	}
	if c.Seed != "" {
		if q.seed, err = seed(c.Seed); err != nil {
			return nil, err
		}
	}
	if q.focus, err = focus(q.repertory, c.Focus); err != nil {
		return nil, err
	}
	q.practised = c.Focus
	if c.Weight != "" {
		if len(q.focus) == 0 {
			return nil, errors.New("--weight is about what is to be practised: name it with --focus")
		}
		n, err := whole("weight", c.Weight, "times", 1, drill.MostWeight)
		if err != nil {
			return nil, err
		}
		q.weight = uint64(n)
	}
	if c.Cards != "" {
		if q.cards, err = whole("cards", c.Cards, "cards", 1, mostCards); err != nil {
			return nil, err
		}
	}
	if c.Difficulty != "" {
		if q.difficulty, err = number("difficulty", c.Difficulty, "points a bar", leastPoints, mostPoints); err != nil {
			return nil, err
		}
	}
	return q, nil
}

// length is how many bars are asked for.
func (c *drillCommand) length(tempo float64) (int, error) {
	switch {
	case c.Bars != "" && c.Minutes != "":
		return 0, errors.New("--bars and --minutes contradict each other: give one of them")
	case c.Bars != "":
		return whole("bars", c.Bars, "bars", 1, drill.MostBars)
	case c.Minutes != "":
		most := math.Floor(10*(drill.MostBars+0.5)/tempo) / 10
		minutes, err := number("minutes", c.Minutes, fmt.Sprintf("minutes, at %g bars a minute,", tempo), 0.05, most)
		if err != nil {
			return 0, err
		}
		return max(1, min(drill.MostBars, int(math.Round(minutes*tempo)))), nil
	}
	return usualDrill, nil
}

// focus reads what is to be practised: figures, and joins of two with > between.
func focus(r *repertory, list []string) ([]drill.Focus, error) {
	var all []drill.Focus
	for _, words := range list {
		parts := strings.Split(words, ">")
		if len(parts) > 2 {
			return nil, fmt.Errorf("--focus: %q has more than two figures; a join is two with > between", strings.TrimSpace(words))
		}
		var f drill.Focus
		for i, part := range parts {
			named, err := r.named("focus", []string{part})
			if err != nil {
				return nil, err
			}
			known := slices.DeleteFunc(slices.Clone(named), func(v *figures.Variant) bool { return !slices.Contains(r.variants, v) })
			if len(known) == 0 {
				return nil, fmt.Errorf("--focus: %s is not among the figures that are known", strings.TrimSpace(part))
			}
			if i == 0 && len(parts) == 2 {
				f.Before = known
			} else {
				f.Figure = known
			}
		}
		all = append(all, f)
	}
	return all, nil
}

// Run draws the drills and prints them.
func (c *drillCommand) Run(s *session) error {
	q, err := c.question(s)
	if err != nil {
		return err
	}
	files := c.files(q.cards)
	if files != nil && q.anywhere {
		return errors.New("--out writes a routine for a room; name one instead of anywhere")
	}
	paper, err := c.paper()
	if err != nil {
		return err
	}
	if err := (outputs{"drills", c.Force, append(c.repertoryFlags.files(), c.Room, c.After), append(files, c.PDF, c.HTML)}).ready(); err != nil {
		return err
	}
	s.notes(q.repertory)
	if words := tempoWarning(q.tempo); words != "" {
		fmt.Fprintln(s.errors, "lapwright: note:", words)
	}
	source, err := q.source(s.ctx)
	if err != nil {
		return err
	}
	var cover *answer.Cover
	var drawn []drill.Drill
	if q.cover != "" {
		drawn, cover, err = q.covering(s.ctx, source)
	} else {
		drawn, err = q.draw(s.ctx, source)
	}
	if err != nil {
		return err
	}
	a := q.answer()
	a.Cover = cover
	var all []wholefile.File
	cards := handout.Cards{Title: q.title(), Cautions: flowing(cautions), Made: s.command, Date: time.Now()}
	for i, d := range drawn {
		card, file, err := q.card(i+1, d)
		if err != nil {
			return err
		}
		a.Drills = append(a.Drills, card)
		cards.List = append(cards.List, handout.NewDrillCard(a, &card))
		if files != nil {
			file.Room, file.Made = q.room.nameIn(filepath.Dir(files[i])), s.command
			all = append(all, wholefile.File{Path: files[i], Data: routinefile.Format(file)})
		}
	}
	sheets, err := c.set(paper, &cards)
	if err != nil {
		return err
	}
	written, err := writeTogether(s.ctx, c.Force, append(all, sheets...))
	if err != nil {
		return err
	}
	a.Spread()
	if s.json {
		return answer.Write(s.out, a)
	}
	if cover != nil {
		return s.cover(q, a, written)
	}
	return s.drills(q, a, written)
}

// title is what the drills are together.
func (q *drillQuestion) title() string {
	if q.anywhere {
		return "Drills for anywhere"
	}
	return "Drills in " + q.room.Name
}

// files are the names of the files to be written, one for each drill.
func (c *drillCommand) files(cards int) (all []string) {
	switch {
	case c.Out == "":
		return nil
	case cards == 1:
		return []string{c.Out}
	}
	for i := range cards {
		all = append(all, numbered(c.Out, i+1))
	}
	return all
}

// source is what the drills come from. Where nothing that is known begins in the stance
// in which laps do and no other is given, drills begin in the first one from which they
// can be danced.
func (q *drillQuestion) source(ctx context.Context) (*drill.Source, error) {
	problem := q.problem
	if q.anywhere {
		problem.Room = nil
	}
	begin := func() (*drill.Source, error) {
		return drill.New(ctx, &drill.Problem{Room: &problem, Start: q.start, Focus: q.focus, Weight: q.weight})
	}
	source, err := begin()
	if errors.Is(err, search.ErrNothingBegins) && q.anyStart {
		first, ended := q.start.Stance, false
		tried := map[figures.Stance]bool{}
		for _, v := range q.repertory.variants {
			for _, e := range v.Entries {
				if e = e.Turned(0); tried[e] || err == nil {
					continue
				}
				tried[e] = true
				if v.Corner {
					continue
				}
				q.start.Stance = e
				if source, err = begin(); errors.Is(err, drill.ErrDeadEnd) && !ended {
					first, ended = e, true
				}
			}
		}
		if err != nil { // what is said of the first one
			q.start.Stance = first
		}
	}
	switch {
	case errors.Is(err, search.ErrNothingBegins):
		return nil, q.nothingBegins()
	case errors.Is(err, drill.ErrDeadEnd):
		return nil, fmt.Errorf("with these figures nobody can dance on from there, %s: %w; lapwright next shows what each leads to", q.start.Stance, err)
	}
	return source, err
}

// draw draws the drills: one by its seed, or many, of which those are taken that are
// about equally hard.
func (q *drillQuestion) draw(ctx context.Context, source *drill.Source) ([]drill.Drill, error) {
	seeds := []uint64{q.seed}
	if q.cards > 1 || q.difficulty > 0 {
		random := rand.New(rand.NewPCG(q.seed, uint64(q.bars)))
		seeds = nil
		for range candidates * (q.cards + 1) {
			seeds = append(seeds, uint64(random.Uint32N(1e9)))
		}
	}
	drawn, err := source.Draw(ctx, q.bars, seeds...)
	if errors.Is(err, drill.ErrLength) {
		return nil, q.lengths(ctx, source)
	}
	if err != nil || len(seeds) == 1 {
		return drawn, err
	}
	return q.alike(drawn)
}

// lengths says of how many bars there are drills.
func (q *drillQuestion) lengths(ctx context.Context, source *drill.Source) error {
	all, err := source.Lengths(ctx, min(q.bars+8, drill.MostBars))
	if err != nil {
		return err
	}
	every := ""
	if common := commonFactor(all); common == 2 {
		every = "; only even numbers of bars are filled"
	} else if common > 2 {
		every = fmt.Sprintf("; only multiples of %d bars are filled", common)
	}
	slices.SortStableFunc(all, func(a, b int) int { return cmp.Compare(max(a-q.bars, q.bars-a), max(b-q.bars, q.bars-b)) })
	near := all[:min(6, len(all))]
	slices.Sort(near)
	var words []string
	for _, n := range near {
		words = append(words, fmt.Sprint(n))
	}
	if len(words) == 0 {
		return fmt.Errorf("no routine of these figures from there takes exactly %s, nor any other number up to %d", wording.Many(q.bars, "bar"), q.bars+8)
	}
	return fmt.Errorf("no routine of these figures from there takes exactly %s; the nearest that can be had are %s bars%s", wording.Many(q.bars, "bar"), and(words), every)
}

// commonFactor is the greatest number that divides all of some; 0 for none.
func commonFactor(all []int) (common int) {
	for _, n := range all {
		for n != 0 {
			common, n = n, common%n
		}
	}
	return common
}

// alike takes the drills that are nearest to the difficulty that is asked for, or else
// those that are nearest to each other; none is like another. They come in the order in
// which they were drawn.
func (q *drillQuestion) alike(drawn []drill.Drill) ([]drill.Drill, error) {
	type candidate struct {
		drill.Drill
		order  int
		points float64
	}
	var all []candidate
	seen := map[string]bool{}
	for i, d := range drawn {
		variants := make([]*figures.Variant, len(d.Steps))
		key := ""
		for k, step := range d.Steps {
			variants[k] = step.Variant
			key += fmt.Sprint(step.Variant.Name(), step.Corner, "\n")
		}
		if !seen[key] {
			seen[key] = true
			all = append(all, candidate{d, i, difficulty.Routine(q.problem.Follows, variants).Total()})
		}
	}
	if len(all) < q.cards {
		return nil, fmt.Errorf("only %s of %d bars that differ were drawn; ask for fewer cards or other bars", wording.Many(len(all), "drill"), q.bars)
	}
	from := 0
	if q.difficulty > 0 {
		slices.SortStableFunc(all, func(a, b candidate) int {
			return cmp.Compare(math.Abs(a.points-q.difficulty), math.Abs(b.points-q.difficulty))
		})
	} else {
		slices.SortStableFunc(all, func(a, b candidate) int { return cmp.Compare(a.points, b.points) })
		least := math.Inf(1)
		for i := 0; i+q.cards <= len(all); i++ {
			if spread := all[i+q.cards-1].points - all[i].points; spread < least-1e-9 {
				from, least = i, spread
			}
		}
	}
	chosen := all[from : from+q.cards]
	slices.SortFunc(chosen, func(a, b candidate) int { return cmp.Compare(a.order, b.order) })
	var out []drill.Drill
	for _, c := range chosen {
		out = append(out, c.Drill)
	}
	return out, nil
}

// card has the checker dance a drill before anybody sees it.
func (q *drillQuestion) card(number int, d drill.Drill) (answer.Drill, *routinefile.File, error) {
	variants := make([]*figures.Variant, len(d.Steps))
	for i, step := range d.Steps {
		variants[i] = step.Variant
	}
	card := answer.Drill{Number: number, Seed: d.Seed, Difficulty: answer.NewDifficulty(difficulty.Routine(q.problem.Follows, variants)),
		Calls: answer.NewCalls(q.start.Stance, d.Steps, q.turns())}
	if q.anywhere {
		return card, nil, nil
	}
	file := &routinefile.File{Floor: q.room.Room, Margin: q.problem.Margin, Routine: routine.Routine{Name: fmt.Sprintf("Drill %d in %s", d.Seed, q.room.Name),
		Dance: q.repertory.dance, Room: q.room.nameIn("."), Stride: q.problem.Couple.Stride, Tempo: q.tempo, Start: d.Start, Steps: d.Steps}}
	report := check.Dance(q.room.Room, q.problem.Couple, &file.Routine, check.Limits{Margin: q.problem.Margin, Library: q.repertory.variants, Follows: q.problem.Follows})
	if faults := report.Faults(); len(faults) > 0 {
		return card, nil, faultOfOurs{fmt.Errorf("the checker objects to a drill that was drawn, and it is not shown: %s", faults[0])}
	}
	danced := answer.NewRoutine(report, &file.Routine)
	card.Routine = &danced
	return card, file, nil
}

// turns are the eighths by which a couple's heading reads otherwise once the corner at
// the end of each wall is taken, from the wall of the start on.
func (q *drillQuestion) turns() (all []int) {
	walls := q.room.Walls
	for i := range walls {
		all = append(all, walls[(q.start.Wall+i)%len(walls)].Eighths)
	}
	return all
}

// answer is what was asked for.
func (q *drillQuestion) answer() *answer.Drills {
	a := &answer.Drills{Room: q.room.name, Anywhere: q.anywhere, Class: q.repertory.class.answer(), Bars: q.bars, Tempo: answer.Number(q.tempo), Seconds: answer.Number(float64(q.bars) / q.tempo * 60),
		Stride: answer.Number(q.problem.Couple.Stride), Seed: q.seed, Focus: []string{}, Target: answer.Number(q.difficulty),
		Hardest: answer.Number(q.problem.Limits.Hardest), Start: answer.NewStand(q.start), Drills: []answer.Drill{}}
	if q.anywhere {
		a.Room = answer.RoomName{}
	}
	a.Weight = 1
	if len(q.focus) > 0 {
		a.Focus, a.Weight = repertoryFlags{}.names(q.practised), q.weight
	}
	return a
}
