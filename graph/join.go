package graph

import (
	"lapwright/figures"
	"lapwright/figures/geometry"
)

// awkwardAngle is the angle in sixteenths of a turn from which a couple that is
// still travelling has to be turned back by the next figure: more than a right
// angle.
const awkwardAngle geometry.Turn = 5

// Awkward tells whether it is awkward to dance next straight after v: v's last
// step does not close the feet, so the couple is still carried along, and the
// first step of next goes against that way by more than a right angle. The
// join can be danced, but it has to be checked (common practice, no source). A
// variant without steps or entries makes no join awkward.
func Awkward(v, next *figures.Variant) bool {
	for _, w := range []*figures.Variant{v, next} {
		if w == nil || len(w.Steps) == 0 || len(w.Entries) == 0 {
			return false
		}
	}
	last := v.Steps[len(v.Steps)-1]
	if last.Strides < 0.3 || last.Actions[figures.Leader].Crosses != figures.NoCross {
		return false // the feet close or cross: the couple has come to rest
	}
	facing := v.Entries[0].Facing.Turn() + v.Turn()
	carried := last.Toward - facing
	first := next.Steps[0]
	goes := first.Toward - next.Entries[0].Facing.Turn()
	return (goes - carried).Within().Abs() >= awkwardAngle
}
