package main

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"lapwright/cmd/internal/answer"
	"lapwright/cmd/internal/wording"
	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search"
	"lapwright/search/check"
)

// limitFlags are limits on a routine as a whole.
type limitFlags struct {
	Must         []string `group:"Limits:" placeholder:"\"A,B\"" help:"Figures that are danced at least once."`
	Bars         string   `group:"Limits:" placeholder:"N|N-M" help:"How many bars: 32, or 24-40."`
	Laps         string   `group:"Limits:" placeholder:"N" help:"How many times round the room the routine goes (1)."`
	Uses         string   `group:"Limits:" placeholder:"N" help:"No figure more often than this."`
	Apart        string   `group:"Limits:" placeholder:"N" help:"At least this many bars from one use of a figure to the next."`
	Cap          []string `group:"Limits:" placeholder:"\"SET=N\"" help:"At most so many of a set, all together: a figure (\"Whisk=2\"), \"turns to the left=3\", \"turns to the right=3\", a family (\"promenade figures=2\"), or \"above bronze=1\"; can be given more than once."`
	Different    string   `group:"Limits:" placeholder:"N" help:"At least this many different figures."`
	Order        []string `group:"Limits:" sep:"none" placeholder:"\"A,B\"" help:"B only after A has been danced; can be given more than once."`
	Fix          []string `group:"Limits:" placeholder:"\"A@N\"" help:"Figure A begins at bar N, and along a given wall if you like: \"Natural Turn@9 wall 3\"; can be given more than once."`
	Phrase       string   `group:"Limits:" placeholder:"N" help:"The end falls on the end of a phrase of so many bars of the music (most waltzes have phrases of 8: common practice, no source)."`
	RightTurns   string   `group:"Limits:" placeholder:"N" help:"At most so many figures in a row that turn to the right, then one that does not, so that nobody gets dizzy (common practice, no source)."`
	LeaderStep   string   `group:"Limits:" placeholder:"METRES" help:"The leader's longest step, from foot to foot."`
	FollowerStep string   `group:"Limits:" placeholder:"METRES" help:"The follower's longest step, from foot to foot."`
	Hardest      string   `group:"Limits:" placeholder:"POINTS" help:"No figure harder than so many points a bar, and no join harder than so many points; lapwright figures shows how hard each is."`
}

// limits are the limits as numbers and figures.
type limits struct {
	search.Limits
	laps int // how many times round; 0 where nothing is said, which is once
}

// choose reads the limits and refuses those that contradict the repertory or the
// room; laps is how many the routine goes where no flag says so.
func (f limitFlags) choose(r *repertory, room *floors.Room, laps int) (l limits, err error) {
	l.laps = laps
	if f.Laps != "" {
		if l.laps, err = whole("laps", f.Laps, "laps", 1, search.MostLaps); err != nil {
			return l, err
		}
	}
	most := (&search.Problem{Laps: l.laps}).MostBars()
	for _, name := range f.Must {
		fig, err := r.figure("must", "must be danced", name)
		if err != nil {
			return l, err
		}
		if !slices.Contains(l.Must, fig) {
			l.Must = append(l.Must, fig)
		}
	}
	if f.Bars != "" {
		if l.MinBars, l.MaxBars, err = bars(f.Bars, most); err != nil {
			return l, err
		}
	}
	for _, n := range []struct {
		flag, words, unit string
		most              int
		value             *int
	}{
		{"uses", f.Uses, "uses", 1000, &l.Uses}, {"apart", f.Apart, "bars", 1000, &l.Apart},
		{"different", f.Different, "figures", 1000, &l.Different}, {"phrase", f.Phrase, "bars", 1000, &l.Phrase},
		{"right-turns", f.RightTurns, "figures", 1000, &l.RightTurns},
	} {
		if n.words == "" {
			continue
		}
		if *n.value, err = whole(n.flag, n.words, n.unit, 1, n.most); err != nil {
			return l, err
		}
	}
	for _, n := range []struct {
		flag, words string
		value       *float64
	}{{"leader-step", f.LeaderStep, &l.LeaderStep}, {"follower-step", f.FollowerStep, &l.FollowerStep}} {
		if n.words == "" {
			continue
		}
		if *n.value, err = number(n.flag, n.words, "metres", leastStep, mostStep); err != nil {
			return l, err
		}
	}
	if f.Hardest != "" {
		if l.Hardest, err = number("hardest", f.Hardest, "points", leastPoints, mostPoints); err != nil {
			return l, err
		}
	}
	if l.Caps, err = r.caps(f.Cap); err != nil {
		return l, err
	}
	if l.Orders, err = r.orders(f.Order); err != nil {
		return l, err
	}
	l.Fixed, err = r.fixed(f.Fix, room, most)
	return l, err
}

// The range of a longest step that can be asked for, in metres.
const (
	leastStep = 0.05
	mostStep  = 2.0
)

// The range of a greatest difficulty that can be asked for, in points.
const (
	leastPoints = 0.01
	mostPoints  = 100.0
)

// figure finds a figure that a flag names, which may be danced; wish says what is
// wished of it.
func (r *repertory) figure(flag, wish, name string) (*figures.Figure, error) {
	name = strings.TrimSpace(name)
	fig, ok := r.library.Figure(name)
	switch {
	case name == "":
		return nil, fmt.Errorf("--%s names no figure: write names with commas between", flag)
	case !ok && strings.Contains(name, "("):
		return nil, fmt.Errorf("--%s takes the name of a figure without its way of dancing, not %q", flag, name)
	case !ok:
		return nil, fmt.Errorf("--%s: %w", flag, r.library.Unknown(name))
	case !r.allowed(fig):
		return nil, fmt.Errorf("%s %s, but is not among the figures that may be: %s", fig.Name, wish, r.reasonAgainst(fig))
	}
	return fig, nil
}

// caps reads caps such as "Whisk=2".
func (r *repertory) caps(list []string) (all []search.Cap, err error) {
	for _, item := range list {
		at := strings.LastIndex(item, "=")
		if at < 0 || strings.TrimSpace(item[:at]) == "" {
			return nil, fmt.Errorf("--cap takes a figure or a set, an equals sign and the most uses, such as \"Whisk=2\" or \"turns to the left=3\", not %q", item)
		}
		c, err := r.set(strings.TrimSpace(item[:at]))
		if err != nil {
			return nil, err
		}
		if c.Most, err = whole("cap "+c.Name, item[at+1:], "uses", 0, 1000); err != nil {
			return nil, err
		}
		all = append(all, c)
	}
	return all, nil
}

// The sets by the side to which the couple turns.
const (
	turnsLeft  = "turns to the left"
	turnsRight = "turns to the right"
)

// set finds a set of figures: a figure or a way of dancing it, those that turn to
// one side, a family, or those above a level.
func (r *repertory) set(words string) (c search.Cap, err error) {
	key := figures.NameKey(words)
	if strings.Contains(words, "(") {
		v, err := r.library.Find(words)
		if err != nil {
			return c, fmt.Errorf("--cap: %w", err)
		}
		return search.Cap{Name: v.Name(), Has: func(o *figures.Variant) bool { return o == v }}, nil
	}
	if f, ok := r.library.Figure(words); ok {
		return search.Cap{Name: f.Name, Has: func(v *figures.Variant) bool { return v.Figure == f }}, nil
	}
	switch key {
	case figures.NameKey(turnsLeft), figures.NameKey("left turns"):
		return search.Cap{Name: turnsLeft, Has: (*figures.Variant).TurnsLeft}, nil
	case figures.NameKey(turnsRight), figures.NameKey("right turns"):
		return search.Cap{Name: turnsRight, Has: (*figures.Variant).TurnsRight}, nil
	}
	for _, family := range r.families() {
		if k := figures.NameKey(family); key == k || key == k+"figures" {
			return search.Cap{Name: familyFigures(family), Has: func(v *figures.Variant) bool { return strings.EqualFold(v.Figure.Family, family) }}, nil
		}
	}
	if level, ok := strings.CutPrefix(strings.TrimPrefix(strings.ToLower(words), "figures "), "above "); ok {
		return r.above(strings.TrimSpace(level))
	}
	return c, r.noSet(words)
}

// above is the set of the figures above a level.
func (r *repertory) above(words string) (c search.Cap, err error) {
	level, err := figures.ParseLevel(words)
	if err != nil || level == figures.Social || level == figures.Gold {
		return c, fmt.Errorf("--cap takes figures above bronze or above silver, not above %q", words)
	}
	style := r.wanted.styleOf(level)
	return search.Cap{Name: "figures above " + string(level) + ofStyle(style),
		Has: func(v *figures.Variant) bool { return v.Figure.Above(style, level) }}, nil
}

// families lists the families of the dance's figures, each once.
func (r *repertory) families() (all []string) {
	for _, f := range r.library.Figures() {
		family := strings.ToLower(strings.TrimSpace(f.Family))
		if f.Dance == r.dance && family != "" && !slices.Contains(all, family) {
			all = append(all, family)
		}
	}
	slices.Sort(all)
	return all
}

func familyFigures(family string) string { return family + " figures" }

// noSet says that there is no set of a name, and which come nearest.
func (r *repertory) noSet(words string) error {
	sets := []string{turnsLeft, turnsRight, "above bronze", "above silver"}
	for _, family := range r.families() {
		sets = append(sets, familyFigures(family))
	}
	all := slices.Clone(sets)
	for _, f := range r.library.Figures() {
		all = append(all, f.Name)
	}
	if near := figures.NearestNames(words, all, 3); len(near) > 0 {
		return fmt.Errorf("--cap: there is no figure or set %q; the nearest names are: %s", words, strings.Join(near, ", "))
	}
	return fmt.Errorf("--cap: there is no figure or set %q; besides figures there are: %s", words, strings.Join(sets, ", "))
}

// orders reads orders such as "A, B", each figure after the one before it.
func (r *repertory) orders(list []string) (all []search.Order, err error) {
	for _, item := range list {
		names := strings.Split(item, ",")
		if len(names) < 2 {
			return nil, fmt.Errorf("--order takes figures with commas between, such as \"Natural Turn, Whisk\", not %q", item)
		}
		var before *figures.Figure
		for _, name := range names {
			f, err := r.figure("order", "stands in an order", name)
			if err != nil {
				return nil, err
			}
			o := search.Order{First: before, Then: f}
			if before == f {
				return nil, fmt.Errorf("--order %q: %s cannot come before itself", item, f.Name)
			}
			if before != nil && !slices.Contains(all, o) {
				all = append(all, o)
			}
			before = f
		}
	}
	return all, nil
}

// atBar is a figure at a bar, and along a wall if it is given.
var atBar = regexp.MustCompile(`(?i)^\s*([^@]*?)\s*@\s*(\S+)(?:\s+wall\s+(\S.*?))?\s*$`)

// fixed reads figures at bars, such as "Natural Turn@9 wall 3".
func (r *repertory) fixed(list []string, room *floors.Room, most int) (all []search.Fixed, err error) {
	for _, item := range list {
		m := atBar.FindStringSubmatch(item)
		if m == nil || m[1] == "" {
			return nil, fmt.Errorf("--fix takes a figure, @ and a bar, and the wall if you like, such as \"Natural Turn@9 wall 3\", not %q", item)
		}
		x := search.Fixed{Wall: -1}
		if x.Figure, err = r.figure("fix", "is to begin at bar "+m[2], m[1]); err != nil {
			return nil, err
		}
		bar, err := strconv.Atoi(m[2])
		if err != nil || bar < 1 || bar > most {
			return nil, fmt.Errorf("--fix %q: bars are whole numbers from 1 to %d", item, most)
		}
		x.Bar = bar
		if m[3] != "" {
			if x.Wall, err = wallIn("fix", item, m[3], room); err != nil {
				return nil, err
			}
		}
		if !slices.Contains(all, x) {
			all = append(all, x)
		}
	}
	return all, nil
}

// wallIn is the index of a wall that is given by its number within what a flag takes.
func wallIn(flag, item, number string, room *floors.Room) (int, error) {
	n, err := strconv.Atoi(number)
	if err != nil || n < 1 || n > len(room.Walls) {
		return -1, fmt.Errorf("--%s %q: walls are given by their number; %s", flag, item, wallsOf(room))
	}
	return n - 1, nil
}

// words are the limits as people read them, one by one.
func (l *limits) words(room *floors.Room) (all []string) {
	say := func(is bool, format string, args ...any) {
		if is {
			all = append(all, fmt.Sprintf(format, args...))
		}
	}
	say(l.laps > 1, "%d laps", l.laps)
	switch {
	case l.MinBars > 0 && l.MinBars == l.MaxBars:
		say(true, "%s", wording.Many(l.MinBars, "bar"))
	default:
		say(l.MinBars > 0, "%d to %d bars", l.MinBars, l.MaxBars)
	}
	say(l.Phrase > 0, "ends with a phrase of %s", wording.Many(l.Phrase, "bar"))
	say(len(l.Must) > 0, "%s at least once", and(answer.Names(l.Must)))
	for _, x := range l.Fixed {
		along := ""
		if x.Wall >= 0 {
			along = " along " + wording.The(room.Walls[x.Wall].Name)
		}
		say(true, "%s at bar %d%s", x.Figure.Name, x.Bar, along)
	}
	for _, o := range l.Orders {
		say(true, "%s only after %s", o.Then.Name, o.First.Name)
	}
	say(l.Uses > 0, "no figure more than %s", wording.Many(l.Uses, "time"))
	say(l.Apart > 0, "at least %s from one use of a figure to the next", wording.Many(l.Apart, "bar"))
	for _, c := range l.Caps {
		say(c.Most == 0, "no %s", c.Name)
		say(c.Most > 0, "%s at most %s", c.Name, wording.Many(c.Most, "time"))
	}
	say(l.Different > 0, "at least %s", wording.Many(l.Different, "different figure"))
	say(l.RightTurns > 0, "at most %s to the right in a row", wording.Many(l.RightTurns, "turn"))
	say(l.LeaderStep > 0, "leader's steps up to %g m", l.LeaderStep)
	say(l.FollowerStep > 0, "follower's steps up to %g m", l.FollowerStep)
	say(l.Hardest > 0, "no figure or join harder than %g points", l.Hardest)
	return all
}

// line is what was limited, under a heading; empty where nothing was.
func (l *limits) line(room *floors.Room) string {
	words := l.words(room)
	if len(words) == 0 {
		return ""
	}
	return "Limits: " + strings.ReplaceAll(folded(strings.Join(words, "; "), 92), "\n", "\n        ") + "\n"
}

// put fills in the limits that a checker looks at.
func (l *limits) put(c *check.Limits) {
	c.Must, c.MinBars, c.MaxBars, c.Uses, c.Apart = l.Must, l.MinBars, l.MaxBars, l.Uses, l.Apart
	c.Different, c.Phrase, c.RightTurns, c.LeaderStep, c.FollowerStep = l.Different, l.Phrase, l.RightTurns, l.LeaderStep, l.FollowerStep
	for _, x := range l.Caps {
		c.Caps = append(c.Caps, check.Cap(x))
	}
	for _, x := range l.Orders {
		c.Orders = append(c.Orders, check.Order(x))
	}
	for _, x := range l.Fixed {
		c.Fixed = append(c.Fixed, check.Fixed(x))
	}
	c.Hardest, c.Laps = l.Hardest, l.laps
}
