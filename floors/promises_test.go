package floors_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"lapwright/figures/geometry"
	"lapwright/floors"

	"pgregory.net/rapid"
)

// faulty is what testing.T and rapid.T have in common.
type faulty interface {
	Errorf(format string, args ...any)
	Fatalf(format string, args ...any)
}

// promises checks what holds for every room that loads.
func promises(t faulty, r *floors.Room) {
	n := len(r.Walls)
	if n < 3 || n > floors.MaxWalls {
		t.Fatalf("%d walls", n)
	}
	turned, eighths, residual := 0.0, 0, 0.0
	for i := range r.Walls {
		w, next := &r.Walls[i], &r.Walls[(i+1)%n]
		turned += w.Corner
		eighths += w.Eighths
		residual += w.Residual
		if w.Index != i || w.To != next.From || w.Name == "" || !(w.Length > 0) || !(w.Lane > 0) || w.Reach < w.Lane {
			t.Errorf("wall %d: %+v", i, w)
		}
		if d := w.To.Sub(w.From); math.Abs(math.Remainder(d.Angle()-w.Direction, 2*math.Pi)) > 1e-9 {
			t.Errorf("wall %d runs %g, not along %g", i, d.Angle(), w.Direction)
		}
		if math.Abs(w.Corner+float64(w.Eighths)*math.Pi/4-w.Residual) > 1e-9 || math.Abs(w.Residual) > math.Pi/4+1e-9 {
			t.Errorf("corner %d turns %g with %d eighths and %g left", i, w.Corner, w.Eighths, w.Residual)
		}
		corner(t, r, i)
	}
	if math.Abs(turned-2*math.Pi) > 1e-6 || eighths != -8 || math.Abs(residual) > 1e-6 {
		t.Errorf("corners turn %g, %d eighths, residuals %g", turned, eighths, residual)
	}
	if !(r.LapLength() > 0) || !(r.Area() > 0) || r.Couples() < 1 || r.CouplesAtMost() < r.Couples() {
		t.Errorf("lap %g m, area %g m², couples %d to %d", r.LapLength(), r.Area(), r.Couples(), r.CouplesAtMost())
	}
}

// corner checks that there is free floor for a couple where the next wall can
// be taken, and that both walls are in use there.
func corner(t faulty, r *floors.Room, i int) {
	w := &r.Walls[i]
	best := math.Inf(-1)
	const step = 0.1
	from, span := w.Meet.Sub(geometry.Point{X: 12, Y: 12}), 240
	for row := range span {
		for column := range span {
			p := from.Add(geometry.Point{X: float64(column) * step, Y: float64(row) * step})
			if !r.InCorner(i, p) {
				continue
			}
			walls := r.WallsAt(p)
			if !r.InUse(i, p) || !r.InUse((i+1)%len(r.Walls), p) || !slices.Contains(walls, i) {
				t.Fatalf("in corner %d at %v but walls in use are %v", i, p, walls)
			}
			best = math.Max(best, r.Clearance(p))
		}
	}
	// The lattice here is another than the one the room was checked on.
	if best < 0.7+r.Margin-step {
		t.Errorf("corner %d has no free floor for a couple: %.2f m", i, best)
	}
}

// TestTurnedRooms: a room that is moved and turned has its walls moved and
// turned, and is the same room otherwise.
func TestTurnedRooms(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.SampledFrom(floors.BuiltIn()).Draw(t, "room")
		angle := rapid.Float64Range(-math.Pi, math.Pi).Draw(t, "angle")
		by := geometry.Point{
			X: rapid.Float64Range(-100, 100).Draw(t, "x"),
			Y: rapid.Float64Range(-100, 100).Draw(t, "y"),
		}
		move := func(p geometry.Point) geometry.Point { return p.Rotate(angle).Add(by) }
		moveAll := func(ps []geometry.Point) []geometry.Point {
			var moved []geometry.Point
			for _, p := range ps {
				moved = append(moved, move(p))
			}
			return moved
		}
		things := "obstacles: ["
		for _, o := range r.Obstacles {
			if o.Outline == nil {
				c := move(o.Disc.Centre)
				things += fmt.Sprintf("{centre: [%v, %v], radius: %v}, ", c.X, c.Y, o.Disc.Radius)
			} else {
				things += fmt.Sprintf("{outline: %s}, ", ring(moveAll(o.Outline)))
			}
		}
		m, err := floors.Load("moved.yaml", file(moveAll(r.Outline), things+"]"))
		if err != nil {
			t.Fatal(err)
		}
		if len(m.Walls) != len(r.Walls) {
			t.Fatalf("%d walls became %d", len(r.Walls), len(m.Walls))
		}
		for i := range r.Walls {
			a, b := &r.Walls[i], &m.Walls[i]
			if move(a.From).Sub(b.From).Len() > 1e-6 || move(a.Meet).Sub(b.Meet).Len() > 1e-6 ||
				math.Abs(math.Remainder(a.Direction+angle-b.Direction, 2*math.Pi)) > 1e-6 ||
				math.Abs(a.Lane-b.Lane) > 1e-6 || math.Abs(a.Reach-b.Reach) > 1e-6 ||
				a.Long != b.Long || a.Eighths != b.Eighths {
				t.Errorf("wall %d was %+v and became %+v", i, a, b)
			}
		}
		lo, hi := r.Bounds()
		p := geometry.Point{
			X: rapid.Float64Range(lo.X-2, hi.X+2).Draw(t, "px"),
			Y: rapid.Float64Range(lo.Y-2, hi.Y+2).Draw(t, "py"),
		}
		if a, b := r.Clearance(p), m.Clearance(move(p)); math.Abs(a-b) > 1e-6 {
			t.Errorf("clearance at %v was %g and became %g", p, a, b)
		}
		promises(t, m)
	})
}

// TestOddRooms: rooms of any shape either load and keep the promises or are
// refused; the rooms are stars of 4 to 14 corners about a middle.
func TestOddRooms(t *testing.T) {
	loaded := 0
	rapid.Check(t, func(t *rapid.T) {
		r, err := floors.Load("odd.yaml", file(oddOutline(t)))
		if err != nil {
			return
		}
		loaded++
		promises(t, r)
	})
	if loaded < 10 {
		t.Errorf("only %d odd rooms loaded", loaded)
	}
}

// oddOutline draws a simple polygon: corners in the order of their direction
// from the middle, no two neighbours half a turn apart.
func oddOutline(t *rapid.T) []geometry.Point {
	n := rapid.IntRange(4, 14).Draw(t, "corners")
	var outline []geometry.Point
	for i := range n {
		share := rapid.Float64Range(0.05, 0.95).Draw(t, "direction")
		far := rapid.Float64Range(3, 20).Draw(t, "distance")
		outline = append(outline, geometry.Unit(2*math.Pi*(float64(i)+share)/float64(n)).Scale(far))
	}
	return outline
}
