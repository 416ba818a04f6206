package main

import (
	"errors"
	"fmt"
	"slices"
	"strconv"

	"lapwright/cmd/internal/answer"
	"lapwright/figures"
	"lapwright/search"
	"lapwright/search/teach"
)

// gainsOrder says how the figures to teach next are ordered.
const gainsOrder = "figures that open a lap where there is none, then those with the higher growth rate, then those that leave fewer dead ends, then the easier"

// Laps are counted up to so many bars more than the shortest has; so many figures are
// looked at on the floor.
const (
	beyondShortest = 2
	bestOnFloor    = 10
)

// knownOf finds what the class knows already; its repertory has the known figures.
func (c *teachCommand) knownOf() (*repertory, error) {
	flags := c.repertoryFlags
	flags.Level, flags.Without = "", nil
	if len(flags.Known) > 0 {
		if flags.Class != "" {
			return nil, errors.New("--class and --known contradict each other: give one of them")
		}
		flags.Style = ""
	}
	return flags.choose("all")
}

// beyond is the question with what is known left out of what may be taught.
func (c *teachCommand) beyond(known *repertory, usual string) (*teaching, error) {
	own := *c
	own.Known, own.classFlags = nil, classFlags{}
	if known.class != nil {
		if own.Style == "" && known.class.Style != figures.AnyStyle {
			own.Style = string(known.class.Style)
		}
		if own.Dance == "" {
			own.Dance = known.class.Dance
		}
	}
	q, err := own.question(usual)
	if err != nil {
		return nil, err
	}
	if class := known.class; class != nil {
		if q.room, err = class.room(c.Room); err != nil {
			return nil, err
		}
		q.problem.Room = q.room.Room
		if c.Stride == "" {
			q.problem.Couple.Stride = class.stride(q.problem.Couple.Stride)
		}
	}
	q.items = slices.DeleteFunc(q.items, func(it teach.Item) bool {
		return !slices.ContainsFunc(it.Variants, func(v *figures.Variant) bool { return !known.has(v) })
	})
	return q, nil
}

// next says which figure to teach next.
func (c *teachCommand) next(s *session) error {
	if c.BothWays || c.Most != "" {
		return errors.New("--most and --both-ways are about the smallest sets; leave them out, or --known and --class")
	}
	known, err := c.knownOf()
	if err != nil {
		return err
	}
	q, err := c.beyond(known, "all")
	if err != nil {
		return err
	}
	s.notes(q.repertory)
	if len(q.items) == 0 {
		return fmt.Errorf("nothing is left to teach: all %s are known", q.repertory.words())
	}
	if !c.Stretch {
		q.problem.Scales = []search.Scale{{Share: 1}}
	}
	teach.Easiest(q.items)
	ask := teach.Next{Problem: &q.problem, Known: known.variants, Items: q.items, OnFloor: bestOnFloor, Beyond: beyondShortest}
	if c.All {
		ask.OnFloor = len(q.items)
	}
	gains, err := ask.Find(s.ctx)
	if err != nil {
		return err
	}
	a := answer.TeachNext{Room: q.room.name, Class: known.class.answer(), Stride: answer.Number(q.problem.Couple.Stride), Stretch: c.Stretch, Dance: q.repertory.dance,
		Known: known.known, Levels: q.repertory.wanted.levelNames(), Style: q.repertory.wanted.styleName(), Order: gainsOrder,
		CountedBars: gains.MostBars, Before: answer.NewClassCan(&gains.Before), Figures: []answer.TeachGain{}, Apart: []string{}}
	if !gains.Before.Round && !c.Stretch {
		stretched := q.problem
		stretched.Scales = nil
		items := teach.Items(known.variants)
		round, err := teach.NewRound(&stretched, items)
		if err != nil {
			return err
		}
		if a.BeforeStretched, err = round.Lap(s.ctx, teach.All(items)); err != nil {
			return err
		}
	}
	for i := range gains.Gains {
		a.Figures = append(a.Figures, answer.NewTeachGain(&gains.Gains[i], gainWords(&gains.Gains[i])))
	}
	for _, it := range gains.Apart {
		a.Apart = append(a.Apart, it.Figure.Name)
	}
	if s.json {
		err = answer.Write(s.out, a)
	} else {
		err = s.teachNext(q, known, &a, c.All)
	}
	if err == nil && len(a.Figures) == 0 {
		return errNo
	}
	return err
}

// gainWords say in a sentence what a figure opens.
func gainWords(g *teach.Gain) string {
	side := map[int]string{-1: "right turns", 1: "left turns"}
	switch g.Opens {
	case teach.OpensRound:
		return "opens a lap: with it the class gets round"
	case teach.OpensTurns:
		return fmt.Sprintf("opens the way from %s to %s", side[g.Turned[0]], side[g.Turned[1]])
	case teach.OpensStance:
		words := ""
		for i, st := range g.Released {
			if i > 0 {
				words += " and "
			}
			words += st.Short()
		}
		return "goes on from " + words + ", where nothing known does"
	}
	before, after := g.Follows[0], g.Leads[0]
	for _, f := range g.Leads {
		if f != before {
			after = f
			break
		}
	}
	return fmt.Sprintf("one more way from %s to %s", before.Name, after.Name)
}

// teachNext prints which figure to teach next.
func (s *session) teachNext(q *teaching, known *repertory, a *answer.TeachNext, all bool) error {
	how := "at the usual stride"
	if a.Stretch {
		how = "reaching or holding back"
	}
	fmt.Fprintf(s.out, "%s (%s, %s)\nKnown: %s.\n\n", s.paint.bold("What to teach next for "+q.room.Name), q.heading(), how, folded2(known.known))
	if !a.Before.GetsRound {
		fmt.Fprintf(s.out, "With what is known nobody gets round this room %s.\n", how)
		if a.BeforeStretched {
			fmt.Fprintln(s.out, "Reaching or holding back a little, 0.8 to 1.1 of the stride, the couple does: see --stretch.")
		}
		if a.Before.Rate == nil {
			fmt.Fprintln(s.out, "No routine of these figures goes on for ever: each ends in a stance that no known figure leaves.")
		}
		fmt.Fprintln(s.out)
	}
	if len(a.Figures) == 0 {
		fmt.Fprintf(s.out, "None of the others joins what is known, before and after: more than one must be taught at once.\nlapwright teach shows the smallest sets that get round.\n\n%s", cautions)
		return nil
	}
	laps := "Laps"
	if a.CountedBars > 0 {
		laps = fmt.Sprintf("Laps to\n%d bars", a.CountedBars)
	}
	columns := []column{{"Figure", false}, {"Round", false}, {"Rate", true}, {"Dead\nends", true}, {"Goes on", true}, {"Shortest\nlap", true}, {laps, true}, {"Points\na bar", true}, {"What it opens", false}}
	row := func(name string, can *answer.ClassCan, points, words string) []string {
		round := "no"
		if can.GetsRound {
			round = "yes"
		}
		rate, endless, shortest, laps := "–", "", "", ""
		if can.Rate != nil {
			rate = fmt.Sprintf("%.2f", float64(*can.Rate))
		}
		if can.OnFloor {
			endless, shortest, laps = fmt.Sprintf("%.0f %%", 100*float64(can.Endless)), "none", "0"
			if can.Shortest > 0 {
				shortest, laps = fmt.Sprint(can.Shortest), big(can.Laps, can.LapsOver)
			}
		}
		return []string{name, round, rate, strconv.Itoa(len(can.Ends)), endless, shortest, laps, points, words}
	}
	rows := [][]string{row("(known now)", &a.Before, "", "")}
	shown := len(a.Figures)
	if !all {
		shown = min(shown, bestOnFloor)
	}
	for i := range a.Figures[:shown] {
		g := &a.Figures[i]
		rows = append(rows, row(folded(g.Figure, 26), &g.After, fmt.Sprintf("%.2f", float64(g.Difficulty.Total)), folded(g.Words, 40)))
	}
	if err := table(s.out, columns, rows); err != nil {
		return err
	}
	if left := len(a.Figures) - shown; left > 0 {
		fmt.Fprintf(s.out, "\nThe best %d of %d figures that join what is known, before and after; --all shows the rest.\n", shown, len(a.Figures))
	}
	switch n := len(a.Apart); {
	case n == 1:
		fmt.Fprintf(s.out, "\n%s does not join what is known: something else is to be taught before it.\n", a.Apart[0])
	case n > 1:
		fmt.Fprintf(s.out, "\n%d figures do not join what is known: something else is to be taught before them.\n", n)
	}
	fmt.Fprintf(s.out, "\nOrder: %s.\n%s\n%s", gainsOrder, gainsLegend, cautions)
	return nil
}

// gainsLegend explains the columns.
const gainsLegend = `All numbers are with the figure in all its ways, after what is known. Rate: how fast routines grow in
number along a wall, in doublings a bar. Dead ends: stances in which a figure ends and none goes on.
Goes on: of the places and stances in which the figures known now end, the share from which dancing
can go on for ever in this room. Shortest lap: its bars; Laps: how many different ones there are. Both
are begun diagonal to wall, right foot free, in closed hold, just out of the first corner.
`

// big is a number in a few letters.
func big(n uint64, over bool) string {
	switch {
	case over:
		return "too many"
	case n >= 10_000_000:
		return fmt.Sprintf("%.1e", float64(n))
	}
	return strconv.FormatUint(n, 10)
}

// folded2 is a list of names with commas between.
func folded2(names []string) string {
	words := ""
	for i, n := range names {
		if i > 0 {
			words += ", "
		}
		words += n
	}
	return folded(words, 90)
}
