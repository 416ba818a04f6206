package check_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"lapwright/figures"
	"lapwright/graph/difficulty"
	"lapwright/search/check"
	"lapwright/search/routine"

	"pgregory.net/rapid"
)

// limited tells what the limits of a table have in common: the room's own margin.
func limited(l check.Limits) check.Limits {
	l.Margin = -1
	return l
}

func figure(t testing.TB, name string) *figures.Figure { return variant(t, name).Figure }

// TestLimits: a table of routines that break a limit on what has been danced
// before. Each has the faults that are named, in this order and no others.
func TestLimits(t *testing.T) {
	hall := room(t, "village hall")
	natural, reverse, right, left := "Natural Turn (whole turn)", "Reverse Turn", "Right Foot Closed Change", "Left Foot Closed Change"
	turning := func(right bool) func(*figures.Variant) bool {
		return func(v *figures.Variant) bool { return right && v.Turn() < 0 || !right && v.Turn() > 0 }
	}
	of := func(name string) func(*figures.Variant) bool {
		f := figure(t, name)
		return func(v *figures.Variant) bool { return v.Figure == f }
	}
	// Six bars: a natural turn, a change, a reverse turn and a change.
	six := func() *routine.Routine {
		return chain(t, 0, 4, 2.4, "DW, RF", "Natural Turn", right, reverse, left)
	}
	// Three right turns one after the other, in five bars.
	spin := func() *routine.Routine {
		return chain(t, 0, 4, 2.4, "DW, RF", natural, natural, "Natural Turn (1-3)")
	}
	const diagonal = "Quarter Turns on the Diagonal"
	for _, c := range []struct {
		name    string
		routine *routine.Routine
		limits  check.Limits
		faults  []fault
	}{
		{"a cap that is kept", six(), check.Limits{Caps: []check.Cap{{Name: "turns to the left", Has: turning(false), Most: 1}}}, nil},
		{"a cap on a figure", spin(), check.Limits{Caps: []check.Cap{{Name: "Natural Turn", Has: of(natural), Most: 2}}}, []fault{
			{check.Limit, 3, "this is use 3 of Natural Turn; the most allowed is 2"}}},
		{"a cap on a set", spin(), check.Limits{Caps: []check.Cap{{Name: "turns to the right", Has: turning(true), Most: 1}}}, []fault{
			{check.Limit, 2, "this is use 2 of turns to the right; the most allowed is 1"},
			{check.Limit, 3, "this is use 3 of turns to the right; the most allowed is 1"}}},
		{"a cap of none", six(), check.Limits{Caps: []check.Cap{{Name: "turns to the left", Has: turning(false)}}}, []fault{
			{check.Limit, 3, "this is use 1 of turns to the left; the most allowed is 0"}}},
		{"two caps", six(), check.Limits{Caps: []check.Cap{{Name: "turns to the left", Has: turning(false)}, {Name: "Reverse Turn", Has: of(reverse)}}}, []fault{
			{check.Limit, 3, "this is use 1 of turns to the left; the most allowed is 0"},
			{check.Limit, 3, "this is use 1 of Reverse Turn; the most allowed is 0"}}},

		{"different figures", six(), check.Limits{Different: 4}, nil},
		{"too few different figures", six(), check.Limits{Different: 5}, []fault{
			{check.Limit, 0, "the routine has 4 different figures; at least 5 are asked for"}}},
		{"two ways of dancing a figure are one figure", spin(), check.Limits{Different: 2}, []fault{
			{check.Limit, 0, "the routine has 1 different figures; at least 2 are asked for"}}},

		{"an order", six(), check.Limits{Orders: []check.Order{{First: figure(t, natural), Then: figure(t, reverse)}}}, nil},
		{"an order of figures of which the second is not danced", six(), check.Limits{Orders: []check.Order{{First: figure(t, "Whisk"), Then: figure(t, "Hesitation Change")}}}, nil},
		{"the wrong order", six(), check.Limits{Orders: []check.Order{{First: figure(t, reverse), Then: figure(t, right)}}}, []fault{
			{check.Limit, 2, "Right Foot Closed Change comes before Reverse Turn has been danced; the order asked for is Reverse Turn first"}}},
		{"after a figure that is never danced", six(), check.Limits{Orders: []check.Order{{First: figure(t, "Whisk"), Then: figure(t, left)}}}, []fault{
			{check.Limit, 4, "Left Foot Closed Change comes before Whisk has been danced"}}},
		{"after itself", six(), check.Limits{Orders: []check.Order{{First: figure(t, left), Then: figure(t, left)}}}, []fault{
			{check.Limit, 4, "Left Foot Closed Change comes before Left Foot Closed Change has been danced"}}},

		{"fixed", six(), check.Limits{Fixed: []check.Fixed{{Figure: figure(t, reverse), Bar: 4, Wall: -1}, {Figure: figure(t, natural), Bar: 1, Wall: 0}}}, nil},
		{"another figure at the bar", six(), check.Limits{Fixed: []check.Fixed{{Figure: figure(t, "Whisk"), Bar: 4, Wall: -1}}}, []fault{
			{check.Limit, 3, "Whisk is to begin at bar 4, and Reverse Turn begins there"}}},
		{"in the middle of a figure", six(), check.Limits{Fixed: []check.Fixed{{Figure: figure(t, "Whisk"), Bar: 5, Wall: -1}}}, []fault{
			{check.Limit, 3, "Whisk is to begin at bar 5, and Reverse Turn, which began at bar 4, is not over then"}}},
		{"in the middle of the figure itself", six(), check.Limits{Fixed: []check.Fixed{{Figure: figure(t, reverse), Bar: 5, Wall: -1}}}, []fault{
			{check.Limit, 3, "Reverse Turn is to begin at bar 5, and Reverse Turn, which began at bar 4, is not over then"}}},
		{"after the end", six(), check.Limits{Fixed: []check.Fixed{{Figure: figure(t, left), Bar: 7, Wall: -1}}}, []fault{
			{check.Limit, 0, "Left Foot Closed Change is to begin at bar 7; the routine has 6 bars"}}},
		{"before the beginning", six(), check.Limits{Fixed: []check.Fixed{{Figure: figure(t, left), Bar: 0, Wall: -1}}}, []fault{
			{check.Limit, 0, "Left Foot Closed Change is to begin at bar 0; the routine has 6 bars"}}},
		{"along another wall", six(), check.Limits{Fixed: []check.Fixed{{Figure: figure(t, reverse), Bar: 4, Wall: 1}}}, []fault{
			{check.Limit, 3, "Reverse Turn at bar 4 is to be danced along the stage end, and is danced along the lane side"}}},
		{"along no wall", six(), check.Limits{Fixed: []check.Fixed{{Figure: figure(t, reverse), Bar: 4, Wall: 8}}}, []fault{
			{check.Limit, 3, "is to be danced along wall 9, of which there is none, and is danced along the lane side"}}},

		{"a phrase", six(), check.Limits{Phrase: 3}, nil},
		{"inside the first phrase", six(), check.Limits{Phrase: 8}, []fault{
			{check.Limit, 0, "the routine ends after bar 6, inside a phrase of 8 bars; phrases end after bar 8"}}},
		{"inside a phrase", six(), check.Limits{Phrase: 4}, []fault{
			{check.Limit, 0, "the routine ends after bar 6, inside a phrase of 4 bars; phrases end after bar 4 or 8"}}},

		{"right turns with a rest", six(), check.Limits{RightTurns: 1}, nil},
		{"right turns in a row", spin(), check.Limits{RightTurns: 2}, []fault{
			{check.Limit, 3, "this is figure 3 in a row that turns to the right; the most allowed is 2, and then one that does not"}}},
		{"more right turns in a row", spin(), check.Limits{RightTurns: 1}, []fault{
			{check.Limit, 2, "this is figure 2 in a row"},
			{check.Limit, 3, "this is figure 3 in a row"}}},

		{"nothing too hard", six(), check.Limits{Hardest: 1.75}, nil},
		{"a figure that is too hard", six(), check.Limits{Hardest: 1.7}, []fault{
			{check.Limit, 1, "it has 1.75 points a bar; the hardest allowed is 1.7"}, {check.Limit, 3, "it has 1.75 points a bar; the hardest allowed is 1.7"}}},
		{"joins that are too hard", chain(t, 0, 4, 2.4, "DC, RF", diagonal, diagonal), check.Limits{Hardest: 2.4, Follows: figures.BuiltIn().Follows()}, []fault{
			{check.Limit, 2, "Quarter Turns on the Diagonal after Quarter Turns on the Diagonal is a join of 2.50 points; the hardest allowed is 2.4"}}},
		{"joins that are not", chain(t, 0, 4, 2.4, "DC, RF", diagonal, diagonal), check.Limits{Hardest: 2.5, Follows: figures.BuiltIn().Follows()}, nil},
		{"two laps", chain(t, 0, 6, 1.8, "DW, RF", natural), check.Limits{Lap: true, Laps: 2}, []fault{
			{check.Room, 0, "the routine takes 0 corners; 2 laps take 8"}}},
		{"figures that are none", six(), check.Limits{Must: []*figures.Figure{nil}, Caps: []check.Cap{{}}, Orders: []check.Order{{Then: figure(t, reverse)}}, Fixed: []check.Fixed{{Bar: 1}}}, nil},
		{"a must and a figure that is missing", with(six(), func(r *routine.Routine) { r.Steps[3].Variant = nil }), check.Limits{Must: []*figures.Figure{figure(t, left)}}, []fault{
			{check.Limit, 4, "figure 4 is missing"},
			{check.Limit, 0, "Left Foot Closed Change must be danced and is not"}}},
	} {
		compare(t, c.name, check.Dance(hall, figures.DefaultCouple(), c.routine, limited(c.limits)), c.faults)
	}
}

// TestLongestSteps: a dancer's longest step is that of the figure as it is danced,
// at its scale and the couple's stride. On the second step of a natural turn the
// leader is on the outside and the follower on the inside.
func TestLongestSteps(t *testing.T) {
	hall := room(t, "village hall")
	for _, c := range []struct {
		stride, scale float64
	}{{0, 1}, {0, 0.8}, {0.45, 1}, {0.45, 1.1}} {
		r := chain(t, 0, 4, 2.4, "DW, RF", "Natural Turn (whole turn)")
		r.Stride, r.Steps[0].Scale = c.stride, c.scale
		longest := check.Dance(hall, figures.DefaultCouple(), r, limited(check.Limits{})).Rows[0].Danced.Measures().LongestStep
		for who := figures.Leader; who <= figures.Follower; who++ {
			at := func(metres float64) []check.Fault {
				var l check.Limits
				*[]*float64{&l.LeaderStep, &l.FollowerStep}[who] = metres
				return check.Dance(hall, figures.DefaultCouple(), r, limited(l)).Faults()
			}
			if faults := at(longest[who]); faults != nil {
				t.Errorf("stride %g, scale %g: %v", c.stride, c.scale, faults)
			}
			shown := math.Ceil(100*(longest[who]-1e-6)) / 100
			want := fmt.Sprintf("the %s's longest step is %.2f m; the most allowed is %g m", who, shown, longest[who]-0.001)
			if faults := at(longest[who] - 0.001); len(faults) != 1 || faults[0].Kind != check.Limit || faults[0].Row != 1 || faults[0].Words != want {
				t.Errorf("stride %g, scale %g: %v, want %q", c.stride, c.scale, faults, want)
			}
		}
	}
}

// TestLimitedCould: what could be danced instead keeps to the limits.
func TestLimitedCould(t *testing.T) {
	hall := room(t, "village hall")
	wrong := chain(t, 0, 4, 2.4, "DW, RF", "Natural Turn", "Reverse Turn")
	could := func(l check.Limits) []string {
		l.Library = figures.BuiltIn().Variants()
		for _, f := range check.Dance(hall, figures.DefaultCouple(), wrong, limited(l)).Faults() {
			if f.Row == 2 && f.Kind == check.Foot {
				return f.Could
			}
		}
		t.Fatal("there is no fault about the foot")
		return nil
	}
	all := could(check.Limits{})
	change := "Right Foot Closed Change"
	if !slices.Contains(all, change) {
		t.Fatalf("a change could be danced; named are %q", all)
	}
	for _, c := range []struct {
		name   string
		limits check.Limits
		gone   string
	}{
		{"a cap", check.Limits{Caps: []check.Cap{{Has: func(v *figures.Variant) bool { return v.Figure.Family == "change" }}}}, change},
		{"an order", check.Limits{Orders: []check.Order{{First: figure(t, "Whisk"), Then: figure(t, change)}}}, change},
		{"a figure at the bar", check.Limits{Fixed: []check.Fixed{{Figure: figure(t, "Right Box"), Bar: 3, Wall: -1}}}, change},
		{"a long step", check.Limits{FollowerStep: 0.4}, change},
	} {
		if got := could(c.limits); slices.Contains(got, c.gone) || len(got) >= len(all) {
			t.Errorf("%s: named are %q", c.name, got)
		}
	}
}

// TestSeveralLaps: a lap danced again and again is a routine of several laps, and
// of no other number of them.
func TestSeveralLaps(t *testing.T) {
	all, rooms := laps()
	kept := 0
	for i, good := range all {
		for n := 2; n <= 3; n++ {
			r := &routine.Routine{Start: good.Start}
			for range n {
				r.Steps = append(r.Steps, good.Steps...)
			}
			dance := func(laps int) *check.Report {
				return check.Dance(rooms[i], figures.DefaultCouple(), r, limited(check.Limits{Lap: true, Laps: laps}))
			}
			report := dance(n)
			if report.Laps != n || report.Corners != n*len(rooms[i].Walls) {
				t.Errorf("%s: %d laps, %d corners; danced were %d laps", rooms[i].Name, report.Laps, report.Corners, n)
			}
			// The gap at the end of a lap comes in every time round, and may carry
			// the couple too near to a wall or too far from its start.
			if report.Faults() == nil {
				kept++
				if !report.Closes || report.Gap > 0.3+1e-6 {
					t.Errorf("%s: it closes: %t, %.2f m from the start", rooms[i].Name, report.Closes, report.Gap)
				}
			}
			for _, other := range []int{0, n + 1} {
				if report := dance(other); report.Faults() == nil || report.Closes {
					t.Errorf("%s: %d laps pass for %d", rooms[i].Name, n, max(1, other))
				}
			}
		}
	}
	if kept == 0 {
		t.Error("no lap can be danced twice")
	}
}

// TestLimitMutations: a good lap keeps the limits that are read off it, and breaks
// each of them that is made a little closer.
func TestLimitMutations(t *testing.T) {
	all, rooms := laps()
	if len(all) < 3 {
		t.Fatalf("there are laps in %d rooms", len(all))
	}
	rapid.Check(t, func(t *rapid.T) {
		which := rapid.IntRange(0, len(all)-1).Draw(t, "lap")
		good := all[which]
		dance := func(l check.Limits) *check.Report {
			l.Lap = true
			return check.Dance(rooms[which], figures.DefaultCouple(), good, limited(l))
		}
		rows := dance(check.Limits{}).Rows
		bars := dance(check.Limits{}).Bars
		row := rows[rapid.IntRange(0, len(rows)-1).Draw(t, "figure")]
		f := row.Variant.Figure
		has := rapid.SampledFrom([]func(*figures.Variant) bool{
			func(v *figures.Variant) bool { return v.Figure == f },
			func(v *figures.Variant) bool { return v.Figure.Family == f.Family },
			func(v *figures.Variant) bool { return v == row.Variant },
		}).Draw(t, "set")
		var uses, run, most int
		var steps [2]float64
		hardest := 0.0
		first := map[*figures.Figure]int{}
		for i, r := range rows {
			if has(r.Variant) {
				uses++
			}
			if run++; r.Variant.Turn() >= 0 {
				run = 0
			}
			most = max(most, run)
			if _, ok := first[r.Variant.Figure]; !ok {
				first[r.Variant.Figure] = i
			}
			for who, long := range r.Danced.Measures().LongestStep {
				steps[who] = max(steps[who], long)
			}
			hardest = max(hardest, difficulty.Figure(r.Variant).Total(), r.JoinDifficulty.Total())
		}
		var order check.Order
		for g, i := range first {
			if i > first[f] {
				order = check.Order{First: f, Then: g}
			}
		}
		cap := check.Cap{Name: "set", Has: has, Most: uses}
		fixed := check.Fixed{Figure: f, Bar: row.Bar, Wall: row.Wall}
		kept := check.Limits{Caps: []check.Cap{cap}, Different: len(first), Orders: []check.Order{order}, Fixed: []check.Fixed{fixed},
			Phrase: bars, RightTurns: most, LeaderStep: steps[figures.Leader], FollowerStep: steps[figures.Follower], Hardest: hardest, Laps: 1}
		if faults := dance(kept).Faults(); faults != nil {
			t.Fatalf("%s: the limits are kept, and there are faults: %v", rooms[which].Name, faults)
		}
		closer := kept
		what := rapid.SampledFrom([]string{"cap", "different", "order", "bar", "wall", "figure", "phrase", "turns", "leader", "follower", "laps", "hardest"}).Draw(t, "change")
		switch what {
		case "cap":
			cap.Most--
			closer.Caps = []check.Cap{cap}
		case "different":
			closer.Different++
		case "order":
			if order.First == nil {
				return // the figure is the last to come in
			}
			closer.Orders = []check.Order{{First: order.Then, Then: order.First}}
		case "bar":
			if fixed.Bar++; row.Variant.Bars() == 1 {
				fixed.Bar += bars
			}
			closer.Fixed = []check.Fixed{fixed}
		case "wall":
			fixed.Wall = (fixed.Wall + 1) % len(rooms[which].Walls)
			closer.Fixed = []check.Fixed{fixed}
		case "figure":
			fixed.Figure = another(f)
			closer.Fixed = []check.Fixed{fixed}
		case "phrase":
			closer.Phrase++
		case "turns":
			if closer.RightTurns--; closer.RightTurns < 1 {
				return // no limit
			}
		case "leader":
			closer.LeaderStep -= 0.01
		case "follower":
			closer.FollowerStep -= 0.01
		case "hardest":
			if closer.Hardest -= 0.01; closer.Hardest <= 0 {
				return // no limit
			}
		case "laps":
			closer.Laps++
		}
		faults := dance(closer).Faults()
		if faults == nil {
			t.Errorf("%s: the checker finds no fault after a closer limit: %s", rooms[which].Name, what)
		}
		for _, f := range faults {
			if f.Words == "" || f.Kind != check.Limit && what != "laps" {
				t.Errorf("%s: %s: %s", rooms[which].Name, what, f)
			}
		}
	})
}

// another is a figure other than one.
func another(f *figures.Figure) *figures.Figure {
	all := figures.BuiltIn().Figures()
	if all[0] == f {
		return all[1]
	}
	return all[0]
}
