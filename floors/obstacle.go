package floors

import (
	"math"

	"lapwright/figures/geometry"
)

// Gap is the distance in metres from p to the edge of the obstacle; negative
// inside it.
func (o Obstacle) Gap(p geometry.Point) float64 {
	if o.Outline == nil {
		return p.Sub(o.Disc.Centre).Len() - o.Disc.Radius
	}
	gap := math.Inf(1)
	for i, a := range o.Outline {
		gap = math.Min(gap, geometry.PointGap(p, a, o.Outline[(i+1)%len(o.Outline)]))
	}
	if o.contains(p) {
		return -gap
	}
	return gap
}
