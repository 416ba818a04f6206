package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"lapwright/cmd/internal/answer"
	"lapwright/cmd/internal/wording"
	"lapwright/figures"
	"lapwright/search"
	"lapwright/search/check"
	"lapwright/search/future"
	"lapwright/search/routine"
	"lapwright/search/tally"
)

// nextCommand lists what can follow.
type nextCommand struct {
	standFlags `embed:""`
	Bars       string `group:"Choice:" placeholder:"N" help:"Count the ways through so many bars after each figure, 1 to 12 (4)."`
}

// usualAhead is how many bars are looked ahead.
const usualAhead = 4

// nextOrder says how the figures that can follow are ordered.
const nextOrder = "most future first: getting right round before dancing on without, more ways that go on before fewer; traps last, the shortest at the very end"

// Run lists what can follow.
func (c *nextCommand) Run(s *session) error {
	bars := usualAhead
	if c.Bars != "" {
		var err error
		if bars, err = whole("bars", c.Bars, "bars", 1, future.MostAhead); err != nil {
			return err
		}
	}
	q, err := c.stand(s)
	if err != nil {
		return err
	}
	s.notes(q.repertory)
	options := future.New(q.states).Next(q.at, bars)
	a := answer.Next{Stand: q.answer(), Bars: bars, Order: nextOrder, Begin: q.states.Begin(q.at), Figures: answer.NewOptions(options)}
	for i := range options {
		a.Figures[i].Instead = q.instead(options[i].Move)
	}
	if s.json {
		err = answer.Write(s.out, a)
	} else {
		err = s.next(q, &a)
	}
	if err == nil && len(a.Figures) == 0 {
		return errNo
	}
	return err
}

// next prints what can follow.
func (s *session) next(q *stand, a *answer.Next) error {
	fmt.Fprintf(s.out, "%s (%s)\nThe couple stands %s.\n\n", s.paint.bold("What can follow in "+q.room.Name), q.heading(), q.where())
	if len(a.Figures) == 0 {
		fmt.Fprintf(s.out, "Nothing can: %s.\n", noRoom(a.Begin))
		fmt.Fprintf(s.out, "\n%s", cautions)
		return nil
	}
	columns := []column{{"Figure", false}, {"Bars", true}, {"Wall", false}, {"Ends", false}, {"Place", false}, {"Ways", true}, {"Go on", true}, {"Round", false}, {"The rest", false}, {"What comes of it", false}}
	scaled, turns, rest, traps := false, false, false, 0
	for _, o := range a.Figures {
		scaled = scaled || o.Scale != 1
		turns = turns || o.TakesNextWall
		rest = rest || o.Instead != nil
		if o.Trap {
			traps++
		}
	}
	if scaled {
		columns = append(columns, column{"Scale", true})
	}
	var rows [][]string
	for _, o := range a.Figures {
		round := "yes"
		if !o.Round {
			round = "no"
		}
		row := []string{optionName(o.Name), strconv.Itoa(o.Bars), wallCell(q.room.Room, o.Ends.Wall, o.TakesNextWall), endCell(o.Ends), place(o.Ends.X, o.Ends.Y),
			ways(o.Ways, o.Over), ways(o.WaysOn, o.Over), round, restCell(o.Instead), s.comesOfIt(&o)}
		if scaled {
			cell := ""
			if o.Scale != 1 {
				cell = strconv.FormatFloat(float64(o.Scale), 'f', -1, 64)
			}
			row = append(row, cell)
		}
		rows = append(rows, row)
	}
	if err := table(s.out, columns, rows); err != nil {
		return err
	}
	fmt.Fprintf(s.out, "\nOrder: %s.\n", nextOrder)
	fmt.Fprintf(s.out, `Ways: in how many ways the %s after it can be danced, counted and not estimated; the
last figure may go on beyond them. Go on: how many of these can be danced on from for ever.
Round: whether the couple can still get right round the room.
`, wording.Many(a.Bars, "bar"))
	if rest {
		fmt.Fprint(s.out, `The rest: what comes of the bars that follow in the routine when the figure takes the place
of the one that is danced there now; × the share of the stride with which that is so.
`)
	}
	if a.Stretch {
		fmt.Fprintln(s.out, "Ways differ in the share of the stride too.")
	}
	if turns {
		fmt.Fprintln(s.out, "> the next wall's line of dance is taken before the figure, at the corner")
	}
	if traps > 0 {
		fmt.Fprintln(s.out, "TRAP: after this figure every way ends at a wall or an obstacle, or in a stance that no\nknown figure leaves.")
	}
	if scaled {
		fmt.Fprintln(s.out, "Scale: the share of the stride at which a figure is danced, where it is not 1")
	}
	fmt.Fprintf(s.out, "\n%s", cautions)
	return nil
}

// instead dances the routine with a figure in place of the one that comes next, at the
// share of the stride with which it has the fewest faults; nil where no routine goes on.
func (q *stand) instead(m search.Move) *answer.Instead {
	if q.routine == nil || q.danced >= len(q.routine.file.Steps) {
		return nil
	}
	r := q.routine.file.Routine
	own := m.Step()
	now := &r.Steps[q.danced]
	a := &answer.Instead{Same: now.Variant == own.Variant && q.routine.report.Rows[q.danced].NextWall == (own.Corner == routine.Take)}
	if a.Same {
		own.Scale = now.Scale
	}
	shares := []float64{own.Scale}
	for _, s := range search.DefaultScales {
		if s.Share != own.Scale {
			shares = append(shares, s.Share)
		}
	}
	steps := slices.Clone(r.Steps)
	for i := q.danced + 1; i < len(steps); i++ {
		steps[i].Corner = routine.Unsaid // a corner may come earlier, or later
	}
	r.Steps = steps
	ask := q.routine.ask
	ask.Library = nil // what could go instead is not asked here
	for i, share := range shares {
		own.Scale = share
		steps[q.danced] = own
		faults := check.Dance(q.room.Room, figures.DefaultCouple(), &r, ask).Faults()
		if i == 0 || len(faults) < a.Faults {
			a.Scale, a.Faults, a.First = answer.Number(share), len(faults), ""
			if len(faults) > 0 {
				a.First = faults[0].String()
			}
		}
		if a.Faults == 0 || a.Same {
			break
		}
	}
	return a
}

// restCell says what comes of the rest of a routine.
func restCell(a *answer.Instead) string {
	switch {
	case a == nil:
		return ""
	case a.Same:
		return "as it is"
	case a.Faults > 0:
		return wording.Many(a.Faults, "fault")
	case a.Scale != 1:
		return fmt.Sprintf("dances on ×%g", float64(a.Scale))
	}
	return "dances on"
}

// comesOfIt says what a figure leads to, where that is not all well.
func (s *session) comesOfIt(o *answer.Option) string {
	if !o.Trap {
		if o.Round {
			return ""
		}
		return "dances on, never right round"
	}
	end := map[string]string{"wall": "no room", "stance": "a stance nobody leaves", "wall or stance": "no room, or a stance nobody leaves"}[o.EndsIn]
	if o.MostBars == 0 {
		return s.paint.warn("TRAP") + ": " + end + " at once"
	}
	return fmt.Sprintf("%s: %s after %s at most", s.paint.warn("TRAP"), end, wording.Many(o.MostBars, "bar"))
}

// ways is a number of ways.
func ways(n tally.Count, over bool) string {
	if over {
		return "too many"
	}
	return n.String()
}

// endCell is a stance as tables write it.
func endCell(p answer.Place) string { return p.Short + " " + p.Foot + " " + p.Hold }

// optionName is the name of a figure in at most two lines.
func optionName(name string) string {
	head, way, found := cutWay(name)
	if found && len([]rune(name)) > widestName {
		return head + "\n" + way
	}
	return name
}

// noRoom says that none of the figures that begin in a stance has room.
func noRoom(begin int) string {
	switch begin {
	case 0:
		return "no known figure begins so"
	case 1:
		return "1 figure could begin so, and it has no room here"
	}
	return fmt.Sprintf("%d figures could begin so, and none of them has room here", begin)
}

// cutWay parts a figure's name and its way of dancing in brackets.
func cutWay(name string) (head, way string, found bool) {
	head, way, found = strings.Cut(name, " (")
	return head, "(" + way, found
}
