package floors

import (
	"cmp"
	"math"
	"slices"

	"lapwright/figures/geometry"
)

// Area is the floor to dance on in m²: the outline less the obstacles. It is
// exact unless obstacles overlap; floor under several of them counts once, by
// adding up 4,000 strips.
func (r *Room) Area() float64 {
	whole := math.Abs(signedArea(r.Outline))
	boxes := make([]box, len(r.Obstacles))
	for i, o := range r.Obstacles {
		boxes[i] = o.box()
	}
	if !anyOverlap(boxes) {
		for _, o := range r.Obstacles {
			whole -= o.area()
		}
		return whole
	}
	return whole - coveredArea(r.Obstacles, boxes)
}

func (o Obstacle) area() float64 {
	if o.Outline == nil {
		return math.Pi * o.Disc.Radius * o.Disc.Radius
	}
	return math.Abs(signedArea(o.Outline))
}

func (o Obstacle) box() box {
	if o.Outline == nil {
		return shape{a: o.Disc.Centre, radius: o.Disc.Radius, round: true}.box()
	}
	lo, hi := bounds(o.Outline)
	return box{lo, hi}
}

func anyOverlap(boxes []box) bool {
	for i, a := range boxes {
		for _, b := range boxes[i+1:] {
			if a.lo.X < b.hi.X && b.lo.X < a.hi.X && a.lo.Y < b.hi.Y && b.lo.Y < a.hi.Y {
				return true
			}
		}
	}
	return false
}

// coveredArea is the floor under one obstacle or more.
func coveredArea(obstacles []Obstacle, boxes []box) float64 {
	all := boxes[0]
	for _, b := range boxes[1:] {
		all = all.union(b)
	}
	const strips = 4000
	high := (all.hi.Y - all.lo.Y) / strips
	sum := 0.0
	var spans [][2]float64
	for i := range strips {
		y := all.lo.Y + (float64(i)+0.5)*high
		spans = spans[:0]
		for k, o := range obstacles {
			if boxes[k].lo.Y <= y && y <= boxes[k].hi.Y {
				spans = o.spans(y, spans)
			}
		}
		slices.SortFunc(spans, func(a, b [2]float64) int { return cmp.Compare(a[0], b[0]) })
		right := math.Inf(-1)
		for _, s := range spans {
			sum += math.Max(0, s[1]-math.Max(s[0], right)) * high
			right = math.Max(right, s[1])
		}
	}
	return sum
}

// spans appends the stretches of the obstacle at a height y.
func (o Obstacle) spans(y float64, spans [][2]float64) [][2]float64 {
	if o.Outline == nil {
		dy := y - o.Disc.Centre.Y
		if half := o.Disc.Radius*o.Disc.Radius - dy*dy; half > 0 {
			half = math.Sqrt(half)
			spans = append(spans, [2]float64{o.Disc.Centre.X - half, o.Disc.Centre.X + half})
		}
		return spans
	}
	var xs []float64
	for i, a := range o.Outline {
		b := o.Outline[(i+1)%len(o.Outline)]
		if (a.Y > y) != (b.Y > y) {
			xs = append(xs, a.X+(b.X-a.X)*(y-a.Y)/(b.Y-a.Y))
		}
	}
	slices.Sort(xs)
	for i := 0; i+1 < len(xs); i += 2 {
		spans = append(spans, [2]float64{xs[i], xs[i+1]})
	}
	return spans
}

// contains reports whether p is inside the obstacle, its edge not counted as
// certain (the clearance is zero there). Even-odd rule, with each side taken
// half open in y so that a corner counts once.
func (o Obstacle) contains(p geometry.Point) bool {
	if o.Outline == nil {
		return p.Sub(o.Disc.Centre).Len() < o.Disc.Radius
	}
	in := false
	for i, a := range o.Outline {
		b := o.Outline[(i+1)%len(o.Outline)]
		if (a.Y > p.Y) != (b.Y > p.Y) {
			if side := b.Sub(a).Cross(p.Sub(a)); (b.Y > a.Y) == (side > 0) {
				in = !in
			}
		}
	}
	return in
}
