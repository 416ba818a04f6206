package floors_test

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"lapwright/figures/document"
	"lapwright/figures/geometry"
	"lapwright/floors"
)

var update = flag.Bool("update", false, "write the golden files")

// load makes a room of an outline and more lines of its file.
func load(t testing.TB, outline []geometry.Point, more ...string) *floors.Room {
	t.Helper()
	r, err := floors.Load("test.yaml", file(outline, more...))
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func file(outline []geometry.Point, more ...string) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "name: Test\noutline: %s\n", ring(outline))
	for _, m := range more {
		fmt.Fprintln(&b, m)
	}
	return b.Bytes()
}

func ring(points []geometry.Point) string {
	var s []string
	for _, p := range points {
		s = append(s, fmt.Sprintf("[%v, %v]", p.X, p.Y))
	}
	return "[" + strings.Join(s, ", ") + "]"
}

func points(xy ...float64) []geometry.Point {
	var p []geometry.Point
	for i := 0; i < len(xy); i += 2 {
		p = append(p, geometry.Point{X: xy[i], Y: xy[i+1]})
	}
	return p
}

func circle(n int, radius float64) []geometry.Point {
	var p []geometry.Point
	for i := range n {
		p = append(p, geometry.Unit(2*math.Pi*float64(i)/float64(n)).Scale(radius))
	}
	return p
}

func TestBadFiles(t *testing.T) {
	names, err := filepath.Glob("testdata/bad/*.yaml")
	if err != nil || len(names) < 30 {
		t.Fatalf("%d bad files found: %v", len(names), err)
	}
	for _, name := range names {
		t.Run(filepath.Base(name), func(t *testing.T) {
			data, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			r, err := floors.Load(filepath.Base(name), data)
			if err == nil {
				t.Fatalf("loaded: %+v", r)
			}
			var fault *document.Error
			if !errors.As(err, &fault) {
				t.Errorf("%T is not a document error", err)
			}
			golden := strings.TrimSuffix(name, ".yaml") + ".txt"
			got := err.Error() + "\n"
			if *update {
				if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(golden)
			if err != nil {
				t.Fatal(err)
			}
			if got != string(want) {
				t.Errorf("got\n%swant\n%s", got, want)
			}
		})
	}
}

func TestHugeFiles(t *testing.T) {
	square := points(0, 0, 9, 0, 9, 6, 0, 6)
	many := "obstacles: [" + strings.Repeat("{centre: [4, 3], radius: 0.1}, ", 1001) + "]"
	for _, c := range []struct {
		name string
		data []byte
		want string
	}{
		{"over a megabyte", bytes.Repeat([]byte("# dance\n"), 200000), "larger than"},
		{"too many corners", file(circle(20001, 30)), "20001 corners"},
		{"too many obstacles", file(square, many), "1001 obstacles"},
		{"deeply nested", append([]byte("name: x\noutline: "), bytes.Repeat([]byte("["), 9000)...), "YAML"},
		{"5,000 corners in a star", file(star(5000)), "even when jogs"},
		{"a comb of 500 teeth", file(comb(500)), "even when jogs"},
		{"a comb of 40 teeth", file(comb(40)), "test.yaml:2: outline: "},
	} {
		t.Run(c.name, func(t *testing.T) {
			if _, err := floors.Load("test.yaml", c.data); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v, want %q in it", err, c.want)
			}
		})
	}
}

// star is a star whose points reach almost to its middle.
func star(n int) []geometry.Point {
	p := circle(n, 20)
	for i := range p {
		if i%2 == 1 {
			p[i] = p[i].Scale(0.01)
		}
	}
	return p
}

// comb is a hall with deep narrow alcoves all along one side.
func comb(teeth int) []geometry.Point {
	wide := 100 / float64(teeth)
	p := points(0, 0, 100, 0)
	for i := range teeth {
		x := 100 - float64(i)*wide
		p = append(p, points(x, 20, x-wide/2, 20, x-wide/2, 10, x-wide, 10)...)
	}
	return p
}

func TestEitherWayRound(t *testing.T) {
	for _, r := range floors.BuiltIn() {
		var obstacles []string
		for _, o := range r.Obstacles {
			if o.Outline == nil {
				obstacles = append(obstacles, fmt.Sprintf("{name: x, centre: [%v, %v], radius: %v}", o.Disc.Centre.X, o.Disc.Centre.Y, o.Disc.Radius))
			} else {
				obstacles = append(obstacles, fmt.Sprintf("{name: x, outline: %s}", ring(o.Outline)))
			}
		}
		things := "obstacles: [" + strings.Join(obstacles, ", ") + "]"
		var names []string
		for i := range r.Outline {
			names = append(names, fmt.Sprintf("side %d", i))
		}
		one := load(t, r.Outline, things, "walls: ["+strings.Join(names, ", ")+"]")

		n := len(r.Outline)
		turned := make([]geometry.Point, n)
		turnedNames := make([]string, n)
		for i := range r.Outline {
			turned[i] = r.Outline[(n-i)%n]
			turnedNames[i] = names[n-1-i]
		}
		other := load(t, turned, things, "walls: ["+strings.Join(turnedNames, ", ")+"]")
		if !reflect.DeepEqual(one.Outline, other.Outline) || !reflect.DeepEqual(one.Walls, other.Walls) {
			t.Errorf("%s differs when its corners are listed the other way round:\n%+v\n%+v", r.Name, one.Walls, other.Walls)
		}
		one, other = load(t, r.Outline, things), load(t, turned, things)
		if !reflect.DeepEqual(one.Walls, other.Walls) || !strings.HasPrefix(other.Walls[0].Name, "wall 1") {
			t.Errorf("%s without names differs when its corners are listed the other way round", r.Name)
		}
	}
}

func TestOddRoomFiles(t *testing.T) {
	names, err := filepath.Glob("testdata/*.yaml")
	if err != nil || len(names) < 5 {
		t.Fatalf("%d rooms found: %v", len(names), err)
	}
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		r, err := floors.Load(filepath.Base(name), data)
		if err != nil {
			t.Error(err)
			continue
		}
		promises(t, r)
	}
}

func TestDefaults(t *testing.T) {
	r := load(t, points(0, 0, 9, 0, 9, 6, 0, 6))
	if r.Margin != floors.DefaultMargin || r.Capacity != 0 || r.Walls[1].String() != "wall 2, short" {
		t.Errorf("margin %g, capacity %d, %s", r.Margin, r.Capacity, &r.Walls[1])
	}
}

// FuzzLoad: no file makes Load panic; what loads keeps the promises of a room.
func FuzzLoad(f *testing.F) {
	for _, glob := range []string{"rooms/*.yaml", "testdata/*.yaml", "testdata/bad/*.yaml"} {
		names, err := filepath.Glob(glob)
		if err != nil {
			f.Fatal(err)
		}
		for _, n := range names {
			data, err := os.ReadFile(n)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(data)
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := floors.Load("fuzz.yaml", data)
		if err != nil {
			var fault *document.Error
			if !errors.As(err, &fault) || r != nil {
				t.Fatalf("error %v with room %v", err, r)
			}
			return
		}
		promises(t, r)
	})
}
