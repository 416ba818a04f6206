package main

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"lapwright/cmd/internal/answer"
	"lapwright/cmd/internal/sheet"
	"lapwright/cmd/internal/wholefile"
	"lapwright/cmd/internal/wording"
	"lapwright/figures"
	"lapwright/graph"
	"lapwright/graph/difficulty"
)

// figuresCommand lists figures or shows one.
type figuresCommand struct {
	Name           string `arg:"" optional:"" name:"name" help:"The figure to show, with its way of dancing in brackets if not the usual one: \"Natural Turn (1-3)\"."`
	From           string `placeholder:"STANCE" help:"Show it begun so: \"DW, RF, outside partner\" (its first beginning)."`
	repertoryFlags `embed:"" set:"level_help=Only figures of this level: social, bronze, silver or gold, several with commas between (all)."`
	Stride         string `placeholder:"STRIDE" help:"How far the couple travels in a step: usual (0.65 m), social (0.55), crowded (0.45) or metres."`
	Sweep          bool   `help:"With --json: the floor that each figure takes as well."`
	Sort           string `placeholder:"ORDER" help:"What the list is ordered by: book (the order of the library), name, level (the lowest first) or difficulty (the easiest first)."`
	SVG            string `name:"svg" group:"Files:" placeholder:"FILE" help:"Draw the footprints of one figure step by step, for both dancers."`
	Dot            string `group:"Files:" placeholder:"FILE" help:"Write what may follow what as a graph in the DOT language."`
	Force          bool   `group:"Files:" help:"Write over a file that is there already."`
}

// Run prints the figures.
func (c *figuresCommand) Run(s *session) error {
	r, err := c.repertoryFlags.choose("all")
	if err != nil {
		return err
	}
	s.notes(r)
	couple := figures.DefaultCouple()
	couple.Stride = r.class.stride(couple.Stride)
	if c.Stride != "" {
		if couple.Stride, err = stride(c.Stride); err != nil {
			return err
		}
	}
	if c.Dot != "" {
		data, err := dot(r.variants)
		if err != nil {
			return err
		}
		if err := wholefile.Write(c.Dot, c.Force, data); err != nil {
			return err
		}
	}
	ask := answer.FiguresAsked{Dance: r.dance, Class: r.class.answer(), Couple: couple, Variants: r.variants, Follows: r.library.Follows(), Sweep: c.Sweep}
	if s.json {
		joins := newGraph(r.variants)
		ask.Listed = func(f *figures.Figure) ([]string, []string) { return r.listed(joins, f) }
	}
	if c.Name == "" {
		if c.From != "" {
			return fmt.Errorf("--from belongs to one figure: name it")
		}
		if c.SVG != "" {
			return fmt.Errorf("--svg draws one figure: name it")
		}
		order, err := figuresOrder(c.Sort)
		if err != nil {
			return err
		}
		ask.Variants = order.sorted(ask.Variants)
		if s.json {
			return answer.Write(s.out, answer.NewFigures(ask))
		}
		if r.class != nil {
			fmt.Fprintf(s.out, "%s\n\n", s.paint.bold("Figures of "+r.class.String()))
		}
		return s.figures(ask.Variants, r.wanted.style, order)
	}
	if c.Sort != "" {
		return fmt.Errorf("--sort orders the list of figures; leave it out to see one of them")
	}
	return c.one(s, r, ask)
}

// one shows one figure.
func (c *figuresCommand) one(s *session, r *repertory, ask answer.FiguresAsked) error {
	v, err := r.library.Find(c.Name)
	if err != nil {
		return err
	}
	entry := v.Entries[0]
	if c.From != "" {
		if entry, err = figures.ParseStance(c.From); err != nil {
			return fmt.Errorf("--from: %w", err)
		}
		if !slices.Contains(v.Entries, entry) {
			reasons := []string{}
			for _, why := range graph.WhyNot(entry, v) {
				reasons = append(reasons, why.String())
			}
			return fmt.Errorf("--from: %s", strings.Join(reasons, "; "))
		}
	}
	if c.SVG != "" {
		data := sheet.DrawFigure(v.Dance(entry, ask.Couple), sheet.Title{Name: v.Name()})
		if err := wholefile.Write(c.SVG, c.Force, data); err != nil {
			return err
		}
	}
	if s.json {
		ask.Variants = v.Figure.Variants
		if strings.Contains(c.Name, "(") {
			ask.Variants = []*figures.Variant{v}
		}
		return answer.Write(s.out, answer.NewFigures(ask))
	}
	if err := s.figure(r, v, entry, ask.Couple); err != nil {
		return err
	}
	if c.SVG != "" {
		fmt.Fprintf(s.out, "\nWritten: %s\n", c.SVG)
	}
	return nil
}

// figures lists figures.
func (s *session) figures(variants []*figures.Variant, style figures.Style, order listOrder) error {
	columns := []column{{"Figure", false}, {"Levels", false}, {"Difficulty", true}, {"Counts", false}, {"Turn", false}, {"Begins", false}, {"Ends", false}}
	var rows [][]string
	for i, v := range variants {
		if i > 0 && variants[i-1].Figure == v.Figure {
			continue
		}
		f := v.Figure
		entry := v.Entries[0]
		rows = append(rows, []string{folded(f.Name, 32), levelWords(f, style), fmt.Sprintf("%.2f", difficulty.Figure(v).Total()), foldedCounts(figures.CountWords(v.Steps, f.Beats)), v.Turn().String(),
			entry.Short(), v.Exit(entry).Short()})
	}
	if err := table(s.out, columns, rows); err != nil {
		return err
	}
	fmt.Fprintf(s.out, "\n%s, %s. Bronze, silver and gold are of the international style\nunless another is said, social is of every style. Difficulty (points a bar), Begins and Ends (the\nleader faces, the leader's free foot, the hold) are those of the usual way of dancing it: lapwright\nfigures NAME shows all ways, what makes each hard, and which syllabi set the figure.\n", wording.Many(len(rows), "figure"), order.words())
	return nil
}

// levelWords are a figure's levels in a few words, as --level takes them: those
// of the international style by themselves, "American bronze", and social with
// its style only where it is not of every style. Where one style was asked for,
// those of the others are left out.
func levelWords(f *figures.Figure, asked figures.Style) string {
	var words []string
	add := func(w string) {
		if !slices.Contains(words, w) {
			words = append(words, w)
		}
	}
	everywhere := slices.ContainsFunc(f.Levels, func(l figures.Listing) bool { return l.Style == figures.AnyStyle && l.Level == figures.Social })
	for _, l := range f.Levels {
		switch {
		case asked != figures.AnyStyle && l.Style != figures.AnyStyle && l.Style != asked:
		case l.Level == figures.Social && everywhere:
			add(string(l.Level))
		case l.Style == figures.AnyStyle, l.Style == figures.International && l.Level != figures.Social:
			add(string(l.Level))
		default:
			add(l.Style.String() + " " + string(l.Level))
		}
	}
	return strings.Join(words, ", ")
}

// folded is a text in lines of a table's cell, each of at most so many letters
// if its words allow it.
func folded(text string, widest int) string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		switch {
		case line == "":
			line = word
		case len([]rune(line))+1+len([]rune(word)) <= widest:
			line += " " + word
		default:
			lines, line = append(lines, line), word
		}
	}
	return strings.Join(append(lines, line), "\n")
}

// foldedCounts are counts in lines of two bars or so.
func foldedCounts(counts string) string {
	const inBar = "_"
	bars := strings.Split(strings.ReplaceAll(counts, " ", inBar), inBar+"1")
	return strings.ReplaceAll(folded(strings.Join(bars, " 1"), 13), inBar, " ")
}

// listings are a figure's places in the syllabi, one a line.
func listings(f *figures.Figure) string {
	var lines []string
	for _, l := range f.Levels {
		words := l.String()
		if l.Style != figures.AnyStyle && l.Syllabus == "" {
			words += " (in no list that was read)"
		}
		lines = append(lines, words)
	}
	return strings.Join(lines, "\n")
}

// figure shows one figure: its ways of dancing, and the steps of one of them.
func (s *session) figure(r *repertory, v *figures.Variant, entry figures.Stance, couple figures.Couple) error {
	f := v.Figure
	fmt.Fprintf(s.out, "%s\n\n", s.paint.bold(f.Name))
	facts := []fact{{"Dance", fmt.Sprintf("%s, %d beats in a bar", f.Dance, f.Beats)}, {"Levels", listings(f)}, {"Family", f.Family}}
	if len(f.Also) > 0 {
		facts = append(facts, fact{"Also called", strings.Join(f.Also, ", ")})
	}
	if f.Note != "" {
		facts = append(facts, fact{"Note", folded(f.Note, 100)})
	}
	if f.Source != "" {
		facts = append(facts, fact{"Source", folded(f.Source, 100)})
	}
	if r.class != nil {
		facts = append(facts, fact{"Class", r.class.String()})
	}
	printFacts(s.out, append(facts, listedFacts(f, r)...))
	fmt.Fprintln(s.out)
	if err := s.ways(f, couple); err != nil {
		return err
	}
	fmt.Fprintf(s.out, "\nTravels is how far the couple's centre gets: along the line of dance, and towards the\ncentre (to the wall where it is negative), with a stride of %g m.\n", couple.Stride)
	fmt.Fprintf(s.out, "\n%s\n\n", s.paint.bold(fmt.Sprintf("%s, begun %s", v.Name(), entry)))
	d := v.Dance(entry, couple)
	for who := figures.Leader; who <= figures.Follower; who++ {
		if err := s.steps(d, who); err != nil {
			return err
		}
		fmt.Fprintln(s.out)
	}
	facts = []fact{{"Ends", d.Exit.String()}, {"Turns", v.Turn().String()}, {"Difficulty", difficultyWords(answer.NewDifficulty(difficulty.Figure(v)))}}
	printFacts(s.out, append(facts, measureFacts(d)...))
	return nil
}

// ways lists the ways of dancing a figure.
func (s *session) ways(f *figures.Figure, couple figures.Couple) error {
	columns := []column{{"Way of dancing", false}, {"Counts", false}, {"Turn", false}, {"Difficulty", true}, {"Begins", false}, {"Ends", false}, {"Travels", true}}
	var rows [][]string
	for _, v := range f.Variants {
		for i, e := range v.Entries {
			d := v.Dance(e, couple)
			cells := []string{v.Name(), figures.CountWords(v.Steps, f.Beats), v.Turn().String()}
			if v.Corner {
				cells[2] += ", at a corner"
			}
			cells = append(cells, fmt.Sprintf("%.2f", difficulty.Figure(v).Total()))
			if i > 0 {
				cells = make([]string, len(cells))
			}
			rows = append(rows, append(cells, e.Short(), d.Exit.Short(), fmt.Sprintf("%5.2f, %5.2f m", steady(d.Displacement.X), steady(d.Displacement.Y))))
		}
	}
	return table(s.out, columns, rows)
}

// steady is a number that is printed with two places, without the sign of a
// nought.
func steady(x float64) float64 {
	if math.Abs(x) < 0.005 {
		return 0
	}
	return x
}

// steps shows one dancer's steps, and then the technique of each.
func (s *session) steps(d *figures.Danced, who figures.Dancer) error {
	head := "Leader"
	if who == figures.Follower {
		head = "Follower"
	}
	columns := []column{{head, true}, {"Count", false}, {"Foot", false}, {"Direction", false}, {"Alignment", false}, {"Turn", false}, {"Length", true},
		{"Hold after it", false}}
	var rows [][]string
	for i, step := range answer.NewSteps(d) {
		fall := step.Leader
		if who == figures.Follower {
			fall = step.Follower
		}
		if fall == nil {
			alignment, turn := standing(d, i, who)
			rows = append(rows, []string{strconv.Itoa(i + 1), step.Count, "", "stands", alignment, turn, "", step.Hold})
			continue
		}
		rows = append(rows, []string{strconv.Itoa(i + 1), step.Count, d.Steps[i].Falls[who].Foot.Short(), directionWords(fall), fall.Short, fall.Turn, fmt.Sprintf("%.2f m", float64(fall.Length)), step.Hold})
	}
	if err := table(s.out, columns, rows); err != nil {
		return err
	}
	return s.technique(d, who)
}

// standing is how a dancer who takes no step is aligned after it and how far the
// body has turned on the spot, where it has.
func standing(d *figures.Danced, step int, who figures.Dancer) (alignment, turn string) {
	before := &d.Start
	if step > 0 {
		before = &d.Steps[step-1].After
	}
	front := d.Steps[step].After.Bodies[who].Front
	by := front - before.Bodies[who].Front
	heading, exact := figures.HeadingOf(front)
	if by == 0 || !exact {
		return "", ""
	}
	return figures.Alignment{Way: figures.Facing, Heading: heading}.Short(), by.String()
}

// directionWords is a step's direction with what is unusual about the foot.
func directionWords(fall *answer.DancerStep) string {
	words := fall.Direction
	if !fall.Weight && !strings.Contains(words, "without weight") {
		words += ", without weight"
	}
	if fall.HeelTurn && !strings.Contains(words, "heel turn") {
		words += " (heel turn)"
	}
	return words
}
