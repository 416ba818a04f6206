package search

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search/conflict"
	"lapwright/search/routine"
)

func TestWhy(t *testing.T) {
	hall, pantry := named(t, "village hall"), drawn(t, "Pantry", 1, pictures[0].picture)
	bronze := atLevel(figures.Bronze)
	for _, c := range []struct {
		name    string
		problem *Problem
		words   []string // of the first reason
		more    string   // of one of the others, if any
	}{
		{"nothing ends in the start", with(problem(hall, of(t, core...)), func(p *Problem) {
			p.Start = &routine.Start{Stance: stance(t, "C, LF, fallaway")}
		}), []string{"ends facing centre, left foot free, fallaway", "never comes back to it"}, ""},
		{"nothing ends as laps begin", problem(hall, of(t, "Whisk")), []string{"closed hold facing diagonal to wall", "give a start of your own"}, ""},
		{"nothing begins in the start", problem(hall, of(t, "Left Foot Closed Change")), []string{"none of the figures that may be used begins facing"}, ""},
		{"the start is never come back to", with(problem(hall, of(t, "Reverse Turn", "Whisk")), func(p *Problem) {
			p.Start = &routine.Start{Stance: stance(t, "DW, LF")}
		}), []string{"no chain of the figures that may be used comes back to the stance it began in: begun facing diagonal to wall, left foot free"}, ""},
		{"figures that stay in their place", problem(hall, []*figures.Variant{variant(t, "Left Box (without turn)"), variant(t, "Left Box (half turn)")}), []string{"join up, but no chain of them travels once round Upper Merle Village Hall"}, ""},
		{"no room", with(problem(hall, bronze), func(p *Problem) { p.Margin, p.WhyTime = 4, time.Second }),
			[]string{"runs out of room along lane side", "reaches stage end"}, ""},
		{"too few bars", with(problem(pantry, bronze), func(p *Problem) { p.Limits.MaxBars = 8 }),
			[]string{"no lap keeps to this: at most 8 bars (proven for the starts that were tried)"},
			"at most 9 bars would do"},
		{"one bar", with(problem(pantry, bronze), func(p *Problem) {
			p.Limits.MaxBars, p.Start = 1, &routine.Start{Stance: stance(t, "DW, RF"), At: DefaultStart(pantry, 0).At}
		}), []string{"no lap keeps to this: at most 1 bar (proven)"}, "at most 9 bars would do; at most 8 bars would not (proven)"},
		{"too few uses", with(problem(pantry, of(t, core...)), func(p *Problem) { p.Limits.Uses = 1 }),
			[]string{"no lap was found that keeps to this: no figure more than 1 time", "not proven"},
			"no figure more than 3 times would do, with a lap of 10 bars; with no figure more than 2 times none was found"},
		{"too few bars for a figure", with(problem(pantry, bronze), func(p *Problem) {
			p.Limits = Limits{MaxBars: 9, Must: []*figures.Figure{figure(t, "Outside Change")}}
		}), []string{"these limits clash: at most 9 bars; Outside Change danced at least once", "proven for the starts that were tried", "though one keeps to either"},
			"without Outside Change there is a lap of 9 bars"},
		{"a figure that cannot be had", with(problem(pantry, append(of(t, core...), of(t, "Promenade Link")...)), func(p *Problem) {
			p.Limits.Must = []*figures.Figure{figure(t, "Promenade Link")}
		}), []string{"no lap was found that keeps to this: Promenade Link danced at least once"}, "without Promenade Link there is a lap of 10 bars"},
		{"a figure that is missing", with(problem(pantry, []*figures.Variant{variant(t, "Natural Turn")}), func(p *Problem) {
			p.More = of(t, "Whisk", "Hesitation Change", "Left Foot Closed Change")
		}), []string{"none of the figures that may be used begins facing diagonal to centre"}, "with Hesitation Change and Left Foot Closed Change added there is a lap of"},
	} {
		if slower > 1 && (len(c.problem.Variants) > 30 || c.problem.Limits.Uses > 0) {
			continue
		}
		res := find(t, c.problem)
		if res.Lap != nil {
			t.Errorf("%s: there is a lap: %s", c.name, words(res.Lap))
			continue
		}
		for _, w := range c.words {
			if len(res.Why) == 0 || !strings.Contains(res.Why[0], w) {
				t.Errorf("%s: %q lacks %q", c.name, res.Why, w)
			}
		}
		if c.more != "" && !strings.Contains(strings.Join(res.Why[1:], "\n"), c.more) {
			t.Errorf("%s: %q lacks %q", c.name, res.Why[1:], c.more)
		}
	}
}

// with is a problem after a change.
func with(p *Problem, change func(*Problem)) *Problem {
	change(p)
	return p
}

// TestWhyTheEndIsNotTheStart: a search that came round the room says so.
func TestWhyTheEndIsNotTheStart(t *testing.T) {
	s, err := prepare(context.Background(), problem(named(t, "studio"), atLevel(figures.Bronze)), nil)
	if err != nil {
		t.Fatal(err)
	}
	if why := s.noLap(); len(why) != 1 || !strings.Contains(why[0], "comes round the room, but none ends in the stance and near the place in which it began") {
		t.Error(why)
	}
}

// TestWhyNothingBegins: where a wall is blocked, no place to begin along it is
// made up.
func TestWhyNothingBegins(t *testing.T) {
	room := loaded(t, "Hall", "outline: [[0, 0], [14, 0], [14, 9], [0, 9]]")
	cramped := *room
	cramped.Walls = append([]floors.Wall(nil), room.Walls...)
	cramped.Walls[0].Reach = 0.1 // the strip in use is narrower than a couple
	res := find(t, problem(&cramped, atLevel(figures.Bronze)))
	if res.Lap != nil || len(res.Why) == 0 || !strings.Contains(res.Why[0], "there is no room for a couple to begin along wall 1") {
		t.Errorf("%s %s", words(res.Lap), res.Why)
	}
}

// TestClashOnTheFloor: on a real floor, too, each limit of what clashes is needed.
// That is shown by a lap, which the judge dances.
func TestClashOnTheFloor(t *testing.T) {
	if slower > 1 {
		return // it does in one thread what TestWhy does
	}
	p := problem(drawn(t, "Pantry", 1, pictures[0].picture), atLevel(figures.Bronze))
	p.Limits = Limits{MaxBars: 9, Uses: 4, Must: []*figures.Figure{figure(t, "Whisk"), figure(t, "Outside Change")}}
	w := newWondering(context.Background(), p, NewFeasible())
	r, err := w.wonder()
	if err != nil || r == nil || len(w.members) < 2 || !r.Irreducible {
		t.Fatalf("%+v %v", r, err)
	}
	for i := range w.members {
		own := *p
		own.Limits = w.limits(slices.Delete(slices.Clone(w.members), i, i+1))
		res := find(t, &own)
		if res.Lap == nil {
			t.Fatalf("without %s: %q", r.Clash[i], res.Why)
		}
		judge(t, &own, res.Lap)
	}
	own := *p
	own.Limits = w.limits(w.members)
	if res := find(t, &own); res.Lap != nil {
		t.Errorf("there is a lap that keeps to %q: %s", r.Clash, words(res.Lap))
	}
}

// TestWhyInTime: a search for the reason that has no time says so.
func TestWhyInTime(t *testing.T) {
	p := problem(drawn(t, "Pantry", 1, pictures[0].picture), of(t, core...))
	p.Limits, p.WhyTime = Limits{Uses: 1}, 1
	res := find(t, p)
	if res.Lap != nil || len(res.Why) != 2 || !strings.Contains(res.Why[0], "no lap was found within these limits") || !strings.Contains(res.Why[1], "the time for finding out why was over") {
		t.Errorf("%q", res.Why)
	}
}

// TestWhyTheStepsAreTooLong: where only a longest step is in the way, that is said, and
// the step that is named has a lap and the one below it has none.
func TestWhyTheStepsAreTooLong(t *testing.T) {
	if slower > 1 {
		return // it does in one thread what TestWhy does
	}
	p := problem(named(t, "studio"), atLevel(figures.Bronze))
	step := func(metres float64) *Problem {
		own := *p
		own.Limits.LeaderStep = metres
		return &own
	}
	res := find(t, step(0.7))
	if res.Lap != nil || len(res.Why) < 2 || !strings.HasPrefix(res.Why[0], "no lap keeps to this: no step of the leader longer than 0.7 m (proven") ||
		!strings.HasPrefix(res.Why[1], "no step of the leader longer than 0.86 m would do") {
		t.Fatalf("%q", res.Why)
	}
	if res := find(t, step(0.86)); res.Lap == nil {
		t.Errorf("with 0.86 m: %q", res.Why)
	}
	// One that answers tells the same whatever it was asked before.
	feasible := NewFeasible()
	for _, c := range []struct {
		metres float64
		want   conflict.Answer
	}{{0.7, conflict.Impossible}, {0, conflict.Possible}, {0.85, conflict.Impossible}, {0.86, conflict.Possible}, {0.85, conflict.Impossible}, {0.7, conflict.Impossible}} {
		a, lap, err := feasible(context.Background(), step(c.metres))
		if err != nil || a != c.want || (lap != nil) != (a == conflict.Possible) {
			t.Errorf("%g m: %v %v", c.metres, a, err)
		}
		if lap != nil {
			judge(t, step(c.metres), lap)
		}
	}
}

// TestNoLimitIsBlamedAlone: of two limits, each of which a lap keeps to, none is said to
// clash with nothing, though those who are asked first do not know of that lap.
func TestNoLimitIsBlamedAlone(t *testing.T) {
	if slower > 1 {
		return // it does in one thread what TestWhy does
	}
	p := problem(named(t, "studio"), international(figures.Bronze))
	p.Limits = Limits{MaxBars: 12, Phrase: 8}
	w := newWondering(context.Background(), p, NewFeasible())
	if err := w.clash(); err != nil || len(w.members) != 2 || w.reasons.Proven || w.reasons.Irreducible {
		t.Fatalf("%v %+v %v", w.members, w.reasons, err)
	}
	for _, l := range []Limits{{MaxBars: 12}, {Phrase: 8}} {
		own := *p
		own.Limits = l
		res := find(t, &own)
		if res.Lap == nil {
			t.Fatalf("%+v: %q", l, res.Why)
		}
		judge(t, &own, res.Lap)
	}
}

// TestLeastBarsDoNotHinder: asking for a number of bars from which the best lap within the
// other limits does not keep away hides none.
func TestLeastBarsDoNotHinder(t *testing.T) {
	if slower > 1 {
		return // TestCores searches within such limits
	}
	p := problem(named(t, "studio"), atLevel(figures.Bronze))
	p.Limits = Limits{Different: 7, MaxBars: 14}
	free := find(t, p)
	if free.Lap == nil {
		t.Fatal(free.Why)
	}
	p.Limits.MinBars = free.Lap.Bars - 2
	res := find(t, p)
	if res.Lap == nil || res.Lap.Costs.Total() != free.Lap.Costs.Total() || res.Lap.Proven != free.Lap.Proven {
		t.Errorf("with at least %d bars %s %q\nwithout %s", p.Limits.MinBars, words(res.Lap), res.Why, words(free.Lap))
	}
	// One that is too short is not told as the best so far.
	p.Variants = international(figures.Bronze)
	p.Limits = Limits{Different: 9, MinBars: 13, MaxBars: 14}
	least := math.Inf(1)
	res, err := Find(context.Background(), p, func(p Progress) {
		if p.Best > 0 {
			least = min(least, p.Best)
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	if res.Lap == nil || least < res.Lap.Costs.Total() {
		t.Errorf("with at least %d bars a lap of %g was told of; the best is %s", p.Limits.MinBars, least, words(res.Lap))
	}
}
