package floors_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"lapwright/figures/geometry"
	"lapwright/floors"
)

// The least sizes of competition floors, and the space per couple: published.
func TestPublishedFloors(t *testing.T) {
	const foot = 0.3048
	for _, c := range []struct {
		name        string
		long, short float64 // feet
		area        float64 // m²
		few, many   int     // couples at 20 and 16 m² each
	}{
		// NDCA rule 21 as a member quotes it (2006): 2,160 and 2,772 sq ft.
		{"NDCA ordinary floor, minimum", 60, 36, 200.7, 10, 12},
		{"NDCA championship floor, minimum", 66, 42, 257.5, 12, 16},
	} {
		x, y := c.long*foot, c.short*foot
		r := load(t, points(0, 0, x, 0, x, y, 0, y))
		if math.Abs(r.Area()-c.area) > 0.05 {
			t.Errorf("%s: %.1f m², want %.1f", c.name, r.Area(), c.area)
		}
		// "Balls in sports bars", translated sport ballroom rules: 16 to 20 m².
		if r.Couples() != c.few || r.CouplesAtMost() != c.many {
			t.Errorf("%s: %d to %d couples, want %d to %d", c.name, r.Couples(), r.CouplesAtMost(), c.few, c.many)
		}
		promises(t, r)
	}
	if r := load(t, points(0, 0, 30, 0, 30, 20, 0, 20), "capacity: 7"); r.Couples() != 7 || r.CouplesAtMost() != 7 {
		t.Errorf("the posted limit of 7 couples became %d and %d", r.Couples(), r.CouplesAtMost())
	}
}

// The corner map: diagonal to centre of the old side is diagonal to wall of the
// new one (a forum's answer to "Diagonal to centre?", BallroomDancers, 2017, and
// ballroomguide's waltz routine tables state it; the rest is arithmetic). Here
// headings are eighths towards the centre: DC is 1, DW is −1.
func TestCornerMap(t *testing.T) {
	names := []string{"LOD", "DC", "C", "DCA", "ALOD", "DWA", "W", "DW"}
	after := map[string]string{"DC": "DW", "LOD": "W", "DW": "DWA", "C": "LOD", "DCA": "DC", "ALOD": "C", "DWA": "DCA", "W": "ALOD"}
	for _, r := range floors.BuiltIn() {
		for _, w := range r.Walls {
			want := -2
			if w.Corner < 0 {
				want = 2
			}
			if w.Eighths != want || w.Residual != 0 || math.Abs(math.Abs(w.Corner)-math.Pi/2) > 1e-12 {
				t.Errorf("%s, %s: %d eighths at a corner of %g", r.Name, w.Name, w.Eighths, w.Corner)
			}
			if want == 2 {
				continue
			}
			for old, name := range names {
				if got := names[(old+w.Eighths+8)%8]; got != after[name] {
					t.Errorf("%s of the old wall is %s of the new one, want %s", name, got, after[name])
				}
			}
		}
	}
}

func TestBuiltInRooms(t *testing.T) {
	for _, c := range []struct {
		name        string
		walls, long int
		area, lap   float64
		lanes       []float64
	}{
		{"studio", 4, 2, 54, 18.4, []float64{1.4, 1.5, 1.4, 1.5}},
		{"village hall", 4, 2, 18*11 - 5 - 0.72, 44, []float64{1.5, 2.5, 1.5, 1.5}},
		{"ballroom", 4, 2, 30*18 - 8*math.Pi*0.35*0.35, 84, []float64{1.5, 1.5, 1.5, 1.5}},
		{"clubroom", 6, 2, 16*7 + 7*6, 46, []float64{1.5, 1.5, 1.5, 1.5, 1.5, 1.5}},
	} {
		r, ok := floors.Named(strings.ToUpper(c.name))
		if !ok {
			t.Fatalf("no %s", c.name)
		}
		if full, ok := floors.Named(r.Name); !ok || full != r {
			t.Errorf("%s is not found by its full name", r.Name)
		}
		long := 0
		for i, w := range r.Walls {
			if w.Long {
				long++
			}
			if math.Abs(w.Lane-c.lanes[i]) > 1e-9 {
				t.Errorf("%s: the lane of %s is %g m from it, want %g", c.name, w.Name, w.Lane, c.lanes[i])
			}
		}
		if len(r.Walls) != c.walls || long != c.long || math.Abs(r.Area()-c.area) > 1e-9 || math.Abs(r.LapLength()-c.lap) > 1e-9 {
			t.Errorf("%s: %d walls, %d long, %g m², lap %g m", c.name, len(r.Walls), long, r.Area(), r.LapLength())
		}
		promises(t, r)
	}
	if r, ok := floors.Named("cellar"); ok {
		t.Errorf("found %v", r)
	}
	if n := floors.Names(); !slices.IsSorted(n) || len(n) != 4 || len(floors.BuiltIn()) != 4 {
		t.Errorf("names %v", n)
	}
	if !slices.IsSortedFunc(floors.BuiltIn(), func(a, b *floors.Room) int { return strings.Compare(a.Name, b.Name) }) {
		t.Error("the rooms are not sorted")
	}
}

// What dancers would call the walls of odd outlines.
func TestWallsOfOddOutlines(t *testing.T) {
	const right = math.Pi / 2
	for _, c := range []struct {
		name    string
		outline []geometry.Point
		walls   int
		corners []float64 // nil: not checked
	}{
		{"rectangle", points(0, 0, 12, 0, 12, 8, 0, 8), 4, []float64{right, right, right, right}},
		{"corners in the middle of a side", points(0, 0, 6, 0, 12, 0, 12, 8, 3, 8, 0, 8), 4, []float64{right, right, right, right}},
		{"small jog", points(0, 0, 6, 0, 6, 0.4, 12, 0.4, 12, 8, 0, 8), 4, nil},
		{"jog of a metre", points(0, 0, 9, 0, 9, 1, 18, 1, 18, 11, 0, 11), 4, nil},
		{"chimney breast", points(0, 0, 5, 0, 5, 1, 7, 1, 7, 0, 12, 0, 12, 8, 0, 8), 4, []float64{right, right, right, right}},
		{"alcove", points(0, 0, 5, 0, 5, -3, 6.5, -3, 6.5, 0, 12, 0, 12, 8, 0, 8), 4, []float64{right, right, right, right}},
		{"cut-off corner", points(0, 0, 11, 0, 12, 1, 12, 8, 0, 8), 4, []float64{right, right, right, right}},
		{"wide alcove", points(0, 0, 4, 0, 4, -4, 12, -4, 12, 0, 16, 0, 16, 8, 0, 8), 8, nil},
		{"trapezium", points(0, 0, 14, 0, 11, 9, 3, 9), 4, nil},
		{"triangle", points(0, 0, 16, 0, 8, 14), 3, nil},
		{"hexagon", circle(6, 9), 6, nil},
		{"octagon", circle(8, 9), 8, nil},
		{"T", points(0, 0, 20, 0, 20, 7, 14, 7, 14, 16, 6, 16, 6, 7, 0, 7), 8, nil},
		{"partition", points(0, 0, 9.85, 0, 9.85, 5, 10.15, 5, 10.15, 0, 20, 0, 20, 12, 0, 12), 7, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := load(t, c.outline)
			promises(t, r)
			if len(r.Walls) != c.walls {
				t.Errorf("%d walls, want %d: %+v", len(r.Walls), c.walls, r.Walls)
				return
			}
			for i, want := range c.corners {
				if got := r.Walls[i].Corner; math.Abs(got-want) > 1e-9 {
					t.Errorf("corner %d turns %g, want %g", i, got, want)
				}
			}
		})
	}
}

func TestRoundHalls(t *testing.T) {
	for _, radius := range []float64{3, 5, 8, 10, 15, 20, 40} {
		for _, corners := range []int{32, 100, 1000, 10000} {
			r := load(t, circle(corners, radius))
			if n := len(r.Walls); n < 6 || n > 12 {
				t.Errorf("a round hall of %g m radius and %d corners has %d walls", radius, corners, n)
			}
			promises(t, r)
		}
	}
}

func TestLongAndShort(t *testing.T) {
	for _, c := range []struct {
		name    string
		outline []geometry.Point
		want    []bool
	}{
		{"rectangle", points(0, 0, 18, 0, 18, 11, 0, 11), []bool{true, false, true, false}},
		{"square", points(0, 0, 10, 0, 10, 10, 0, 10), []bool{true, true, true, true}},
		{"nearly square", points(0, 0, 10, 0, 10, 9.5, 0, 9.5), []bool{true, true, true, true}},
		{"L", points(0, 0, 16, 0, 16, 7, 7, 7, 7, 13, 0, 13), []bool{true, false, false, false, false, true}},
	} {
		var got []bool
		for _, w := range load(t, c.outline).Walls {
			got = append(got, w.Long)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: long %v, want %v", c.name, got, c.want)
		}
	}
}

func TestWallInUse(t *testing.T) {
	hall := load(t, points(0, 0, 18, 0, 18, 11, 0, 11))
	club, _ := floors.Named("clubroom")
	for _, c := range []struct {
		name   string
		room   *floors.Room
		x, y   float64
		walls  []int
		corner int // at whose end; −1 for none
		nearer int
	}{
		{"on the first lane", hall, 9, 1.5, []int{0}, -1, 0},
		{"at the first corner", hall, 16.5, 1.5, []int{0, 1}, 0, 1},
		{"deep in the corner", hall, 15.2, 2.8, []int{0, 1}, 0, 0},
		{"short of the corner", hall, 14.5, 1.5, []int{0, 1}, -1, 0},
		{"in the middle", hall, 9, 5.5, nil, -1, 0},
		{"at the last corner", hall, 1.4, 1.6, []int{0, 3}, 3, 3},
		{"outside", hall, 9, -2, nil, -1, 0},
		{"before the corner that turns right", club, 9, 5.5, []int{2}, -1, 2},
		{"past the corner that turns right", club, 5.5, 5.5, []int{2, 3}, 2, 2},
		{"round it", club, 5.5, 9, []int{3}, -1, 3},
	} {
		p := geometry.Point{X: c.x, Y: c.y}
		got := c.room.WallsAt(p)
		// Opposite walls may share the middle of an arm: only those named matter.
		for _, w := range c.walls {
			if !slices.Contains(got, w) {
				t.Errorf("%s: walls %v, want %v", c.name, got, c.walls)
			}
		}
		if c.walls == nil && got != nil {
			t.Errorf("%s: walls %v, want none", c.name, got)
		}
		for i := range c.room.Walls {
			if c.room.InCorner(i, p) != (i == c.corner) {
				t.Errorf("%s: corner %d is %v", c.name, i, i != c.corner)
			}
		}
		wall, direction := c.room.LineOfDance(p)
		if c.corner < 0 && wall != c.nearer || direction != c.room.Walls[wall].Direction {
			t.Errorf("%s: line of dance of wall %d, want %d", c.name, wall, c.nearer)
		}
	}
	for _, wall := range []int{-1, 4, 100} {
		if hall.InUse(wall, geometry.Point{X: 1, Y: 1}) || hall.InCorner(wall, geometry.Point{X: 1, Y: 1}) {
			t.Errorf("wall %d of four is in use", wall)
		}
	}
}

func TestLocate(t *testing.T) {
	r := load(t, points(0, 0, 18, 0, 18, 11, 0, 11))
	for i, want := range [][2]float64{{7, 3}, {3, 11}, {11, 8}, {8, 7}} {
		p := geometry.Point{X: 7, Y: 3}
		along, across := r.Walls[i].Locate(p)
		if math.Abs(along-want[0]) > 1e-12 || math.Abs(across-want[1]) > 1e-12 {
			t.Errorf("wall %d: %g along, %g across, want %v", i, along, across, want)
		}
		if back := r.Walls[i].Place(along, across); back.Sub(p).Len() > 1e-12 {
			t.Errorf("wall %d: back at %v", i, back)
		}
	}
}

// What stands in the room moves the lane only where couples go along it.
func TestLanesMoved(t *testing.T) {
	hall := points(0, 0, 18, 0, 18, 11, 0, 11)
	for _, c := range []struct {
		name, obstacle string
		want           []float64
	}{
		{"a stage", "{outline: [[16, 2], [18, 2], [18, 9], [16, 9]]}", []float64{1.5, 3.5, 1.5, 1.5}},
		{"a stage from wall to wall", "{outline: [[16, 0], [18, 0], [18, 11], [16, 11]]}", []float64{1.5, 3.5, 1.5, 1.5}},
		{"a free column", "{centre: [9, 1.5], radius: 0.3}", []float64{1.5, 1.5, 1.5, 1.5}},
		{"a pillar on the wall", "{centre: [9, 0.5], radius: 0.5}", []float64{1.85, 1.5, 1.5, 1.5}},
		{"a counter that juts out", "{outline: [[9, 0], [9.6, 0], [9.6, 2], [9, 2]]}", []float64{1.5, 1.5, 1.5, 1.5}},
		{"a piano in the corner", "{outline: [[0, 0], [3, 0], [3, 3], [0, 3]]}", []float64{1.5, 1.5, 1.5, 1.5}},
	} {
		t.Run(c.name, func(t *testing.T) {
			r, err := floors.Load("test.yaml", file(hall, "obstacles: ["+c.obstacle+"]"))
			if err != nil {
				t.Fatal(err)
			}
			for i, w := range r.Walls {
				if math.Abs(w.Lane-c.want[i]) > 1e-9 {
					t.Errorf("the lane of %s is %g m from it, want %g", w.Name, w.Lane, c.want[i])
				}
			}
			promises(t, r)
		})
	}
}

func TestWallNames(t *testing.T) {
	r := load(t, points(0, 0, 0, 11, 18, 11, 18, 0), "walls: [west, north, east, south]")
	var got []string
	for i := range r.Walls {
		got = append(got, r.Walls[i].String())
	}
	if want := []string{"south, long", "east, short", "north, long", "west, short"}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

func TestLargeRoom(t *testing.T) {
	r := load(t, points(0, 0, 60, 0, 60, 40, 0, 40))
	if f := r.Field(0.05); f.Columns != 1261 || f.Rows != 861 {
		t.Errorf("%d × %d lattice points", f.Columns, f.Rows)
	}
	promises(t, load(t, points(-100, -100, 100, -100, 100, 100, -100, 100)))
}
