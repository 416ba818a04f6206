package search

import (
	"slices"

	"lapwright/figures"

	"pgregory.net/rapid"
)

// limitKinds are the limits one by one.
var limitKinds = []struct {
	name string
	draw func(t *rapid.T, p *Problem)
}{
	{"uses of a figure", func(t *rapid.T, p *Problem) { p.Limits.Uses = rapid.IntRange(2, 4).Draw(t, "uses") }},
	{"uses of a family", func(t *rapid.T, p *Problem) {
		family := someFigure(t, p, "family of").Family
		addCap(t, p, 1, func(v *figures.Variant) bool { return v.Figure.Family == family })
	}},
	{"not again within bars", func(t *rapid.T, p *Problem) { p.Limits.Apart = rapid.IntRange(2, 4).Draw(t, "apart") }},
	{"different", func(t *rapid.T, p *Problem) { p.Limits.Different = rapid.IntRange(2, 5).Draw(t, "different") }},
	{"above a level", func(t *rapid.T, p *Problem) {
		addCap(t, p, 0, func(v *figures.Variant) bool { return v.Figure.Above(figures.International, figures.Bronze) })
	}},
	{"turns to a side", func(t *rapid.T, p *Problem) {
		side := rapid.SampledFrom([]func(*figures.Variant) bool{(*figures.Variant).TurnsLeft, (*figures.Variant).TurnsRight}).Draw(t, "side")
		addCap(t, p, 1, side)
	}},
	{"must", func(t *rapid.T, p *Problem) { p.Limits.Must = append(p.Limits.Must, someFigure(t, p, "must")) }},
	{"must not", func(t *rapid.T, p *Problem) {
		not := someFigure(t, p, "must not")
		p.Limits.Caps = append(p.Limits.Caps, Cap{not.Name, func(v *figures.Variant) bool { return v.Figure == not }, 0})
	}},
	{"order", func(t *rapid.T, p *Problem) {
		first, then := someFigure(t, p, "first"), someFigure(t, p, "then")
		if first != then {
			p.Limits.Orders = append(p.Limits.Orders, Order{first, then})
		}
	}},
	{"fixed figure", func(t *rapid.T, p *Problem) {
		p.Limits.Fixed = append(p.Limits.Fixed, Fixed{someFigure(t, p, "fixed"), rapid.IntRange(1, 7).Draw(t, "bar"), -1})
	}},
	{"fixed figure along a wall", func(t *rapid.T, p *Problem) {
		p.Limits.Fixed = append(p.Limits.Fixed, Fixed{someFigure(t, p, "fixed"), rapid.IntRange(3, 9).Draw(t, "bar"), rapid.IntRange(0, 3).Draw(t, "wall")})
	}},
	{"exact bars", func(t *rapid.T, p *Problem) {
		p.Limits.MinBars = rapid.IntRange(8, 16).Draw(t, "bars") * p.rounds()
		p.Limits.MaxBars = p.Limits.MinBars
	}},
	{"range of bars", func(t *rapid.T, p *Problem) {
		p.Limits.MinBars = rapid.IntRange(4, 14).Draw(t, "least") * p.rounds()
		p.Limits.MaxBars = p.Limits.MinBars + rapid.IntRange(2, 8).Draw(t, "more")
	}},
	{"phrase", func(t *rapid.T, p *Problem) { p.Limits.Phrase = rapid.SampledFrom([]int{2, 3, 4, 8}).Draw(t, "phrase") }},
	{"right turns in a row", func(t *rapid.T, p *Problem) { p.Limits.RightTurns = rapid.IntRange(1, 3).Draw(t, "in a row") }},
	{"leader's step", func(t *rapid.T, p *Problem) { p.Limits.LeaderStep = someStep(t, p, figures.Leader) }},
	{"follower's step", func(t *rapid.T, p *Problem) { p.Limits.FollowerStep = someStep(t, p, figures.Follower) }},
}

func someFigure(t *rapid.T, p *Problem, label string) *figures.Figure {
	return rapid.SampledFrom(figuresOf(p.Variants)).Draw(t, label)
}

func addCap(t *rapid.T, p *Problem, least int, has func(*figures.Variant) bool) {
	p.Limits.Caps = append(p.Limits.Caps, Cap{"set", has, rapid.IntRange(least, 4).Draw(t, "most")})
}

// someStep is the longest step of one of the figures that take the longest steps.
func someStep(t *rapid.T, p *Problem, who figures.Dancer) float64 {
	var steps []float64
	for _, v := range p.Variants {
		for _, scale := range p.Scales {
			steps = append(steps, longest(p, v, v.Entries[0], scale, who))
		}
	}
	slices.Sort(steps)
	steps = slices.Compact(steps)
	return rapid.SampledFrom(steps[len(steps)/2:]).Draw(t, "step")
}

// telling is a problem with limits drawn up to four times, until they make the best lap
// dearer and leave a lap.
func telling(t *rapid.T, c *closet, laps int, draw func(p *Problem)) *Problem {
	var p Problem
	for range 4 {
		p = *c.problem
		p.Laps = laps
		draw(&p)
		w := c.in(t, laps)
		if best, _ := w.oneByOne(&p.Limits, 2*w.best, w.tooLong(&p)); best > w.best && best != unreachable {
			break
		}
	}
	return &p
}

// longest is the longest step in metres that a dancer takes in a way of dancing, by the
// feet as they are placed.
func longest(p *Problem, v *figures.Variant, entry figures.Stance, scale Scale, who figures.Dancer) float64 {
	longest := 0.0
	for _, taken := range v.Dance(entry, p.Couple.WithStride(p.Couple.Stride*scale.Share)).Steps {
		if foot := taken.Falls[who].Foot; foot != figures.NoFoot {
			feet := taken.Placed
			longest = max(longest, feet.Foot(who, foot).At.Sub(feet.Foot(who, foot.Other()).At).Len())
		}
	}
	return longest
}
