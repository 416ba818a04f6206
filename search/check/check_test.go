package check_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"lapwright/figures"
	"lapwright/figures/geometry"
	"lapwright/floors"
	"lapwright/graph"
	"lapwright/search/check"
	"lapwright/search/routine"
)

func room(t testing.TB, name string) *floors.Room {
	t.Helper()
	r, ok := floors.Named(name)
	if !ok {
		t.Fatalf("there is no room %q", name)
	}
	return r
}

func variant(t testing.TB, name string) *figures.Variant {
	t.Helper()
	v, ok := figures.BuiltIn().Variant(name)
	if !ok {
		t.Fatalf("there is no variant %q", name)
	}
	return v
}

func stance(t testing.TB, words string) figures.Stance {
	t.Helper()
	s, err := figures.ParseStance(words)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// chain is a routine of variants at the usual stride.
func chain(t testing.TB, wall int, x, y float64, s string, names ...string) *routine.Routine {
	t.Helper()
	r := &routine.Routine{Start: routine.Start{Wall: wall, At: &geometry.Point{X: x, Y: y}, Stance: stance(t, s)}}
	for _, n := range names {
		r.Steps = append(r.Steps, routine.Step{Variant: variant(t, n), Scale: 1})
	}
	return r
}

// with is a routine after a change.
func with(r *routine.Routine, change func(*routine.Routine)) *routine.Routine {
	change(r)
	return r
}

// corner says what is done about the corner before a figure.
func corner(r *routine.Routine, step int, c routine.Corner) *routine.Routine {
	r.Steps[step].Corner = c
	return r
}

// TestFaults: a table of faulty routines. Each has the faults that are named, in
// this order and no others.
func TestFaults(t *testing.T) {
	hall, ballroom := room(t, "village hall"), room(t, "ballroom")
	natural, reverse := "Natural Turn (whole turn)", "Reverse Turn"
	plain := check.Limits{Margin: -1}
	for _, c := range []struct {
		name    string
		room    *floors.Room
		routine *routine.Routine
		limits  check.Limits
		faults  []fault
	}{
		{"nothing", hall, chain(t, 0, 6, 1.5, "DW, RF"), plain, nil},
		{"a natural turn", hall, chain(t, 0, 6, 1.8, "DW, RF", natural), plain, nil},

		{"alignment", hall, chain(t, 0, 6, 1.8, "DC, LF", "Left Foot Closed Change"), plain, []fault{
			{check.Alignment, 1, "the couple faces diagonal to centre; Left Foot Closed Change begins facing line of dance or diagonal to wall"}}},
		{"foot", hall, chain(t, 0, 6, 1.8, "DW, LF", natural), plain, []fault{
			{check.Foot, 1, "the leader has the left foot free; Natural Turn (whole turn) begins with the right foot free"}}},
		{"hold", hall, chain(t, 0, 6, 2.2, "DW, LF, promenade", "Whisk"), plain, []fault{
			{check.Hold, 1, "the couple is in promenade; Whisk begins in closed hold"}}},
		{"alignment and foot", hall, chain(t, 0, 6, 1.8, "DW, RF", reverse), plain, []fault{
			{check.Alignment, 1, "the couple faces diagonal to wall; Reverse Turn begins facing diagonal to centre"},
			{check.Foot, 1, "the leader has the right foot free"}}},
		{"a join further on", hall, chain(t, 0, 4, 1.8, "DC, LF", reverse, reverse), plain, []fault{
			{check.Alignment, 2, "faces diagonal to wall"}}},

		{"a wall", hall, chain(t, 0, 6, 0.8, "DW, RF", natural), plain, []fault{
			{check.Room, 1, "the couple runs into the lane side near"}}},
		{"near a wall", hall, chain(t, 0, 6, 1.8, "DW, RF", natural), check.Limits{Margin: 1}, []fault{
			{check.Room, 1, "of the lane side near"}}},
		{"a column", ballroom, chain(t, 0, 4.4, 3.9, "DW, RF", natural), plain, []fault{
			{check.Room, 1, "column 1 near"}}},
		{"a stage", hall, chain(t, 1, 16.4, 4, "DW, RF", natural), plain, []fault{
			{check.Room, 1, "the stage apron near"}}},
		{"away from the wall", ballroom, chain(t, 0, 15, 3.9, "DC, RF", "Right Foot Closed Change"), plain, []fault{
			{check.Room, 1, "away from the quay side, and the next wall was not taken"}}},
		{"corner not reached", hall, corner(chain(t, 0, 6, 4, "DC, RF", natural), 0, routine.Take), plain, []fault{
			{check.Room, 1, "the next wall cannot be taken here, 6.0 m along the lane side and 4.0 m from it: the corner is not reached"}}},
		{"a corner-only variant along a wall", hall, corner(chain(t, 0, 6, 1.8, "DW, RF", "Natural Turn (underturned at a corner)", "Natural Turn (1-3)"), 1, routine.Stay), plain, []fault{
			{check.Room, 2, "Natural Turn (underturned at a corner) is danced at a corner, and the next wall was not taken after it"},
			{check.Alignment, 2, ""}}},
		{"start off the floor", hall, chain(t, 0, 6, -1, "DW, RF"), plain, []fault{
			{check.Room, 0, "the start at (6.00, -1.00) is not on the floor"}}},
		{"start at another wall", hall, chain(t, 2, 6, 1.8, "DW, RF"), plain, []fault{
			{check.Room, 0, "at the start, (6.00, 1.80), the garden side is not the wall in use"}}},
		{"start on a column", ballroom, chain(t, 0, 6, 4.2, "DW, RF"), plain, []fault{
			{check.Room, 0, "is not on the floor"}}},

		{"no place", hall, with(chain(t, 0, 6, 2, "DW, RF", natural), func(r *routine.Routine) { r.Start.At = nil }), plain, []fault{
			{check.Room, 0, "no place is given where the routine starts"}}},
		{"no such wall", hall, chain(t, 4, 6, 2, "DW, RF", natural), plain, []fault{
			{check.Room, 0, "starts along wall 5: the walls are numbered from 1 to 4"}}},
		{"no number", hall, chain(t, 0, math.NaN(), 2, "DW, RF", natural), plain, []fault{
			{check.Room, 0, "which is no place in a room"}}},
		{"a figure that is missing", hall, with(chain(t, 0, 6, 1.8, "DW, RF", natural, natural), func(r *routine.Routine) { r.Steps[0].Variant = nil }), plain, []fault{
			{check.Limit, 1, "figure 1 is missing"}}},
		{"no stride", hall, with(chain(t, 0, 6, 1.8, "DW, RF", natural), func(r *routine.Routine) { r.Steps[0].Scale = 0 }), plain, []fault{
			{check.Limit, 1, "it is to be danced at 0 of the stride; 0.25 to 2 can be danced"}}},

		{"not allowed", hall, chain(t, 0, 6, 1.8, "DW, RF", natural),
			check.Limits{Margin: -1, Allowed: func(v *figures.Variant) bool { return v.Figure.Name == "Reverse Turn" }}, []fault{
				{check.Limit, 1, "Natural Turn is not among the figures that may be used"}}},
		{"not allowed so", hall, chain(t, 0, 6, 1.8, "DW, RF", natural),
			check.Limits{Margin: -1, Allowed: func(v *figures.Variant) bool { return v.Label == "1-3" }}, []fault{
				{check.Limit, 1, "Natural Turn (whole turn) is not among the figures that may be used"}}},
		{"too many uses", hall, chain(t, 0, 4, 2.4, "DW, RF", natural, natural), check.Limits{Margin: -1, Uses: 1}, []fault{
			{check.Limit, 2, "this is use 2 of Natural Turn; the most allowed is 1"}}},
		{"too near each other", hall, chain(t, 0, 4, 2.4, "DW, RF", natural, natural), check.Limits{Margin: -1, Apart: 4}, []fault{
			{check.Limit, 2, "Natural Turn comes again after 2 bars; at least 4 are asked for"}}},
		{"too short", hall, chain(t, 0, 6, 1.8, "DW, RF", natural), check.Limits{Margin: -1, MinBars: 3}, []fault{
			{check.Limit, 0, "the routine has 2 bars; at least 3 are asked for"}}},
		{"too long", hall, chain(t, 0, 6, 1.8, "DW, RF", natural), check.Limits{Margin: -1, MaxBars: 1}, []fault{
			{check.Limit, 0, "the routine has 2 bars; at most 1 are asked for"}}},
		{"not danced", hall, chain(t, 0, 6, 1.8, "DW, RF", natural), check.Limits{Margin: -1, Must: []*figures.Figure{variant(t, "Whisk").Figure}}, []fault{
			{check.Limit, 0, "Whisk must be danced and is not"}}},
		{"no lap", hall, chain(t, 0, 6, 1.8, "DW, RF", natural), check.Limits{Margin: -1, Lap: true}, []fault{
			{check.Room, 0, "the lap takes 0 corners of 4"}}},
	} {
		compare(t, c.name, check.Dance(c.room, figures.DefaultCouple(), c.routine, c.limits), c.faults)
	}
}

// fault is a fault that is wanted: of a kind, at a figure, with these words in it.
type fault struct {
	kind  check.Kind
	row   int
	words string
}

// compare tells where a report's faults are not those that are wanted.
func compare(t *testing.T, name string, report *check.Report, faults []fault) {
	t.Helper()
	got := report.Faults()
	for i, f := range got {
		if i >= len(faults) {
			t.Errorf("%s: a fault too many: %s", name, f)
			continue
		}
		if want := faults[i]; f.Kind != want.kind || f.Row != want.row || !strings.Contains(f.Words, want.words) {
			t.Errorf("%s: figure %d, %s; want one about %s of figure %d: %q", name, f.Row, f, want.kind, want.row, want.words)
		}
	}
	for _, want := range faults[min(len(got), len(faults)):] {
		t.Errorf("%s: no fault about %s of figure %d: %q", name, want.kind, want.row, want.words)
	}
}

// TestFaultsHaveTheirPlace: a fault knows its bar, its line and its figure, and
// says so.
func TestFaultsHaveTheirPlace(t *testing.T) {
	r := chain(t, 0, 4, 1.8, "DC, LF", "Reverse Turn", "Left Foot Closed Change", "Reverse Turn")
	for i := range r.Steps {
		r.Steps[i].Line = 10 + i
	}
	report := check.Dance(room(t, "village hall"), figures.DefaultCouple(), r, check.Limits{Margin: -1, MinBars: 9})
	var found bool
	for _, f := range report.Faults() {
		if f.Kind == check.Foot {
			found = true
			if f.Row != 3 || f.Bar != 4 || f.Line != 12 || f.Figure != "Reverse Turn" || f.Stance != stance(t, "DW, RF") {
				t.Errorf("%+v", f)
			}
			if want := "bar 4, Reverse Turn: foot: "; !strings.HasPrefix(f.String(), want) {
				t.Errorf("%q does not begin with %q", f, want)
			}
		}
		if f.Kind == check.Limit && f.String() != "limit: the routine has 5 bars; at least 9 are asked for" {
			t.Errorf("%q", f)
		}
	}
	if !found {
		t.Errorf("no fault about the foot: %v", report.Faults())
	}
}

// TestCould: what could be danced instead can be danced.
func TestCould(t *testing.T) {
	hall := room(t, "village hall")
	library := figures.BuiltIn().Variants()
	limits := check.Limits{Margin: -1, Library: library, Allowed: func(v *figures.Variant) bool {
		f := v.Figure
		return f.At(figures.International, figures.Bronze) || f.Name == "Closed Telemark"
	}}
	report := check.Dance(hall, figures.DefaultCouple(), chain(t, 0, 6, 1.8, "DW, RF", "Reverse Turn"), limits)
	if len(report.Faults()) == 0 || len(report.Faults()[0].Could) == 0 {
		t.Fatalf("%v", report.Faults())
	}
	could := report.Faults()[0].Could
	if !slices.Contains(could, "Natural Turn") {
		t.Errorf("a natural turn could be danced; named are %q", could)
	}
	for _, v := range library {
		again := check.Dance(hall, figures.DefaultCouple(), chain(t, 0, 6, 1.8, "DW, RF", v.Name()), limits)
		if fits := again.Faults() == nil; fits != slices.Contains(could, v.Name()) {
			t.Errorf("%s is named: %t; it can be danced: %t (%v)", v.Name(), !fits, fits, again.Faults())
		}
	}
}

// TestReport: what a report adds up.
func TestReport(t *testing.T) {
	hall := room(t, "village hall")
	r := chain(t, 0, 4, 2.4, "DW, RF", "Natural Turn (whole turn)", "Natural Turn (1-3)")
	report := check.Dance(hall, figures.DefaultCouple(), r, check.Limits{Margin: -1})
	if report.Bars != 3 || report.Beats != 9 || len(report.Rows) != 2 || report.Corners != 0 || report.Closes {
		t.Errorf("%d bars, %g beats, %d rows, %d corners", report.Bars, report.Beats, len(report.Rows), report.Corners)
	}
	var walked [2]float64
	closest := 1
	for i, row := range report.Rows {
		m := row.Danced.Measures()
		walked[0] += m.Walked[0]
		walked[1] += m.Walked[1]
		if row.Clear < report.Rows[closest-1].Clear {
			closest = i + 1
		}
		if free := hall.Clearance(row.ClearAt); free < row.Clear || row.Clear < report.Room.Margin {
			t.Errorf("row %d is %.2f m clear where there are %.2f m", row.Number, row.Clear, free)
		}
	}
	if walked != report.Walked || closest != report.Closest {
		t.Errorf("walked %v, closest %d; added up %v, %d", report.Walked, report.Closest, walked, closest)
	}
	// Another stride carries the couple another way.
	r.Stride = figures.CrowdedStride
	if short := check.Dance(hall, figures.DefaultCouple(), r, check.Limits{Margin: -1}); short.Walked[0] >= report.Walked[0] {
		t.Errorf("with a stride of %g m the leader walks %.2f m, with the usual one %.2f m", r.Stride, short.Walked[0], report.Walked[0])
	}
}

// TestUnsaidCorners: where nothing is said about a corner, the next wall is taken
// when the figure can only be danced along it.
func TestUnsaidCorners(t *testing.T) {
	hall := room(t, "village hall")
	meet := hall.Walls[0].Meet
	for _, c := range []struct {
		name, stance, figure string
		corner               routine.Corner
		wall                 int
	}{
		{"only along the next wall", "DC, RF", "Natural Turn (1-3)", routine.Unsaid, 1},
		{"only along the wall in use", "LOD, LF", "Left Foot Closed Change", routine.Unsaid, 0},
		{"along both, and there is room along the wall in use", "DC, LF", "Left Box (without turn)", routine.Unsaid, 0},
		{"stay", "LOD, LF", "Left Foot Closed Change", routine.Stay, 0},
		{"take", "C, LF", "Left Foot Closed Change", routine.Take, 1},
	} {
		r := chain(t, 0, meet.X, meet.Y, c.stance, c.figure)
		r.Steps[0].Corner = c.corner
		report := check.Dance(hall, figures.DefaultCouple(), r, check.Limits{Margin: -1})
		if row := &report.Rows[0]; row.Wall != c.wall || row.NextWall != (c.wall == 1) {
			t.Errorf("%s: danced along wall %d: %v", c.name, row.Wall+1, report.Faults())
		}
		for _, f := range report.Faults() {
			if f.Kind != check.Room {
				t.Errorf("%s: %s", c.name, f)
			}
		}
	}
}

// TestJoins: an awkward join is a remark, no fault, and is told of the figure
// after it; of the first where the routine closes; not where there is a fault.
func TestJoins(t *testing.T) {
	hall := room(t, "village hall")
	lists := figures.BuiltIn().Follows()
	for _, c := range []struct {
		name    string
		follows *figures.Follows
		routine *routine.Routine
		want    string
	}{
		{"listed", lists, chain(t, 0, 4, 1.8, "DW, RF", "Natural Turn", "Right Foot Closed Change"), "[0 0]"},
		{"in no list", lists, chain(t, 0, 4, 1.8, "ALOD, LF", "Closed Impetus", "Natural Turn"), "[0 1]"},
		{"without lists", nil, chain(t, 0, 4, 1.8, "ALOD, LF", "Closed Impetus", "Natural Turn"), "[0 2]"},
		{"no join at all", lists, chain(t, 0, 4, 1.8, "DC, LF", "Reverse Turn", "Reverse Turn"), "[0 0]"},
	} {
		rep := check.Dance(hall, figures.DefaultCouple(), c.routine, check.Limits{Margin: -1, Follows: c.follows})
		var got []graph.Awkwardness
		for _, row := range rep.Rows {
			got = append(got, row.Join)
		}
		if s := fmt.Sprintf("%d", got); s != c.want {
			t.Errorf("%s: got %s, want %s", c.name, s, c.want)
		}
	}
}
