package repair_test

import (
	"context"
	"slices"
	"strings"
	"testing"

	"lapwright/figures"
	"lapwright/figures/geometry"
	"lapwright/floors"
	"lapwright/search"
	"lapwright/search/check"
	"lapwright/search/repair"
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

// variants are ways of dancing by their names.
func variants(t testing.TB, names ...string) (all []*figures.Variant) {
	t.Helper()
	for _, name := range names {
		v, ok := figures.BuiltIn().Variant(name)
		if !ok {
			t.Fatalf("there is no variant %q", name)
		}
		all = append(all, v)
	}
	return all
}

// bronze are the figures of the bronze level of the international style.
func bronze() (all []*figures.Variant) {
	for _, f := range figures.BuiltIn().Figures() {
		if f.At(figures.International, figures.Bronze) {
			all = append(all, f.Variants...)
		}
	}
	return all
}

// problem is a routine of figures danced at the usual stride, with the corners that
// are taken left open, in the village hall.
func problem(t testing.TB, at geometry.Point, stance string, names ...string) *repair.Problem {
	t.Helper()
	s, err := figures.ParseStance(stance)
	if err != nil {
		t.Fatal(err)
	}
	p := &repair.Problem{Count: 5, Routine: routine.Routine{Start: routine.Start{At: &at, Stance: s}},
		Problem: search.Problem{Room: room(t, "village hall"), Variants: bronze(), Follows: figures.BuiltIn().Follows(),
			Couple: figures.DefaultCouple(), Margin: -1}}
	for _, v := range variants(t, names...) {
		p.Routine.Steps = append(p.Routine.Steps, routine.Step{Variant: v, Scale: 1})
	}
	return p
}

// tester is a test, or a test of a property.
type tester interface {
	Helper()
	Errorf(format string, args ...any)
	Fatalf(format string, args ...any)
	Fatal(args ...any)
}

// find is the answer to a problem. Every repair in it dances clean, has as many changes
// as the answer says, and is told as it is.
func find(t tester, p *repair.Problem) *repair.Result {
	t.Helper()
	res, err := repair.Find(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, w := range res.Ways {
		if faults := dance(p, &w.Routine).Faults(); len(faults) > 0 {
			t.Fatalf("%s: a repair has a fault: %s", names(w.Routine.Steps), faults[0])
		}
		if seen[names(w.Routine.Steps)] {
			t.Errorf("%s is offered twice", names(w.Routine.Steps))
		}
		seen[names(w.Routine.Steps)] = true
		told(t, p, res, &w)
	}
	return res
}

// dance has the checker dance a routine.
func dance(p *repair.Problem, r *routine.Routine) *check.Report {
	return check.Dance(p.Room, p.Couple, r, check.Limits{Lap: p.Closes, Laps: p.Laps, Margin: p.Margin, Allowed: p.Allowed})
}

// told holds what is told of a repair against its figures.
func told(t tester, p *repair.Problem, res *repair.Result, w *repair.Way) {
	t.Helper()
	edits, adjusted, was, now := 0, 0, 0, 0
	for _, c := range w.Changes {
		if (c.Was >= 0) != (c.What != repair.PutIn) || (c.Now >= 0) != (c.What != repair.LeftOut) || c.Was >= 0 && c.Was != was || c.Now >= 0 && c.Now != now {
			t.Fatalf("a change is told wrongly: %+v after %d and %d figures", c, was, now)
		}
		if c.What != repair.Stays {
			edits++
		}
		if (c.What == repair.PutIn || c.What == repair.PutInPlace) && !slices.Contains(p.Variants, w.Routine.Steps[c.Now].Variant) {
			t.Errorf("%s comes in, and may not", w.Routine.Steps[c.Now].Variant.Name())
		}
		if c.What == repair.Stays && p.Allowed != nil && !p.Allowed(w.Routine.Steps[c.Now].Variant) {
			t.Errorf("%s stays, and may not", w.Routine.Steps[c.Now].Variant.Name())
		}
		if c.Was >= 0 && c.Now >= 0 {
			before, after := p.Routine.Steps[c.Was], w.Routine.Steps[c.Now]
			if (before.Variant == after.Variant) != (c.What == repair.Stays) {
				t.Errorf("figure %d is told to be %d and becomes %s from %s", c.Was+1, c.What, after.Variant.Name(), before.Variant.Name())
			}
			if stays := c.What == repair.Stays; c.Scale != (stays && before.Scale != after.Scale) ||
				c.Corner != (stays && before.Corner != routine.Unsaid && before.Corner != after.Corner) {
				t.Errorf("how figure %d is danced is told wrongly: %+v", c.Was+1, c)
			}
		}
		for _, is := range []bool{c.Scale, c.Corner} {
			if is {
				adjusted++
			}
		}
		if c.Was >= 0 {
			was++
		}
		if c.Now >= 0 {
			now++
		}
	}
	if was != len(p.Routine.Steps) || now != len(w.Routine.Steps) || edits != w.Edits || adjusted != w.Adjusted || edits != res.AtLeast {
		t.Errorf("%d changes and %d adjustments are told, at least %d; there are %d and %d, of %d and %d figures", w.Edits, w.Adjusted, res.AtLeast, edits, adjusted, was, now)
	}
}

// names are the figures of some steps.
func names(steps []routine.Step) string {
	var all []string
	for _, s := range steps {
		all = append(all, s.Variant.Name())
	}
	return strings.Join(all, ", ")
}

// TestTrade: what teachers put right every week. That a change figure comes between
// natural and reverse turns is common practice, no source; so is all else here.
func TestTrade(t *testing.T) {
	at := geometry.Point{X: 3, Y: 1.8}
	const natural, reverse, right, left = "Natural Turn", "Reverse Turn", "Right Foot Closed Change", "Left Foot Closed Change"
	for _, c := range []struct {
		name    string
		routine []string
		stance  string
		known   []string
		changes int
		first   []string   // the repair that comes first
		others  [][]string // that are among the others
	}{
		{"a reverse turn straight after a natural turn needs a right foot change", []string{natural, reverse}, "DW, RF, closed",
			[]string{natural, reverse, right, left}, 1, []string{natural, right, reverse}, [][]string{{natural}}},
		{"with more figures known too", []string{natural, reverse}, "DW, RF, closed", nil, 1, []string{natural, right, reverse}, nil},
		{"a natural turn straight after a reverse turn needs a left foot change", []string{reverse, natural}, "DC, LF, closed",
			[]string{natural, reverse, right, left}, 1, []string{reverse, left, natural}, [][]string{{reverse}}},
		{"of two reverse turns one is left out, for no change figure leads from diagonal to wall to diagonal to centre", []string{reverse, reverse}, "DC, LF, closed",
			[]string{natural, reverse, right, left}, 1, []string{reverse, left}, [][]string{{reverse}}},
		{"of two change figures on the same foot one is left out, or becomes the other", []string{left, left, natural}, "DW, LF, closed",
			[]string{natural, left}, 1, []string{left, natural}, nil},
		{"a whisk wants a chassé from promenade", []string{"Whisk", natural}, "DW, LF, closed",
			[]string{natural, left, right, reverse, "Whisk", "Chassé from Promenade"}, 1, []string{"Whisk", "Chassé from Promenade", natural}, [][]string{{"Whisk"}, {left, natural}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := problem(t, at, c.stance, c.routine...)
			if p.Count = 20; c.known != nil {
				p.Variants = variants(t, c.known...)
			}
			res := find(t, p)
			if res.AtLeast != c.changes || len(res.Ways) == 0 {
				t.Fatalf("%d ways, with at least %d changes; %d are enough", len(res.Ways), res.AtLeast, c.changes)
			}
			var all []string
			for _, w := range res.Ways {
				all = append(all, names(w.Routine.Steps))
			}
			if want := names(problem(t, at, c.stance, c.first...).Routine.Steps); all[0] != want {
				t.Errorf("first comes %s; %s is expected, of\n%s", all[0], want, strings.Join(all, "\n"))
			}
			for _, other := range c.others {
				if want := names(problem(t, at, c.stance, other...).Routine.Steps); !slices.Contains(all, want) {
					t.Errorf("%s is not among\n%s", want, strings.Join(all, "\n"))
				}
			}
		})
	}
}

// TestLegal: a routine without a fault needs no change and no adjustment.
func TestLegal(t *testing.T) {
	p := problem(t, geometry.Point{X: 3, Y: 1.8}, "DW, RF, closed", "Natural Turn", "Right Foot Closed Change", "Reverse Turn")
	res := find(t, p)
	if len(res.Ways) != 1 || res.AtLeast != 0 || res.Ways[0].Adjusted != 0 || !res.All {
		t.Errorf("%+v", res)
	}
}

// TestShorter: a figure that runs into the wall is danced shorter where that is enough.
func TestShorter(t *testing.T) {
	p := problem(t, geometry.Point{X: 6, Y: 1.15}, "DW, RF, closed", "Natural Turn")
	if faults := dance(p, &p.Routine).Faults(); len(faults) != 1 || faults[0].Kind != check.Room {
		t.Fatalf("the routine has the faults %v", faults)
	}
	res := find(t, p)
	if res.AtLeast != 0 || len(res.Ways) != 1 || res.Ways[0].Adjusted != 1 || res.Ways[0].Routine.Steps[0].Scale != 0.8 {
		t.Errorf("%+v", res)
	}
}

// TestStart: where no couple can stand, that is told, with the nearest place where one
// can; so is a stance in which nothing begins.
func TestStart(t *testing.T) {
	p := problem(t, geometry.Point{X: 6, Y: 0.2}, "DW, RF, closed", "Natural Turn")
	res := find(t, p)
	if res.NoStart == "" || len(res.Ways) > 0 || res.Nearest == nil {
		t.Fatalf("%+v", res)
	}
	better := *p
	better.Routine.Start.At = res.Nearest
	if again := find(t, &better); again.NoStart != "" {
		t.Errorf("from the place that is offered: %s", again.NoStart)
	}
	p = problem(t, geometry.Point{X: 6, Y: 1.8}, "DW, RF, promenade", "Natural Turn")
	p.Variants = variants(t, "Natural Turn")
	if res := find(t, p); res.NoStart == "" || len(res.Ways) > 0 {
		t.Errorf("%+v", res)
	}
}

// TestMayNotBeUsed: a figure that may not be used does not stay, and does not come in.
func TestMayNotBeUsed(t *testing.T) {
	p := problem(t, geometry.Point{X: 3, Y: 1.8}, "DW, RF, closed", "Natural Turn", "Right Foot Closed Change", "Reverse Turn")
	known := variants(t, "Natural Turn", "Passing Change (right foot)", "Reverse Turn")
	p.Allowed = func(v *figures.Variant) bool { return slices.Contains(known, v) }
	p.Variants = known
	res := find(t, p)
	if res.AtLeast != 1 || len(res.Ways) == 0 || names(res.Ways[0].Routine.Steps) != names(problem(t, geometry.Point{}, "DW, RF, closed",
		"Natural Turn", "Passing Change (right foot)", "Reverse Turn").Routine.Steps) {
		t.Errorf("%+v", res)
	}
	// What stays need not be among what may come in.
	p = problem(t, geometry.Point{X: 3, Y: 1.8}, "DW, RF, closed", "Natural Turn", "Reverse Turn")
	p.Variants, p.Count = variants(t, "Right Foot Closed Change"), repair.MostCount
	if res := find(t, p); res.AtLeast != 1 || len(res.Ways) == 0 || len(res.Ways[0].Routine.Steps) != 3 {
		t.Errorf("%+v", res)
	}
}

// TestNotAllowed: a figure that may not be used neither stays nor comes in.
func TestNotAllowed(t *testing.T) {
	p := problem(t, geometry.Point{X: 3, Y: 1.8}, "DW, RF, closed", "Natural Turn", "Right Foot Closed Change", "Reverse Turn")
	p.Allowed = func(v *figures.Variant) bool { return v.Figure.Name != "Right Foot Closed Change" }
	if res := find(t, p); res.AtLeast != 2 || len(res.Ways) == 0 {
		t.Errorf("%+v", res)
	}
	// Figures of the routine that may stay do not come in elsewhere.
	p = problem(t, geometry.Point{X: 3, Y: 1.8}, "DW, RF, closed", "Natural Turn", "Right Foot Closed Change", "Reverse Turn", "Left Foot Closed Change", "Natural Turn", "Reverse Turn")
	p.Variants, p.Count = variants(t, "Passing Change (right foot)"), repair.MostCount
	if res := find(t, p); res.AtLeast != 1 || len(res.Ways) == 0 {
		t.Errorf("%+v", res)
	}
}

// TestNearestShare: of the shares of the stride that are enough the nearest is taken.
func TestNearestShare(t *testing.T) {
	taken := map[float64]bool{}
	for y := 1.0; y < 1.6; y += 0.05 {
		for margin := 0.05; margin < 0.3; margin += 0.02 {
			p := problem(t, geometry.Point{X: 6, Y: y}, "DW, RF, closed", "Natural Turn")
			p.Margin = margin
			p.Scales = []search.Scale{{Share: 0.7}, {Share: 0.8}, {Share: 0.9}, {Share: 1}, {Share: 1.1}}
			want := 0.0
			for _, share := range []float64{0.7, 0.8, 0.9, 1} {
				p.Routine.Steps[0].Scale = share
				if dance(p, &p.Routine).Faults() == nil {
					want = share
				}
			}
			p.Routine.Steps[0].Scale = 1
			if want == 0 || taken[want] {
				continue
			}
			taken[want] = true
			if res := find(t, p); res.AtLeast != 0 || res.Ways[0].Routine.Steps[0].Scale != want {
				t.Errorf("%g m from the wall with %g m to be kept: %g of the stride is enough; %+v", y, margin, want, res.Ways)
			}
		}
	}
	if !taken[0.9] || !taken[0.8] || !taken[1] {
		t.Errorf("only %v came up", taken)
	}
}

// TestSense: what makes no sense is refused.
func TestSense(t *testing.T) {
	for name, change := range map[string]func(*repair.Problem){
		"no room":          func(p *repair.Problem) { p.Room = nil },
		"no place":         func(p *repair.Problem) { p.Routine.Start.At = nil },
		"no figures":       func(p *repair.Problem) { p.Routine.Steps = nil },
		"no repair wanted": func(p *repair.Problem) { p.Count = 0 },
		"too many wanted":  func(p *repair.Problem) { p.Count = repair.MostCount + 1 },
		"too many figures": func(p *repair.Problem) {
			p.Routine.Steps = slices.Repeat(p.Routine.Steps, repair.MostFigures+1)
		},
		"too many laps":    func(p *repair.Problem) { p.Closes, p.Laps = true, search.MostLaps+1 },
		"nothing to dance": func(p *repair.Problem) { p.Variants, p.Allowed = nil, func(*figures.Variant) bool { return false } },
	} {
		p := problem(t, geometry.Point{X: 3, Y: 1.8}, "DW, RF, closed", "Natural Turn")
		change(p)
		if res, err := repair.Find(context.Background(), p, nil); err == nil {
			t.Errorf("%s: %+v", name, res)
		}
	}
}

// TestMissing: a figure that is missing is put in place or left out.
func TestMissing(t *testing.T) {
	p := problem(t, geometry.Point{X: 3, Y: 1.8}, "DW, RF, closed", "Natural Turn", "Right Foot Closed Change", "Reverse Turn")
	p.Routine.Steps[1].Variant = nil
	res, err := repair.Find(context.Background(), p, nil)
	if err != nil || res.AtLeast != 1 || len(res.Ways) == 0 || res.Ways[0].Changes[1].What != repair.PutInPlace {
		t.Errorf("%+v, %v", res, err)
	}
}

// TestStopped: a search that is stopped says so; one that has taken all steps that it may
// says what is proven.
func TestStopped(t *testing.T) {
	p := problem(t, geometry.Point{X: 3, Y: 1.8}, "DW, RF, closed", "Natural Turn", "Reverse Turn")
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := repair.Find(ctx, p, nil); err == nil {
		t.Error("a search that was stopped has an answer")
	}
	p.Most, p.Closes = 2000, true
	res := find(t, p)
	if res.All || res.Never || len(res.Ways) > 0 || res.AtLeast < 1 {
		t.Errorf("%+v", res)
	}
}
