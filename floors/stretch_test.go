package floors_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"lapwright/figures/geometry"
	"lapwright/floors"

	"pgregory.net/rapid"
)

func TestStretched(t *testing.T) {
	hall, _ := floors.Named("village hall")
	club, _ := floors.Named("clubroom")
	for _, c := range []struct {
		room      *floors.Room
		wall      int
		metres    float64
		outline   []geometry.Point
		obstacles []geometry.Point // the first corner of each
	}{
		{hall, 0, 1.5, points(0, 0, 19.5, 0, 19.5, 11, 0, 11), points(18.5, 3, 0, 10.4)},
		{hall, 1, 2, points(0, 0, 18, 0, 18, 13, 0, 13), points(17, 3, 0, 12.4)},
		{hall, 2, 1, points(-1, 0, 18, 0, 18, 11, -1, 11), points(17, 3, -1, 10.4)},
		{club, 0, 0.5, points(0, 0, 16.5, 0, 16.5, 7, 7, 7, 7, 13, 0, 13), nil},
		{club, 4, 1, points(-1, 0, 16, 0, 16, 7, 7, 7, 7, 13, -1, 13), nil},
		{club, 0, 0, club.Outline, nil},
	} {
		r, err := c.room.Stretched(c.wall, c.metres)
		if err != nil {
			t.Errorf("%s, wall %d by %g m: %v", c.room.Name, c.wall, c.metres, err)
			continue
		}
		if !slices.Equal(r.Outline, c.outline) {
			t.Errorf("%s, wall %d by %g m: %v", c.room.Name, c.wall, c.metres, r.Outline)
		}
		for i, o := range r.Obstacles {
			if o.Outline[0].Sub(c.obstacles[i]).Len() > 1e-9 {
				t.Errorf("%s, wall %d by %g m: %s is at %v", c.room.Name, c.wall, c.metres, o.Name, o.Outline)
			}
		}
		for i := range r.Walls {
			if r.Walls[i].Name != c.room.Walls[i].Name {
				t.Errorf("%s has become %s", c.room.Walls[i].Name, r.Walls[i].Name)
			}
		}
		promises(t, r)
	}
}

func TestStretchedColumn(t *testing.T) {
	hall, _ := floors.Named("ballroom")
	r, err := hall.Stretched(0, 3)
	if err != nil {
		t.Fatal(err)
	}
	for i, x := range []float64{6, 12, 21, 27, 27, 21, 12, 6} {
		if got := r.Obstacles[i].Disc; got.Centre.X != x || got.Centre.Y != hall.Obstacles[i].Disc.Centre.Y || got.Radius != 0.35 {
			t.Errorf("%s is at %v", r.Obstacles[i].Name, got)
		}
	}
	if hall.Outline[1].X != 30 || hall.Obstacles[2].Disc.Centre.X != 18 {
		t.Error("the room itself was changed")
	}
}

func TestNotStretched(t *testing.T) {
	hall, _ := floors.Named("village hall")
	// A board against a wall that comes nearer to it as the room grows.
	leaning := load(t, points(0, 0, 10, 0, 10, 8, 0, 4), "obstacles: [{name: board, outline: [[3.6, 5.2], [4, 5.2], [4, 5.5], [3.6, 5.4]]}]")
	for _, c := range []struct {
		room   *floors.Room
		wall   int
		metres float64
		words  string
	}{
		{hall, -1, 1, "has no wall 0"},
		{hall, 4, 1, "has no wall 5"},
		{hall, 0, -1, "cannot be stretched by -1 m"},
		{hall, 0, math.NaN(), "cannot be stretched by NaN m"},
		{hall, 0, math.Inf(1), "cannot be stretched"},
		{hall, 0, 190, "more than the 200 m"},
		{leaning, 0, 6, "no longer holds board"},
	} {
		if r, err := c.room.Stretched(c.wall, c.metres); err == nil || !strings.Contains(err.Error(), c.words) {
			t.Errorf("wall %d by %g m: %v %v", c.wall, c.metres, r, err)
		}
	}
}

// TestStretchedRooms: a room that can be stretched is a room, it has as much more
// floor as was put in where its sides run straight across, and every place keeps
// what it was beside.
func TestStretchedRooms(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(5, 20).Draw(t, "width"), rapid.IntRange(5, 20).Draw(t, "depth")
		turned := float64(rapid.IntRange(0, 359).Draw(t, "turned")) * math.Pi / 180
		outline := points(0, 0, float64(w), 0, float64(w), float64(h), 0, float64(h))
		for i := range outline {
			outline[i] = outline[i].Rotate(turned)
		}
		r, err := floors.Load("drawn.yaml", file(outline))
		if err != nil {
			t.Fatal(err)
		}
		wall := rapid.IntRange(0, 3).Draw(t, "wall")
		metres := float64(rapid.IntRange(0, 80).Draw(t, "quarters")) / 4
		s, err := r.Stretched(wall, metres)
		if err != nil {
			t.Fatal(err)
		}
		promises(t, s)
		across := r.Walls[(wall+1)%4].Length
		if more := s.Area() - r.Area(); math.Abs(more-metres*across) > 1e-6 {
			t.Errorf("%g m² more, not %g", more, metres*across)
		}
		for i := range s.Walls {
			want := r.Walls[i].Length
			if i%2 == wall%2 {
				want += metres
			}
			if math.Abs(s.Walls[i].Length-want) > 1e-6 {
				t.Errorf("wall %d is %g m long, not %g", i, s.Walls[i].Length, want)
			}
		}
	})
}

// TestStretchedOddRooms: whatever the outline, what comes out is a room or an error.
func TestStretchedOddRooms(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, err := floors.Load("odd.yaml", file(oddOutline(t)))
		if err != nil {
			return
		}
		wall := rapid.IntRange(0, len(r.Walls)-1).Draw(t, "wall")
		if s, err := r.Stretched(wall, float64(rapid.IntRange(0, 12).Draw(t, "quarters"))/4); err == nil {
			promises(t, s)
		}
	})
}
