package figures

import "lapwright/figures/geometry"

// alone checks what each dancer turns alone, from a hold at entry: while the
// bodies are joined, and when the variant ends, it must add up to whole turns,
// so that the partners face each other as the hold has them. How much one step
// can turn is checked with the rest of its turn.
func (v *Variant) alone(hold Hold, fail func(int, string, ...any)) {
	var turned [2]geometry.Turn
	for i := range v.Steps {
		s := &v.Steps[i]
		hold = s.holdAfter(hold)
		for d := Leader; d <= Follower; d++ {
			a := s.Actions[d]
			turned[d] += a.Alone
			switch last := i == len(v.Steps)-1; {
			case a.Alone != 0 && a.Foot == NoFoot:
				fail(i+1, "the %s turns %v alone, yet takes no step", d, a.Alone)
			case turned[d]%geometry.Full == 0:
			case !hold.Shape().HandsOnly:
				fail(i+1, "the %s has turned %v alone so far; in %s it must add up to whole turns", d, turned[d], hold.Words())
				turned[d] = 0 // it is told once
			case last:
				fail(i+1, "the %s has turned %v alone when the figure ends; it must add up to whole turns", d, turned[d])
			}
		}
	}
}
