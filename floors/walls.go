package floors

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"lapwright/figures/geometry"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/simplify"
)

// What makes a wall. All of it is our reasoning: common practice, no source.
const (
	jogDepth   = 0.6                 // metres: smaller jogs are smoothed
	flatTurn   = 25 * math.Pi / 180  // radians: a smaller bend joins two walls …
	flatBulge  = 1.6                 // … if the outline lies no more metres behind the joined wall …
	flatShare  = 0.05                // … or, in a large room, no more than this share of its width
	shortWall  = 2.0                 // metres: a shorter wall goes to its neighbours
	mostSquare = 150 * math.Pi / 180 // radians: a cut-off corner turns no more than this
	mostJoints = 500                 // corners left after smoothing
)

// joint is a corner between two walls.
type joint struct {
	at geometry.Point
	// The corner of the outline where the wall before ends and the one where
	// the wall after starts. They differ where a corner of the room is cut off
	// and the walls would meet outside.
	in, out int
}

// wallJoints finds the corners of the room as dancers see it.
func wallJoints(outline []geometry.Point) (*joints, error) {
	j := &joints{outline: outline}
	for _, i := range smoothed(outline) {
		j.list = append(j.list, joint{outline[i], i, i})
	}
	if n := len(j.list); n > mostJoints {
		return nil, fmt.Errorf("the outline has %d corners even when jogs of %g m are smoothed; draw it with at most %d", n, jogDepth, mostJoints)
	}
	perimeter := 0.0
	for i := range j.list {
		perimeter += j.side(i).Len()
	}
	j.short = math.Min(shortWall, perimeter/8)
	lo, hi := bounds(outline)
	j.bulge = math.Max(flatBulge, flatShare*math.Min(hi.X-lo.X, hi.Y-lo.Y))
	j.tidy()
	return j, nil
}

// smoothed lists, in order, the corners of the outline that remain when all
// within jogDepth of a straight line are left out (Douglas and Peucker's line
// simplification, by orb, on the two halves between corners that are far apart).
func smoothed(outline []geometry.Point) []int {
	farthest := func(from geometry.Point) int {
		best, at := -1.0, 0
		for i, p := range outline {
			if d := p.Sub(from).Len(); d > best+1e-6 {
				best, at = d, i
			}
		}
		return at
	}
	lo, hi := bounds(outline)
	one := farthest(lo.Between(hi, 0.5))
	two := farthest(outline[one])
	n := len(outline)
	var kept []int
	for _, half := range [2][2]int{{one, two}, {two, one}} {
		length := (half[1]-half[0]+n)%n + 1
		line := make(orb.LineString, length)
		number := make(map[orb.Point]int, length)
		for k := range line {
			i := (half[0] + k) % n
			line[k] = orb.Point{outline[i].X, outline[i].Y}
			number[line[k]] = i
		}
		line = simplify.DouglasPeucker(jogDepth).LineString(line)
		for _, p := range line[:len(line)-1] {
			kept = append(kept, number[p])
		}
	}
	return kept
}

// joints is the polygon of walls while it is being tidied.
type joints struct {
	outline []geometry.Point
	list    []joint
	short   float64 // metres: a shorter wall goes to its neighbours
	bulge   float64 // metres that the outline may lie behind a joined wall
}

func (j *joints) wrap(i int) int { n := len(j.list); return ((i % n) + n) % n }

func (j *joints) get(i int) joint { return j.list[j.wrap(i)] }

// side is the displacement along the wall that starts at corner i.
func (j *joints) side(i int) geometry.Point { return j.get(i + 1).at.Sub(j.get(i).at) }

// turn is the angle at corner i, left positive.
func (j *joints) turn(i int) float64 { return turnFrom(j.side(i-1), j.side(i)) }

func turnFrom(a, b geometry.Point) float64 { return math.Atan2(a.Cross(b), a.Dot(b)) }

// chain calls visit with the corners of the outline from one joint to another.
func (j *joints) chain(a, b joint, visit func(i int)) {
	n := len(j.outline)
	for i := a.out; ; i = (i + 1) % n {
		visit(i)
		if i == b.in {
			return
		}
	}
}

// stray is how far the outline lies inside and behind a straight wall from a to
// b, in metres.
func (j *joints) stray(a, b joint) (inside, behind float64) {
	u := b.at.Sub(a.at)
	length := u.Len()
	j.chain(a, b, func(i int) {
		d := u.Cross(j.outline[i].Sub(a.at)) / length
		inside, behind = math.Max(inside, d), math.Max(behind, -d)
	})
	return inside, behind
}

// tidy joins walls at flat bends and gives short ones to their neighbours until
// nothing is left to do.
func (j *joints) tidy() {
	for {
		for j.flatten() {
		}
		shortest := 0
		for i := range j.list {
			if j.side(i).Len() < j.side(shortest).Len()-1e-9 {
				shortest = i
			}
		}
		if j.side(shortest).Len() >= j.short-touch || !j.dissolve(shortest) {
			return
		}
	}
}

// flatten joins the two walls at the flattest bend, if any is flat enough.
func (j *joints) flatten() bool {
	if len(j.list) <= 3 {
		return false
	}
	type bend struct {
		at   int
		turn float64
	}
	var bends []bend
	for i := range j.list {
		if t := math.Abs(j.turn(i)); t < flatTurn {
			bends = append(bends, bend{i, math.Round(t * 1e6)})
		}
	}
	slices.SortStableFunc(bends, func(a, b bend) int { return cmp.Compare(a.turn, b.turn) })
	for _, b := range bends {
		inside, behind := j.stray(j.get(b.at-1), j.get(b.at+1))
		if inside <= jogDepth && behind <= j.bulge && j.fits(b.at, 1, nil) {
			j.replace(b.at, 1, nil)
			return true
		}
	}
	return false
}

// dissolve gives wall i to its neighbours in the way that strays least from the
// outline: a cut-off corner is squared; a jog, an alcove or a chimney breast is
// passed by; failing these, a corner goes.
func (j *joints) dissolve(i int) bool {
	best, from, count := math.Inf(1), 0, 0
	var square *joint
	if s := j.squared(i); s != nil && len(j.list) > 3 && j.fits(i, 2, s) {
		best, from, count, square = 0.3+0.1*j.side(i).Len(), i, 2, s
	}
	for size := 1; size <= 4 && len(j.list)-size >= 3; size++ {
		for first := i - size + 1; first <= i+1; first++ {
			a, b := j.get(first-1), j.get(first+size)
			chord := b.at.Sub(a.at)
			if chord.Len() < j.side(i).Len()+touch {
				continue
			}
			inside, behind := j.stray(a, b)
			cost := inside + 0.2*behind
			if inside > flatBulge {
				cost += 10
			}
			if math.Abs(turnFrom(j.side(first-1), chord)) > flatTurn ||
				math.Abs(turnFrom(chord, j.side(first+size-1))) > flatTurn {
				cost += 1.5
			}
			if cost < best-1e-9 && j.fits(first, size, nil) {
				best, from, count, square = cost, first, size, nil
			}
		}
	}
	if count == 0 {
		return false
	}
	j.replace(from, count, square)
	return true
}

// squared is the corner at which the neighbours of wall i would meet if the
// corner were not cut off, or nil where that makes no corner.
func (j *joints) squared(i int) *joint {
	before, after := j.turn(i), j.turn(i+1)
	if before*after <= 0 || math.Abs(before+after) > mostSquare {
		return nil
	}
	a, b := j.side(i-1), j.side(i+1)
	t := j.side(i).Cross(b) / a.Cross(b)
	at := j.get(i).at.Add(a.Scale(t))
	if !finite(at) || at.Sub(j.get(i).at).Len() > 2*j.side(i).Len() {
		return nil
	}
	return &joint{at, j.get(i).in, j.get(i + 1).out}
}

// fits reports whether the polygon stays simple and counter-clockwise when
// count corners from first on are replaced by one or none.
func (j *joints) fits(first, count int, by *joint) bool {
	n := len(j.list)
	left := make([]geometry.Point, 0, n)
	for k := count; k < n; k++ {
		left = append(left, j.get(first+k).at)
	}
	// The new sides are the last ones of the ring that starts after the gap.
	fresh := 1
	if by != nil {
		left = append(left, by.at)
		fresh = 2
	}
	m := len(left)
	if m < 3 || signedArea(left) < touch {
		return false
	}
	s := sides(left)
	for k := m - fresh; k < m; k++ {
		if s[k].a == s[k].b {
			return false
		}
		for o := range m {
			if o == k || (o+1)%m == k || (k+1)%m == o {
				continue
			}
			if geometry.Crosses(s[k].a, s[k].b, s[o].a, s[o].b) {
				return false
			}
		}
	}
	return true
}

func (j *joints) replace(first, count int, by *joint) {
	var list []joint
	n := len(j.list)
	for k := count; k < n; k++ {
		list = append(list, j.get(first+k))
	}
	if by != nil {
		list = append(list, *by)
	}
	j.list = list
}

// walls makes the walls, the one on which the outline's first corner lies
// first. Names are those of the sides of the outline, if there are any; a wall
// takes the name of its longest side.
func (j *joints) walls(names []string) []Wall {
	n := len(j.outline)
	for k := range j.list {
		a, b := j.get(k), j.get(k+1)
		if (n-a.in)%n < (b.in-a.in+n)%n {
			j.list = append(slices.Clone(j.list[k:]), j.list[:k]...)
			break
		}
	}
	walls := make([]Wall, len(j.list))
	for i := range walls {
		a, b := j.get(i), j.get(i+1)
		along := j.side(i)
		w := Wall{Index: i, Name: fmt.Sprintf("wall %d", i+1), From: a.at, To: b.at,
			Direction: along.Angle(), Length: along.Len(), Corner: j.turn(i + 1)}
		_, w.bulge = j.stray(a, b)
		if names != nil {
			longest := -1.0
			j.chain(a, b, func(k int) {
				if d := j.outline[(k+1)%n].Sub(j.outline[k]).Len(); k != b.in && d > longest+touch {
					longest, w.Name = d, names[k]
				}
			})
		}
		walls[i] = w
	}
	sortLong(walls)
	shareEighths(walls)
	return walls
}

// sortLong tells long walls from short ones.
func sortLong(walls []Wall) {
	shortest, longest := math.Inf(1), 0.0
	for _, w := range walls {
		shortest, longest = math.Min(shortest, w.Length), math.Max(longest, w.Length)
	}
	for i := range walls {
		w := &walls[i]
		w.Long = shortest >= 0.9*longest || w.Length >= (shortest+longest)/2-touch
	}
}

// shareEighths rounds the corners to eighths of a turn that add up to one whole
// turn: each to the nearest, and what is then missing goes, an eighth at a
// time, to the corners that were rounded farthest the other way.
func shareEighths(walls []Wall) {
	const eighth = math.Pi / 4
	sum := 0
	for i := range walls {
		w := &walls[i]
		w.Eighths = -int(math.Round(w.Corner / eighth))
		sum += w.Eighths
	}
	over := func(w *Wall) float64 { return w.Corner + float64(w.Eighths)*eighth }
	for sum != -8 {
		step := 1
		if sum > -8 {
			step = -1
		}
		best := 0
		for i := range walls {
			if float64(-step)*over(&walls[i]) > float64(-step)*over(&walls[best])+1e-9 {
				best = i
			}
		}
		walls[best].Eighths += step
		sum += step
	}
	for i := range walls {
		walls[i].Residual = over(&walls[i])
		if math.Abs(walls[i].Residual) < 1e-12 {
			walls[i].Residual = 0
		}
	}
}
