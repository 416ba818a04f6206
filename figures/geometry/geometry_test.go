package geometry

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"pgregory.net/rapid"
)

const near = 1e-9

func drawPoint(t *rapid.T, name string) Point {
	// Half of the points lie on a coarse grid, so that segments touch, overlap
	// and have no length.
	if rapid.Bool().Draw(t, name+" on the grid") {
		grid := rapid.IntRange(-3, 3)
		return Point{float64(grid.Draw(t, name+" x")), float64(grid.Draw(t, name+" y"))}
	}
	f := rapid.Float64Range(-3, 3)
	return Point{f.Draw(t, name+" x"), f.Draw(t, name+" y")}
}

func drawAngle(t *rapid.T) float64 { return rapid.Float64Range(-7, 7).Draw(t, "angle") }

// TestVectorsAgreeWithGonum compares with the r2 vectors of gonum.
func TestVectorsAgreeWithGonum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, q, angle := drawPoint(t, "p"), drawPoint(t, "q"), drawAngle(t)
		k := rapid.Float64Range(-5, 5).Draw(t, "k")
		a, b := r2.Vec{X: p.X, Y: p.Y}, r2.Vec{X: q.X, Y: q.Y}
		for name, pair := range map[string][2]Point{
			"Rotate": {p.Rotate(angle), Point(r2.Rotate(a, angle, r2.Vec{}))},
			"Add":    {p.Add(q), Point(r2.Add(a, b))},
			"Sub":    {p.Sub(q), Point(r2.Sub(a, b))},
			"Scale":  {p.Scale(k), Point(r2.Scale(k, a))},
		} {
			if pair[0].Sub(pair[1]).Len() > near {
				t.Fatalf("%s gives %v, gonum %v", name, pair[0], pair[1])
			}
		}
		for name, pair := range map[string][2]float64{
			"Dot": {p.Dot(q), r2.Dot(a, b)}, "Cross": {p.Cross(q), r2.Cross(a, b)}, "Len": {p.Len(), r2.Norm(a)},
		} {
			if math.Abs(pair[0]-pair[1]) > near {
				t.Fatalf("%s gives %v, gonum %v", name, pair[0], pair[1])
			}
		}
	})
}

func TestRotations(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, a, b := drawPoint(t, "p"), drawAngle(t), drawAngle(t)
		if p.Rotate(a).Rotate(b).Sub(p.Rotate(a+b)).Len() > near {
			t.Fatalf("two rotations of %v by %v and %v are not one", p, a, b)
		}
		if p.Rotate(a).Rotate(-a).Sub(p).Len() > near || math.Abs(p.Rotate(a).Len()-p.Len()) > near {
			t.Fatalf("%v does not come back from %v", p, a)
		}
		if math.Abs(math.Remainder(Unit(a).Angle()-a, 2*math.Pi)) > near {
			t.Fatalf("the unit in direction %v has the angle %v", a, Unit(a).Angle())
		}
	})
}

func TestBetween(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, q := drawPoint(t, "p"), drawPoint(t, "q")
		share := rapid.Float64Range(0, 1).Draw(t, "share")
		m := p.Between(q, share)
		if p.Between(q, 0).Sub(p).Len() > near || p.Between(q, 1).Sub(q).Len() > near ||
			math.Abs(m.Sub(p).Len()+m.Sub(q).Len()-q.Sub(p).Len()) > near {
			t.Fatalf("a share %v of the way from %v to %v is %v", share, p, q, m)
		}
	})
}

// plainGap finds the distance between two segments by narrowing a search, which
// is slow and sure: the distance from a point of one to the other is convex.
func plainGap(a, b, c, d Point) float64 {
	from := func(s float64) float64 { return PointGap(a.Between(b, s), c, d) }
	low, high := 0.0, 1.0
	for range 120 {
		third := (high - low) / 3
		if from(low+third) <= from(high-third) {
			high -= third
		} else {
			low += third
		}
	}
	return math.Min(from((low+high)/2), math.Min(from(0), from(1)))
}

func TestSegmentGap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, c, d := drawPoint(t, "a"), drawPoint(t, "b"), drawPoint(t, "c"), drawPoint(t, "d")
		gap := SegmentGap(a, b, c, d)
		if want := plainGap(a, b, c, d); math.Abs(gap-want) > 1e-6 {
			t.Fatalf("gap is %v, the plain search finds %v", gap, want)
		}
		for name, other := range map[string]float64{
			"the other one first": SegmentGap(c, d, a, b), "the first one backwards": SegmentGap(b, a, c, d),
			"the second one backwards": SegmentGap(a, b, d, c),
		} {
			if math.Abs(gap-other) > near {
				t.Fatalf("gap is %v, with %s %v", gap, name, other)
			}
		}
		angle, by := drawAngle(t), drawPoint(t, "by")
		move := func(p Point) Point { return p.Rotate(angle).Add(by) }
		if moved := SegmentGap(move(a), move(b), move(c), move(d)); math.Abs(gap-moved) > 1e-6 {
			t.Fatalf("gap is %v, and %v when both are moved", gap, moved)
		}
		// Segments that touch but for rounding may count either way.
		crosses := Crosses(a, b, c, d)
		if crosses != (gap == 0) && gap > near {
			t.Fatalf("gap is %v, Crosses is %v", gap, crosses)
		}
		if crosses != Crosses(d, c, b, a) && gap > near {
			t.Fatalf("gap is %v, yet Crosses depends on the order", gap)
		}
	})
}

func TestPointGap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, a, b := drawPoint(t, "p"), drawPoint(t, "a"), drawPoint(t, "b")
		gap := PointGap(p, a, b)
		share := rapid.Float64Range(0, 1).Draw(t, "share")
		if far := p.Sub(a.Between(b, share)).Len(); gap > far+near {
			t.Fatalf("gap is %v, yet a point of the segment is %v away", gap, far)
		}
		if got := PointGap(a.Between(b, share), a, b); got > near {
			t.Fatalf("a point of the segment is %v away from it", got)
		}
		if got := SegmentGap(p, p, a, b); math.Abs(got-gap) > near {
			t.Fatalf("as a segment without length the point is %v away, as a point %v", got, gap)
		}
	})
}

func TestCrosses(t *testing.T) {
	for _, row := range []struct {
		name       string
		a, b, c, d Point
		want       bool
	}{
		{"a cross", Point{-1, 0}, Point{1, 0}, Point{0, -1}, Point{0, 1}, true},
		{"a tee", Point{-1, 0}, Point{1, 0}, Point{0, 0}, Point{0, 1}, true},
		{"end to end", Point{0, 0}, Point{1, 0}, Point{1, 0}, Point{2, 1}, true},
		{"overlapping in line", Point{0, 0}, Point{2, 0}, Point{1, 0}, Point{3, 0}, true},
		{"one within the other", Point{0, 0}, Point{3, 0}, Point{1, 0}, Point{2, 0}, true},
		{"apart in line", Point{0, 0}, Point{1, 0}, Point{2, 0}, Point{3, 0}, false},
		{"parallel", Point{0, 0}, Point{1, 0}, Point{0, 1}, Point{1, 1}, false},
		{"short of each other", Point{-1, 0}, Point{1, 0}, Point{0, 0.1}, Point{0, 1}, false},
		{"a point on it", Point{0, 0}, Point{2, 0}, Point{1, 0}, Point{1, 0}, true},
		{"a point beside it", Point{0, 0}, Point{2, 0}, Point{1, 1}, Point{1, 1}, false},
		{"the same point", Point{1, 1}, Point{1, 1}, Point{1, 1}, Point{1, 1}, true},
		{"two points", Point{1, 1}, Point{1, 1}, Point{1, 2}, Point{1, 2}, false},
		{"points in line with each other", Point{0, 0}, Point{0, 0}, Point{0, 1}, Point{0, 2}, false},
	} {
		if got := Crosses(row.a, row.b, row.c, row.d); got != row.want {
			t.Errorf("%s: %v, want %v", row.name, got, row.want)
		}
	}
}

func TestCapsuleGap(t *testing.T) {
	long := Capsule{Point{0, 0}, Point{1, 0}, 0.1}
	for _, row := range []struct {
		name  string
		other Capsule
		want  float64
	}{
		{"beside", Capsule{Point{0, 1}, Point{1, 1}, 0.2}, 0.7},
		{"ahead", Capsule{Point{2, 0}, Point{2, 0}, 0.3}, 0.6},
		{"touching", Capsule{Point{0.5, 0.3}, Point{0.5, 1}, 0.2}, 0},
		{"overlapping", Capsule{Point{0.5, 0}, Point{0.5, 1}, 0.2}, -0.3},
	} {
		for _, got := range []float64{long.Gap(row.other), row.other.Gap(long)} {
			if math.Abs(got-row.want) > near {
				t.Errorf("%s: %v, want %v", row.name, got, row.want)
			}
		}
	}
}
