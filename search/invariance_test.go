package search

import (
	"math"
	"slices"
	"testing"

	"lapwright/figures"
	"lapwright/figures/geometry"
	"lapwright/graph"
	"lapwright/search/routine"

	"pgregory.net/rapid"
)

// weighed are a problem's weights so many times.
func weighed(w Weights, times float64) Weights {
	return Weights{Bars: times * w.Bars, Lane: times * w.Lane, Crowding: times * w.Crowding, Awkward: times * w.Awkward,
		Repeat: times * w.Repeat, Stretch: times * w.Stretch, Gap: times * w.Gap}
}

// TestWeightsAreInAnyUnit: when everything weighs so many times as much, so does the
// best lap, with limits as without. Where no weight is rounded it is exactly so many
// times as much; otherwise each figure's share of the lane and of the crowding, and the
// gap, may be half a hundredth of a bar off.
func TestWeightsAreInAnyUnit(t *testing.T) {
	exact, limited := 0, 0
	draws(t, 0.08, func(t *rapid.T) {
		c := someCloset(t)
		p := telling(t, c, 1, func(p *Problem) {
			if rapid.Bool().Draw(t, "limited") {
				rapid.SampledFrom(limitKinds).Draw(t, "kind").draw(t, p)
			}
		})
		for _, v := range p.Variants {
			if v.Awkward != 0 {
				t.Fatalf("%s is awkward by itself, which is no weight", v.Name())
			}
		}
		rounded := rapid.Bool().Draw(t, "rounded")
		if !rounded {
			p.Weights.Lane, p.Weights.Crowding, p.Weights.Gap = 0, 0, 0
		}
		if _, err := p.settled(); err != nil {
			return
		}
		times := float64(rapid.IntRange(2, 9).Draw(t, "times"))
		heavy := *p
		heavy.Weights = weighed(p.Weights, times)
		light, many := find(t, p), find(t, &heavy)
		if light.Lap == nil || many.Lap == nil {
			if (light.Lap == nil) != (many.Lap == nil) {
				t.Errorf("%s, %+v: once it is %s, %g times %s", c.name, p.Limits, words(light.Lap), times, words(many.Lap))
			}
			return
		}
		if !light.Lap.Proven || !many.Lap.Proven {
			return
		}
		if p.Limits.Any() {
			limited++
		}
		off := 0.0
		if rounded {
			off = 0.005 * (times + 1) * float64(2*max(light.Lap.Bars, many.Lap.Bars)+1)
		} else {
			exact++
		}
		if once, all := light.Lap.Costs.Total(), many.Lap.Costs.Total(); math.Abs(all-times*once) > off+1e-6 {
			t.Errorf("%s, %+v: the best lap costs %g; where all weighs %g times as much, %g", c.name, p.Limits, once, times, all)
		}
	})
	t.Logf("%d times exactly, %d times with limits", exact, limited)
}

// TestInvariances: what the best lap costs does not depend on where the room lies in its
// plan, which way it is turned there, at which corner its outline begins, what its walls
// are called, or in which order the figures stand in the library. Of shifts and turns
// only those are tried that put the lattice on itself. The start is the same place in
// all of them.
func TestInvariances(t *testing.T) {
	type change struct {
		name string
		make func(p *Problem)
	}
	again := func(change func(i int, corner geometry.Point) geometry.Point, begin int, fields string) func(p *Problem) {
		return func(p *Problem) {
			var corners []geometry.Point
			n := len(p.Room.Outline)
			for i := range n {
				corners = append(corners, change(i, p.Room.Outline[(i+begin)%n]))
			}
			at := change(0, *p.Start.At)
			p.Start = &routine.Start{Wall: (p.Start.Wall - begin + n) % n, At: &at, Stance: p.Start.Stance}
			p.Room = loaded(t, "Changed", outline(corners...)+fields)
		}
	}
	same := func(_ int, corner geometry.Point) geometry.Point { return corner }
	turned := func(quarters int) func(int, geometry.Point) geometry.Point {
		return func(_ int, corner geometry.Point) geometry.Point {
			for range quarters {
				corner = geometry.Point{X: -corner.Y, Y: corner.X}
			}
			return corner
		}
	}
	names := "\nwalls: [lamp side, quay end, stair side, stove end]"
	changes := []change{
		{"shifted", again(func(_ int, c geometry.Point) geometry.Point { return c.Add(geometry.Point{X: 3.15, Y: -7.4}) }, 0, "")},
		{"turned by a right angle", again(turned(1), 0, "")},
		{"turned by three right angles", again(turned(3), 0, "")},
		{"begun at the second corner", again(same, 1, "")},
		{"turned, and begun at the fourth corner", again(turned(2), 3, "")},
		{"with named walls", again(same, 0, names)},
		{"figures the other way round", func(p *Problem) {
			p.Variants = slices.Clone(p.Variants)
			slices.Reverse(p.Variants)
		}},
	}
	if slower > 1 {
		changes = changes[:2]
	}
	for _, closet := range closets()[1:3] {
		for _, limits := range []Limits{{}, {Apart: 2, RightTurns: 3}} {
			if slower > 1 && (limits.Any() || closet != closets()[1]) {
				continue
			}
			p := *closet.problem
			p.Limits = limits
			p.Start = &routine.Start{At: DefaultStart(p.Room, 0).At, Stance: closet.goesRound(t)}
			want := cost(find(t, &p))
			if math.IsInf(want, 1) {
				t.Errorf("%s, %+v: there is no lap; that shows little", closet.name, limits)
			}
			for _, change := range changes {
				other := p
				change.make(&other)
				res := find(t, &other)
				if got := cost(res); got != want || !res.Lap.Proven {
					t.Errorf("%s, %+v: the best lap costs %g; in the room %s, %g", closet.name, limits, want, change.name, got)
				}
			}
		}
	}
}

// goesRound is the stance in which the best lap of a closet begins.
func (c *closet) goesRound(t faulty) figures.Stance {
	t.Helper()
	w := c.in(t, 1)
	for i, start := range w.starts {
		if w.toEnd[i][start] == w.best {
			return w.plan.posts[w.posts[i]].stance
		}
	}
	t.Fatalf("%s: there is no lap", c.name)
	return figures.Stance{}
}

// TestMirror: in a mirror the trade dances clockwise, the wall on the left: natural
// figures become reverse ones, right feet left ones, diagonal to wall diagonal to centre,
// and a corner turns the line of dance to the other side. A room is danced
// counter-clockwise whatever the figures, so the mirror is held up to what can follow
// what: a couple can go on in as many ways as the one in the mirror. Common practice, no
// source; the figures of each pair are mirror images in the library (natural turn and
// reverse turn, with their halves, and the two closed changes).
func TestMirror(t *testing.T) {
	pairs := [][2]string{
		{"Natural Turn", "Reverse Turn"},
		{"Natural Turn (1-3)", "Reverse Turn (1-3)"},
		{"Natural Turn (4-6)", "Reverse Turn (4-6)"},
		{"Right Foot Closed Change", "Left Foot Closed Change"},
	}
	var all []*figures.Variant
	for _, pair := range pairs {
		v, w := variant(t, pair[0]), variant(t, pair[1])
		all = append(all, v, w)
		if v.Turn() != -w.Turn() || v.Bars() != w.Bars() {
			t.Errorf("%s and %s are no mirror images", v.Name(), w.Name())
		}
		for _, entry := range v.Entries {
			if entry.Hold == figures.Closed && w.Exit(mirrored(entry)) != mirrored(v.Exit(entry)) {
				t.Errorf("%s ends %s; its mirror image ends %s", v.Name(), v.Exit(entry), w.Exit(mirrored(entry)))
			}
		}
	}
	for _, corners := range [][2][]int{{nil, nil}, {{-2}, {2}}, {{-2, 1}, {2, -1}}} {
		here, there := graph.New(all, corners[0]...), graph.New(all, corners[1]...)
		shown := 0
		for _, words := range []string{"DW, RF", "DC, RF", "LOD, RF", "ALOD, RF", "DW, LF", "DC, LF", "LOD, LF", "ALOD, LF"} {
			s := stance(t, words)
			for n := range 13 {
				got, want := here.Count(s, n), there.Count(mirrored(s), n)
				if got.Cmp(want) != 0 {
					t.Errorf("%s, with corners of %v eighths: %s ways of dancing %d figures, in the mirror %s", words, corners[0], got, n, want)
				}
				if n == 12 && got.IsInt64() && got.Int64() > 10 {
					shown++
				}
			}
		}
		if shown < 2 {
			t.Errorf("with corners of %v eighths many figures can be danced from %d stances only; that shows little", corners[0], shown)
		}
	}
}

// mirrored is a stance in closed hold in the mirror.
func mirrored(s figures.Stance) figures.Stance {
	m := s.Turned(-2 * int(s.Facing.Turn()/geometry.Eighth))
	m.Free = s.Free.Other()
	return m
}
