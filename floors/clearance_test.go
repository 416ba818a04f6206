package floors_test

import (
	"math"
	"testing"

	"lapwright/figures/geometry"
	"lapwright/floors"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"pgregory.net/rapid"
)

// plain computes the clearance the slow way: every edge in turn for the
// distance, orb for inside and outside.
func plain(r *floors.Room, p geometry.Point) float64 {
	gap := ringGap(r.Outline, p)
	free := planar.RingContains(orbRing(r.Outline), orb.Point{p.X, p.Y})
	for _, o := range r.Obstacles {
		if o.Outline == nil {
			d := p.Sub(o.Disc.Centre).Len() - o.Disc.Radius
			gap = math.Min(gap, math.Abs(d))
			free = free && d >= 0
			continue
		}
		gap = math.Min(gap, ringGap(o.Outline, p))
		free = free && !planar.RingContains(orbRing(o.Outline), orb.Point{p.X, p.Y})
	}
	if free {
		return gap
	}
	return -gap
}

func ringGap(ring []geometry.Point, p geometry.Point) float64 {
	gap := math.Inf(1)
	for i, a := range ring {
		gap = math.Min(gap, geometry.PointGap(p, a, ring[(i+1)%len(ring)]))
	}
	return gap
}

func orbRing(ring []geometry.Point) orb.Ring {
	var o orb.Ring
	for _, p := range ring {
		o = append(o, orb.Point{p.X, p.Y})
	}
	return append(o, o[0])
}

func agree(t faulty, r *floors.Room, p geometry.Point) {
	got, want := r.Clearance(p), plain(r, p)
	if math.Abs(math.Abs(got)-math.Abs(want)) > 1e-9 || math.Abs(want) > 1e-9 && (got > 0) != (want > 0) {
		t.Errorf("%s: clearance at %v is %g, want %g", r.Name, p, got, want)
	}
}

func TestClearanceKnown(t *testing.T) {
	hall, _ := floors.Named("village hall")
	ballroom, _ := floors.Named("ballroom")
	for _, c := range []struct {
		name string
		room *floors.Room
		p    geometry.Point
		want float64
	}{
		{"middle of the hall", hall, geometry.Point{X: 9, Y: 5.5}, 5.5},
		{"by the lane side", hall, geometry.Point{X: 9, Y: 1.5}, 1.5},
		{"before the stage", hall, geometry.Point{X: 16.2, Y: 5}, 0.8},
		{"on the stage", hall, geometry.Point{X: 17.25, Y: 5}, -0.25},
		{"past the stage's corner", hall, geometry.Point{X: 16.7, Y: 2.6}, 0.5},
		{"outside", hall, geometry.Point{X: -3, Y: -4}, -5},
		{"on the wall", hall, geometry.Point{X: 5, Y: 0}, 0},
		{"by a column", ballroom, geometry.Point{X: 6, Y: 5.2}, 0.65},
		{"in a column", ballroom, geometry.Point{X: 6.1, Y: 4.2}, -0.25},
	} {
		if got := c.room.Clearance(c.p); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%s: %g, want %g", c.name, got, c.want)
		}
	}
}

func TestClearanceAgreesWithThePlainWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.SampledFrom(floors.BuiltIn()).Draw(t, "room")
		if odd, err := floors.Load("odd.yaml", file(oddOutline(t), "obstacles: [{centre: [0, 0], radius: 0.2}, {outline: [[0.1, 0], [0.5, 0.1], [0, 0.5]]}]")); err == nil && rapid.Bool().Draw(t, "odd") {
			r = odd
		}
		lo, hi := r.Bounds()
		for range 50 {
			p := geometry.Point{
				X: rapid.Float64Range(lo.X-3, hi.X+3).Draw(t, "x"),
				Y: rapid.Float64Range(lo.Y-3, hi.Y+3).Draw(t, "y"),
			}
			agree(t, r, p)
		}
		// Places that line up with corners are where a side is told wrongly.
		for _, c := range r.Outline {
			d := rapid.Float64Range(0.001, 4).Draw(t, "distance")
			for k := range 8 {
				agree(t, r, c.Add(geometry.Unit(float64(k)*math.Pi/4).Scale(d)))
			}
		}
	})
}

func TestClearanceOfManyCorners(t *testing.T) {
	for _, r := range []*floors.Room{
		load(t, circle(10000, 10)),
		load(t, wavy(3000, 14), "obstacles: [{centre: [2, 3], radius: 0.4}]"),
	} {
		for k := range 400 {
			p := geometry.Unit(float64(k) * 2.4).Scale(float64(k) * 0.04)
			agree(t, r, p)
		}
		for k := 0; k < len(r.Outline); k += 97 {
			agree(t, r, r.Outline[k].Scale(0.999))
			agree(t, r, r.Outline[k].Scale(1.001))
		}
	}
}

// wavy is a round hall whose wall has a small wave.
func wavy(n int, radius float64) []geometry.Point {
	p := circle(n, radius)
	for i := range p {
		p[i] = p[i].Scale(1 + 0.01*math.Sin(float64(i)))
	}
	return p
}

func TestClearanceOfNoPlace(t *testing.T) {
	r, _ := floors.Named("studio")
	for _, p := range points(math.NaN(), 1, 1, math.Inf(1), 1e300, 1e300, math.Inf(-1), math.NaN()) {
		if got := r.Clearance(p); !math.IsInf(got, -1) {
			t.Errorf("clearance at %v is %g", p, got)
		}
	}
	var none floors.Room
	if got := none.Clearance(geometry.Point{}); !math.IsInf(got, -1) {
		t.Errorf("a room that was not loaded has clearance %g", got)
	}
	wall, _ := none.LineOfDance(geometry.Point{})
	if wall != -1 || none.InUse(0, geometry.Point{}) || none.InCorner(0, geometry.Point{}) || none.LapLength() != 0 || none.Area() != 0 {
		t.Error("a room that was not loaded has floor to dance on")
	}
	none.Field(0.5)
}

func TestField(t *testing.T) {
	rooms := append(floors.BuiltIn(), load(t, wavy(500, 9)),
		load(t, points(-3.33, 0, 7, -5, 11, 4, 0, 9), "obstacles: [{centre: [3, 2], radius: 0.5}, {centre: [3.2, 2.2], radius: 0.5}, {outline: [[2, 2], [3, 2], [3, 3.7]]}]"))
	for _, r := range rooms {
		for _, step := range []float64{0.05, 0.3} {
			f := r.Field(step)
			lo, hi := r.Bounds()
			last := f.Place(f.Columns-1, f.Rows-1)
			if f.Step != step || f.Origin.X > lo.X-1.5+1e-9 || f.Origin.Y > lo.Y-1.5+1e-9 || last.X < hi.X+1.5-1e-9 || last.Y < hi.Y+1.5-1e-9 {
				t.Errorf("%s: lattice from %v to %v", r.Name, f.Origin, last)
			}
			if x := f.Origin.X / step; math.Abs(x-math.Round(x)) > 1e-9 {
				t.Errorf("%s: origin %v is no multiple of %g", r.Name, f.Origin, step)
			}
			for row := range f.Rows {
				for column := range f.Columns {
					want := r.Clearance(geometry.Point{X: f.Origin.X + float64(column)*step, Y: f.Origin.Y + float64(row)*step})
					if got := f.At(column, row); got != float64(float32(want)) {
						t.Fatalf("%s: %g at %d, %d, want %g", r.Name, got, column, row, want)
					}
				}
			}
			if !math.IsInf(f.At(-1, 0), -1) || !math.IsInf(f.At(0, f.Rows), -1) {
				t.Error("there is floor off the lattice")
			}
		}
	}
}

func TestFieldSteps(t *testing.T) {
	r, _ := floors.Named("studio")
	for _, step := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if f := r.Field(step); f.Step != 0.05 {
			t.Errorf("a step of %g became %g", step, f.Step)
		}
	}
	if f := r.Field(1e-9); f.Columns*f.Rows > 1<<25 || f.Step < 1e-3 {
		t.Errorf("a step of a nanometre became %g with %d × %d points", f.Step, f.Columns, f.Rows)
	}
}

func TestArea(t *testing.T) {
	square := points(0, 0, 12, 0, 12, 10, 0, 10)
	for _, c := range []struct {
		name, obstacles string
		want, within    float64
	}{
		{"bare", "obstacles: []", 120, 1e-12},
		{"a column", "obstacles: [{centre: [6, 5], radius: 1}]", 120 - math.Pi, 1e-12},
		{"two that touch", "obstacles: [{outline: [[4, 4], [5, 4], [5, 5], [4, 5]]}, {outline: [[5, 4], [6, 4], [6, 5], [5, 5]]}]", 118, 1e-12},
		{"two that overlap", "obstacles: [{outline: [[4, 4], [6, 4], [6, 5], [4, 5]]}, {outline: [[5, 4], [7, 4], [7, 5], [5, 5]]}]", 117, 1e-3},
		{"a circle twice", "obstacles: [{centre: [6, 5], radius: 1}, {centre: [6, 5], radius: 1}]", 120 - math.Pi, 1e-3},
	} {
		if got := load(t, square, c.obstacles).Area(); math.Abs(got-c.want) > c.within {
			t.Errorf("%s: %g m², want %g", c.name, got, c.want)
		}
	}
}
