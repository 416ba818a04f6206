package sheet

import (
	"math"

	"lapwright/figures/geometry"
	"lapwright/floors"
)

// floor draws the room: floor, obstacles, walls, lane and their names.
func (d *drawing) floor() {
	outline := make([]geometry.Point, len(d.room.Outline))
	for i, p := range d.room.Outline {
		outline[i] = at(p)
	}
	d.group(`id="room"`)
	d.polygon("floor", outline)
	d.lane()
	for i := range d.room.Obstacles {
		d.obstacle(&d.room.Obstacles[i])
	}
	d.polygon("wall", outline)
	d.end()
}

// lane draws the middle of the lane with marks that point along the line of
// dance.
func (d *drawing) lane() {
	walls := d.room.Walls
	var points []geometry.Point
	for i := range walls {
		points = append(points, at(walls[i].Meet))
	}
	d.polygon("lane", points)
	for i := range walls {
		from, to := walls[(i+len(walls)-1)%len(walls)].Meet, walls[i].Meet
		if from.Sub(to).Len() < 1.5 {
			continue
		}
		d.chevron(at(from.Between(to, 0.5)), -to.Sub(from).Angle(), 0.22)
	}
}

// chevron is a mark that points along the line of dance; the direction is in the
// drawing's frame.
func (d *drawing) chevron(p geometry.Point, direction, size float64) {
	tip := geometry.Unit(direction).Scale(size / 2)
	side := geometry.Unit(direction + math.Pi/2).Scale(size / 2)
	d.polyline("dance", p.Sub(tip).Add(side), p.Add(tip), p.Sub(tip).Sub(side))
}

// obstacle draws what stands on the floor, with its name where there is space
// for it.
func (d *drawing) obstacle(o *floors.Obstacle) {
	var middle, size geometry.Point
	if o.Outline == nil {
		middle, size = at(o.Disc.Centre), geometry.Point{X: 2 * o.Disc.Radius, Y: 2 * o.Disc.Radius}
		d.circle("stands", middle, o.Disc.Radius)
	} else {
		points := make([]geometry.Point, len(o.Outline))
		low, high := at(o.Outline[0]), at(o.Outline[0])
		for i, p := range o.Outline {
			points[i] = at(p)
			low = geometry.Point{X: math.Min(low.X, points[i].X), Y: math.Min(low.Y, points[i].Y)}
			high = geometry.Point{X: math.Max(high.X, points[i].X), Y: math.Max(high.Y, points[i].Y)}
		}
		middle, size = low.Between(high, 0.5), high.Sub(low)
		d.polygon("stands", points)
	}
	d.obstacleName(o.Name, middle, size)
}

// obstacleName writes a name into an obstacle, along its longer side, or below a
// small one.
func (d *drawing) obstacleName(name string, middle, size geometry.Point) {
	if name == "" {
		return
	}
	font, degrees := 0.8*d.font, 0.0
	long, short := size.X, size.Y
	if size.Y > size.X {
		long, short, degrees = size.Y, size.X, -90
	}
	fits := math.Min(0.9*long/d.long(name, 1, false), 0.8*short)
	if fits < 0.55*font {
		d.below(name, middle, size, font)
		return
	}
	font = math.Min(font, fits)
	degrees, _ = d.readable(degrees)
	// The middle of the letters lies there, not their foot.
	d.text(middle.Add(geometry.Point{Y: 0.35 * font}.Rotate(degrees*degree)), "small", "middle", font, degrees, name)
}

// below writes a name below an obstacle, as the drawing is looked at.
func (d *drawing) below(name string, middle, size geometry.Point, font float64) {
	down, degrees := geometry.Point{Y: size.Y/2 + font}, 0.0
	if d.turned {
		down, degrees = geometry.Point{X: size.X/2 + font}, -90
	}
	d.text(middle.Add(down), "small", "middle", font, degrees, name)
}

// wallNames writes the walls' numbers and names.
func (d *drawing) wallNames() {
	d.group(`id="walls"`)
	for i := range d.room.Walls {
		d.wallName(&d.room.Walls[i])
	}
	d.end()
}

// wallName writes a wall's number and name inside the room along the wall, where
// nothing is in the way; where there is no space for all of it, less.
func (d *drawing) wallName(w *floors.Wall) {
	font := d.placeFont
	for _, name := range wallLabels(w) {
		length := 1.06 * d.long(name, font, false)
		if middle, found := d.alongWall(w, length, font); found {
			d.wallNameAt(w, middle, font, name)
			return
		}
	}
}

// alongWall finds where a name of some length is in nothing's way, from the middle of
// the wall on.
func (d *drawing) alongWall(w *floors.Wall, length, font float64) (middle float64, found bool) {
	for _, share := range []float64{0.5, 0.45, 0.55, 0.4, 0.6, 0.35, 0.65, 0.3, 0.7, 0.25, 0.75, 0.2, 0.8, 0.15, 0.85, 0.1, 0.9} {
		middle = share * w.Length
		if middle-length/2 >= 0.3 && middle+length/2 <= w.Length-0.3 && d.besideWall(w, middle, length, font) {
			return middle, true
		}
	}
	return 0, false
}

// wallNameAt writes a name along a wall.
func (d *drawing) wallNameAt(w *floors.Wall, middle, font float64, name string) {
	degrees, flipped := d.readable(-w.Direction / degree)
	across := 0.12 + 0.1*font
	if flipped {
		across += 0.72 * font
	}
	d.text(at(w.Place(middle, across)), "place", "middle", font, degrees, name)
}

// besideWall reports whether a stretch along a wall holds no obstacle, no thread
// and no foot.
func (d *drawing) besideWall(w *floors.Wall, middle, length, font float64) bool {
	from, to := at(w.Place(middle-length/2, 0.1)), at(w.Place(middle+length/2, 0.1))
	up := at(w.Place(0, font)).Sub(at(w.Place(0, 0)))
	b := box{from, to.Sub(from), up}
	for _, t := range d.threads {
		if geometry.Crosses(t[0], t[1], from, to) || geometry.Crosses(t[0], t[1], from.Add(up), to.Add(up)) {
			return false
		}
	}
	for _, p := range d.trodden {
		if b.holds(p) {
			return false
		}
	}
	return d.everywhere(b, func(p geometry.Point) bool { return d.room.Clearance(at(p)) > 0.02 }, true)
}
