package check

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"lapwright/figures"
	"lapwright/figures/geometry"
	"lapwright/floors"
	"lapwright/graph"
	"lapwright/graph/difficulty"
)

// Cap is the most uses, all together, of the figures of a set.
type Cap struct {
	// Name is the set in a teacher's words: "Whisk", "turns to the left".
	Name string
	Has  func(*figures.Variant) bool
	Most int // may be 0
}

// Order says that Then is not danced before First has been.
type Order struct{ First, Then *figures.Figure }

// Fixed is a figure that must begin at a bar.
type Fixed struct {
	Figure *figures.Figure
	Bar    int // from 1
	Wall   int // index of the wall along which it must be danced; negative: any
}

// known checks the limits that a single figure can break.
func (d *dancer) known(v *figures.Variant, fault func(Kind, string)) {
	for _, words := range d.breaks(v, d.wall) {
		fault(Limit, words)
	}
}

// breaks says which limits a variant breaks that is danced now along a wall: one
// sentence for each.
func (d *dancer) breaks(v *figures.Variant, wall int) (words []string) {
	l, f := &d.limits, v.Figure
	say := func(format string, args ...any) { words = append(words, fmt.Sprintf(format, args...)) }
	if l.Allowed != nil && !l.Allowed(v) {
		name := f.Name
		if slices.ContainsFunc(f.Variants, l.Allowed) {
			name = v.Name() // danced otherwise it may be used
		}
		say("%s is not among the figures that may be used", name)
	}
	uses, last := 0, 0
	for _, row := range d.report.Rows {
		if row.Variant.Figure == f {
			uses++
			last = row.Bar
		}
	}
	if l.Uses > 0 && uses >= l.Uses {
		say("this is use %d of %s; the most allowed is %d", uses+1, f.Name, l.Uses)
	}
	if apart := d.bar - last; l.Apart > 0 && uses > 0 && apart < l.Apart {
		say("%s comes again after %d bars; at least %d are asked for", f.Name, apart, l.Apart)
	}
	for _, c := range l.Caps {
		if c.Has == nil || !c.Has(v) {
			continue
		}
		n := 1
		for _, row := range d.report.Rows {
			if c.Has(row.Variant) {
				n++
			}
		}
		if n > c.Most {
			say("this is use %d of %s; the most allowed is %d", n, c.Name, c.Most)
		}
	}
	for _, o := range l.Orders {
		if o.First != nil && o.Then == f && !d.danced(o.First) {
			say("%s comes before %s has been danced; the order asked for is %s first", f.Name, o.First.Name, o.First.Name)
		}
	}
	for _, x := range l.Fixed {
		switch at := x.Bar - d.bar; {
		case x.Figure == nil || at < 0 || at >= v.Bars():
		case at > 0:
			say("%s is to begin at bar %d, and %s, which began at bar %d, is not over then", x.Figure.Name, x.Bar, f.Name, d.bar)
		case x.Figure != f:
			say("%s is to begin at bar %d, and %s begins there", x.Figure.Name, x.Bar, f.Name)
		case x.Wall >= 0 && x.Wall != wall:
			say("%s at bar %d is to be danced along %s, and is danced along %s", f.Name, x.Bar, d.wallName(x.Wall), d.wallName(wall))
		}
	}
	if p := difficulty.Figure(v); p.Beyond(l.Hardest) {
		say("it has %s points a bar; the hardest allowed is %g", points(p), l.Hardest)
	}
	if n := len(d.report.Rows); n > 0 {
		if hard := d.hardJoin(d.report.Rows[n-1].Variant, v); hard != "" {
			say("%s", hard)
		}
	}
	if n := d.rightTurns() + 1; l.RightTurns > 0 && v.TurnsRight() && n > l.RightTurns {
		say("this is figure %d in a row that turns to the right; the most allowed is %d, and then one that does not", n, l.RightTurns)
	}
	return words
}

// hardJoin says that a join is harder than asked for; it is empty where it is not.
func (d *dancer) hardJoin(before, after *figures.Variant) string {
	p := difficulty.Join(d.limits.Follows, before, after)
	if !p.Beyond(d.limits.Hardest) {
		return ""
	}
	return fmt.Sprintf("%s after %s is a join of %s points; the hardest allowed is %g", after.Name(), before.Name(), points(p), d.limits.Hardest)
}

// points is a difficulty, rounded up, so that it never reads as if it kept to a limit.
func points(p difficulty.Parts) string {
	return fmt.Sprintf("%.2f", math.Ceil(100*(p.Total()-hair))/100)
}

// danced reports whether a figure has been danced so far.
func (d *dancer) danced(f *figures.Figure) bool {
	return slices.ContainsFunc(d.report.Rows, func(row Row) bool { return row.Variant.Figure == f })
}

// rightTurns is how many figures, up to the last one, turned to the right one
// after the other.
func (d *dancer) rightTurns() (n int) {
	rows := d.report.Rows
	for n < len(rows) && rows[len(rows)-1-n].Variant.TurnsRight() {
		n++
	}
	return n
}

// overSteps says which dancer's steps in a figure are longer than asked for.
func (d *dancer) overSteps(danced *figures.Danced) (words []string) {
	most := [2]float64{d.limits.LeaderStep, d.limits.FollowerStep}
	for who := figures.Leader; who <= figures.Follower; who++ {
		longest := 0.0
		for i := range danced.Steps {
			longest = max(longest, danced.Steps[i].Falls[who].Length)
		}
		if most[who] > 0 && longest > most[who]+hair {
			// Rounded up, so that it never reads as if it kept to the limit.
			words = append(words, fmt.Sprintf("the %s's longest step is %.2f m; the most allowed is %g m", who,
				math.Ceil(100*(longest-hair))/100, most[who]))
		}
	}
	return words
}

// laps is how many times round the room the routine is to go.
func (d *dancer) laps() int { return max(1, d.limits.Laps) }

// whole checks the limits on the routine as a whole.
func (d *dancer) whole() {
	bars := d.report.Bars
	say := func(format string, args ...any) { d.fail(Fault{Kind: Limit, Words: fmt.Sprintf(format, args...)}) }
	if d.limits.MinBars > 0 && bars < d.limits.MinBars {
		say("the routine has %d bars; at least %d are asked for", bars, d.limits.MinBars)
	}
	if d.limits.MaxBars > 0 && bars > d.limits.MaxBars {
		say("the routine has %d bars; at most %d are asked for", bars, d.limits.MaxBars)
	}
	if n := d.limits.Phrase; n > 0 && bars%n != 0 {
		say("the routine ends after bar %d, inside a phrase of %d bars; phrases end after bar %s", bars, n, ends(bars, n))
	}
	for _, must := range d.limits.Must {
		if must != nil && !d.danced(must) {
			say("%s must be danced and is not", must.Name)
		}
	}
	different := map[*figures.Figure]bool{}
	for i := range d.report.Rows {
		different[d.report.Rows[i].Variant.Figure] = true
	}
	if n := len(different); n < d.limits.Different {
		say("the routine has %d different figures; at least %d are asked for", n, d.limits.Different)
	}
	for _, x := range d.limits.Fixed {
		if x.Figure != nil && (x.Bar < 1 || x.Bar > bars) {
			say("%s is to begin at bar %d; the routine has %d bars", x.Figure.Name, x.Bar, bars)
		}
	}
}

// ends are the bars after which the phrases end before and after a bar inside
// one: "24 or 32", "8".
func ends(bar, phrase int) string {
	before := bar / phrase * phrase
	if before == 0 {
		return fmt.Sprint(phrase)
	}
	return fmt.Sprintf("%d or %d", before, before+phrase)
}

// could names what can be danced from here in this room, along the wall in use
// or, at a corner, along the next one: first what is easy to join.
func (d *dancer) could() []string {
	corner := d.room.InCorner(d.wall, d.cell.Point())
	next := (d.wall + 1) % len(d.room.Walls)
	turned := d.stance.Turned(d.room.Walls[d.wall].Eighths)
	var before *figures.Variant
	if n := len(d.report.Rows); n > 0 {
		before = d.report.Rows[n-1].Variant
	}
	var easy, awkward []string
	for _, v := range d.limits.Library {
		if begins(d.stance, v) && d.keeps(v, d.wall, d.stance) || corner && begins(turned, v) && d.keeps(v, next, turned) {
			if graph.Awkward(d.limits.Follows, before, v) == graph.Easy {
				easy = append(easy, v.Name())
			} else {
				awkward = append(awkward, v.Name())
			}
		}
	}
	return append(easy, awkward...)
}

// keeps reports whether a variant danced from here in a stance along a wall breaks
// no limit and stays on the floor.
func (d *dancer) keeps(v *figures.Variant, wall int, stance figures.Stance) bool {
	if d.breaks(v, wall) != nil || !d.fits(wall, stance, v) {
		return false
	}
	return d.limits.LeaderStep <= 0 && d.limits.FollowerStep <= 0 || d.overSteps(v.Dance(stance, d.couple)) == nil
}

func begins(s figures.Stance, v *figures.Variant) bool { return graph.WhyNot(s, v) == nil }

// touches says what the couple runs into.
func (d *dancer) touches(row *Row) string {
	best := d.room.Clearance(row.ClearAt)
	what := d.nearestWall(row.ClearAt)
	for i, o := range d.room.Obstacles {
		if o.Gap(row.ClearAt) <= best+hair {
			what = "the " + o.Name
			if o.Name == "" {
				what = fmt.Sprintf("obstacle %d", i+1)
			}
		}
	}
	if row.Clear < 0 {
		return fmt.Sprintf("the couple runs into %s near %s, by %.0f cm", what, place(row.ClearAt), -row.Clear*100)
	}
	return fmt.Sprintf("the couple comes within %.0f cm of %s near %s; %.0f cm are to be kept", row.Clear*100, what,
		place(row.ClearAt), d.margin*100)
}

// nearestWall is the name of the wall nearest to a place.
func (d *dancer) nearestWall(p geometry.Point) string {
	near := slices.MinFunc(d.room.Walls, func(a, b floors.Wall) int {
		return cmp.Compare(geometry.PointGap(p, a.From, a.To), geometry.PointGap(p, b.From, b.To))
	})
	return d.wallName(near.Index)
}

// wallName is a wall's name as a sentence uses it: "wall 2", "the stage end".
func (d *dancer) wallName(wall int) string {
	if wall >= len(d.room.Walls) {
		return fmt.Sprintf("wall %d, of which there is none", wall+1)
	}
	name := d.room.Walls[wall].Name
	if strings.HasPrefix(name, "wall ") {
		return name
	}
	return "the " + name
}

// where says how far along a wall the couple is.
func (d *dancer) where(wall int) string {
	along, across := d.room.Walls[wall].Locate(d.cell.Point())
	return fmt.Sprintf("%.1f m along %s and %.1f m from it", along, d.wallName(wall), across)
}

// place writes a place in the room.
func place(p geometry.Point) string { return fmt.Sprintf("(%.2f, %.2f)", p.X, p.Y) }
