package graph

import (
	"lapwright/figures"
)

// Stumble is a join that the stances allow and the bodies do not: danced from
// where the first figure really leaves the feet, the second one puts a foot on
// the partner's, reaches too far or tears the hold.
type Stumble struct {
	First, Second *figures.Variant
	From          figures.Stance // in which the first begins
	Eighths       int            // of the corner between the two; 0 along one wall
	Fault         figures.Fault  // on a step of the second
}

// Stumbles lists the joins of the graph that the couple cannot dance, by its
// edges, each with its first fault; of joins that differ only by a turn of the
// whole, the first. Only joins in which the first or the second variant is
// concerned are looked at.
func (g *Graph) Stumbles(c figures.Couple, concerned func(*figures.Variant) bool) []Stumble {
	type sort struct {
		first, second *figures.Variant
		hold          figures.Hold
	}
	known := map[sort]bool{}
	var all []Stumble
	for _, e := range g.edges {
		var danced *figures.Danced
		own := concerned(e.Variant)
		for _, n := range append([]int{0}, g.corners...) {
			if n == 0 && e.Variant.Corner {
				continue
			}
			for _, next := range g.from[e.To.Turned(n)] {
				key := sort{e.Variant, next.Variant, e.From.Hold}
				if known[key] || !own && !concerned(next.Variant) {
					continue
				}
				known[key] = true
				if danced == nil {
					danced = e.Variant.Dance(e.From, c)
				}
				if j, ok := danced.Join(next.Variant, n); ok && len(j.Faults) > 0 {
					all = append(all, Stumble{e.Variant, next.Variant, e.From, n, j.Faults[0]})
				}
			}
		}
	}
	return all
}

// CannotJoin tells why the couple cannot dance next right after v, whatever wall is
// taken between the two: its first fault, danced from where v really leaves the feet.
// It is false where the join can be danced, and where the stances do not allow it in
// the first place. It dances both; keep the answer rather than ask again and again, or
// ask for all joins along a wall at once ([Graph.AlongWall]).
func CannotJoin(v, next *figures.Variant, c figures.Couple) (figures.Fault, bool) {
	if v == nil || next == nil {
		return figures.Fault{}, false
	}
	return newEnding(v, c).fault(next)
}
