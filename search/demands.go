package search

import (
	"fmt"
	"math"

	"lapwright/figures"
	"lapwright/graph/difficulty"
	"lapwright/search/routine"
)

// demand is one thing that the limits of a problem ask for, by itself.
type demand struct {
	words   string                  // what is asked for: "at most 20 bars"
	without string                  // there is a lap …: "with any number of bars"
	keep    func(l *Limits)         // adds it to limits
	over    func(d *dancedLap) int  // by how much it would have to give way to a lap; 0 where that keeps to it
	ease    func(l *Limits, by int) // adds it to limits, given way by so much; nil where it is all or nothing
	eased   func(by int) string     // as words, of what is then asked for
	nothing int                     // given way by so much it asks for nothing; 0: never
	bars    bool                    // it is about the number of bars
	// others are things that could be asked for in its place, the nearest first.
	others []demand
}

// demands lists what the limits of a problem ask for. Those about which something is
// found out soonest come first.
func (p *Problem) demands() []demand {
	l := p.Limits
	var all []demand
	// number adds a limit that is a number, which gives way by ones up or down.
	number := func(n, step, last int, words func(n int) string, without string, set func(l *Limits, n int), over func(d *dancedLap) int) {
		if n <= 0 {
			return
		}
		d := demand{words: words(n), without: without, keep: func(l *Limits) { set(l, n) }, over: func(d *dancedLap) int { return max(0, over(d)) },
			ease: func(l *Limits, by int) { set(l, n+step*by) }, eased: func(by int) string { return words(n + step*by) }}
		if step < 0 {
			d.nothing = n - last
		}
		if n == last {
			d.ease = nil
		}
		all = append(all, d)
	}
	number(l.MaxBars, 1, 0, func(n int) string { return "at most " + count(n, "bar") }, "with more bars",
		func(l *Limits, n int) { l.MaxBars = n }, func(d *dancedLap) int { return d.bars - l.MaxBars })
	least := l.MinBars
	if least == 1 {
		least = 0 // that is no limit
	}
	number(least, -1, 1, func(n int) string { return "at least " + count(n, "bar") }, "with fewer bars",
		func(l *Limits, n int) { l.MinBars = n }, func(d *dancedLap) int { return l.MinBars - d.bars })
	for i := range all {
		all[i].bars = true
	}
	if l.Phrase > 1 {
		all = append(all, demand{words: fmt.Sprintf("an end with a phrase of %d bars", l.Phrase), without: "that ends inside a phrase of the music",
			keep: func(o *Limits) { o.Phrase = l.Phrase }, over: func(d *dancedLap) int { return yes(d.bars%l.Phrase != 0) }})
	}
	for _, f := range l.Must {
		all = append(all, demand{words: f.Name + " danced at least once", without: "without " + f.Name,
			keep: func(l *Limits) { l.Must = append(l.Must, f) }, over: func(d *dancedLap) int { return yes(d.uses[f] == 0) }})
	}
	for _, f := range l.Fixed {
		all = append(all, p.fixed(f))
	}
	for _, o := range l.Orders {
		all = append(all, demand{words: fmt.Sprintf("%s danced before %s is", o.First.Name, o.Then.Name),
			without: fmt.Sprintf("in which %s comes before %s has been danced", o.Then.Name, o.First.Name),
			keep:    func(l *Limits) { l.Orders = append(l.Orders, o) }, over: func(d *dancedLap) int { return yes(d.before(o.Then, o.First)) }})
	}
	for _, c := range l.Caps {
		// A cap may be 0, so that it is told by itself.
		with := func(n int) func(*Limits) {
			return func(l *Limits) { l.Caps = append(l.Caps, Cap{c.Name, c.Has, n}) }
		}
		words := func(n int) string { return fmt.Sprintf("%s at most %s in all", c.Name, count(n, "time")) }
		all = append(all, demand{words: words(c.Most), without: "with any number of uses of " + c.Name, keep: with(c.Most),
			over: func(d *dancedLap) int { return max(0, d.of(c.Has)-c.Most) },
			ease: func(l *Limits, by int) { with(c.Most + by)(l) }, eased: func(by int) string { return words(c.Most + by) }})
	}
	number(l.Different, -1, 1, func(n int) string { return fmt.Sprintf("at least %s", count(n, "different figure")) }, "with any number of different figures",
		func(l *Limits, n int) { l.Different = n }, func(d *dancedLap) int { return l.Different - len(d.uses) })
	number(l.RightTurns, 1, 0, func(n int) string { return fmt.Sprintf("at most %s in a row", count(n, "right turn")) }, "with any number of right turns in a row",
		func(l *Limits, n int) { l.RightTurns = n }, func(d *dancedLap) int { return d.rightTurns - l.RightTurns })
	number(l.Uses, 1, 0, func(n int) string { return "no figure more than " + count(n, "time") }, "with any number of uses of a figure",
		func(l *Limits, n int) { l.Uses = n }, func(d *dancedLap) int { return d.most - l.Uses })
	number(l.Apart, -1, 1, func(n int) string {
		return fmt.Sprintf("at least %s from one use of a figure to the next", count(n, "bar"))
	},
		"with any number of bars from one use of a figure to the next",
		func(l *Limits, n int) { l.Apart = n }, func(d *dancedLap) int { return l.Apart - d.apart })
	for who, longest := range [2]float64{l.LeaderStep, l.FollowerStep} {
		set := func(l *Limits, metres float64) {
			*[2]*float64{&l.LeaderStep, &l.FollowerStep}[who] = metres
		}
		number(int(math.Ceil(longest*100-1e-9)), 1, 0, func(n int) string {
			if n == int(math.Ceil(longest*100-1e-9)) {
				return fmt.Sprintf("no step of the %s longer than %g m", figures.Dancer(who), longest)
			}
			return fmt.Sprintf("no step of the %s longer than %.2f m", figures.Dancer(who), float64(n)/100)
		}, fmt.Sprintf("with steps of the %s of any length", figures.Dancer(who)), func(l *Limits, n int) {
			if n == int(math.Ceil(longest*100-1e-9)) {
				set(l, longest)
			} else {
				set(l, float64(n)/100)
			}
		}, func(d *dancedLap) int { return int(math.Ceil((d.longest[who]-longest)*100 - 1e-6)) })
	}
	// The difficulty gives way by hundredths of a point.
	points := int(math.Ceil(l.Hardest*100 - 1e-9))
	hardest := func(n int) float64 {
		if n == points {
			return l.Hardest
		}
		return float64(n) / 100
	}
	number(points, 1, 0, func(n int) string { return fmt.Sprintf("no figure or join harder than %g points", hardest(n)) }, "with figures and joins of any difficulty",
		func(o *Limits, n int) { o.Hardest = hardest(n) }, func(d *dancedLap) int { return int(math.Ceil((d.hardest-l.Hardest)*100 - 1e-6)) })
	return all
}

// fixed is the demand that a figure begins at a bar. In its place it could be danced
// along another wall, or up to four bars earlier or later.
func (p *Problem) fixed(f Fixed) demand {
	at := func(f Fixed) demand {
		d := demand{words: fmt.Sprintf("%s at bar %d", f.Figure.Name, f.Bar), without: fmt.Sprintf("in which %s does not begin at bar %d", f.Figure.Name, f.Bar),
			keep: func(l *Limits) { l.Fixed = append(l.Fixed, f) }}
		if f.Wall >= 0 {
			d.words += " along " + p.Room.Walls[f.Wall].Name
		}
		d.over = func(d *dancedLap) int {
			for _, b := range d.begun {
				if b.figure == f.Figure && b.bar == f.Bar && (f.Wall < 0 || f.Wall == b.wall) {
					return 0
				}
			}
			return 1
		}
		return d
	}
	d := at(f)
	if f.Wall >= 0 {
		d.others = append(d.others, at(Fixed{f.Figure, f.Bar, -1}))
	}
	for by := 1; by <= 4; by++ {
		if f.Bar > by {
			d.others = append(d.others, at(Fixed{f.Figure, f.Bar - by, f.Wall}))
		}
		d.others = append(d.others, at(Fixed{f.Figure, f.Bar + by, f.Wall}))
	}
	return d
}

func yes(b bool) int {
	if b {
		return 1
	}
	return 0
}

// dancedLap is what limits can ask about a lap.
type dancedLap struct {
	bars       int
	uses       map[*figures.Figure]int
	most       int // uses of the figure that is used most
	apart      int // least number of bars from one use of a figure to the next
	rightTurns int // in a row
	longest    [2]float64
	hardest    float64 // difficulty of a figure or join, also of that from the end to the beginning
	begun      []begun
	variants   []*figures.Variant
}

// begun is when and where a figure begins.
type begun struct {
	figure *figures.Figure
	bar    int // from 1
	wall   int
}

// danced dances a lap through for what limits ask about.
func (p *Problem) danced(lap *Lap) *dancedLap {
	d := &dancedLap{bars: lap.Bars, uses: map[*figures.Figure]int{}, apart: math.MaxInt}
	latest := map[*figures.Figure]int{}
	stance, wall, bar, right := lap.Start.Stance, lap.Start.Wall, 1, 0
	for i, s := range lap.Steps {
		if s.Corner == routine.Take {
			stance = stance.Turned(p.Room.Walls[wall].Eighths)
			wall = (wall + 1) % len(p.Room.Walls)
		}
		f := s.Variant.Figure
		if d.uses[f] > 0 {
			d.apart = min(d.apart, bar-latest[f])
		}
		d.uses[f]++
		d.most, latest[f] = max(d.most, d.uses[f]), bar
		if right++; s.Variant.Turn() >= 0 {
			right = 0
		}
		d.rightTurns = max(d.rightTurns, right)
		before := lap.Steps[(i+len(lap.Steps)-1)%len(lap.Steps)].Variant
		d.hardest = max(d.hardest, difficulty.Figure(s.Variant).Total(), difficulty.Join(p.Follows, before, s.Variant).Total())
		d.begun, d.variants = append(d.begun, begun{f, bar, wall}), append(d.variants, s.Variant)
		danced := s.Variant.Dance(stance, p.Couple.WithStride(p.Couple.Stride*s.Scale))
		for i := range danced.Steps {
			for who := range d.longest {
				d.longest[who] = max(d.longest[who], danced.Steps[i].Falls[who].Length)
			}
		}
		stance, bar = danced.Exit, bar+s.Variant.Bars()
	}
	return d
}

// of is how many of the figures that were danced belong to a set.
func (d *dancedLap) of(has func(*figures.Variant) bool) (n int) {
	for _, v := range d.variants {
		n += yes(has(v))
	}
	return n
}

// before reports whether one figure was danced before another had been.
func (d *dancedLap) before(one, other *figures.Figure) bool {
	for _, b := range d.begun {
		switch b.figure {
		case other:
			return false
		case one:
			return true
		}
	}
	return false
}

// keepsAll reports whether a lap keeps to all limits of the problem.
func (p *Problem) keepsAll(lap *Lap) bool {
	danced := p.danced(lap)
	for _, d := range p.demands() {
		if d.over(danced) > 0 {
			return false
		}
	}
	return true
}
