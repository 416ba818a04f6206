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

// Awkwardness is why a join is awkward.
type Awkwardness int8

// The ways in which a join can be awkward.
const (
	Easy       Awkwardness = iota
	Unlisted               // the trade's lists do not have it
	TurnedBack             // the couple is carried one way and has to go the other
)

// String says in a teacher's words what is awkward: "no list of the trade has
// it". It is empty for an easy join.
func (a Awkwardness) String() string {
	switch a {
	case Unlisted:
		return "no list of the trade has it"
	case TurnedBack:
		return "the couple is carried one way and has to go the other"
	}
	return ""
}

// Awkward tells whether it is awkward to dance next straight after v, and why:
// the join can be danced, but it has to be checked. Whether the two can be joined
// at all it does not look at.
//
// A join that the follows list is easy. One that they do not list is awkward,
// where they say what follows v and what next follows. Where they don't, as for a
// teacher's own figures, or where they are nil, the couple's way decides: it is
// awkward if the couple is still carried along at the end of v, and the first
// step of next goes against that way. Feet that close take most of the way off,
// so that only a step almost straight back is awkward after them; feet that
// cross, or close without weight, bring the couple to rest (common practice, no
// source). A variant without steps or entries makes no join awkward.
func Awkward(follows *figures.Follows, v, next *figures.Variant) Awkwardness {
	switch follows.Of(v, next) {
	case figures.Listed:
		return Easy
	case figures.Unlisted:
		return Unlisted
	}
	if turnedBackFrom(v, next) {
		return TurnedBack
	}
	return Easy
}

// turnedBackFrom tells whether a couple that is carried along at the end of v has
// to go against that way in next.
func turnedBackFrom(v, next *figures.Variant) bool {
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
