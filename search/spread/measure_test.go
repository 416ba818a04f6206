package spread

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// dance draws what is danced in a lap, such that two of them often have much in common.
func dance(t *rapid.T, label string) []Danced {
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Danced {
		way := int32(rapid.IntRange(0, 3).Draw(t, "way"))
		return Danced{Figure: way / 2, Way: way, Wall: int16(rapid.IntRange(0, 1).Draw(t, "wall")),
			X: int32(rapid.IntRange(-2, 2).Draw(t, "x")) * 70, Y: int32(rapid.IntRange(-1, 1).Draw(t, "y")) * 95}
	}), 0, 7).Draw(t, label)
}

// TestMetric: the distance is one: 0 for the same only, the same both ways, and never
// more than by way of a third lap.
func TestMetric(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := dance(t, "a"), dance(t, "b"), dance(t, "c")
		ab := Distance(a, b)
		same := len(a) == len(b)
		for i := 0; same && i < len(a); i++ {
			same = a[i] == b[i]
		}
		switch {
		case (ab == 0) != same:
			t.Fatalf("the distance is %g; the same: %v", ab, same)
		case ab != Distance(b, a):
			t.Fatalf("the distance is %g, the other way %g", ab, Distance(b, a))
		case Distance(a, c) > ab+Distance(b, c)+1e-9:
			t.Fatalf("the distance is %g, by a third lap %g and %g", Distance(a, c), ab, Distance(b, c))
		case ab > float64(max(len(a), len(b))) || Share(a, b) < 0 || Share(a, b) > 1:
			t.Fatalf("the distance of laps of %d and %d figures is %g, a share of %g", len(a), len(b), ab, Share(a, b))
		}
	})
}

// TestDistanceAgainstAllWays: the distance is the least over all ways of changing one
// lap to the other, tried one by one.
func TestDistanceAgainstAllWays(t *testing.T) {
	cost := func(a, b Danced) float64 {
		if a.Figure != b.Figure || a.Wall != b.Wall {
			return 1
		}
		sum := math.Ceil(math.Hypot(float64(a.X-b.X), float64(a.Y-b.Y))) / 100 / 3
		if a.Way != b.Way {
			sum += 0.25
		}
		return min(1, sum)
	}
	var try func(a, b []Danced) float64
	try = func(a, b []Danced) float64 {
		if len(a) == 0 || len(b) == 0 {
			return float64(len(a) + len(b))
		}
		return min(1+try(a[1:], b), 1+try(a, b[1:]), cost(a[0], b[0])+try(a[1:], b[1:]))
	}
	rapid.Check(t, func(t *rapid.T) {
		a, b := dance(t, "a"), dance(t, "b")
		if len(a)+len(b) > 11 {
			a = a[:4]
		}
		want := try(a, b)
		if got := Distance(a, b); math.Abs(got-want) > 1e-9 {
			t.Fatalf("the distance is %g, want %g", got, want)
		}
		// With an end in sight, no less than that is enough.
		enough := int32(rapid.IntRange(0, 2000).Draw(t, "enough"))
		got := newRuler().distance(a, b, enough)
		if whole := int32(math.Round(want * whole)); got != whole && (got < enough || whole < enough) {
			t.Fatalf("the distance is %d parts, and %d when %d are enough", whole, got, enough)
		}
	})
}

// TestDistance has examples that can be reckoned in the head.
func TestDistance(t *testing.T) {
	at := func(figure, way int32, wall int16, x, y int32) Danced { return Danced{figure, way, wall, x, y} }
	lap := []Danced{at(1, 1, 0, 0, 0), at(2, 2, 0, 100, 0), at(3, 3, 0, 200, 0)}
	for _, c := range []struct {
		name string
		to   []Danced
		want float64
	}{
		{"the same", lap, 0},
		{"nothing", nil, 3},
		{"one left out", lap[1:], 1},
		{"another figure", []Danced{lap[0], at(4, 4, 0, 100, 0), lap[2]}, 1},
		{"the same figure another way", []Danced{lap[0], at(2, 9, 0, 100, 0), lap[2]}, 0.25},
		{"the same figure a metre and a half on", []Danced{lap[0], at(2, 2, 0, 250, 0), lap[2]}, 0.5},
		{"the same figure ten metres on", []Danced{lap[0], at(2, 2, 0, 1100, 0), lap[2]}, 1},
		{"the same figure along another wall", []Danced{lap[0], at(2, 2, 1, 100, 0), lap[2]}, 1},
		{"everything 60 cm aside", []Danced{at(1, 1, 0, 0, 60), at(2, 2, 0, 100, 60), at(3, 3, 0, 200, 60)}, 0.6},
		{"one put in", []Danced{lap[0], at(5, 5, 0, 50, 0), lap[1], lap[2]}, 1},
	} {
		if got := Distance(lap, c.to); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: the distance is %g, want %g", c.name, got, c.want)
		}
	}
	if got := Share(lap, lap[1:]); math.Abs(got-1.0/3) > 1e-9 {
		t.Errorf("one of three left out is a share of %g", got)
	}
	if Share(nil, nil) != 0 {
		t.Error("two laps of nothing differ")
	}
}
