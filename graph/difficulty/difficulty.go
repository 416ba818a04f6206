// Package difficulty measures how hard figures, joins and routines are to dance.
//
// What lives here: one measure, in points, with the parts that it is made of, for
// a figure, a join and a routine. What does not: which figures there are (package
// figures), what may follow what and which joins are awkward (graph), and what is
// done with the measure (search).
//
// A first use:
//
//	v, _ := figures.BuiltIn().Variant("Natural Spin Turn")
//	parts := difficulty.Figure(v)
//	fmt.Printf("%.2f points a bar, %.2f of them for turn\n", parts.Total(), parts.Turn)
//
// # The scale
//
// It is our own: common practice, no source. A figure has, for all its bars
// together,
//
//   - level: nothing, one, two or three points a bar for a social, bronze, silver
//     or gold figure, by the lowest level at which any syllabus sets it;
//   - turn: three points a bar for each quarter of a turn a beat, to whichever
//     side – in the waltz, of three beats a bar, a point for each quarter; in each
//     step that dancer counts who turns more;
//   - hold changes: a point for each, begun as the figure usually is (its first
//     beginning);
//   - alignment: a quarter of a point for each eighth by which the couple faces
//     elsewhere at its end than at its beginning, at most a point;
//   - awkwardness: four points for each bar that it counts as awkward, so that half
//     a bar, what a lap pays for an awkward join, is two points here too;
//
// and is told in points a bar, so that long figures and short ones compare. A join
// is told in points, since it takes no time:
//
//   - awkwardness: two points where it is awkward ([graph.Awkward]);
//   - turn: half a point where the last turn of the first figure is to one side and
//     the first turn of the second to the other, with no change in between;
//   - alignment: half a point where the leader has just stepped forward and now
//     steps back, or the other way round.
//
// The level and the hold do not change at a join. A routine has the points of its
// figures and joins together, by its bars.
package difficulty

import (
	"lapwright/figures"
	"lapwright/figures/geometry"
	"lapwright/graph"
)

// The points of the scale.
const (
	perQuarter     = 3.0  // a bar, for each quarter of a turn a beat
	perHold        = 1.0  // for each change of hold
	perEighth      = 0.25 // for each eighth between the alignments at both ends
	perAwkwardBar  = 4.0  // for each bar of awkwardness
	awkwardJoin    = 2.0
	otherSide      = 0.5 // for a turn to the other side right after
	otherDirection = 0.5 // for a step back right after one forward, or the reverse
)

// Parts are the points of a difficulty, by what they are for; none is negative. Of
// a figure and of a routine they are points a bar, of a join points.
type Parts struct {
	Level, Turn, Holds, Alignment, Awkward float64
}

// Total is the difficulty: the sum of its parts.
func (p Parts) Total() float64 { return p.Level + p.Turn + p.Holds + p.Alignment + p.Awkward }

// Beyond reports whether the difficulty is greater than what is allowed, in the same
// points; 0 allows any.
func (p Parts) Beyond(most float64) bool { return most > 0 && p.Total() > most+1e-9 }

// plus adds other parts, so many times.
func (p Parts) plus(o Parts, times float64) Parts {
	return Parts{p.Level + times*o.Level, p.Turn + times*o.Turn, p.Holds + times*o.Holds,
		p.Alignment + times*o.Alignment, p.Awkward + times*o.Awkward}
}

// Figure is the difficulty of a way of dancing a figure, in points a bar. It is
// nought for one that takes no bar.
func Figure(v *figures.Variant) Parts {
	bars := bars(v)
	if bars == 0 {
		return Parts{}
	}
	p := Parts{Level: float64(rung(v.Figure)), Turn: perQuarter * turned(v) / v.Beats()}
	return p.plus(Parts{Holds: perHold * float64(holdChanges(v)), Awkward: perAwkwardBar * v.Awkward,
		Alignment: perEighth * float64(v.Turn().Within().Abs()) / float64(geometry.Eighth)}, 1/bars)
}

// bars is how many bars a variant takes; 0 for none.
func bars(v *figures.Variant) float64 {
	if v == nil || v.Figure == nil || v.Figure.Beats < 1 {
		return 0
	}
	return float64(v.Bars())
}

// rung is the lowest level at which a figure is listed, from 0 for social to 3 for
// gold; one without a listing is of the highest.
func rung(f *figures.Figure) int {
	lowest := len(figures.Levels) - 1
	for _, l := range f.Levels {
		for i, level := range figures.Levels[:lowest] {
			if l.Level == level {
				lowest = i
				break
			}
		}
	}
	return lowest
}

// turned is how many quarters of a turn a variant has, to either side.
func turned(v *figures.Variant) float64 {
	var sum geometry.Turn
	for i := range v.Steps {
		s := &v.Steps[i]
		couple := s.Turn + s.Pivot + s.Completes
		sum += max((couple + s.Actions[figures.Leader].Alone).Abs(), (couple + s.Actions[figures.Follower].Alone).Abs())
	}
	return float64(sum) / float64(2*geometry.Eighth)
}

// holdChanges is how often the hold changes in a variant begun as it usually is.
func holdChanges(v *figures.Variant) (changes int) {
	if len(v.Entries) == 0 {
		return 0
	}
	hold := v.Entries[0].Hold
	for i := range v.Steps {
		if s := &v.Steps[i]; !s.KeepsHold && s.Hold != hold {
			changes, hold = changes+1, s.Hold
		}
	}
	return changes
}

// Join is the difficulty of dancing after right after before, in points; nought
// where one of the two is nil. Whether they can be joined at all it does not look
// at.
func Join(follows *figures.Follows, before, after *figures.Variant) (p Parts) {
	if before == nil || after == nil {
		return p
	}
	if graph.Awkward(follows, before, after) != graph.Easy {
		p.Awkward = awkwardJoin
	}
	if n := len(before.Steps); sideOf(before.Steps, n-1, -1)*sideOf(after.Steps, 0, 1) < 0 {
		p.Turn = otherSide
	}
	if leaves(before)*begins(after) < 0 {
		p.Alignment = otherDirection
	}
	return p
}

// sideOf is the side to which the couple turns in the first of some steps that turns
// it, looked at from one on forward or backward: 1 is left, -1 right, 0 none.
func sideOf(steps []figures.Step, from, by int) int {
	for i := from; i >= 0 && i < len(steps); i += by {
		switch s := &steps[i]; {
		case s.Turn+s.Pivot+s.Completes > 0:
			return 1
		case s.Turn+s.Pivot+s.Completes < 0:
			return -1
		}
	}
	return 0
}

// closing is the length in strides below which a step goes nowhere: the feet close,
// or come together.
const closing = 0.3

// leaves tells which way the leader's last step goes: 1 is forward, -1 back, 0
// neither.
func leaves(v *figures.Variant) int {
	if len(v.Steps) == 0 || len(v.Entries) == 0 {
		return 0
	}
	facing := v.Entries[0].Facing.Turn()
	last := len(v.Steps) - 1
	for i := range v.Steps[:last] {
		s := &v.Steps[i]
		facing += s.Turn + s.Pivot + s.Completes
	}
	return goes(&v.Steps[last], facing)
}

// begins tells which way the leader's first step goes.
func begins(v *figures.Variant) int {
	if len(v.Steps) == 0 || len(v.Entries) == 0 {
		return 0
	}
	return goes(&v.Steps[0], v.Entries[0].Facing.Turn())
}

// goes tells which way a step goes of a leader who faces so before it. Diagonally
// forward is forward.
func goes(s *figures.Step, facing geometry.Turn) int {
	if s.Actions[figures.Leader].Foot == figures.NoFoot || s.Strides < closing {
		return 0
	}
	switch side := (s.Toward - facing).Within().Abs(); {
	case side <= geometry.Eighth:
		return 1
	case side >= geometry.Full/2-geometry.Eighth:
		return -1
	}
	return 0
}

// Round is the difficulty of a chain of figures that is danced again and again: as
// [Routine], with the join from its end to its beginning.
func Round(follows *figures.Follows, variants []*figures.Variant) Parts {
	sum, all := points(follows, variants)
	if all == 0 {
		return Parts{}
	}
	again := Join(follows, variants[len(variants)-1], variants[0])
	return Parts{}.plus(sum.plus(again, 1), 1/all)
}

// points are the points of figures and of the joins between them, and their bars.
func points(follows *figures.Follows, variants []*figures.Variant) (sum Parts, all float64) {
	for i, v := range variants {
		sum = sum.plus(Figure(v), bars(v))
		all += bars(v)
		if i > 0 {
			sum = sum.plus(Join(follows, variants[i-1], v), 1)
		}
	}
	return sum, all
}

// Routine is the difficulty of a chain of figures, in points a bar: the points of
// the figures and of the joins between them, by the number of bars. The join from
// its end to its beginning does not count; see [Round]. It is nought where nothing takes a bar.
func Routine(follows *figures.Follows, variants []*figures.Variant) Parts {
	sum, all := points(follows, variants)
	if all == 0 {
		return Parts{}
	}
	return Parts{}.plus(sum, 1/all)
}
