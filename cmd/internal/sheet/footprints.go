package sheet

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"lapwright/cmd/internal/answer"
	"lapwright/figures"
	"lapwright/figures/geometry"
)

// heeled is a right shoe with a narrow heel and a pointed toe, as [sole] is a
// broad one.
const heeled = "M-0.12,-0.3 C0.02,-0.42 0.18,-0.5 0.28,-0.42 C0.4,-0.32 0.5,-0.12 0.5,0 C0.46,0.2 0.36,0.46 0.2,0.48 C0.05,0.48 -0.05,0.38 -0.12,0.26 Z " +
	"M-0.32,-0.22 C-0.44,-0.22 -0.5,-0.12 -0.5,0 C-0.5,0.12 -0.44,0.22 -0.32,0.22 C-0.22,0.22 -0.22,-0.22 -0.32,-0.22 Z"

// shoes are the four shoes and the hatching, which the drawing repeats.
func (f *figureSheet) shoes(out *svg) {
	out.put("<defs>")
	out.put(`<pattern id="hatch" patternUnits="userSpaceOnUse" width="0.026" height="0.026" patternTransform="rotate(35)"><rect width="0.026" height="0.026" fill="#fff"/><rect width="0.009" height="0.026" fill="#b8480c"/></pattern>`)
	for who, shape := range []string{sole, heeled} {
		for foot := figures.LeftFoot; foot <= figures.RightFoot; foot++ {
			s := f.danced.Couple.Sole[who]
			across := 1.12 * s.Breadth
			if foot == figures.LeftFoot {
				across = -across
			}
			out.put(`<path id="%s" d="%s"/>`, shoe(figures.Dancer(who), foot), data(curves(shape, s.Length, across)))
		}
	}
	out.put("</defs>")
}

// print draws a foot: placed in a step, counted from 1, standing, or where it came
// from (step 0).
func (f *figureSheet) print(v view, who figures.Dancer, foot figures.Foot, at figures.Footprint, class string, step int) {
	p := v.at(at.At)
	if class == "placed" || class == "light" {
		f.put(`<use href="#%s" class="halo" transform="translate(%s %s) rotate(%s)"/>`, shoe(who, foot), num(p.X), num(p.Y),
			num(math.Mod(-at.Front.Radians()*180/math.Pi, 360)))
	}
	f.put(`<use href="#%s" class="%s %s" data-step="%d" transform="translate(%s %s) rotate(%s)"/>`, shoe(who, foot), class, who, step, num(p.X), num(p.Y),
		num(math.Mod(-at.Front.Radians()*180/math.Pi, 360)))
	if class == "gone" || class == "pivoted" {
		return
	}
	letter := map[figures.Foot]string{figures.LeftFoot: "L", figures.RightFoot: "R"}[foot]
	// On the ball of the foot, where the shoe is broad.
	ball := p.Add(geometry.Unit(-at.Front.Radians()).Scale(0.2 * f.danced.Couple.Sole[who].Length))
	f.put(`<circle class="letterdisc %s %s" cx="%s" cy="%s" r="0.036"/>`, class, who, num(ball.X), num(ball.Y))
	f.text(ball.Add(geometry.Point{Y: 0.024}), "letter "+class+" "+who.String(), "middle", 0.066, 0, letter)
}

// plan draws one dancer's feet through the whole figure: where they stand at the
// beginning, and each step with its number.
func (f *figureSheet) plan(v view, who figures.Dancer) {
	var marks, feet []geometry.Point
	for foot := figures.LeftFoot; foot <= figures.RightFoot; foot++ {
		start := f.danced.Start.Foot(who, foot)
		f.print(v, who, foot, *start, "gone", 0)
		feet = append(feet, footPoints(v, *start)...)
	}
	last := map[figures.Foot]geometry.Point{figures.LeftFoot: f.danced.Start.Foot(who, figures.LeftFoot).At, figures.RightFoot: f.danced.Start.Foot(who, figures.RightFoot).At}
	for i := range f.danced.Steps {
		t := &f.danced.Steps[i]
		if foot := t.Falls[who].Foot; foot != figures.NoFoot {
			at := t.Placed.Foot(who, foot).At
			f.put(`<polyline class="track %s" points="%s"/>`, who, line([]geometry.Point{v.at(last[foot]), v.at(at)}))
			feet = append(feet, footPoints(v, *t.Placed.Foot(who, foot))...)
		}
		feet = append(feet, f.pivot(v, t, who)...)
		for foot := range last {
			last[foot] = t.After.Foot(who, foot).At
		}
	}
	for i := range f.danced.Steps {
		t := &f.danced.Steps[i]
		if foot := t.Falls[who].Foot; foot != figures.NoFoot {
			f.print(v, who, foot, *t.Placed.Foot(who, foot), weightClass(t, who), i+1)
		}
	}
	for i := range f.danced.Steps {
		t := &f.danced.Steps[i]
		if foot := t.Falls[who].Foot; foot != figures.NoFoot {
			marks = append(marks, f.tag(v.at(t.Placed.Foot(who, foot).At), who, i+1, feet, marks, v.origin, f.planSize()))
		}
	}
}

// weightClass is how a foot that was placed is drawn.
func weightClass(t *figures.Taken, who figures.Dancer) string {
	if t.Step.Actions[who].Weightless {
		return "light"
	}
	return "placed"
}

// footPoints are places along a shoe, to be kept free of marks.
func footPoints(v view, p figures.Footprint) (all []geometry.Point) {
	for _, along := range []float64{-0.1, 0, 0.1} {
		all = append(all, v.at(p.At.Add(geometry.Unit(p.Front.Radians()).Scale(along))))
	}
	return all
}

// tagRadius is half the size of a number's mark: a square for the leader, a disc
// for the follower.
const tagRadius = 0.062

// tag writes a step's number beside its foot, where there is the most space within
// a frame about the middle; it returns the place.
func (f *figureSheet) tag(p geometry.Point, who figures.Dancer, number int, feet, marks []geometry.Point, middle, size geometry.Point) geometry.Point {
	best, most := p, math.Inf(-1)
	for _, far := range []float64{0.15, 0.2, 0.27, 0.34} {
		for k := range 16 {
			q := p.Add(geometry.Unit(float64(k) * math.Pi / 8).Scale(far))
			if off := q.Sub(middle); math.Abs(off.X) > size.X/2-1.4*tagRadius || math.Abs(off.Y) > size.Y/2-1.6*tagRadius {
				continue
			}
			space := 0.14 - 0.15*far // the nearest that is free
			for _, foot := range feet {
				space = math.Min(space, q.Sub(foot).Len()-0.12)
			}
			for _, mark := range marks {
				space = math.Min(space, q.Sub(mark).Len()-2.2*tagRadius)
			}
			if space > most+1e-9 {
				best, most = q, space
			}
		}
	}
	f.put(`<line class="tagline" x1="%s" y1="%s" x2="%s" y2="%s"/>`, num(best.X), num(best.Y), num(p.X), num(p.Y))
	f.numberMark(best, who, strconv.Itoa(number))
	return best
}

// numberMark is the mark with a step's number.
func (f *figureSheet) numberMark(p geometry.Point, who figures.Dancer, words string) {
	if who == figures.Leader {
		f.put(`<rect class="tag %s" x="%s" y="%s" width="%s" height="%s"/>`, who, num(p.X-tagRadius), num(p.Y-tagRadius), num(2*tagRadius), num(2*tagRadius))
	} else {
		f.put(`<circle class="tag %s" cx="%s" cy="%s" r="%s"/>`, who, num(p.X), num(p.Y), num(1.1*tagRadius))
	}
	size := 0.095
	if len(words) > 1 {
		size = 0.075
	}
	f.text(p.Add(geometry.Point{Y: 0.36 * size}), "number "+who.String(), "middle", size, 0, words)
}

// step draws one step of both dancers in its panel, and says it in words below; it
// returns how many lines that takes.
func (f *figureSheet) step(i int, corner geometry.Point) int {
	t, before := &f.danced.Steps[i], f.before(i)
	f.put(`<g id="step-%d">`, i+1)
	f.floorPiece(corner, f.panel, false)
	low, high := bounds(f.stepPrints(i))
	middle := corner.Add(geometry.Point{X: f.panel.X / 2, Y: f.panel.Y / 2})
	v := view{middle.Add(geometry.Point{Y: panelHead / 2}), low.Between(high, 0.5)}
	var feet []geometry.Point
	for who := figures.Leader; who <= figures.Follower; who++ {
		for foot := figures.LeftFoot; foot <= figures.RightFoot; foot++ {
			feet = append(feet, footPoints(v, *t.Placed.Foot(who, foot))...)
		}
	}
	for who := figures.Leader; who <= figures.Follower; who++ {
		if foot := t.Falls[who].Foot; foot != figures.NoFoot {
			f.print(v, who, foot, *before.Foot(who, foot), "gone", 0)
			f.track(v, who, before.Foot(who, foot).At, t.Placed.Foot(who, foot).At)
		}
		feet = append(feet, f.pivot(v, t, who)...)
	}
	// The panel's own number and count are marks as well.
	marks := []geometry.Point{corner.Add(geometry.Point{X: 0.1, Y: 0.12})}
	for x := 0.1; x < 0.6; x += 0.1 {
		marks = append(marks, corner.Add(geometry.Point{X: f.panel.X - x, Y: 0.12}))
	}
	for who := figures.Leader; who <= figures.Follower; who++ {
		foot := t.Falls[who].Foot
		if foot == figures.NoFoot {
			continue
		}
		at := t.Placed.Foot(who, foot)
		marks = append(marks, f.arc(v, who, at.At, at.Front-t.Falls[who].Turn, t.Falls[who].Turn)...)
	}
	for who := figures.Leader; who <= figures.Follower; who++ {
		moves := t.Falls[who].Foot
		for foot := figures.LeftFoot; foot <= figures.RightFoot; foot++ {
			if foot != moves {
				f.print(v, who, foot, *t.Placed.Foot(who, foot), "stands", 0)
			}
		}
		if moves != figures.NoFoot {
			f.print(v, who, moves, *t.Placed.Foot(who, moves), weightClass(t, who), i+1)
		}
	}
	for who := figures.Leader; who <= figures.Follower; who++ {
		if foot := t.Falls[who].Foot; foot != figures.NoFoot {
			marks = append(marks, f.tag(v.at(t.Placed.Foot(who, foot).At), who, i+1, feet, marks, middle, f.panel))
		}
	}
	f.text(corner.Add(geometry.Point{X: 0.07, Y: 0.17}), "name", "start", headFont, 0, fmt.Sprintf("%d", i+1))
	f.text(corner.Add(geometry.Point{X: f.panel.X - 0.07, Y: 0.17}), "small", "end", headFont, 0, fmt.Sprintf("count %s", f.steps[i].Count))
	lines := f.stepWords(i, corner.Add(geometry.Point{Y: f.panel.Y + 0.12}))
	f.put(`</g>`)
	return lines
}

// track draws how a foot comes to its new place.
func (f *figureSheet) track(v view, who figures.Dancer, from, to geometry.Point) {
	a, b := v.at(from), v.at(to)
	way := b.Sub(a)
	if way.Len() < 0.2 {
		return
	}
	// It ends at the edge of the shoe.
	b = b.Sub(way.Scale(0.09 / way.Len()))
	f.put(`<polyline class="track %s" points="%s"/>`, who, line([]geometry.Point{a, b}))
}

// arc draws how far a foot has turned from the direction of the one before it,
// round its middle; it returns places on the way.
func (f *figureSheet) arc(v view, who figures.Dancer, p geometry.Point, from, turn geometry.Turn) []geometry.Point {
	if turn == 0 {
		return nil
	}
	const radius = 0.21
	middle := v.at(p)
	return f.sweep(who, turn, func(share float64) geometry.Point {
		return middle.Add(geometry.Unit(-(from.Radians() + turn.Radians()*share)).Scale(radius))
	})
}

// sweep draws a curved arrow; where gives its points by the share of the way.
func (f *figureSheet) sweep(who figures.Dancer, turn geometry.Turn, where func(share float64) geometry.Point) []geometry.Point {
	var points []geometry.Point
	n := 2 * int(turn.Abs())
	for k := 0; k <= n; k++ {
		points = append(points, where(float64(k)/float64(n)))
	}
	f.put(`<polyline class="turn %s" points="%s"/>`, who, line(points))
	tip := points[n]
	back := points[n-1].Sub(tip)
	back = back.Scale(0.065 / math.Max(back.Len(), 1e-9))
	f.put(`<polygon class="turnhead %s" points="%s"/>`, who, line([]geometry.Point{tip, tip.Add(back.Rotate(0.45)), tip.Add(back.Rotate(-0.45))}))
	return points
}

// pivot draws how a dancer's foot goes round with the couple after it was placed,
// and where it points then; it returns places of what it has drawn.
func (f *figureSheet) pivot(v view, t *figures.Taken, who figures.Dancer) []geometry.Point {
	if t.Step.Pivot == 0 {
		return nil
	}
	foot := t.After.Weight[who]
	after := *t.After.Foot(who, foot)
	f.print(v, who, foot, after, "pivoted", 0)
	from := t.Placed.Foot(who, foot).At.Sub(t.Placed.Centre)
	points := f.sweep(who, t.Step.Pivot, func(share float64) geometry.Point {
		return v.at(t.Placed.Centre.Add(from.Rotate(t.Step.Pivot.Radians() * share)))
	})
	return append(points, footPoints(v, after)...)
}

// stepWords says in words what both dancers do; it returns how many lines that
// takes.
func (f *figureSheet) stepWords(i int, p geometry.Point) int {
	step := f.steps[i]
	n := 0
	write := func(class, words string, indent float64) {
		n++
		f.text(p.Add(geometry.Point{X: indent, Y: float64(n) * lineStep}), class, "start", lineFont, 0, words)
	}
	for who, s := range []*answer.DancerStep{step.Leader, step.Follower} {
		d := figures.Dancer(who)
		mark := p.Add(geometry.Point{X: 0.05, Y: float64(n+1)*lineStep - 0.03})
		if d == figures.Leader {
			f.put(`<rect class="tag %s" x="%s" y="%s" width="0.07" height="0.07"/>`, d, num(mark.X-0.035), num(mark.Y-0.035))
		} else {
			f.put(`<circle class="tag %s" cx="%s" cy="%s" r="0.038"/>`, d, num(mark.X), num(mark.Y))
		}
		if s == nil {
			write("small", d.String()+" stands", 0.13)
			continue
		}
		words := s.Foot + " " + s.Direction
		if !s.Weight && s.Direction != "closes without weight" {
			words += ", no weight"
		}
		write("strong", words, 0.13)
		rest := []string{s.Short}
		if s.Turn != "no turn" {
			rest = append(rest, strings.Split(s.Turn, ", ")...)
		}
		if s.Footwork != "" {
			rest = append(rest, s.Footwork)
		}
		for _, words := range f.inPanel(rest) {
			write("small", words, 0.13)
		}
	}
	write("place", "hold: "+step.Hold, 0.02)
	return n
}

// inPanel joins words with commas in as many lines as the panel's width asks for.
func (f *figureSheet) inPanel(words []string) (lines []string) {
	for _, w := range words {
		if n := len(lines); n > 0 && wide(lines[n-1]+", "+w, lineFont) <= f.panel.X {
			lines[n-1] += ", " + w
		} else {
			lines = append(lines, w)
		}
	}
	return lines
}
