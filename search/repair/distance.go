package repair

import (
	"math"

	"lapwright/figures/geometry"
	"lapwright/floors"
	"lapwright/search"
)

// distance is a bound by how far the couple still has to travel where the routine has to
// close: to the corner of the wall in use, from each corner to the next, and to the start.
// What the rest of the routine cannot cover at its longest has to be covered by figures
// that are put in, or put in place of others. Since no figure travels farther than is
// reckoned here, a change lowers it by one at most (a consistent bound).
type distance struct {
	regions [][]geometry.Point // by wall: the edge of where the next wall may be taken
	between []float64          // by wall: least distance from its region to the next one
	chain   []float64          // by corners left: from the last region before to the start
	covers  []float64          // by figures dealt with: the most that the rest travels
	longest float64            // the most that a figure travels that may come in
	start   geometry.Point
	far     map[search.State]float64 // by number of the place
}

// newDistance is nil where the routine need not close.
func newDistance(s *repairing) *distance {
	if !s.problem.Closes {
		return nil
	}
	walls, posts := len(s.problem.Room.Walls), s.states.Posts()
	d := &distance{regions: make([][]geometry.Point, walls), between: make([]float64, walls),
		start: floors.CellAt(*s.problem.Routine.Start.At).Point(), far: map[search.State]float64{}}
	inside := make([]map[floors.Cell]bool, walls)
	for w := range walls {
		inside[w] = map[floors.Cell]bool{}
	}
	for at := 0; at < s.states.Count(); at += posts {
		if state := search.State(at); s.states.Usable(state) {
			if stands := s.states.Standing(state); stands.InCorner {
				inside[stands.Wall][stands.Cell] = true
			}
		}
	}
	for w := range walls {
		d.regions[w] = rim(inside[w])
	}
	for w := range walls {
		next := (w + 1) % walls
		if d.between[w] = gap(d.regions[w], d.regions[next]); meet(inside[w], inside[next]) {
			d.between[w] = 0
		}
	}
	// With one corner left the next region is the last one, and from there it is so far to
	// the start.
	d.chain = make([]float64, s.corners+1)
	for left := 1; left <= s.corners; left++ {
		if left == 1 {
			last := s.wallWith(1)
			d.chain[1] = gap(d.regions[last], []geometry.Point{d.start}) - search.Tolerance
			if inside[last][floors.CellAt(d.start)] {
				d.chain[1] = -search.Tolerance
			}
		} else {
			d.chain[left] = d.chain[left-1] + d.between[s.wallWith(left)]
		}
	}
	d.measure(s)
	return d
}

// measure finds how far figures travel.
func (d *distance) measure(s *repairing) {
	steps := s.problem.Routine.Steps
	reach := make([]float64, len(steps))
	for i := range s.edges {
		e := &s.edges[i]
		travels := 0.0
		for wall := range s.options {
			travels = math.Max(travels, s.states.Shift(i, wall).Point().Len())
		}
		if e.mayCome {
			d.longest = math.Max(d.longest, travels)
		}
		for k := range steps {
			if steps[k].Variant == e.variant && s.stays[k] {
				reach[k] = math.Max(reach[k], travels)
			}
		}
	}
	d.covers = make([]float64, len(steps)+1)
	for k := len(steps) - 1; k >= 0; k-- {
		d.covers[k] = d.covers[k+1] + reach[k]
	}
}

// of is the fewest changes still needed.
func (d *distance) of(s *repairing, k key) int {
	if d == nil {
		return 0
	}
	left := s.corners - int(k.corners)
	toGo := d.chain[left]
	if left == 0 {
		toGo = s.states.Standing(k.at).At().Sub(d.start).Len() - search.Tolerance
	} else {
		toGo += d.toCorner(s, k.at)
	}
	toGo -= d.covers[k.done] + 1e-6
	switch {
	case toGo <= 0:
		return 0
	case d.longest == 0:
		return never
	}
	return int(math.Ceil(toGo / d.longest))
}

// toCorner is the distance to where the next wall may be taken.
func (d *distance) toCorner(s *repairing, at search.State) float64 {
	place := at / search.State(s.states.Posts())
	far, known := d.far[place]
	if !known {
		if stands := s.states.Standing(at); !stands.InCorner {
			far = gap(d.regions[stands.Wall], []geometry.Point{stands.At()})
		}
		d.far[place] = far
	}
	return far
}

// rim is the places of a set that have a neighbour outside of it.
func rim(inside map[floors.Cell]bool) (all []geometry.Point) {
	for c := range inside {
		for _, step := range []floors.Cell{{X: 1}, {X: -1}, {Y: 1}, {Y: -1}} {
			if !inside[c.Add(step)] {
				all = append(all, c.Point())
				break
			}
		}
	}
	return all
}

// meet reports whether two sets have a place in common.
func meet(a, b map[floors.Cell]bool) bool {
	for c := range a {
		if b[c] {
			return true
		}
	}
	return false
}

// gap is the least distance between two sets of places.
func gap(a, b []geometry.Point) float64 {
	least := math.Inf(1)
	for _, p := range a {
		for _, q := range b {
			least = min(least, p.Sub(q).Len())
		}
	}
	return least
}
