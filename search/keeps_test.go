package search

import (
	"fmt"
	"slices"
	"testing"

	"lapwright/figures"
	"lapwright/search/check"
	"lapwright/search/routine"

	"pgregory.net/rapid"
)

// checks are a problem's limits as the checker takes them.
func checks(p *Problem) check.Limits {
	l := &p.Limits
	c := check.Limits{Lap: true, Laps: p.Laps, Margin: p.Margin, Follows: p.Follows, Must: l.Must, MinBars: l.MinBars, MaxBars: l.MaxBars,
		Uses: l.Uses, Apart: l.Apart, Different: l.Different, Phrase: l.Phrase, RightTurns: l.RightTurns, LeaderStep: l.LeaderStep, FollowerStep: l.FollowerStep, Hardest: l.Hardest}
	for _, x := range l.Caps {
		c.Caps = append(c.Caps, check.Cap(x))
	}
	for _, x := range l.Orders {
		c.Orders = append(c.Orders, check.Order(x))
	}
	for _, x := range l.Fixed {
		c.Fixed = append(c.Fixed, check.Fixed(x))
	}
	return c
}

// broken names the limits on the past that a chain of figures breaks, looked at
// without the checker. The chain begins along a wall of a room with so many.
func broken(l *Limits, steps []routine.Step, wall, walls int) (names []string) {
	say := func(is bool, format string, args ...any) {
		if is {
			names = append(names, fmt.Sprintf(format, args...))
		}
	}
	var order []*figures.Figure // by step
	began := map[int]routine.Step{}
	along := map[int]int{}
	bar := 1
	for _, s := range steps {
		if s.Corner == routine.Take {
			wall = (wall + 1) % walls
		}
		began[bar], along[bar] = s, wall
		order = append(order, s.Variant.Figure)
		bar += s.Variant.Bars()
	}
	last := bar - 1
	say(last < l.MinBars, "%d bars", last)
	say(l.MaxBars > 0 && last > l.MaxBars, "%d bars", last)
	say(l.Phrase > 0 && last%l.Phrase != 0, "%d bars in phrases of %d", last, l.Phrase)
	for _, m := range l.Must {
		say(!slices.Contains(order, m), "no %s", m.Name)
	}
	uses := map[*figures.Figure]int{}
	for _, f := range order {
		uses[f]++
	}
	say(len(uses) < l.Different, "%d different figures", len(uses))
	for f, n := range uses {
		say(l.Uses > 0 && n > l.Uses, "%s %d times", f.Name, n)
	}
	for at, s := range began {
		for other, t := range began {
			say(at < other && other-at < l.Apart && s.Variant.Figure == t.Variant.Figure, "%s at bars %d and %d", s.Variant.Name(), at, other)
		}
	}
	for _, c := range l.Caps {
		n := 0
		for _, s := range steps {
			if c.Has(s.Variant) {
				n++
			}
		}
		say(n > c.Most, "%s %d times", c.Name, n)
	}
	for _, o := range l.Orders {
		then, first := slices.Index(order, o.Then), slices.Index(order, o.First)
		say(then >= 0 && (first < 0 || first >= then), "%s before %s", o.Then.Name, o.First.Name)
	}
	for _, x := range l.Fixed {
		s, ok := began[x.Bar]
		say(!ok || s.Variant.Figure != x.Figure || x.Wall >= 0 && along[x.Bar] != x.Wall, "no %s at bar %d along wall %d", x.Figure.Name, x.Bar, x.Wall+1)
	}
	row := 0
	for _, s := range steps {
		if row++; s.Variant.Turn() >= 0 {
			row = 0
		}
		say(l.RightTurns > 0 && row > l.RightTurns, "%d right turns in a row", row)
	}
	return names
}

// few are the ways of dancing of which small chains are made.
func few(t faulty) []*figures.Variant {
	var all []*figures.Variant
	for _, name := range []string{"Whisk", "Natural Turn", "Natural Turn (1-3)", "Reverse Turn", "Basic Weave", "Left Foot Closed Change"} {
		all = append(all, variant(t, name))
	}
	return all
}

// drawLimits draws limits on the past for chains of some variants of at most so
// many bars.
func drawLimits(t *rapid.T, variants []*figures.Variant, bars, walls int) (l Limits) {
	all := figuresOf(variants)
	some := func(label string) *figures.Figure { return rapid.SampledFrom(all).Draw(t, label) }
	often := func(label string, most int) int { return rapid.IntRange(0, most).Draw(t, label) }
	if l.MaxBars = bars; rapid.Bool().Draw(t, "few bars") {
		l.MaxBars = rapid.IntRange(1, bars).Draw(t, "most bars")
	}
	l.MinBars = often("least bars", l.MaxBars)
	l.Uses, l.Apart, l.Phrase, l.RightTurns = often("uses", 3), often("apart", 3), often("phrase", 4), often("turns", 2)
	l.Different = often("different", 4)
	for range often("musts", 2) {
		l.Must = append(l.Must, some("must"))
	}
	for range often("orders", 3) {
		l.Orders = append(l.Orders, Order{some("first"), some("then")})
	}
	for range often("fixed", 3) {
		l.Fixed = append(l.Fixed, Fixed{some("at a bar"), rapid.IntRange(1, bars).Draw(t, "bar"), rapid.IntRange(-1, walls-1).Draw(t, "wall")})
	}
	for range often("caps", 2) {
		has := rapid.SampledFrom([]func(*figures.Variant) bool{(*figures.Variant).TurnsLeft, (*figures.Variant).TurnsRight,
			func(v *figures.Variant) bool { return v.Bars() == 1 }}).Draw(t, "set")
		l.Caps = append(l.Caps, Cap{"set", has, often("most", 3)})
	}
	return l
}

// chains calls a function with every chain of variants of at most so many bars,
// until it has enough.
func chains(variants []*figures.Variant, bars int, steps []routine.Step, enough func([]routine.Step) bool) bool {
	if len(steps) > 0 && enough(steps) {
		return true
	}
	for _, v := range variants {
		if v.Bars() <= bars && chains(variants, bars-v.Bars(), append(steps, routine.Step{Variant: v, Scale: 1}), enough) {
			return true
		}
	}
	return false
}

// TestRefusedForAReason: limits that are refused before a search are kept by no
// chain of figures at all, whether or not the figures join and wherever the
// corners are taken. Every chain of a few bars is tried.
func TestRefusedForAReason(t *testing.T) {
	room := named(t, "village hall")
	walls := len(room.Walls)
	variants := few(t)
	var refused share
	draws(t, 1, func(t *rapid.T) {
		p := problem(room, variants)
		const most = 5
		p.Limits = drawLimits(t, variants, most, walls)
		_, err := p.settled()
		// A circle of orders and a figure before itself are refused though a chain
		// without these figures keeps to them.
		circle := slices.ContainsFunc(p.Limits.Orders, func(o Order) bool {
			l := limitSense{Limits: &p.Limits}
			return l.wayOfOrders(o.Then, o.First, map[*figures.Figure]bool{}) != nil
		})
		refused.add(err != nil && !circle)
		if err == nil || circle {
			return
		}
		chains(variants, most, nil, func(steps []routine.Step) bool {
			kept := broken(&Limits{Must: p.Limits.Must, MinBars: p.Limits.MinBars, MaxBars: p.Limits.MaxBars, Uses: p.Limits.Uses, Apart: p.Limits.Apart,
				Caps: p.Limits.Caps, Different: p.Limits.Different, Orders: p.Limits.Orders, Phrase: p.Limits.Phrase, RightTurns: p.Limits.RightTurns,
				Fixed: anyWall(p.Limits.Fixed)}, steps, 0, walls) == nil
			if kept && passed(p.Limits.Fixed, walls) {
				var names []string
				for _, s := range steps {
					names = append(names, s.Variant.Name())
				}
				t.Errorf("refused: %v; kept by %q", err, names)
			}
			return kept
		})
	})
	refused.report(t, 0.2)
}

// anyWall are fixed figures without their walls.
func anyWall(fixed []Fixed) (all []Fixed) {
	for _, x := range fixed {
		all = append(all, Fixed{x.Figure, x.Bar, -1})
	}
	return all
}

// passed reports whether one lap from the first wall passes the walls of fixed
// figures at their bars: there is a number of corners taken by each bar that never
// falls.
func passed(fixed []Fixed, walls int) bool {
	at := make([]int, len(fixed)) // corners taken
	var try func(i int) bool
	try = func(i int) bool {
		if i == len(fixed) {
			return true
		}
		for at[i] = 0; at[i] <= walls; at[i]++ {
			fits := fixed[i].Wall < 0 || at[i]%walls == fixed[i].Wall
			for j := range i {
				fits = fits && (fixed[j].Bar < fixed[i].Bar && at[j] <= at[i] || fixed[j].Bar > fixed[i].Bar && at[j] >= at[i] ||
					fixed[j].Bar == fixed[i].Bar && at[j] == at[i])
			}
			if fits && try(i+1) {
				return true
			}
		}
		return false
	}
	return try(0)
}

// TestCheckerAgrees: the checker objects to a limit on the past in a chain of
// figures just where it is broken, as it is seen without the checker.
func TestCheckerAgrees(t *testing.T) {
	room := named(t, "village hall")
	variants := few(t)
	var kept share
	draws(t, 1, func(t *rapid.T) {
		p := problem(room, variants)
		p.Limits = drawLimits(t, variants, 9, len(room.Walls))
		if rapid.Bool().Draw(t, "one of them") {
			p.Limits = oneOf(t, p.Limits)
		}
		var steps []routine.Step
		for range rapid.IntRange(1, 6).Draw(t, "figures") {
			steps = append(steps, routine.Step{Variant: rapid.SampledFrom(variants).Draw(t, "figure"), Scale: 1,
				Corner: rapid.SampledFrom([]routine.Corner{routine.Stay, routine.Stay, routine.Take}).Draw(t, "corner")})
		}
		limits := checks(p)
		limits.Lap = false
		rep := check.Dance(room, p.Couple, &routine.Routine{Start: DefaultStart(room, 0), Steps: steps}, limits)
		var faults []string
		for _, f := range rep.Faults() {
			if f.Kind == check.Limit {
				faults = append(faults, f.String())
			}
		}
		names := broken(&p.Limits, steps, 0, len(room.Walls))
		kept.add(names == nil)
		if (names == nil) != (faults == nil) {
			t.Errorf("the checker says %q; broken are %q", faults, names)
		}
	})
	kept.report(t, 0.05)
}

// oneOf is one of some limits, without the others.
func oneOf(t *rapid.T, l Limits) Limits {
	return rapid.SampledFrom([]Limits{{MinBars: l.MinBars}, {MaxBars: l.MaxBars}, {Uses: l.Uses}, {Apart: l.Apart}, {Phrase: l.Phrase},
		{RightTurns: l.RightTurns}, {Different: l.Different}, {Must: l.Must}, {Orders: l.Orders}, {Fixed: l.Fixed}, {Caps: l.Caps}}).Draw(t, "which")
}
