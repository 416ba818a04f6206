package sheet

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lapwright/cmd/internal/wording"
	"lapwright/figures/geometry"
	"lapwright/floors"
	"lapwright/search/check"
)

// pitch is the room that a name of two lines takes across them, in heights of its
// letters.
const pitch = 2.25

// label is the name of a figure that begins somewhere.
type label struct {
	number int
	lines  []string
	from   geometry.Point // where the figure begins, in the room
	wall   *floors.Wall
	along  float64 // metres along the wall, where the name stands
	fault  bool
}

// spot is where a name may stand: from an anchor along a direction, in the drawing's
// frame.
type spot struct {
	anchor geometry.Point
	angle  float64
}

// labels writes the names of the figures outside the room, each beside the place
// where the figure begins, with a thread that leads there.
func (d *drawing) labels() {
	faults := map[int]bool{}
	for _, f := range d.report.Faults() {
		faults[f.Row] = true
	}
	byWall := make([][]*label, len(d.room.Walls))
	name := func(row *check.Row) {
		l := &label{number: row.Number, from: row.From, wall: &d.room.Walls[row.Wall], fault: faults[row.Number]}
		figure, way := wording.Call(row.Variant)
		l.lines = []string{fmt.Sprintf("%d  %s", row.Bar, figure)}
		if more := shortened(way); more != "" {
			l.lines = append(l.lines, more)
		}
		l.along, _ = l.wall.Locate(row.From)
		byWall[row.Wall] = append(byWall[row.Wall], l)
	}
	for i := range d.rows {
		name(&d.rows[i])
	}
	if d.fault != nil {
		name(d.fault)
	}
	d.group(`id="names"`)
	for _, list := range byWall {
		d.spread(list)
		for _, l := range list {
			d.write(l)
		}
	}
	d.end()
}

// short forms of what a way of dancing says, as tables have them.
var short = strings.NewReplacer("against line of dance", "against LOD", "line of dance", "LOD",
	"diagonal to centre", "DC", "diagonal to wall", "DW")

func shortened(label string) string { return short.Replace(label) }

// spread moves names along their wall until none covers the next, as little as
// can be (the pool adjacent violators algorithm of isotonic regression).
func (d *drawing) spread(list []*label) {
	slices.SortStableFunc(list, func(a, b *label) int {
		switch {
		case a.along < b.along:
			return -1
		case a.along > b.along:
			return 1
		}
		return 0
	})
	if len(list) == 0 {
		return
	}
	step := pitch * d.font
	type pool struct {
		sum   float64
		count int
	}
	var pools []pool
	for i, l := range list {
		pools = append(pools, pool{l.along - float64(i)*step, 1})
		for n := len(pools); n > 1 && pools[n-2].sum/float64(pools[n-2].count) > pools[n-1].sum/float64(pools[n-1].count); n = len(pools) {
			pools[n-2].sum += pools[n-1].sum
			pools[n-2].count += pools[n-1].count
			pools = pools[:n-1]
		}
	}
	i := 0
	for _, p := range pools {
		for range p.count {
			list[i].along = p.sum/float64(p.count) + float64(i)*step
			i++
		}
	}
	// The names stay beside the wall if there is space for all of them.
	const over = 0.5
	if last := list[len(list)-1].along; last > list[0].wall.Length+over {
		for i := len(list) - 1; i >= 0; i-- {
			list[i].along = math.Min(list[i].along, list[0].wall.Length+over-float64(len(list)-1-i)*step)
		}
	}
	if list[0].along < -over {
		for i := range list {
			list[i].along = math.Max(list[i].along, -over+float64(i)*step)
		}
	}
}

// Distances of names in metres: from the wall, and from where the figure begins
// for one inside the room.
const (
	gap     = 0.25
	near    = 2.0 // farther away than this from the wall, the inside is tried
	inside  = 0.4
	farther = 3.0
)

// write writes a name and its thread.
func (d *drawing) write(l *label) {
	d.group(`class="figure" data-figure="%d"`, l.number)
	defer d.end()
	s := d.choose(l)
	b := d.boxOf(l, s)
	d.boxes = append(d.boxes, b)
	for _, p := range b.corners() {
		d.cover(p)
	}
	from := at(l.from)
	toward := s.anchor.Sub(from)
	if far := toward.Len(); far > 0.07 {
		start := from.Add(toward.Scale(0.07 / far))
		d.threads = append(d.threads, [2]geometry.Point{start, s.anchor})
		d.polyline("thread", start, s.anchor)
	}
	d.writeLines(l, s)
}

// choose finds a spot for a name that covers nothing else: outside the wall; where
// there is no space close to it, inside the room; and else farther out. Its thread
// crosses no other name, if that can be.
func (d *drawing) choose(l *label) spot {
	if s, ok := d.spotFor(l, d.clear); ok {
		return s
	}
	if s, ok := d.spotFor(l, func(*label, spot) bool { return true }); ok {
		return s
	}
	outward := at(l.wall.Place(0, -1)).Sub(at(l.wall.Place(0, 0))).Angle()
	return spot{at(l.wall.Place(l.along, -gap)), outward}
}

// spotFor looks for a spot that pleases.
func (d *drawing) spotFor(l *label, pleases func(*label, spot) bool) (spot, bool) {
	outward := at(l.wall.Place(0, -1)).Sub(at(l.wall.Place(0, 0))).Angle()
	outside := func(off float64) spot { return spot{at(l.wall.Place(l.along, -off)), outward} }
	off := gap
	for ; off < near; off += d.font {
		if s := outside(off); d.free(d.boxOf(l, s)) && pleases(l, s) {
			return s, true
		}
	}
	from := at(l.from)
	for far := inside; far < farther; far += 0.1 {
		for _, aside := range []float64{0, 0.25, -0.25, 0.5, -0.5, 0.75, -0.75, 1, -1} {
			for _, angle := range []float64{outward + math.Pi, outward + math.Pi/2, outward - math.Pi/2} {
				s := spot{from.Sub(geometry.Unit(outward).Scale(far)).Add(geometry.Unit(outward + math.Pi/2).Scale(aside)), angle}
				if d.within(d.boxOf(l, s)) && pleases(l, s) {
					return s, true
				}
			}
		}
	}
	for ; off < gap+d.size(); off += d.font {
		if s := outside(off); d.free(d.boxOf(l, s)) && pleases(l, s) {
			return s, true
		}
	}
	return spot{}, false
}

// clear tells whether the thread to a name crosses no other name, and no other thread
// the name.
func (d *drawing) clear(l *label, s spot) bool {
	from, own := at(l.from), d.boxOf(l, s)
	for _, b := range d.boxes {
		if b.crossed(from, s.anchor) {
			return false
		}
	}
	for _, t := range d.threads {
		if own.crossed(t[0], t[1]) {
			return false
		}
	}
	return true
}

// crossed tells whether a line goes through the box.
func (b box) crossed(from, to geometry.Point) bool {
	c := b.corners()
	for i := range c {
		if geometry.Crosses(from, to, c[i], c[(i+1)%len(c)]) {
			return true
		}
	}
	return false
}

// lineFont is the height of the letters in a line of a name.
func (d *drawing) lineFont(i int) float64 {
	if i > 0 {
		return 0.85 * d.font
	}
	return d.font
}

// readable turns a direction for letters, in degrees, into one in which they do not
// stand on their heads where the drawing is looked at; those along an upright line are
// read upward. Flipped tells that it is the opposite one.
func (d *drawing) readable(degrees float64) (same float64, flipped bool) {
	looked := degrees
	if d.turned {
		looked += 90
	}
	looked = math.Remainder(looked, 360)
	if looked > 90-1e-6 || looked < -90-1e-6 {
		degrees, flipped = degrees+180, true
	}
	return math.Remainder(degrees, 360), flipped
}

// writeLines writes the lines of a name from its anchor on.
func (d *drawing) writeLines(l *label, s spot) {
	degrees, flipped := d.readable(s.angle / degree)
	end := "start"
	if flipped {
		end = "end"
	}
	// down leads from one line to the next.
	down := geometry.Unit(degrees*math.Pi/180 + math.Pi/2)
	space := geometry.Unit(s.angle).Scale(0.08)
	base := 0.35 * d.font
	if len(l.lines) > 1 {
		base = -0.12 * d.font
	}
	for i, words := range l.lines {
		class := "name"
		if i > 0 {
			class = "small"
		}
		if l.fault && i == 0 {
			words += faulty
		}
		d.text(s.anchor.Add(space).Add(down.Scale(base+float64(i)*0.98*d.font)), class, end, d.lineFont(i), degrees, words)
	}
}

// box is a rectangle that may be turned: a corner and two sides.
type box struct{ corner, a, b geometry.Point }

func (b box) corners() []geometry.Point {
	return []geometry.Point{b.corner, b.corner.Add(b.a), b.corner.Add(b.a).Add(b.b), b.corner.Add(b.b)}
}

// boxOf is the space that a name takes in the drawing.
func (d *drawing) boxOf(l *label, s spot) box {
	head := l.lines[0]
	if l.fault {
		head += faulty
	}
	length := d.long(head, d.font, true)
	for i, words := range l.lines[1:] {
		length = math.Max(length, d.long(words, d.lineFont(i+1), false))
	}
	along := geometry.Unit(s.angle).Scale(length + 0.1)
	side := geometry.Unit(s.angle + math.Pi/2).Scale(0.96 * pitch * d.font)
	return box{s.anchor.Sub(side.Scale(0.5)), along, side}
}

// faulty marks the name of a figure that is at fault.
const faulty = " (fault)"

// free reports whether a space covers no other writing and no floor.
func (d *drawing) free(b box) bool {
	return !d.written(b) && !d.everywhere(b, func(p geometry.Point) bool { return d.room.Clearance(at(p)) > 0 }, false)
}

// within reports whether a space lies on the empty floor.
func (d *drawing) within(b box) bool {
	if d.written(b) || !d.everywhere(b, func(p geometry.Point) bool { return d.room.Clearance(at(p)) > 0.3 }, true) {
		return false
	}
	for _, p := range d.trodden {
		if b.holds(p) {
			return false
		}
	}
	return true
}

// written reports whether a space covers other writing.
func (d *drawing) written(b box) bool {
	return slices.ContainsFunc(d.boxes, b.overlaps)
}

// everywhere asks something of many places in a space: whether it holds at all of
// them, or, when all is false, at any.
func (d *drawing) everywhere(b box, holds func(geometry.Point) bool, all bool) bool {
	for i := 0; i <= 10; i++ {
		for _, share := range []float64{0, 0.5, 1} {
			if holds(b.corner.Add(b.a.Scale(float64(i)/10)).Add(b.b.Scale(share))) != all {
				return !all
			}
		}
	}
	return all
}

// holds reports whether a place is in the box, or less than a foot's breadth from
// it.
func (b box) holds(p geometry.Point) bool {
	const edge = 0.1
	q := p.Sub(b.corner)
	for _, side := range []geometry.Point{b.a, b.b} {
		long := side.Len()
		if far := q.Dot(side) / long; far < -edge || far > long+edge {
			return false
		}
	}
	return true
}

// overlaps tells whether two boxes have more than an edge in common: no line
// along a side of either parts them.
func (b box) overlaps(c box) bool {
	for _, side := range []geometry.Point{b.a, b.b, c.a, c.b} {
		long := side.Len()
		if long == 0 {
			continue
		}
		axis := side.Scale(1 / long)
		b0, b1 := b.along(axis)
		c0, c1 := c.along(axis)
		if b1 <= c0+1e-9 || c1 <= b0+1e-9 {
			return false
		}
	}
	return true
}

// along is the stretch of an axis that the box lies on.
func (b box) along(axis geometry.Point) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, p := range b.corners() {
		low, high = math.Min(low, p.Dot(axis)), math.Max(high, p.Dot(axis))
	}
	return low, high
}
