package floors

import (
	"errors"
	"fmt"
	"math"

	"lapwright/figures/document"
	"lapwright/figures/geometry"
)

// Load reads a room from the text of its file; file is the name to use in
// errors. Every error is a [document.Error], or several joined, one for each
// fault; faults of one kind beyond the first five are left out. The package
// comment shows the file.
func Load(file string, data []byte) (*Room, error) {
	doc, err := document.Parse(file, data)
	if err != nil {
		return nil, err
	}
	top, err := doc.Fields("name", "outline", "margin", "capacity", "obstacles", "walls")
	if err != nil {
		return nil, err
	}
	l := &loader{}
	r := &Room{Margin: DefaultMargin}
	if r.Name, err = top.Text("name"); err != nil {
		l.add(err)
	}
	if n := top.Get("margin"); n != nil {
		r.Margin, err = n.Number(0, MaxMargin)
		l.add(err)
	}
	if n := top.Get("capacity"); n != nil {
		r.Capacity, err = n.Whole(1, MaxCapacity)
		l.add(err)
	}
	outline, err := top.Need("outline")
	l.add(err)
	var turned bool
	if outline != nil {
		r.Outline, turned = l.ring(outline, MaxCorners)
	}
	if n := top.Get("obstacles"); n != nil {
		r.Obstacles = l.obstacles(n)
	}
	var names []string
	if n := top.Get("walls"); n != nil {
		names, err = n.Texts()
		l.add(err)
		if err == nil && r.Outline != nil && len(names) != len(r.Outline) {
			l.add(n.Fail("%d names are given for %d sides of the outline; give one for each side, in the order of the outline", len(names), len(r.Outline)))
		}
	}
	if l.faults != nil {
		return nil, errors.Join(l.faults...)
	}
	if turned && names != nil {
		names = turnedNames(names)
	}
	if r.fit(l, outline, top.Get("obstacles")); l.faults != nil {
		return nil, errors.Join(l.faults...)
	}
	if err := r.plan(names); err != nil {
		return nil, outline.Fail("%s", err)
	}
	return r, nil
}

// turnedNames are the names of the sides after the outline has been turned
// round with its first corner kept first.
func turnedNames(names []string) []string {
	turned := make([]string, len(names))
	for i, s := range names {
		turned[len(names)-1-i] = s
	}
	return turned
}

// fit checks the size of the room and that the obstacles stand in it.
func (r *Room) fit(l *loader, outline, obstacles *document.Node) {
	lo, hi := r.Bounds()
	size := hi.Sub(lo)
	if short := math.Min(size.X, size.Y); short < MinSide {
		l.add(outline.Fail("the room is %.4g × %.4g m, too small for any couple: each way it must measure at least %g m; are the corners in metres?", size.X, size.Y, MinSide))
		return
	}
	if long := math.Max(size.X, size.Y); long > MaxSide {
		l.add(outline.Fail("the room is %.4g × %.4g m, more than the %g m that are planned for; are the corners in metres?", size.X, size.Y, MaxSide))
		return
	}
	r.edges = newEdges(r.Outline, r.Obstacles)
	flaws := 0
	for i, o := range r.Obstacles {
		if out := r.edges.beyond(o); out > 0 && flaws < mostFlaws {
			flaws++
			items, _ := obstacles.Items() // read before without error
			l.add(items[i].Fail("the obstacle %q reaches %.3g m out of the room; move it inside the outline, or leave it out", o.Name, out))
		}
	}
}

// loader collects faults.
type loader struct {
	faults  []error
	corners int // of all obstacles so far
}

func (l *loader) add(err error) {
	if err != nil {
		l.faults = append(l.faults, err)
	}
}

// ring reads the corners of a polygon and returns them counter-clockwise, or
// nil with faults added.
func (l *loader) ring(n *document.Node, most int) (ring []geometry.Point, turned bool) {
	items, err := n.Items()
	if err != nil {
		l.add(err)
		return nil, false
	}
	if len(items) > most {
		l.add(n.Fail("%d corners are more than the %d that are allowed", len(items), most))
		return nil, false
	}
	bad := 0
	for _, it := range items {
		p, err := point(it)
		if err != nil {
			if bad++; bad <= mostFlaws {
				l.add(err)
			}
		}
		ring = append(ring, p)
	}
	if bad > 0 {
		return nil, false
	}
	if flaws := ringFlaws(ring); flaws != nil {
		for _, f := range flaws {
			at := n
			if f.corner < len(items) && len(items) >= 3 {
				at = items[f.corner]
			}
			l.add(at.Fail("%s", f.text))
		}
		return nil, false
	}
	return counterClockwise(ring)
}

func point(n *document.Node) (geometry.Point, error) {
	pair, err := n.Items()
	if err != nil {
		return geometry.Point{}, err
	}
	if len(pair) != 2 {
		return geometry.Point{}, n.Fail("a corner is two numbers in metres, such as [18, 11]; here are %d", len(pair))
	}
	x, errX := pair[0].Number(-MaxReach, MaxReach)
	y, errY := pair[1].Number(-MaxReach, MaxReach)
	return geometry.Point{X: x, Y: y}, errors.Join(errX, errY)
}

func (l *loader) obstacles(n *document.Node) []Obstacle {
	items, err := n.Items()
	if err != nil {
		l.add(err)
		return nil
	}
	if len(items) > MaxObstacles {
		l.add(n.Fail("%d obstacles are more than the %d that are allowed", len(items), MaxObstacles))
		return nil
	}
	var all []Obstacle
	for i, it := range items {
		all = append(all, l.obstacle(it, i))
		if len(l.faults) >= 2*mostFlaws {
			break
		}
	}
	return all
}

func (l *loader) obstacle(n *document.Node, index int) (o Obstacle) {
	f, err := n.Fields("name", "outline", "centre", "radius")
	if err != nil {
		l.add(err)
		return o
	}
	o.Name = fmt.Sprintf("obstacle %d", index+1)
	if f.Get("name") != nil {
		o.Name, err = f.Text("name")
		l.add(err)
	}
	outline, centre, radius := f.Get("outline"), f.Get("centre"), f.Get("radius")
	switch {
	case outline != nil && centre == nil && radius == nil:
		o.Outline, _ = l.ring(outline, MaxCorners-l.corners)
		l.corners += len(o.Outline)
	case outline == nil && centre != nil && radius != nil:
		o.Disc.Centre, err = point(centre)
		l.add(err)
		o.Disc.Radius, err = radius.Number(0.01, MaxSide)
		l.add(err)
	default:
		l.add(n.Fail("an obstacle has either an outline or a centre and a radius; give one of the two"))
	}
	return o
}
