package search

import (
	"context"
	"strings"
	"testing"

	"lapwright/figures"
	"lapwright/floors"
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
		{"no room", with(problem(hall, bronze), func(p *Problem) { p.Margin = 4 }),
			[]string{"runs out of room along lane side", "reaches stage end"}, ""},
		{"too few bars", with(problem(pantry, bronze), func(p *Problem) { p.Limits.MaxBars = 8 }),
			[]string{"the shortest lap of these figures takes", "at most 8 are asked for (proven)"}, ""},
		{"one bar", with(problem(pantry, bronze), func(p *Problem) { p.Limits.MaxBars = 1 }),
			[]string{"at most 1 are asked for (proven)"}, ""},
		{"too few uses", with(problem(pantry, of(t, core...)), func(p *Problem) { p.Limits.Uses = 1 }),
			[]string{"no lap was found within these limits", "not proven"}, "with any number of uses of a figure (all else as asked) there is a lap"},
		{"too far apart", with(problem(pantry, bronze), func(p *Problem) { p.Limits.Apart = 60 }),
			[]string{"no lap was found within these limits"}, "with any number of bars from one use of a figure to the next (all else as asked) there is a lap"},
		{"too many bars for the uses", with(problem(pantry, bronze), func(p *Problem) { p.Limits = Limits{MinBars: 60, MaxBars: 60, Uses: 2} }),
			[]string{"no lap was found within these limits"}, "with any number of bars (all else as asked) there is a lap"},
		{"a figure that cannot be had", with(problem(pantry, append(of(t, core...), of(t, "Promenade Link")...)), func(p *Problem) {
			p.Limits.Must = []*figures.Figure{figure(t, "Promenade Link")}
		}), []string{"no lap was found within these limits"}, "with none of the figures that must be danced (all else as asked) there is a lap"},
	} {
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
	s, err := prepare(context.Background(), problem(named(t, "village hall"), atLevel(figures.Bronze)), nil)
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
	if res.Lap != nil || len(res.Why) != 1 || !strings.Contains(res.Why[0], "there is no room for a couple to begin along wall 1") {
		t.Errorf("%s %s", words(res.Lap), res.Why)
	}
}
