package teach_test

import (
	"context"
	"math"
	"math/big"
	"slices"
	"testing"

	"lapwright/figures"
	"lapwright/floors"
	"lapwright/graph"
	"lapwright/graph/growth"
	"lapwright/search"
	"lapwright/search/teach"
)

// TestGains holds what a figure opens against what is found without it and with it by
// other means: the growth rate against exact counts, the shortest lap and the laps
// against walking through all states, and whether there is a lap against the search.
func TestGains(t *testing.T) {
	p := problem(roomFrom(t, hut))
	p.Scales = []search.Scale{{Share: 1}}
	known := variants(itemsOf(t, "Natural Turn", "Hesitation"), teach.Of(0, 1))
	items := itemsOf(t, "Left Foot Closed Change", "Right Foot Closed Change", "Hesitation Change", "Progressive Chassé to Right", "Whisk")
	ask := teach.Next{Problem: p, Known: known, Items: items, OnFloor: len(items), Beyond: 1}
	g, err := ask.Find(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	if len(g.Gains)+len(g.Apart) != len(items) || len(g.Gains) < 3 {
		t.Fatalf("%d figures join, %d do not, of %d", len(g.Gains), len(g.Apart), len(items))
	}
	model := growth.New(append(slices.Clone(known), variants(items, teach.All(items))...))
	start := figures.Stance{Facing: figures.DiagonalToWall, Free: figures.RightFoot}
	counted := 0
	measured := func(name string, m *teach.Measures, all []*figures.Variant) {
		has := func(v *figures.Variant) bool { return slices.Contains(all, v) }
		few, many := doublings(model.Count(has, start, 240)), doublings(model.Count(has, start, 252))
		if math.Abs((many-few)/12-m.Bits) > 0.02 {
			t.Errorf("%s: the rate is %.3f, but over 12 bars the exact counts grow by %.3f a bar", name, m.Bits, (many-few)/12)
		}
		if want := found(t, p, all); m.Round != want {
			t.Errorf("%s: round %v, but the search finds a lap: %v", name, m.Round, want)
		}
		if m.Shortest == 0 {
			return
		}
		own := *p
		own.Variants = all
		states, err := search.NewStates(&own)
		if err != nil {
			t.Fatal(err)
		}
		shortest, laps := walkLaps(states, g.MostBars)
		if m.Shortest <= g.MostBars && shortest != m.Shortest || laps != m.Laps {
			t.Errorf("%s: %d laps, the shortest of %d bars; walking through them there are %d, of %d", name, m.Laps, m.Shortest, laps, shortest)
		}
		if laps > 0 {
			counted++
		}
	}
	measured("before", &g.Before, known)
	for i := range g.Gains {
		gain := &g.Gains[i]
		name := gain.Item.Figure.Name
		measured(name, &gain.After, append(slices.Clone(known), gain.Item.Variants...))
		if gain.After.Endless < g.Before.Endless || gain.After.Bits < g.Before.Bits-1e-6 || g.Before.Round && !gain.After.Round {
			t.Errorf("%s: one more figure takes something away", name)
		}
		if i > 0 && g.Gains[i-1].After.Round == gain.After.Round && g.Gains[i-1].After.Bits < gain.After.Bits-2e-3 {
			t.Errorf("%s comes too late", name)
		}
	}
	if counted == 0 {
		t.Error("no laps were counted")
	}
}

// doublings is the binary logarithm of a whole number; 0 of nought.
func doublings(n *big.Int) float64 {
	if n.Sign() == 0 {
		return 0
	}
	// Numbers of this length have more digits than a float64 takes.
	shift := max(0, n.BitLen()-60)
	f, _ := new(big.Float).SetInt(new(big.Int).Rsh(n, uint(shift))).Float64()
	return math.Log2(f) + float64(shift)
}

// walkLaps counts laps from the usual start, state by state and move by move.
func walkLaps(states *search.States, most int) (shortest int, laps uint64) {
	room := states.Room()
	start := search.DefaultStart(room, 0)
	type here struct {
		at      search.State
		corners int
	}
	posts := search.State(states.Posts())
	for _, home := range states.StandingAt(0, floors.CellAt(*start.At)) {
		if states.Standing(home).Stance != start.Stance {
			continue
		}
		ways := make([]map[here]uint64, most+1)
		for i := range ways {
			ways[i] = map[here]uint64{}
		}
		ways[0][here{home, 0}] = 1
		place := states.Standing(home).At()
		for bars, now := range ways {
			for h, n := range now {
				if h.corners == len(room.Walls) && h.at%posts == home%posts && states.Standing(h.at).At().Sub(place).Len() <= search.Tolerance+1e-9 {
					laps += n
					if shortest == 0 {
						shortest = bars
					}
				}
				for m := range states.Moves(h.at) {
					next := here{m.To, h.corners}
					if m.Turns {
						next.corners++
					}
					if bars+m.Bars <= most && next.corners <= len(room.Walls) {
						ways[bars+m.Bars][next] += n
					}
				}
			}
		}
		return shortest, laps
	}
	return 0, 0
}

// TestDeadEnds: after a natural turn a couple that is to dance a reverse turn has the wrong
// foot free, which a change step mends, and the other way round. Common practice, no
// source.
func TestDeadEnds(t *testing.T) {
	p := problem(roomFrom(t, hut))
	p.Scales = []search.Scale{{Share: 1}}
	known := variants(itemsOf(t, "Natural Turn", "Reverse Turn"), teach.Of(0, 1))
	ask := teach.Next{Problem: p, Known: known, Items: itemsOf(t, "Right Foot Closed Change", "Left Foot Closed Change"), Beyond: 1}
	g, err := ask.Find(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	want := map[string][2]int{"Right Foot Closed Change": {-1, 1}, "Left Foot Closed Change": {1, -1}}
	for _, gain := range g.Gains {
		if gain.Turned != want[gain.Item.Figure.Name] {
			t.Errorf("%s opens the way from %d to %d", gain.Item.Figure.Name, gain.Turned[0], gain.Turned[1])
		}
	}
	if len(g.Gains) != 2 {
		t.Errorf("%d figures join", len(g.Gains))
	}
	for _, s := range g.Before.DeadEnds {
		if !slices.Contains(graph.New(known, -2).DeadEnds(), s) {
			t.Errorf("%s is no dead end of the graph", s)
		}
	}
}

// TestCourse checks a course week by week: every week's figures get round as the search
// finds, each new figure has something known before and after it, and the practice lap is
// clean and has all of them.
func TestCourse(t *testing.T) {
	p := problem(roomFrom(t, hut))
	items := itemsOf(t, pool...)
	teach.Easiest(items)
	for _, known := range [][]string{nil, {"Natural Turn"}} {
		var taught []*figures.Variant
		if known != nil {
			taught = variants(itemsOf(t, known...), teach.Of(0))
		}
		free := slices.DeleteFunc(slices.Clone(items), func(it teach.Item) bool { return slices.Contains(taught, it.Variants[0]) })
		course := teach.Course{Problem: p, Known: taught, Items: free, Weeks: 3, Each: 2}
		weeks, err := course.Find(context.Background(), nil)
		if err != nil {
			t.Fatal(err)
		}
		if len(weeks) != 3 {
			t.Fatalf("%d weeks", len(weeks))
		}
		for i, w := range weeks {
			if len(w.Teach) < 1 || i > 0 && len(w.Teach) > 2 {
				t.Errorf("week %d teaches %d figures", i+1, len(w.Teach))
			}
			var must []*figures.Figure
			for _, it := range w.Teach {
				if slices.Contains(taught, it.Variants[0]) {
					t.Errorf("week %d: %s is known", i+1, it.Figure.Name)
				}
				must = append(must, it.Figure)
				taught = append(taught, it.Variants...)
			}
			for _, it := range w.Teach {
				before, after := teach.Joins(p.Room, taught, it)
				if len(before) == 0 || len(after) == 0 {
					t.Errorf("week %d: %s joins nothing", i+1, it.Figure.Name)
				}
			}
			if !found(t, p, taught) {
				t.Errorf("week %d: the search finds no lap", i+1)
			}
			cleanLap(t, p, w.Lap, taught, must)
		}
	}
}
