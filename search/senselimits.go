package search

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"lapwright/figures"
)

// mostListed is the greatest number of musts, caps, orders and fixed figures each.
const mostListed = 64

// hair is what a step may be longer than its cap for the last digits of a sum.
const hair = 1e-6

// clamp brings down what is more than any lap can have to a number that is still
// more; the lists are not changed but made anew.
func (l *Limits) clamp(most int) {
	l.Uses, l.Apart, l.RightTurns = min(l.Uses, most), min(l.Apart, most), min(l.RightTurns, most)
	l.Caps = slices.Clone(l.Caps)
	for i := range l.Caps {
		l.Caps[i].Most = min(l.Caps[i].Most, most)
	}
}

func (p *Problem) senseLaps() error {
	if p.Laps < 0 || p.Laps > MostLaps {
		return fmt.Errorf("%d laps are asked for; from 1 to %d can be had", p.Laps, MostLaps)
	}
	return nil
}

// senseLimits refuses limits that make no sense or contradict each other. What it
// refuses has no lap in any room, whatever the search.
func (p *Problem) senseLimits() error {
	l := &limitSense{Problem: p, Limits: &p.Limits}
	for _, check := range []func() error{l.numbers, l.sizes, l.lists, l.named, l.circle, l.hardest, l.steps, l.fixed, l.walls,
		l.before, l.uses, l.caps, l.different, l.bars, l.filled, l.phrase} {
		if err := check(); err != nil {
			return err
		}
	}
	return nil
}

// limitSense looks at the limits of a problem.
type limitSense struct {
	*Problem
	*Limits
	// easy are the variants that are no harder than allowed, usable those of them
	// that keep to the longest steps.
	easy   []*figures.Variant
	usable []*figures.Variant
	// order are the fixed figures by their bar, each once.
	order []Fixed
	// needs are how often figures have to be danced at least, and needed are
	// those figures in the order in which they were asked for.
	needs  map[*figures.Figure]int
	needed []*figures.Figure
}

// need notes that a figure has to be danced so many times at least.
func (l *limitSense) need(f *figures.Figure, times int) {
	if l.needs[f] == 0 {
		l.needed = append(l.needed, f)
	}
	l.needs[f] = max(l.needs[f], times)
}

func (l *limitSense) numbers() error {
	for _, n := range []struct {
		value int
		words string
	}{
		{l.MinBars, "at least %d bars"}, {l.MaxBars, "at most %d bars"}, {l.Limits.Uses, "at most %d uses of a figure"},
		{l.Apart, "%d bars from one use of a figure to the next"}, {l.Different, "%d different figures"},
		{l.Phrase, "a phrase of %d bars"}, {l.RightTurns, "at most %d right turns in a row"},
	} {
		if n.value < 0 {
			return fmt.Errorf("limits cannot be negative: "+n.words+" cannot be asked for", n.value)
		}
	}
	for _, c := range l.Caps {
		if c.Most < 0 {
			return fmt.Errorf("limits cannot be negative: at most %d uses of %s cannot be asked for", c.Most, c.Name)
		}
	}
	if !(l.Hardest >= 0) {
		return fmt.Errorf("limits cannot be negative: figures of at most %g points a bar cannot be asked for", l.Hardest)
	}
	for who, step := range l.longest() {
		if !(step >= 0) {
			return fmt.Errorf("limits cannot be negative: steps of at most %g m for the %s cannot be asked for", step, figures.Dancer(who))
		}
	}
	return nil
}

// longest are the longest steps that the dancers may take; 0 where there is no
// limit.
func (l *limitSense) longest() [2]float64 { return [2]float64{l.LeaderStep, l.FollowerStep} }

func (l *limitSense) lists() error {
	for _, n := range []struct {
		length int
		words  string
	}{
		{len(l.Must), "%d figures must be danced"}, {len(l.Caps), "%d caps are asked for"},
		{len(l.Orders), "%d orders are asked for"}, {len(l.Fixed), "%d figures are fixed at a bar"},
	} {
		if n.length > mostListed {
			return fmt.Errorf(n.words+"; at most %d can be asked for", n.length, mostListed)
		}
	}
	for _, c := range l.Caps {
		if c.Has == nil {
			return fmt.Errorf("nothing says which figures are %s", c.Name)
		}
	}
	return nil
}

// named refuses figures that are none or may not be danced.
func (l *limitSense) named() error {
	mayBe := func(f *figures.Figure) bool {
		return slices.ContainsFunc(l.Variants, func(v *figures.Variant) bool { return v.Figure == f })
	}
	const outside = "is not among the figures that may be used"
	for _, m := range l.Must {
		switch {
		case m == nil:
			return errors.New("one of the figures that must be danced is none")
		case !mayBe(m):
			return fmt.Errorf("%s must be danced but %s", m.Name, outside)
		}
	}
	for _, x := range l.Fixed {
		switch {
		case x.Figure == nil:
			return fmt.Errorf("the figure that is to begin at bar %d is none", x.Bar)
		case !mayBe(x.Figure):
			return fmt.Errorf("%s is to begin at bar %d but %s", x.Figure.Name, x.Bar, outside)
		}
	}
	for _, o := range l.Orders {
		switch {
		case o.First == nil || o.Then == nil:
			return errors.New("one of the figures of an order is none")
		case o.First == o.Then:
			return fmt.Errorf("%s cannot be danced before itself", o.First.Name)
		case !mayBe(o.First):
			return fmt.Errorf("%s is to be danced before %s but %s", o.First.Name, o.Then.Name, outside)
		case !mayBe(o.Then):
			return fmt.Errorf("%s is to be danced after %s but %s", o.Then.Name, o.First.Name, outside)
		}
	}
	return nil
}

// circle refuses orders that go round in a circle.
func (l *limitSense) circle() error {
	for _, o := range l.Orders {
		if way := l.wayOfOrders(o.Then, o.First, map[*figures.Figure]bool{}); way != nil {
			names := []string{o.First.Name}
			for _, f := range way {
				names = append(names, f.Name)
			}
			return fmt.Errorf("the orders go round in a circle, so that none of these can ever be danced: %s", strings.Join(names, " before "))
		}
	}
	return nil
}

// wayOfOrders is a chain of orders from one figure to another; nil where there is
// none.
func (l *limitSense) wayOfOrders(from, to *figures.Figure, been map[*figures.Figure]bool) []*figures.Figure {
	if from == to {
		return []*figures.Figure{to}
	}
	been[from] = true
	for _, o := range l.Orders {
		if o.First != from || been[o.Then] {
			continue
		}
		if way := l.wayOfOrders(o.Then, to, been); way != nil {
			return append([]*figures.Figure{from}, way...)
		}
	}
	return nil
}

// fixed refuses figures at bars where they cannot begin, and what they leave no
// room for. It puts them in order.
func (l *limitSense) fixed() error {
	most, words := l.most()
	for _, x := range l.Fixed {
		switch bars := l.fewestBars(x.Figure); {
		case x.Bar < 1:
			return fmt.Errorf("%s cannot begin at bar %d: bars are counted from 1", x.Figure.Name, x.Bar)
		case x.Bar > most-bars+1:
			return fmt.Errorf("%s cannot begin at bar %d: it takes %s, and %s", x.Figure.Name, x.Bar, count(bars, "bar"), words)
		case x.Wall >= len(l.Room.Walls):
			return fmt.Errorf("%s cannot be danced along wall %d: the walls are numbered from 1 to %d", x.Figure.Name, x.Wall+1, len(l.Room.Walls))
		}
		i := slices.IndexFunc(l.order, func(o Fixed) bool { return o.Figure == x.Figure && o.Bar == x.Bar })
		switch {
		case i < 0:
			l.order = append(l.order, x)
		case l.order[i].Wall < 0:
			l.order[i].Wall = x.Wall
		case x.Wall >= 0 && x.Wall != l.order[i].Wall:
			return fmt.Errorf("%s is to begin at bar %d along %s and along %s; it cannot be both", x.Figure.Name, x.Bar,
				l.wallName(l.order[i].Wall), l.wallName(x.Wall))
		}
	}
	slices.SortStableFunc(l.order, func(a, b Fixed) int { return a.Bar - b.Bar })
	for i := 1; i < len(l.order); i++ {
		a, b := l.order[i-1], l.order[i]
		switch bars := l.fewestBars(a.Figure); {
		case a.Bar == b.Bar:
			return fmt.Errorf("%s and %s cannot both begin at bar %d", a.Figure.Name, b.Figure.Name, a.Bar)
		case a.Bar+bars > b.Bar:
			return fmt.Errorf("%s begins at bar %d and takes %s, so %s cannot begin at bar %d", a.Figure.Name, a.Bar, count(bars, "bar"), b.Figure.Name, b.Bar)
		}
	}
	for i, b := range l.order {
		for _, a := range l.order[:i] {
			if a.Figure == b.Figure && b.Bar-a.Bar < l.Apart {
				return fmt.Errorf("%s is to begin at bars %d and %d, %s apart; at least %d are asked for from one use of a figure to the next",
					a.Figure.Name, a.Bar, b.Bar, count(b.Bar-a.Bar, "bar"), l.Apart)
			}
		}
	}
	return nil
}

// walls refuses figures that are fixed along walls which the couple does not pass
// in that order.
func (l *limitSense) walls() error {
	first, n := 0, len(l.Room.Walls)
	if l.Start != nil {
		first = l.Start.Wall
	}
	at := 0 // how many corners have been taken, at least
	var before *Fixed
	for i := range l.order {
		x := &l.order[i]
		if x.Wall < 0 {
			continue
		}
		corners := (x.Wall - first + n) % n
		for corners < at {
			corners += n
		}
		if corners > n*l.rounds() {
			return fmt.Errorf("%s cannot begin at bar %d along %s: %s is to begin at bar %d along %s, and after that the couple does not pass the other again",
				x.Figure.Name, x.Bar, l.wallName(x.Wall), before.Figure.Name, before.Bar, l.wallName(before.Wall))
		}
		at, before = corners, x
	}
	return nil
}

// wallName is a wall's name as a sentence uses it: "wall 2", "the stage end".
func (l *limitSense) wallName(wall int) string {
	name := l.Room.Walls[wall].Name
	if strings.HasPrefix(name, "wall ") || strings.HasPrefix(name, "the ") {
		return name
	}
	return "the " + name
}

// before sees to it that what an order wants before a fixed figure has room there.
// It finds how often each figure is needed.
func (l *limitSense) before() error {
	l.needs = map[*figures.Figure]int{}
	for _, m := range l.Must {
		l.need(m, 1)
	}
	for _, x := range l.order {
		l.need(x.Figure, l.times(x.Figure, math.MaxInt))
	}
	for _, x := range l.order {
		bars, names := 0, []string{}
		first := l.precede(x.Figure)
		for _, y := range l.order {
			if y.Bar < x.Bar {
				bars += l.fewestBars(y.Figure)
				names = append(names, y.Figure.Name)
			}
		}
		for _, f := range first {
			if l.times(f, x.Bar) == 0 {
				bars += l.fewestBars(f)
				names = append(names, f.Name)
				l.need(f, l.times(f, math.MaxInt)+1)
			}
		}
		if len(first) > 0 && bars >= x.Bar {
			return fmt.Errorf("%s cannot begin at bar %d: what is to be danced before it takes %s at least (%s)",
				x.Figure.Name, x.Bar, count(bars, "bar"), strings.Join(names, ", "))
		}
	}
	// What must be danced needs what is to come before it.
	for _, f := range slices.Clone(l.needed) {
		for _, g := range l.precede(f) {
			l.need(g, 1)
		}
	}
	return nil
}

// times is how often a figure is fixed at a bar before the given one.
func (l *limitSense) times(f *figures.Figure, before int) (n int) {
	for _, x := range l.order {
		if x.Figure == f && x.Bar < before {
			n++
		}
	}
	return n
}

// precede lists the figures that have to be danced before a figure is.
func (l *limitSense) precede(f *figures.Figure) (all []*figures.Figure) {
	for _, o := range l.Orders {
		been := map[*figures.Figure]bool{}
		if o.First != f && !slices.Contains(all, o.First) && l.wayOfOrders(o.First, f, been) != nil {
			all = append(all, o.First)
		}
	}
	return all
}

// uses refuses more uses of a figure than are allowed.
func (l *limitSense) uses() error {
	for _, f := range l.needed {
		if n := l.needs[f]; l.Limits.Uses > 0 && n > l.Limits.Uses {
			return fmt.Errorf("%s %s, and no figure may be danced more than %s", f.Name, l.why(f), count(l.Limits.Uses, "time"))
		}
	}
	return nil
}

// why says how often a figure has to be danced, and for what.
func (l *limitSense) why(f *figures.Figure) string {
	var bars []string
	for _, x := range l.order {
		if x.Figure == f {
			bars = append(bars, fmt.Sprint(x.Bar))
		}
	}
	words := ""
	switch len(bars) {
	case 0:
		return "must be danced"
	case 1:
		words = "is to begin at bar " + bars[0]
	default:
		words = "is to begin at bars " + strings.Join(bars, ", ")
	}
	if l.needs[f] > len(bars) {
		words += " and, for the order, once before"
	}
	return words
}

// caps refuses caps below what has to be danced.
func (l *limitSense) caps() error {
	left := func(v *figures.Variant) bool {
		return !slices.ContainsFunc(l.Caps, func(c Cap) bool { return c.Most == 0 && c.Has(v) })
	}
	for _, c := range l.Caps {
		n, names := 0, []string{}
		for _, f := range l.needed {
			if !slices.ContainsFunc(l.usable, func(v *figures.Variant) bool { return v.Figure == f && !c.Has(v) }) {
				n += l.needs[f]
				names = append(names, f.Name)
			}
		}
		if n > c.Most {
			return fmt.Errorf("at most %s of %s may be danced, and %d cannot be done without: %s", count(c.Most, "use"), c.Name, n, strings.Join(names, ", "))
		}
	}
	if !slices.ContainsFunc(l.usable, left) {
		return errors.New("no figures are left to dance: the caps of 0 take away all of them")
	}
	return nil
}

// different refuses more different figures than there can be.
func (l *limitSense) different() error {
	if all := figuresOf(l.usable); l.Different > len(all) {
		return fmt.Errorf("%d different figures are asked for, and only %d may be used", l.Different, len(all))
	}
	for _, c := range l.Caps {
		outside := slices.DeleteFunc(slices.Clone(l.usable), c.Has)
		if others := len(figuresOf(outside)); l.Different > others+c.Most {
			return fmt.Errorf("%d different figures are asked for, and only %d can be danced: %d outside %s, and %d of them at most",
				l.Different, others+c.Most, others, c.Name, c.Most)
		}
	}
	return nil
}

// figuresOf are the figures of some variants, each once.
func figuresOf(variants []*figures.Variant) (all []*figures.Figure) {
	for _, v := range variants {
		if !slices.Contains(all, v.Figure) {
			all = append(all, v.Figure)
		}
	}
	return all
}
