package main

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"lapwright/cmd/internal/answer"
	"lapwright/cmd/internal/wording"
	"lapwright/figures"
	"lapwright/search"
	"lapwright/search/teach"
)

// teachCommand says what a class needs, and what it is best taught next.
type teachCommand struct {
	Room           string `placeholder:"NAME|FILE" help:"The room: studio, village hall, ballroom, clubroom, or a room's file (village hall, or the class's)."`
	Most           string `group:"Smallest sets:" placeholder:"N" help:"Sets of up to so many figures, 1 to 4 (2; 3 with --both-ways)."`
	BothWays       bool   `group:"Smallest sets:" help:"Only sets with which the couple turns to the right and to the left, however they are built."`
	All            bool   `help:"Show every line of the tables; otherwise the first 15 of each, or the 10 best figures."`
	Weeks          string `group:"Course:" placeholder:"N" help:"A course of so many weeks, 1 to 52, on top of what is known."`
	PerWeek        string `group:"Course:" placeholder:"N" help:"Figures taught each week, 1 to 4 (2)."`
	Out            string `group:"Course:" placeholder:"FILE.yaml" help:"Write the course as a class's file, which --class reads."`
	Force          bool   `group:"Course:" help:"Write over a file that is there already."`
	Stretch        bool   `group:"Floor:" help:"With --known or --class: let the couple reach or hold back, 0.8 to 1.1 of the stride."`
	repertoryFlags `embed:"" set:"level_help=Levels of the figures that may be taught: social, bronze, silver or gold, several with commas between, or all (social; all with --known or --class)."`
	Stride         string `group:"Floor:" placeholder:"STRIDE" help:"How far the couple travels in a step: usual (0.65 m), social (0.55), crowded (0.45) or metres."`
	Margin         string `group:"Floor:" placeholder:"METRES" help:"Floor to be kept free between the couple and walls or obstacles (the room's own)."`
}

// The most figures in a set, where nothing is said and at all.
const (
	usualMost     = 2
	usualMostBoth = 3
	mostMost      = 4
)

// setsOrder says how the sets are ordered.
const setsOrder = "fewest figures first, then the easiest by the points a bar of all its figures together, then by name"

// teaching is what is asked for, in full.
type teaching struct {
	room      chosenRoom
	repertory *repertory // what may be taught
	problem   search.Problem
	items     []teach.Item
}

// Run answers.
func (c *teachCommand) Run(s *session) error {
	switch {
	case c.Weeks != "":
		return c.course(s)
	case c.PerWeek != "" || c.Out != "" || c.Force:
		return errors.New("--per-week, --out and --force belong to a course: say of how many weeks with --weeks")
	case len(c.Known) > 0 || c.Class != "":
		return c.next(s)
	}
	q, err := c.question(string(figures.Social))
	if err != nil {
		return err
	}
	s.notes(q.repertory)
	return c.smallest(s, q)
}

// question reads the flags on the room and on what may be taught.
func (c *teachCommand) question(usual string) (*teaching, error) {
	q := &teaching{problem: search.Problem{Couple: figures.DefaultCouple(), Margin: -1}}
	var err error
	if q.repertory, err = c.repertoryFlags.choose(usual); err != nil {
		return nil, err
	}
	class := q.repertory.class
	if q.room, err = class.room(c.Room); err != nil {
		return nil, err
	}
	q.problem.Couple.Stride = class.stride(q.problem.Couple.Stride)
	if c.Stride != "" {
		if q.problem.Couple.Stride, err = stride(c.Stride); err != nil {
			return nil, err
		}
	}
	if c.Margin != "" {
		if q.problem.Margin, err = margin(c.Margin); err != nil {
			return nil, err
		}
	}
	q.problem.Room, q.problem.Follows = q.room.Room, q.repertory.library.Follows()
	q.items = teach.Items(q.repertory.variants)
	return q, nil
}

// smallest lists the smallest sets that get round.
func (c *teachCommand) smallest(s *session, q *teaching) error {
	given := 0
	if c.Most != "" {
		var err error
		if given, err = whole("most", c.Most, "figures", 1, mostMost); err != nil {
			return err
		}
	}
	round, err := teach.NewRound(&q.problem, q.items)
	if err != nil {
		return err
	}
	if gets, err := round.Lap(s.ctx, teach.All(q.items)); err != nil {
		return err
	} else if !gets {
		return s.noRound(q, q.repertory.variants)
	}
	a := answer.Smallest{Room: q.room.name, Stride: answer.Number(q.problem.Couple.Stride), Dance: q.repertory.dance,
		Levels: q.repertory.wanted.levelNames(), Style: q.repertory.wanted.styleName(), LookedAt: len(q.items), Lists: []answer.Sets{}}
	lists := []answer.Sets{{Most: usualMost}, {BothWays: true, TurnsAndLink: true, Most: usualMostBoth}}
	if c.BothWays {
		lists = []answer.Sets{{BothWays: true, Most: usualMostBoth}}
	}
	for _, list := range lists {
		if given > 0 && !list.TurnsAndLink {
			list.Most = given
		}
		if err := s.sets(q, round, &list); err != nil {
			return err
		}
		a.Lists = append(a.Lists, list)
	}
	none := !slices.ContainsFunc(a.Lists, func(l answer.Sets) bool { return len(l.Sets) > 0 })
	if s.json {
		err = answer.Write(s.out, a)
	} else {
		err = s.smallest(q, &a, c.All)
	}
	if err == nil && none {
		return errNo
	}
	return err
}

// sets finds the sets of one list.
func (s *session) sets(q *teaching, round *teach.Round, list *answer.Sets) error {
	list.Order, list.Sets = setsOrder, []answer.Set{}
	round.BothWays = list.BothWays
	line := s.stages()
	defer line.clear()
	built := func(set teach.Set) bool { return !list.TurnsAndLink || teach.TurnsAndLink(q.items, set) }
	sets, tried, err := round.Smallest(s.ctx, list.Most, built, func(size, found int) {
		line.say(fmt.Sprintf("looking at sets of %s, %s found so far", wording.Many(size, "figure"), wording.Many(found, "set")))
	})
	if err != nil {
		return err
	}
	list.Tried = tried
	for _, set := range sets {
		if !built(set) {
			continue
		}
		var all []*figures.Figure
		for _, i := range set.Items() {
			all = append(all, q.items[i].Figure)
		}
		list.Sets = append(list.Sets, answer.NewSet(all))
	}
	slices.SortStableFunc(list.Sets, func(a, b answer.Set) int {
		return cmp.Or(cmp.Compare(len(a.Figures), len(b.Figures)), cmp.Compare(a.Sum, b.Sum), slices.Compare(a.Figures, b.Figures))
	})
	return nil
}

// mostLines is how many lines of a list are shown.
const mostLines = 15

// smallest prints the smallest sets.
func (s *session) smallest(q *teaching, a *answer.Smallest, all bool) error {
	fmt.Fprintf(s.out, "%s (%s)\n", s.paint.bold("What is enough to get right round "+q.room.Name), q.heading())
	for _, list := range a.Lists {
		head, of := "Sets of figures that get round", "sets of up to "+wording.Many(list.Most, "figure")
		switch {
		case list.TurnsAndLink:
			head, of = "To turn both ways: a right turn, a left turn and a link between", "sets of one right turn, one left turn and at most one link"
		case list.BothWays:
			head = "Sets of figures that get round turning both ways"
		}
		fmt.Fprintf(s.out, "\n%s\n\n", s.paint.bold(head))
		if len(list.Sets) == 0 {
			fmt.Fprintf(s.out, "There are no %s that do.\n", of)
			continue
		}
		rows := [][]string{}
		for _, g := range together(list.Sets) {
			rows = append(rows, []string{folded(strings.Join(g.right, " + "), 24), folded(strings.Join(g.left, " + "), 24), folded(strings.Join(g.links, "; "), 52), fmt.Sprint(g.sets)})
		}
		left := 0
		if !all && len(rows) > mostLines+1 {
			rows, left = rows[:mostLines], len(rows)-mostLines
		}
		if err := table(s.out, []column{{"Right turn", false}, {"Left turn", false}, {"Link", false}, {"Sets", true}}, rows); err != nil {
			return err
		}
		if len(list.Sets) == 1 {
			of = "set" + strings.TrimPrefix(of, "sets")
		}
		fmt.Fprintf(s.out, "\n%d %s: all there are.", len(list.Sets), of)
		if left > 0 {
			fmt.Fprintf(s.out, " %s more: --all shows them.", wording.Many(left, "line"))
		}
		fmt.Fprintln(s.out)
	}
	fmt.Fprintf(s.out, "\nOrder: %s.\n%s", setsOrder, setsWords)
	fmt.Fprintf(s.out, "\n%s", cautions)
	return nil
}

// setsWords explain the table of sets.
const setsWords = `Nothing can be left out of any of these sets. Sets of as many figures that share their turns stand
in one line; there a semicolon parts links of which each makes a set, + joins those that are wanted
together. Turn or link: as the figure usually is danced; it may be danced in all its ways, and a
link may turn in some. With each set there is a lap: lapwright lap --known "A,B" shows it.
`

// sameTurns are sets that have their turns in common.
type sameTurns struct {
	right, left, links []string
	sets               int
}

// together puts sets of one size together that have the same turns, in the order of the
// first.
func together(sets []answer.Set) (all []sameTurns) {
	index := map[string]int{}
	for _, set := range sets {
		key := fmt.Sprint(len(set.Figures), set.Right, set.Left)
		i, known := index[key]
		if !known {
			i = len(all)
			index[key] = i
			all = append(all, sameTurns{right: set.Right, left: set.Left})
		}
		if len(set.Links) > 0 {
			all[i].links = append(all[i].links, strings.Join(set.Links, " + "))
		}
		all[i].sets++
	}
	return all
}

// heading is what may be taught, in a few words.
func (q *teaching) heading() string {
	return fmt.Sprintf("%s, %s, stride %g m", q.repertory.dance, q.repertory.words(), q.problem.Couple.Stride)
}

// noRound says that all the figures together do not get round, and why, as lapwright lap
// does; as JSON it has the shape of a lap that is not found.
func (s *session) noRound(q *teaching, all []*figures.Variant) error {
	p := q.problem
	p.Variants, p.More, p.WhyTime, p.Weights, p.Scales = all, q.repertory.more(), whyTime, search.DefaultWeights(), nil
	result, err := search.Find(s.ctx, &p, nil)
	if err != nil {
		return err
	}
	if result.Lap != nil {
		return faultOfOurs{errors.New("the search finds a lap where the sets of figures have none")}
	}
	a := answer.Lap{Asked: answer.Asked{Dance: q.repertory.dance, Level: q.repertory.wanted.levelNames(), Style: q.repertory.wanted.styleName(), Known: q.repertory.known, Without: q.repertory.without,
		Must: []string{}, Limits: answer.NewLimits(&search.Limits{}, 1), Stride: answer.Number(p.Couple.Stride), Margin: answer.Number(p.Margin), Weights: answer.NewWeights(p.Weights)},
		Why: result.Why, Room: q.room.name, Laps: []answer.NumberedLap{}, Search: answer.NewSearch(result)}
	if s.json {
		if err := answer.Write(s.out, a); err != nil {
			return err
		}
		return errNo
	}
	fmt.Fprintf(s.out, "%s (%s)\n", s.paint.bold("All these figures together do not get round "+q.room.Name), q.heading())
	for _, why := range a.Why {
		fmt.Fprintf(s.out, "  %s\n", why)
	}
	return errNo
}
