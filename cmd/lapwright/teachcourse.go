package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"lapwright/cmd/internal/answer"
	"lapwright/cmd/internal/classfile"
	"lapwright/cmd/internal/wholefile"
	"lapwright/cmd/internal/wording"
	"lapwright/figures"
	"lapwright/search"
	"lapwright/search/check"
	"lapwright/search/routine"
	"lapwright/search/teach"
)

// courseOrder says how a course is ordered.
const courseOrder = "week by week, in a week the easiest first"

// Figures a week, and the most weeks.
const (
	usualEach = 2
	mostWeeks = 52
)

// course says what to teach week by week.
func (c *teachCommand) course(s *session) error {
	if c.BothWays || c.Most != "" || c.Stretch || c.All {
		return errors.New("--most, --both-ways, --stretch and --all are not about courses; leave them out, or --weeks")
	}
	weeks, err := whole("weeks", c.Weeks, "weeks", 1, mostWeeks)
	if err != nil {
		return err
	}
	each := usualEach
	if c.PerWeek != "" {
		if each, err = whole("per-week", c.PerWeek, "figures", 1, teach.MostEach); err != nil {
			return err
		}
	}
	if c.Out != "" {
		if err := wholefile.Ready(c.Out, c.Force); err != nil {
			return err
		}
	}
	known := &repertory{known: []string{}}
	if len(c.Known) > 0 || c.Class != "" {
		if known, err = c.knownOf(); err != nil {
			return err
		}
	}
	q, err := c.beyond(known, string(figures.Social))
	if err != nil {
		return err
	}
	s.notes(q.repertory)
	if n := len(q.items); weeks*each > n {
		return fmt.Errorf("%s of %s are %d to teach, and there are only %d of %s that are not known: give fewer weeks, or more levels with --level",
			wording.Many(weeks, "week"), wording.Many(each, "figure"), weeks*each, n, strings.TrimPrefix(q.repertory.words(), "figures of "))
	}
	teach.Easiest(q.items)
	line := s.stages()
	plan := teach.Course{Problem: &q.problem, Known: known.variants, Items: q.items, Weeks: weeks, Each: each}
	course, err := plan.Find(s.ctx, func(week int) { line.say(fmt.Sprintf("looking for what to teach in week %d", week)) })
	line.clear()
	if errors.Is(err, teach.ErrNoRound) {
		return s.noRound(q, append(slices.Clone(known.variants), q.repertory.variants...))
	}
	if err != nil {
		return err
	}
	a := answer.Course{Room: q.room.name, Class: known.class.answer(), Stride: answer.Number(q.problem.Couple.Stride), Dance: q.repertory.dance,
		Known: known.known, Levels: q.repertory.wanted.levelNames(), Style: q.repertory.wanted.styleName(), Asked: weeks, PerWeek: each,
		Order: courseOrder, Weeks: []answer.CourseWeek{}}
	taught := slices.Clone(known.variants)
	for i, w := range course {
		for _, it := range w.Teach {
			taught = append(taught, it.Variants...)
		}
		lap, err := q.practised(w.Lap, taught, w.Teach)
		if err != nil {
			return err
		}
		week := answer.CourseWeek{Week: i + 1, Teach: []answer.CourseFigure{}, Rate: answer.Number(w.Bits), Lap: *lap}
		for _, it := range w.Teach {
			follows, leads := teach.Joins(q.problem.Room, taught, it)
			week.Teach = append(week.Teach, answer.NewCourseFigure(it, follows, leads))
		}
		a.Weeks = append(a.Weeks, week)
	}
	if c.Out != "" && len(course) > 0 {
		if err := wholefile.Write(c.Out, c.Force, classfile.Format(c.class(q, known, course))); err != nil {
			return err
		}
	}
	if s.json {
		err = answer.Write(s.out, a)
	} else {
		err = s.course(q, &a)
		if err == nil && c.Out != "" && len(course) > 0 {
			fmt.Fprintf(s.out, "\nWritten: %s\n", c.Out)
		}
	}
	if err == nil && len(course) == 0 {
		return errNo
	}
	return err
}

// practised has the checker dance a practice lap before anybody sees it.
func (q *teaching) practised(p *search.Path, known []*figures.Variant, must []teach.Item) (*answer.Routine, error) {
	r := routine.Routine{Dance: q.repertory.dance, Room: q.room.key, Stride: q.problem.Couple.Stride, Tempo: defaultTempo, Start: p.Start, Steps: p.Steps}
	limits := check.Limits{Allowed: func(v *figures.Variant) bool { return slices.Contains(known, v) }, Lap: true, Margin: q.problem.Margin, Library: known, Follows: q.problem.Follows}
	for _, it := range must {
		limits.Must = append(limits.Must, it.Figure)
	}
	report := check.Dance(q.room.Room, q.problem.Couple, &r, limits)
	if faults := report.Faults(); len(faults) > 0 {
		return nil, faultOfOurs{fmt.Errorf("the checker objects to the practice lap that was found, and the course is not shown: %s", faults[0])}
	}
	lap := answer.NewRoutine(report, &r)
	return &lap, nil
}

// class is the course as a class's file, after what a class was taught before.
func (c *teachCommand) class(q *teaching, known *repertory, course []teach.Week) *classfile.Class {
	class := &classfile.Class{Dance: q.repertory.dance, Room: q.room.nameIn(filepath.Dir(c.Out)), Stride: q.problem.Couple.Stride}
	switch {
	case known.class != nil:
		class.Name, class.Style, class.Tempo = known.class.Name, known.class.Style, known.class.Tempo
		class.Weeks = slices.Clone(known.class.Weeks[:known.class.week])
	case len(known.known) > 0:
		w := classfile.Week{Title: "Known before"}
		for _, name := range known.known {
			w.Figures = append(w.Figures, classfile.Taught{Name: name})
		}
		class.Weeks = []classfile.Week{w}
	}
	for _, w := range course {
		var week classfile.Week
		for _, it := range w.Teach {
			week.Figures = append(week.Figures, classfile.Taught{Name: it.Figure.Name})
		}
		class.Weeks = append(class.Weeks, week)
	}
	return class
}

// course prints a course.
func (s *session) course(q *teaching, a *answer.Course) error {
	fmt.Fprintf(s.out, "%s (%s)\n", s.paint.bold(fmt.Sprintf("A course of %s for %s", wording.Many(a.Asked, "week"), q.room.Name)), q.heading())
	if len(a.Known) > 0 {
		fmt.Fprintf(s.out, "Known before: %s.\n", folded2(a.Known))
	}
	fmt.Fprintln(s.out)
	if len(a.Weeks) == 0 {
		fmt.Fprintf(s.out, "None of the others joins what is known, before and after.\n\n%s", cautions)
		return nil
	}
	var rows [][]string
	for _, w := range a.Weeks {
		for i, f := range w.Teach {
			row := []string{"", folded(f.Figure, 26), fmt.Sprintf("%.2f", float64(f.Difficulty.Total)), folded(courseWhy(&f), 64), "", ""}
			if i == 0 {
				row[0], row[4], row[5] = strconv.Itoa(w.Week), fmt.Sprintf("%.2f", float64(w.Rate)), fmt.Sprint(w.Lap.Totals.Bars)
			}
			rows = append(rows, row)
		}
	}
	if err := table(s.out, []column{{"Week", true}, {"Teach", false}, {"Points\na bar", true}, {"What it joins then", false}, {"Rate", true}, {"Practice\nlap, bars", true}}, rows); err != nil {
		return err
	}
	fmt.Fprintf(s.out, "\n%s\n\n", s.paint.bold("Practice laps"))
	rows = nil
	for _, w := range a.Weeks {
		rows = append(rows, []string{strconv.Itoa(w.Week), endCell(w.Lap.Start), folded(lapWords(&w.Lap), 84)})
	}
	if err := table(s.out, []column{{"Week", true}, {"Begins", false}, {"Figures", false}}, rows); err != nil {
		return err
	}
	if first := len(a.Weeks[0].Teach); first > a.PerWeek {
		fmt.Fprintf(s.out, "\nWeek 1 teaches %s: with fewer nobody gets round this room.\n", wording.Many(first, "figure"))
	}
	if n := len(a.Weeks); n < a.Asked {
		fmt.Fprintf(s.out, "\nThe course ends after week %d: nothing more joins what is known.\n", n)
	}
	fmt.Fprintf(s.out, "\nOrder: %s. With every week's figures the room is got round.\n%s\n%s", courseOrder, courseLegend, cautions)
	return nil
}

// courseLegend explains a course's tables.
const courseLegend = `Each week has the figures that are easiest for what they open, of those that can be danced in a lap
with what is known. Points a bar: difficulty. Rate: how fast routines grow in number along a wall, in
doublings a bar. A practice lap has every figure of its week, in as few bars as can be;
× says how often a figure is danced in a row, > that the next wall is taken before it.
`

// courseWhy says what a figure joins.
func courseWhy(f *answer.CourseFigure) string {
	short := func(names []string) string {
		if len(names) > 2 {
			return fmt.Sprintf("%s, %s and %d more", names[0], names[1], len(names)-2)
		}
		return and(names)
	}
	switch {
	case len(f.Follows) == 0 && len(f.Leads) == 0:
		return "joins itself"
	case len(f.Follows) == 0:
		return "goes on with " + short(f.Leads)
	case len(f.Leads) == 0:
		return "after " + short(f.Follows)
	case slices.Equal(f.Follows, f.Leads):
		return "after and before " + short(f.Leads)
	}
	return "after " + short(f.Follows) + "; before " + short(f.Leads)
}

// lapWords are the figures of a lap in a line.
func lapWords(lap *answer.Routine) string {
	var words []string
	times := 0
	for i, f := range lap.Figures {
		name := f.Name
		if f.TakesNextWall {
			name = "> " + name
		}
		if times++; i+1 < len(lap.Figures) && lap.Figures[i+1].Name == f.Name && !lap.Figures[i+1].TakesNextWall {
			if times == 1 {
				words = append(words, name)
			}
			continue
		}
		if times == 1 {
			words = append(words, name)
		} else {
			words[len(words)-1] += fmt.Sprintf(" ×%d", times)
		}
		times = 0
	}
	return strings.Join(words, ", ")
}
