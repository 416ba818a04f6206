package spread

import "math"

// Danced is one figure of a lap as the measure sees it: what is danced, and where it
// begins.
type Danced struct {
	Figure int32 // number of the figure
	Way    int32 // number of its way of dancing
	Wall   int16 // number of the wall along which it is danced
	X, Y   int32 // where it begins, in whole centimetres in the room's frame
}

// Reach is how many metres apart the same figure counts as another one.
const Reach = 3.0

// What the measure counts, in parts of a figure; a part is a centimetre of Reach.
const (
	whole      = 100 * Reach
	anotherWay = whole / 4
)

// Distance is how many figures two laps differ in: the least cost of making one of
// the other by taking figures out, putting figures in and exchanging figures, in
// order (the edit distance of Levenshtein 1966, with weights). To take a figure out
// or to put one in costs 1. To exchange a figure for another, or for the same along
// another wall, costs 1; for the same figure along the same wall as many thirds as
// it begins metres away, and a quarter more where it is danced another way, but at
// most 1 in all. Metres count in whole centimetres, rounded up.
//
// It is 0 where the same is danced at the same places, the same either way round,
// never more than the figures of the longer lap, and never longer by way of a third
// lap.
func Distance(a, b []Danced) float64 {
	return float64(newRuler().distance(a, b, math.MaxInt32)) / whole
}

// Share is the distance of two laps as a share of the figures of the longer one, from
// 0, where they are the same, to 1, where they have nothing in common.
func Share(a, b []Danced) float64 {
	longer := max(len(a), len(b))
	if longer == 0 {
		return 0
	}
	return Distance(a, b) / float64(longer)
}

// exchange is what it costs to exchange a figure for another, in parts.
func exchange(a, b *Danced) int32 {
	if a.Figure != b.Figure || a.Wall != b.Wall {
		return whole
	}
	x, y := float64(a.X)-float64(b.X), float64(a.Y)-float64(b.Y)
	parts := 0.0
	if x != 0 || y != 0 {
		// Rounded up, distances still add up to no less than the way across.
		parts = math.Ceil(math.Sqrt(x*x + y*y))
	}
	if a.Way != b.Way {
		parts += anotherWay
	}
	return int32(min(whole, parts))
}

// ruler measures laps, one pair after the other, in the same memory.
type ruler struct{ row []int32 }

func newRuler() *ruler { return &ruler{} }

// distance is the distance of two laps in parts of a figure, or any number from
// enough on where it is no less than that.
func (r *ruler) distance(a, b []Danced, enough int32) int32 {
	for len(a) > 0 && len(b) > 0 && a[0] == b[0] {
		a, b = a[1:], b[1:]
	}
	for len(a) > 0 && len(b) > 0 && a[len(a)-1] == b[len(b)-1] {
		a, b = a[:len(a)-1], b[:len(b)-1]
	}
	if cap(r.row) <= len(b) {
		r.row = make([]int32, 2*len(b)+1)
	}
	// row[j] is the distance of what of a has been looked at from b[:j].
	row := r.row[:len(b)+1]
	for j := range row {
		row[j] = int32(j) * whole
	}
	for i := range a {
		diagonal := row[0]
		row[0] += whole
		least := row[0]
		for j := range b {
			cost := min(row[j], row[j+1]) + whole
			if diagonal < cost {
				cost = min(cost, diagonal+exchange(&a[i], &b[j]))
			}
			diagonal, row[j+1] = row[j+1], cost
			least = min(least, cost)
		}
		if least >= enough {
			return least
		}
	}
	return row[len(b)]
}
