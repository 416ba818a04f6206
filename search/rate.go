package search

import (
	"math"

	"lapwright/figures/geometry"
)

// rate is the least that it costs at a tariff to get a metre on along a straight
// wall, in hundredths of a bar, whatever chain of figures is danced for ever: the
// circle of groups with the least ratio of cost to distance (Lawler 1966, "Optimal
// cycles in doubly weighted directed linear graphs"). It is 0 where no chain gets
// on.
func (g *grouping) rate(t tariff) float64 {
	type arc struct {
		from, to       int32
		cost, distance float64
	}
	var arcs []arc
	ahead := geometry.Unit(g.plan.problem.Room.Walls[0].Direction)
	most := 0.0
	for number, list := range g.from[0] {
		for _, m := range list {
			a := arc{int32(number), m.group, float64(t.edges[m.edge] + t.join(m.least)),
				ahead.Dot(g.plan.edges[m.edge].shapes[0].shift.Point())}
			arcs = append(arcs, a)
			if a.distance > 0 {
				most = max(most, a.cost/a.distance)
			}
		}
	}
	// pays reports whether some circle costs less than so much a metre.
	least := make([]float64, len(g.groups))
	pays := func(rate float64) bool {
		clear(least)
		for range g.groups {
			lower := false
			for _, a := range arcs {
				if c := least[a.from] + a.cost - rate*a.distance; c < least[a.to]-1e-9 {
					least[a.to], lower = c, true
				}
			}
			if !lower {
				return false
			}
		}
		return true
	}
	low, high := 0.0, most
	if !pays(high * 1.001) {
		return 0
	}
	for range 16 {
		if middle := (low + high) / 2; pays(middle) {
			high = middle
		} else {
			low = middle
		}
	}
	return low
}

// slope is the slope that suits a tariff best without making any figure cost
// nothing in cells so long.
func (g *grouping) slope(t tariff, along float64) float64 {
	cheapest := int32(math.MaxInt32)
	for _, cost := range t.edges {
		cheapest = min(cheapest, cost)
	}
	return min(g.rate(t), 0.9*float64(cheapest)/along)
}
