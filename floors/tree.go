package floors

import (
	"cmp"
	"math"
	"slices"

	"lapwright/figures/geometry"
)

// box is an upright rectangle.
type box struct{ lo, hi geometry.Point }

func (b box) union(c box) box {
	return box{
		geometry.Point{X: math.Min(b.lo.X, c.lo.X), Y: math.Min(b.lo.Y, c.lo.Y)},
		geometry.Point{X: math.Max(b.hi.X, c.hi.X), Y: math.Max(b.hi.Y, c.hi.Y)},
	}
}

// gap2 is the squared distance from p to the box, zero inside.
func (b *box) gap2(p geometry.Point) float64 {
	dx, dy := 0.0, 0.0
	if p.X < b.lo.X {
		dx = b.lo.X - p.X
	} else if p.X > b.hi.X {
		dx = p.X - b.hi.X
	}
	if p.Y < b.lo.Y {
		dy = b.lo.Y - p.Y
	} else if p.Y > b.hi.Y {
		dy = p.Y - b.hi.Y
	}
	return dx*dx + dy*dy
}

func (b *box) meets(c box) bool {
	return b.lo.X <= c.hi.X && c.lo.X <= b.hi.X && b.lo.Y <= c.hi.Y && c.lo.Y <= b.hi.Y
}

// shape is one piece of an edge: the side from a to b, or a circle about a.
type shape struct {
	a, b   geometry.Point
	radius float64
	round  bool
}

func (s shape) box() box {
	if s.round {
		r := geometry.Point{X: s.radius, Y: s.radius}
		return box{s.a.Sub(r), s.a.Add(r)}
	}
	lo, hi := bounds([]geometry.Point{s.a, s.b})
	return box{lo, hi}
}

// gap2 is the squared distance from p to the edge.
func (s *shape) gap2(p geometry.Point) float64 {
	dx, dy := p.X-s.a.X, p.Y-s.a.Y
	if s.round {
		d := math.Sqrt(dx*dx+dy*dy) - s.radius
		return d * d
	}
	ex, ey := s.b.X-s.a.X, s.b.Y-s.a.Y
	t := dx*ex + dy*ey
	if t <= 0 {
		return dx*dx + dy*dy
	}
	l := ex*ex + ey*ey
	if t >= l {
		dx, dy = p.X-s.b.X, p.Y-s.b.Y
		return dx*dx + dy*dy
	}
	x := ex*dy - ey*dx
	return x * x / l
}

// tree is a hierarchy of boxes around shapes, halved along the longer side
// until few are left; the nearest shape is found by looking into the nearer
// half first and leaving out every box farther away than the best so far
// (branch and bound on bounding boxes, from memory).
type tree struct {
	shapes []shape
	nodes  []node
	order  []int32 // order[i] is the number that shape i had when it was given
}

type node struct {
	box
	first, count int32 // the shapes of a leaf; count is 0 otherwise
	right        int32 // the second child; the first follows its parent
}

const leafSize = 4

func newTree(given []shape) *tree {
	t := &tree{order: make([]int32, len(given))}
	boxes := make([]box, len(given))
	for i := range given {
		t.order[i] = int32(i)
		boxes[i] = given[i].box()
	}
	if len(given) > 0 {
		t.grow(boxes, 0, len(given))
	}
	t.shapes = make([]shape, len(given))
	for i, k := range t.order {
		t.shapes[i] = given[k]
	}
	return t
}

func (t *tree) grow(boxes []box, from, to int) {
	around := boxes[t.order[from]]
	for _, k := range t.order[from+1 : to] {
		around = around.union(boxes[k])
	}
	at := len(t.nodes)
	t.nodes = append(t.nodes, node{box: around})
	if to-from <= leafSize {
		t.nodes[at].first, t.nodes[at].count = int32(from), int32(to-from)
		return
	}
	size := around.hi.Sub(around.lo)
	slices.SortFunc(t.order[from:to], func(i, j int32) int {
		a, b := boxes[i].lo.Add(boxes[i].hi), boxes[j].lo.Add(boxes[j].hi)
		if size.X >= size.Y {
			return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(i, j))
		}
		return cmp.Or(cmp.Compare(a.Y, b.Y), cmp.Compare(i, j))
	})
	mid := (from + to) / 2
	t.grow(boxes, from, mid)
	t.nodes[at].right = int32(len(t.nodes))
	t.grow(boxes, mid, to)
}

// nearest returns the place in t.shapes of the shape nearest to p and the
// squared distance, starting from a shape that is known to be near (or −1) and
// looking no farther than the square root of best2.
func (t *tree) nearest(p geometry.Point, near int32, best2 float64) (int32, float64) {
	if near >= 0 {
		if d := t.shapes[near].gap2(p); d < best2 {
			best2 = d
		} else {
			near = -1
		}
	}
	if len(t.nodes) == 0 {
		return near, best2
	}
	var stack [64]int32
	depth := 1
	for depth > 0 {
		depth--
		at := stack[depth]
		n := &t.nodes[at]
		if n.box.gap2(p) >= best2 {
			continue
		}
		if n.count > 0 {
			for i := n.first; i < n.first+n.count; i++ {
				if d := t.shapes[i].gap2(p); d < best2 {
					best2, near = d, i
				}
			}
			continue
		}
		one, two := at+1, n.right
		if t.nodes[two].box.gap2(p) < t.nodes[one].box.gap2(p) {
			one, two = two, one
		}
		stack[depth], stack[depth+1] = two, one
		depth += 2
	}
	return near, best2
}

// meeting calls visit with the given number of every shape whose box meets b,
// until visit returns false.
func (t *tree) meeting(b box, visit func(i int) bool) {
	if len(t.nodes) == 0 {
		return
	}
	var stack [64]int32
	depth := 1
	for depth > 0 {
		depth--
		at := stack[depth]
		n := &t.nodes[at]
		if !n.box.meets(b) {
			continue
		}
		for i := n.first; i < n.first+n.count; i++ {
			own := t.shapes[i].box()
			if own.meets(b) && !visit(int(t.order[i])) {
				return
			}
		}
		if n.count == 0 {
			stack[depth], stack[depth+1] = n.right, at+1
			depth += 2
		}
	}
}
