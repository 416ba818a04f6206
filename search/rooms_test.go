package search

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"lapwright/figures"
	"lapwright/figures/geometry"
	"lapwright/floors"
)

// drawn reads a room from a picture: '#' is wall, '.' is floor and 'o' a column
// of 0.3 m radius in the middle of its square; each character is side metres
// each way. The first line is the far end of the room; the outline begins at the
// lowest corner on the left. All floor must hang together and have no hole.
func drawn(t faulty, name string, side float64, picture string) *floors.Room {
	t.Helper()
	lines := strings.Split(strings.Trim(picture, "\n"), "\n")
	rows := len(lines)
	floor := func(x, y int) bool { // y from the bottom
		return y >= 0 && y < rows && x >= 0 && x < len(lines[rows-1-y]) && lines[rows-1-y][x] != '#'
	}
	// Every side of a square of floor that has no floor beyond it is a piece of
	// the outline, with the floor on its left.
	type point struct{ x, y int }
	next := map[point]point{}
	var columns []string
	var from point
	for y := rows - 1; y >= 0; y-- {
		for x := len(lines[rows-1-y]) - 1; x >= 0; x-- {
			if !floor(x, y) {
				continue
			}
			a, b, c, d := point{x, y}, point{x + 1, y}, point{x + 1, y + 1}, point{x, y + 1}
			if !floor(x, y-1) {
				next[a], from = b, a
			}
			if !floor(x+1, y) {
				next[b] = c
			}
			if !floor(x, y+1) {
				next[c] = d
			}
			if !floor(x-1, y) {
				next[d] = a
			}
			if lines[rows-1-y][x] == 'o' {
				columns = append(columns, fmt.Sprintf("{name: column, centre: [%g, %g], radius: 0.3}", (float64(x)+0.5)*side, (float64(y)+0.5)*side))
			}
		}
	}
	var corners []string
	sides, before := 0, point{}
	for at := from; ; {
		to, ok := next[at]
		if !ok {
			t.Fatalf("%s: the outline breaks off at %v", name, at)
		}
		if way := (point{to.x - at.x, to.y - at.y}); sides == 0 || way != before {
			corners = append(corners, fmt.Sprintf("[%g, %g]", float64(at.x)*side, float64(at.y)*side))
			before = way
		}
		sides++
		if at = to; at == from {
			break
		}
	}
	if sides != len(next) {
		t.Fatalf("%s: the floor is in pieces or has a hole", name)
	}
	return loaded(t, name, "outline: ["+strings.Join(corners, ", ")+"]", columns...)
}

// loaded is the room that a file with these fields describes.
func loaded(t faulty, name, outline string, obstacles ...string) *floors.Room {
	t.Helper()
	text := fmt.Sprintf("name: %s\n%s\nobstacles: [%s]\n", name, outline, strings.Join(obstacles, ", "))
	if len(obstacles) == 0 {
		text = fmt.Sprintf("name: %s\n%s\n", name, outline)
	}
	room, err := floors.Load(name+".yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return room
}

// The rooms that all solvers are tried in.
var pictures = []struct {
	name    string
	side    float64
	picture string
}{
	{"Pantry", 1, `
.......
.......
.......
.......
.......
`},
	{"Square", 1, `
........
........
........
........
........
........
........
........
`},
	{"Parlour with a Column", 1, `
.........
.........
.........
...oo....
.........
.........
.........
`},
	{"Bend", 1, `
.....####
.....####
.....####
.....####
.........
.........
.........
.........
.........
`},
	{"Nook", 1, `
.........
.........
.........
.........
.........
......###
......###
`},
}

// rooms are the drawn rooms.
func rooms(t faulty) []*floors.Room {
	var all []*floors.Room
	for _, p := range pictures {
		all = append(all, drawn(t, p.name, p.side, p.picture))
	}
	return all
}

// faulty is what testing.T, testing.B and rapid.T have in common.
type faulty interface {
	Helper()
	Errorf(format string, args ...any)
	Fatal(args ...any)
	Fatalf(format string, args ...any)
}

func named(t faulty, name string) *floors.Room {
	t.Helper()
	room, ok := floors.Named(name)
	if !ok {
		t.Fatalf("there is no room %q", name)
	}
	return room
}

// atLevel are the variants of the first library file's figures of some levels,
// social in any style and the others in the international one; of all of them,
// if no level is named. These are enough to test what a search promises and few
// enough to do it often; the whole library is for benchmarks and commands.
func atLevel(levels ...figures.Level) []*figures.Variant {
	var all []*figures.Variant
	for _, f := range figures.BuiltIn().Figures() {
		if f.File != "waltz.yaml" {
			continue
		}
		wanted := len(levels) == 0
		for _, l := range levels {
			style := figures.International
			if l == figures.Social {
				style = figures.AnyStyle
			}
			wanted = wanted || f.At(style, l)
		}
		if wanted {
			all = append(all, f.Variants...)
		}
	}
	return all
}

// of are all variants of the figures named.
func of(t faulty, names ...string) []*figures.Variant {
	t.Helper()
	var all []*figures.Variant
	for _, n := range names {
		all = append(all, figure(t, n).Variants...)
	}
	return all
}

func figure(t faulty, name string) *figures.Figure {
	t.Helper()
	f, ok := figures.BuiltIn().Figure(name)
	if !ok {
		t.Fatalf("there is no figure %q", name)
	}
	return f
}

func variant(t faulty, name string) *figures.Variant {
	t.Helper()
	v, ok := figures.BuiltIn().Variant(name)
	if !ok {
		t.Fatalf("there is no variant %q", name)
	}
	return v
}

func stance(t faulty, words string) figures.Stance {
	t.Helper()
	s, err := figures.ParseStance(words)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func at(x, y float64) *geometry.Point { return &geometry.Point{X: x, Y: y} }

// problem is the usual problem with a room and figures.
func problem(room *floors.Room, variants []*figures.Variant) *Problem {
	return &Problem{Room: room, Variants: variants, Follows: figures.BuiltIn().Follows(), Couple: figures.DefaultCouple(), Weights: DefaultWeights(), Margin: -1}
}

// brief is a problem of which the search is soon through, for where all is slower.
func brief(t faulty) *Problem {
	return problem(named(t, "studio"), of(t, append([]string{"Whisk", "Chassé from Promenade", "Natural Spin Turn"}, core...)...))
}

func find(t faulty, p *Problem) *Result {
	t.Helper()
	res, err := Find(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	return res
}

func TestDrawn(t *testing.T) {
	room := drawn(t, "Bend", 3, `
.##
.##
.o.
...
`)
	want := "[{0 0} {9 0} {9 6} {3 6} {3 12} {0 12}]"
	if got := fmt.Sprint(room.Outline); got != want {
		t.Errorf("the outline is %s, want %s", got, want)
	}
	if len(room.Obstacles) != 1 || room.Obstacles[0].Disc.Centre != (geometry.Point{X: 4.5, Y: 4.5}) {
		t.Errorf("the obstacles are %v", room.Obstacles)
	}
}
