package main

import (
	"fmt"
	"math"
	"strings"

	"lapwright/cmd/internal/answer"
	"lapwright/cmd/internal/wording"
	"lapwright/search/check"
	"lapwright/search/future"
	"lapwright/search/routine"
	"lapwright/search/wayout"
)

// waysOutCommand finds ways out of a bad spot.
type waysOutCommand struct {
	standFlags `embed:""`
	Near       string `group:"Ways out:" placeholder:"METRES" help:"How far from the middle of the lane is still in it, and from the same place still waiting (0.5)."`
	Bars       string `group:"Ways out:" placeholder:"N" help:"Most bars that a way back may take, up to 12 (8)."`
	Wait       string `group:"Ways out:" placeholder:"N" help:"Most bars to wait, up to 6; 0 for no waiting (4)."`
	Count      string `group:"Ways out:" placeholder:"N" help:"How many ways back are shown, and of waiting for each number of bars (5)."`
}

const (
	usualBack  = 8 // bars
	usualWait  = 4 // bars
	usualShown = 5
	mostShown  = 1000
)

// How the lists are ordered.
const (
	backOrder = "the quickest first, of those that take as many bars the one that takes the least floor first"
	waitOrder = "the shortest first, of those that take as many bars the one that takes the least of the line of dance first"
)

// Run finds ways out.
func (c *waysOutCommand) Run(s *session) error {
	a := answer.WaysOut{BackBars: usualBack, BackOrder: backOrder, WaitBars: usualWait, WaitOrder: waitOrder, Near: answer.Number(wayout.UsualNear), Passing: answer.Number(wayout.Passing())}
	shown := usualShown
	near := wayout.UsualNear
	var err error
	for _, f := range []struct {
		name, words, unit string
		least, most       int
		value             *int
	}{{"bars", c.Bars, "bars", 1, wayout.MostBars, &a.BackBars}, {"wait", c.Wait, "bars", 0, wayout.MostWait, &a.WaitBars}, {"count", c.Count, "ways", 1, mostShown, &shown}} {
		if f.words != "" {
			if *f.value, err = whole(f.name, f.words, f.unit, f.least, f.most); err != nil {
				return err
			}
		}
	}
	if c.Near != "" {
		if near, err = number("near", c.Near, "metres", 0, 5); err != nil {
			return err
		}
		a.Near = answer.Number(near)
	}
	q, err := c.stand(s)
	if err != nil {
		return err
	}
	s.notes(q.repertory)
	margin := q.problem.Margin
	if margin < 0 {
		margin = q.room.Margin
	}
	a.Stand, a.Margin = q.answer(), answer.Number(margin)
	ahead := future.New(q.states)
	finder := wayout.New(ahead, q.problem.Couple)
	a.StandsWell = finder.Good(q.at, near)
	back := finder.Back(q.at, near, a.BackBars)
	wait := []wayout.Way{}
	if a.WaitBars > 0 {
		wait = finder.Wait(q.at, near, a.WaitBars)
	}
	a.BackFound, a.WaitFound = len(back), len(wait)
	if a.Back, err = q.waysOut(finder, back[:min(shown, len(back))], margin); err != nil {
		return err
	}
	if a.Wait, err = q.waysOut(finder, firstOfEach(wait, shown), margin); err != nil {
		return err
	}
	if len(back) == 0 {
		a.Why = q.noWayBack(ahead, &a)
	}
	if s.json {
		err = answer.Write(s.out, a)
	} else {
		err = s.waysOut(q, &a)
	}
	if err == nil && len(back) == 0 {
		return errNo
	}
	return err
}

// firstOfEach is the first few ways of each number of bars.
func firstOfEach(ways []wayout.Way, few int) []wayout.Way {
	var all []wayout.Way
	n := map[int]int{}
	for _, w := range ways {
		if n[w.Bars]++; n[w.Bars] <= few {
			all = append(all, w)
		}
	}
	return all
}

// waysOut has ways danced by the checker, and says what they leave free.
func (q *stand) waysOut(finder *wayout.Finder, ways []wayout.Way, margin float64) ([]answer.WayOut, error) {
	all := []answer.WayOut{}
	for i := range ways {
		w := &ways[i]
		r := routine.Routine{Stride: q.problem.Couple.Stride, Start: q.start}
		for _, m := range w.Moves {
			r.Steps = append(r.Steps, m.Step())
		}
		report := check.Dance(q.room.Room, q.problem.Couple, &r, check.Limits{Margin: margin, Follows: q.problem.Follows})
		if faults := report.Faults(); len(faults) > 0 {
			return nil, faultOfOurs{fmt.Errorf("a way out that was found cannot be danced: %s", faults[0])}
		}
		clear := math.Inf(1)
		for _, row := range report.Rows {
			clear = math.Min(clear, row.Clear)
		}
		all = append(all, answer.NewWayOut(q.states, q.at, w, finder.Free(q.at, w.Floor), clear, margin))
	}
	return all, nil
}

// noWayBack says why there is no way back.
func (q *stand) noWayBack(ahead *future.Future, a *answer.WaysOut) string {
	if !ahead.Lives(q.at) {
		end := ahead.End(q.at)
		if end.Bars == 0 {
			return noRoom(q.states.Begin(q.at))
		}
		return fmt.Sprintf("every way ends after %s at most: %s", wording.Many(end.Bars, "bar"), endsWords(end))
	}
	return fmt.Sprintf("none leads back within %s, though dancing can go on for ever; --bars allows up to %d", wording.Many(a.BackBars, "bar"), wayout.MostBars)
}

// endsWords says in what dancing ends.
func endsWords(e future.End) string {
	switch {
	case e.Wall && e.Stance:
		return "no room, or a stance nobody leaves"
	case e.Wall:
		return "no room"
	}
	return "a stance nobody leaves"
}

// waysOut prints ways out.
func (s *session) waysOut(q *stand, a *answer.WaysOut) error {
	fmt.Fprintf(s.out, "%s (%s)\nThe couple stands %s.\n", s.paint.bold("Ways out in "+q.room.Name), q.heading(), q.where())
	if a.StandsWell {
		fmt.Fprintln(s.out, "It stands well already: in the lane, facing along it, with all the room still ahead.")
	}
	fmt.Fprintf(s.out, "\n%s, in at most %s\n\n", s.paint.bold("Back to the lane"), wording.Many(a.BackBars, "bar"))
	if len(a.Back) == 0 {
		fmt.Fprintf(s.out, "There is no way back: %s.\n", a.Why)
	} else {
		if err := s.wayTable(q, a.Back, false); err != nil {
			return err
		}
		fmt.Fprintf(s.out, "\nOrder: %s. %s\nBack in the lane: at most %g m from its middle, facing along it or diagonally off it, where\nthe couple can still get right round the room.\n",
			backOrder, shownWords(len(a.Back), a.BackFound), float64(a.Near))
	}
	if a.WaitBars > 0 {
		fmt.Fprintf(s.out, "\n%s, for at most %s\n\n", s.paint.bold("Waiting in place"), wording.Many(a.WaitBars, "bar"))
		if len(a.Wait) == 0 {
			fmt.Fprintf(s.out, "There is no way of waiting that ends within %g m of here and can be danced on from.\n", float64(a.Near))
		} else {
			if err := s.wayTable(q, a.Wait, true); err != nil {
				return err
			}
			fmt.Fprintf(s.out, "\nOrder: %s. %s\nBehind, ahead: floor that both dancers take along the line of dance, from the couple's centre.\nLets pass: where %.1f m is free for another couple that walks past in hold, and the margin.\n",
				waitOrder, shownWords(len(a.Wait), a.WaitFound), float64(a.Passing))
		}
	}
	if s.outTurns(a) {
		fmt.Fprintln(s.out, "> the next wall's line of dance is taken before the figure, at the corner")
	}
	fmt.Fprintf(s.out, "\n%s", cautions)
	return nil
}

// outTurns reports whether a corner is taken on one of the ways.
func (s *session) outTurns(a *answer.WaysOut) bool {
	for _, list := range [][]answer.WayOut{a.Back, a.Wait} {
		for _, w := range list {
			for _, f := range w.Figures {
				if f.TakesNextWall {
					return true
				}
			}
		}
	}
	return false
}

// shownWords says how many ways are not shown.
func shownWords(shown, found int) string {
	if shown == found {
		return "All are shown."
	}
	return fmt.Sprintf("%d of %d are shown; --count shows more.", shown, found)
}

// wayTable prints a list of ways.
func (s *session) wayTable(q *stand, ways []answer.WayOut, wait bool) error {
	columns := []column{{"Figures", false}, {"Bars", true}, {"Wall", false}, {"Ends", false}, {"Place", false}}
	if wait {
		columns = append(columns, column{"Off", true}, column{"Behind", true}, column{"Ahead", true}, column{"Across", true}, column{"Clearance", true}, column{"Lets pass", false})
	} else {
		columns = append(columns, column{"Off lane", true}, column{"Along", true}, column{"Across", true}, column{"Clearance", true})
	}
	metres := func(n answer.Number) string { return fmt.Sprintf("%.2f", float64(n)+0) }
	var rows [][]string
	for i := range ways {
		w := &ways[i]
		var names []string
		for _, f := range w.Figures {
			name := optionName(f.Name)
			if f.TakesNextWall {
				name = "> " + name
			}
			if f.Scale != 1 {
				name += fmt.Sprintf(" ×%g", float64(f.Scale))
			}
			names = append(names, name)
		}
		row := []string{strings.Join(names, "\n"), fmt.Sprint(w.Bars), wallCell(q.room.Room, w.Ends.Wall, false), endCell(w.Ends), place(w.Ends.X, w.Ends.Y)}
		if wait {
			row = append(row, metres(w.Off), metres(w.Floor.Back), metres(w.Floor.Ahead), metres(w.Floor.Across), metres(w.Clearance), passes(w))
		} else {
			row = append(row, metres(w.OffLane), metres(w.Floor.Along), metres(w.Floor.Across), metres(w.Clearance))
		}
		rows = append(rows, row)
	}
	return table(s.out, columns, rows)
}

// passes says where another couple can pass.
func passes(w *answer.WayOut) string {
	switch {
	case w.PassesCentre && w.PassesWall:
		return "on either side"
	case w.PassesCentre:
		return "on the centre side"
	case w.PassesWall:
		return "on the wall side"
	}
	return "no"
}
