package floors

import (
	"fmt"
	"math"
	"slices"

	"lapwright/figures/geometry"
)

// Where the lanes run. All of it is common practice, no source.
const (
	lane       = 1.5                 // metres from the wall to the middle of the lane
	laneShare  = 7.0 / 30            // of the room's depth, in a narrow room: 1.4 m of 6 m
	laneReach  = 2.5                 // metres past the lane that the wall is still in use
	cornerPast = 1.5                 // metres past the lanes that the corner reaches
	leastLane  = 0.05                // metres: a shorter lane is no lane
	against    = 0.5                 // metres: nobody passes behind what stands closer to a wall
	partition  = 100 * math.Pi / 180 // radians: a sharper turn to the right goes round a partition
	frontage   = 2.0                 // metres along the wall from which on an obstacle is a front, like a stage
)

// plan finds the walls and lanes of the room, and says why when there are none.
func (r *Room) plan(names []string) error {
	j, err := wallJoints(r.Outline)
	if err != nil {
		return err
	}
	for {
		r.Walls = j.walls(names)
		bad := r.lanes(true)
		if bad >= 0 {
			bad = r.lanes(false)
		}
		if bad < 0 {
			break
		}
		if !j.dissolve(bad) {
			return fmt.Errorf("the room is too small for any couple to dance round: along the wall from %s to %s, %.3g m long, no lane is left between the corners",
				place(r.Walls[bad].From), place(r.Walls[bad].To), r.Walls[bad].Length)
		}
		j.tidy()
	}
	if n := len(r.Walls); n > MaxWalls {
		return fmt.Errorf("the outline has %d walls, even with small jogs smoothed; %d are the most a lap is planned for", n, MaxWalls)
	}
	return r.passable()
}

// lanes lays the lanes, moved inwards for what stands against the walls if
// moved is set, and returns the index of a wall along which no lane is left, or
// −1.
func (r *Room) lanes(moved bool) (bad int) {
	corners := make([]geometry.Point, len(r.Walls))
	for i, w := range r.Walls {
		corners[i] = w.From
	}
	for i := range r.Walls {
		w := &r.Walls[i]
		w.middle = w.depth(corners) / 2
		w.Lane = math.Max(math.Min(lane, 2*w.middle*laneShare), CoupleRadius+r.Margin+leastLane)
		if moved {
			w.Lane = math.Max(w.Lane, r.moved(w))
		}
		w.Lane = math.Min(w.Lane, w.middle)
		w.Reach = math.Max(math.Min(w.Lane+laneReach, w.middle), w.Lane+laneReach/10)
		w.nearEnd = math.Min(w.Lane+cornerPast, w.Reach)
		w.nearStart = w.nearEnd
	}
	n := len(r.Walls)
	for i := range r.Walls {
		w, next := &r.Walls[i], r.next(i)
		w.Meet = meeting(w, next)
		w.round = cornerPast + math.Max(w.Lane, next.Lane)
	}
	bad = -1
	least := leastLane
	for i := range r.Walls {
		w, before := &r.Walls[i], &r.Walls[(i+n-1)%n]
		start, _ := w.Locate(before.Meet)
		end, _ := w.Locate(w.Meet)
		if end-start < least-1e-9 {
			bad, least = i, end-start
		}
		w.before = math.Max(0, cornerPast-start)
		w.past = math.Max(0, end-w.Length+cornerPast)
		w.underStart, w.underEnd = 0, 0
		if before.Corner < -partition {
			w.underStart = w.Lane
		}
		if w.Corner < -partition {
			w.underEnd = w.Lane
		}
	}
	return bad
}

// depth is how far the room reaches from the wall: of nine looks straight
// across, the third shortest, so that neither a corner nor an arm of the room
// decides alone.
func (w *Wall) depth(corners []geometry.Point) float64 {
	const looks = 9
	found := make([]float64, looks)
	u := w.heading()
	in := geometry.Point{X: -u.Y, Y: u.X}
	for k := range found {
		from := w.From.Between(w.To, (float64(k)+0.5)/looks)
		found[k] = math.Inf(1)
		for i, a := range corners {
			if i == w.Index {
				continue
			}
			s := corners[(i+1)%len(corners)].Sub(a)
			turn := in.Cross(s)
			if turn == 0 {
				continue
			}
			far := a.Sub(from).Cross(s) / turn
			share := a.Sub(from).Cross(in) / turn
			if far > touch && share >= -1e-9 && share <= 1+1e-9 {
				found[k] = math.Min(found[k], far)
			}
		}
	}
	slices.Sort(found)
	return found[looks/4]
}

// moved is the least distance of the lane from the wall, in metres, that what
// stands against the wall asks for: a front such as a stage is danced along
// like a wall, something narrow is only cleared. What stands free of the wall
// does not move the lane, nor does what is deeper than it is wide or fills a
// corner: that is gone round.
func (r *Room) moved(w *Wall) float64 {
	need := 0.0
	for _, o := range r.Obstacles {
		from, to, near, far := w.extent(o)
		width := math.Min(to, w.Length) - math.Max(from, 0)
		if near > against || far <= 0 || width < far-touch || width <= 0 {
			continue
		}
		if (from < against || to > w.Length-against) && width < w.Length/2 {
			continue
		}
		if width >= frontage {
			need = math.Max(need, far+lane)
		} else {
			need = math.Max(need, far+CoupleRadius+r.Margin)
		}
	}
	return need
}

// extent is the stretch of the wall, in metres from its start, that an obstacle
// takes up, and its nearest and farthest distance from the wall.
func (w *Wall) extent(o Obstacle) (from, to, near, far float64) {
	if o.Outline == nil {
		along, across := w.Locate(o.Disc.Centre)
		near = geometry.PointGap(o.Disc.Centre, w.From, w.To) - o.Disc.Radius
		return along - o.Disc.Radius, along + o.Disc.Radius, near, across + o.Disc.Radius
	}
	from, to, near, far = math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for i, p := range o.Outline {
		along, across := w.Locate(p)
		from, to, far = math.Min(from, along), math.Max(to, along), math.Max(far, across)
		near = math.Min(near, geometry.SegmentGap(p, o.Outline[(i+1)%len(o.Outline)], w.From, w.To))
	}
	return from, to, near - w.bulge, far
}

// meeting is the place where the lanes of two neighbouring walls meet. Where
// the walls bend so little, or the lanes run so far past a corner, that the
// lines meet nowhere near, it is on the line that halves the corner.
func meeting(w, next *Wall) geometry.Point {
	half := geometry.Unit(w.Direction + w.Corner/2 + math.Pi/2)
	a, b := w.heading(), next.heading()
	wide := math.Max(w.Lane, next.Lane)
	if math.Abs(w.Corner) < math.Pi/9 {
		return w.To.Add(half.Scale((w.Lane + next.Lane) / 2 / math.Cos(w.Corner/2)))
	}
	turn := a.Cross(b)
	from := w.Place(w.Length, w.Lane)
	meet := from.Add(a.Scale(next.Place(0, next.Lane).Sub(from).Cross(b) / turn))
	if w.Corner < 0 && !(meet.Sub(w.To).Len() <= 2*wide) {
		return w.To.Add(half.Scale(wide))
	}
	return meet
}

// passable checks that a couple fits into the room, can take every corner, and
// can get from each corner to the next.
func (r *Room) passable() error {
	f := r.Field(r.coarse())
	if widest := r.widest(f); widest < CoupleRadius+r.Margin {
		return fmt.Errorf("the room is too small for any couple: a free circle of %.3g m radius is needed (%.3g m for the couple and %.3g m margin), and the largest one in the room has %.3g m",
			CoupleRadius+r.Margin, CoupleRadius, r.Margin, widest)
	}
	need := cornerRadius + r.Margin
	parts := f.parts(need)
	n := len(r.Walls)
	var common map[int32]bool
	for i := range r.Walls {
		w, next := &r.Walls[i], r.next(i)
		here, best := r.cornerParts(f, parts, i)
		for len(here) == 0 && r.widen(i) {
			here, best = r.cornerParts(f, parts, i)
		}
		if len(here) == 0 {
			return fmt.Errorf("no couple can take the corner from wall %d to wall %d near %s: a free circle of %.3g m radius is needed (%.3g m for the couple and %.3g m margin), and the largest one there has %.3g m; move what stands there, or draw the outline without this corner",
				i+1, (i+1)%n+1, place(w.To), need, cornerRadius, r.Margin, math.Max(0, best))
		}
		if common == nil {
			common = here
			continue
		}
		for part := range common {
			if !here[part] {
				delete(common, part)
			}
		}
		if len(common) == 0 {
			return fmt.Errorf("no couple can get round the room: the corner from wall %d to wall %d, near %s, cannot be reached from the corners before it, because every way there is narrower than %.3g m (%.3g m for the couple and %.3g m margin on both sides)",
				i+1, next.Index+1, place(w.To), 2*need, 2*cornerRadius, r.Margin)
		}
	}
	return nil
}

// widen moves the limits of the corner at the end of a wall half a metre away
// from what blocks it, such as a piano that fills the corner, and reports
// whether there was room for that before the middle of the room.
func (r *Room) widen(wall int) bool {
	const step = 0.5
	w, next := &r.Walls[wall], r.next(wall)
	wider := false
	farther := func(near *float64, of *Wall) {
		if limit := math.Max(of.middle, of.Reach); *near < limit {
			*near, wider = math.Min(*near+step, limit), true
			of.Reach = math.Max(of.Reach, *near)
		}
	}
	farther(&w.nearEnd, w)
	farther(&next.nearStart, next)
	if wider {
		w.round += 2 * step
	}
	return wider
}

// cornerRadius is the radius in metres of the free circle in which a couple can
// take a corner, margin not counted. Common practice, no source.
const cornerRadius = 0.7

// Widest is the radius in metres of the largest free circle in the room, to about a
// millimetre. A couple needs one of [CoupleRadius] besides the margin.
func (r *Room) Widest() float64 { return r.widest(r.Field(r.coarse())) }

// coarse is the step in metres of a lattice that is fine enough to find free circles.
func (r *Room) coarse() float64 {
	lo, hi := r.Bounds()
	if size := hi.Sub(lo); size.X*size.Y > 4000 {
		return 0.2
	}
	return 0.1
}

// widest is the radius of the largest free circle, to about a millimetre: the
// best point of the lattice, improved by ever smaller steps.
func (r *Room) widest(f *Field) float64 {
	best, at := math.Inf(-1), geometry.Point{}
	for i, c := range f.Clear {
		if float64(c) > best {
			best, at = float64(c), f.Place(i%f.Columns, i/f.Columns)
		}
	}
	best = r.Clearance(at)
	for step := f.Step; step > touch/2; step /= 2 {
		for moved := true; moved; {
			moved = false
			for k := range 8 {
				p := at.Add(geometry.Unit(float64(k) * math.Pi / 4).Scale(step))
				if c := r.Clearance(p); c > best+touch/100 {
					best, at, moved = c, p, true
				}
			}
		}
	}
	return best
}

// parts numbers the connected parts of the lattice where the clearance is at
// least need, from 1; other points have 0.
func (f *Field) parts(need float64) []int32 {
	parts := make([]int32, len(f.Clear))
	var stack []int
	number := int32(0)
	open := func(i int) bool { return parts[i] == 0 && float64(f.Clear[i]) >= need }
	for start := range parts {
		if !open(start) {
			continue
		}
		number++
		parts[start] = number
		stack = append(stack[:0], start)
		for len(stack) > 0 {
			i := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			// The lattice runs past the outline, so open points are never on
			// its rim.
			for _, k := range [4]int{i - 1, i + 1, i - f.Columns, i + f.Columns} {
				if open(k) {
					parts[k] = number
					stack = append(stack, k)
				}
			}
		}
	}
	return parts
}

// cornerParts lists the parts in which the corner at the end of a wall can be
// taken, and the best clearance found there.
func (r *Room) cornerParts(f *Field, parts []int32, wall int) (here map[int32]bool, best float64) {
	w := &r.Walls[wall]
	here = map[int32]bool{}
	reach := geometry.Point{X: w.round, Y: w.round}
	lo, hi := w.Meet.Sub(reach).Sub(f.Origin).Scale(1/f.Step), w.Meet.Add(reach).Sub(f.Origin).Scale(1/f.Step)
	for row := max(0, int(lo.Y)); row <= min(f.Rows-1, int(hi.Y)+1); row++ {
		for column := max(0, int(lo.X)); column <= min(f.Columns-1, int(hi.X)+1); column++ {
			if !r.InCorner(wall, f.Place(column, row)) {
				continue
			}
			i := row*f.Columns + column
			best = math.Max(best, float64(f.Clear[i]))
			if parts[i] > 0 {
				here[parts[i]] = true
			}
		}
	}
	return here, best
}
