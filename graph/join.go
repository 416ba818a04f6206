package graph

import (
	"lapwright/figures"
	"lapwright/figures/geometry"
)

// awkwardAngle is the angle in sixteenths of a turn from which a couple that is
// still travelling has to be turned back by the next figure: more than a right
// angle.
const awkwardAngle geometry.Turn = 5

// turnedBack is the same where the feet have closed, which takes most of the way
// off: almost straight back.
const turnedBack geometry.Turn = 6

// Awkward tells whether it is awkward to dance next straight after v: the couple
// is still carried along at the end of v, and the first step of next goes against
// that way. Feet that close take most of the way off, so that only a step almost
// straight back is awkward after them; feet that cross, or close without weight,
// bring the couple to rest. The join can be danced, but it has to be checked
// (common practice, no source). A variant without steps or entries makes no join
// awkward.
func Awkward(v, next *figures.Variant) bool {
	for _, w := range []*figures.Variant{v, next} {
		if w == nil || len(w.Steps) == 0 || len(w.Entries) == 0 {
			return false
		}
	}
	last, angle := v.Steps[len(v.Steps)-1], awkwardAngle
	if rests(&last) {
		return false
	}
	if last.Strides < 0.3 { // the feet close: what carries is the step before
		if angle = turnedBack; len(v.Steps) < 2 || rests(&v.Steps[len(v.Steps)-2]) {
			return false
		}
		last = v.Steps[len(v.Steps)-2]
	}
	facing := v.Entries[0].Facing.Turn() + v.Turn()
	carried := last.Toward - facing
	first := next.Steps[0]
	goes := first.Toward - next.Entries[0].Facing.Turn()
	return (goes - carried).Within().Abs() >= angle
}

// rests reports whether a step brings the couple to rest.
func rests(s *figures.Step) bool {
	lead, follow := s.Actions[figures.Leader], s.Actions[figures.Follower]
	stands := lead.Foot == figures.NoFoot && follow.Foot != figures.NoFoot
	return stands || lead.Crosses != figures.NoCross || lead.Weightless
}
