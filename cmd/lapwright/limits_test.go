package main

import (
	"encoding/json"
	"fmt"
	"regexp"
	"strings"
	"testing"
	"time"

	"lapwright/cmd/internal/answer"
	"lapwright/search/check"
)

// question reads flags as the command does.
func question(t *testing.T, c lapCommand) *lapQuestion {
	t.Helper()
	c.Dance = "waltz"
	q, err := c.question()
	if err != nil {
		t.Fatal(err)
	}
	return q
}

// TestSets: which figures a set's words stand for.
func TestSets(t *testing.T) {
	for _, c := range []struct {
		words, style, name string
		in, out            string
	}{
		{"Whisk", "", "Whisk", "Whisk", "Natural Turn"},
		{"lf closed change", "", "Left Foot Closed Change", "Left Foot Closed Change", "Right Foot Closed Change"},
		{"Natural Turn", "", "Natural Turn", "Natural Turn (1-3)", "Natural Spin Turn"},
		{"natural turn (1-3)", "", "Natural Turn (1-3)", "Natural Turn (1-3)", "Natural Turn"},
		{"turns to the left", "", "turns to the left", "Reverse Turn", "Natural Turn"},
		{"Left Turns", "", "turns to the left", "Double Reverse Spin", "Whisk"},
		{"right turns", "", "turns to the right", "Closed Impetus", "Reverse Turn"},
		{"promenade figures", "", "promenade figures", "Chassé from Promenade", "Natural Turn"},
		{"Promenade", "", "promenade figures", "Chassé from Promenade", "Natural Turn"},
		{"change", "", "change figures", "Left Foot Closed Change", "Whisk"},
		{"Hesitation", "", "Hesitation", "Hesitation", "Balance Steps"}, // a figure comes before a family
		{"hesitation figures", "", "hesitation figures", "Balance Steps", "Natural Turn"},
		{"above bronze", "", "figures above bronze, international style", "Open Telemark", "Whisk"},
		{"figures above silver", "", "figures above silver, international style", "Fallaway Reverse and Slip Pivot", "Open Telemark"},
		{"above bronze", "american", "figures above bronze, American style", "Open Left Turn", "Left Box"},
		{"above bronze", "all", "figures above bronze", "Fallaway Reverse and Slip Pivot", "Left Box"},
	} {
		r, err := repertoryFlags{Dance: "waltz", Style: c.style}.choose("bronze")
		if err != nil {
			t.Fatal(err)
		}
		set, err := r.set(c.words)
		if err != nil || set.Name != c.name {
			t.Errorf("%q is the set %q, %v; want %q", c.words, set.Name, err, c.name)
			continue
		}
		for name, want := range map[string]bool{c.in: true, c.out: false} {
			v, ok := r.library.Variant(name)
			if !ok {
				t.Fatalf("there is no %q", name)
			}
			if set.Has(v) != want {
				t.Errorf("%q has %s: %t", c.words, name, !want)
			}
		}
	}
}

// everything is a question with every limit.
func everything() lapCommand {
	return lapCommand{Time: "90", limitFlags: limitFlags{Must: []string{"Whisk"}, Bars: "48-64", Laps: "2", Uses: "9", Apart: "2",
		Cap: []string{"turns to the left=8", " promenade = 0"}, Different: "4", Order: []string{"Natural Turn, Reverse Turn,Hesitation Change"},
		Fix: []string{"Reverse Turn@9", " natural turn @ 1 Wall 1 "}, Phrase: "8", RightTurns: "3", LeaderStep: "1.2", FollowerStep: "1.1", Hardest: "9.5"}}
}

// TestAsked: what was asked for is repeated, in words and in JSON.
func TestAsked(t *testing.T) {
	q := question(t, everything())
	want := []string{"2 laps", "48 to 64 bars", "ends with a phrase of 8 bars", "Whisk at least once", "Reverse Turn at bar 9",
		"Natural Turn at bar 1 along the lane side", "Reverse Turn only after Natural Turn", "Hesitation Change only after Reverse Turn",
		"no figure more than 9 times", "at least 2 bars from one use of a figure to the next", "turns to the left at most 8 times", "no promenade figures",
		"at least 4 different figures", "at most 3 turns to the right in a row", "leader's steps up to 1.2 m", "follower's steps up to 1.1 m", "no figure or join harder than 9.5 points"}
	if got := q.limits.words(q.room.Room); strings.Join(got, "; ") != strings.Join(want, "; ") {
		t.Errorf("the limits read %q, want %q", got, want)
	}
	for _, line := range strings.Split(strings.TrimSuffix(q.limits.line(q.room.Room), "\n"), "\n") {
		if len(line) > 100 || !strings.HasPrefix(line, "Limits: ") && !strings.HasPrefix(line, "        ") {
			t.Errorf("a line reads %q", line)
		}
	}
	data, err := json.Marshal(q.asked)
	if err != nil {
		t.Fatal(err)
	}
	for _, part := range []string{`"must":["Whisk"]`, `"min_bars":48,"max_bars":64,"uses":9,"apart":2,`,
		`"caps":[{"set":"turns to the left","most":8},{"set":"promenade figures","most":0}],"different":4,`,
		`"orders":[{"first":"Natural Turn","then":"Reverse Turn"},{"first":"Reverse Turn","then":"Hesitation Change"}],`,
		`"fixed":[{"figure":"Reverse Turn","bar":9,"wall":0},{"figure":"Natural Turn","bar":1,"wall":1}],`,
		`"phrase":8,"right_turns":3,"leader_step":1.2,"follower_step":1.1,"hardest":9.5,"laps":2,"time":90,`} {
		if !strings.Contains(string(data), part) {
			t.Errorf("nothing like %s in %s", part, data)
		}
	}
	if q.time != 90*time.Second || q.problem.Laps != 2 {
		t.Errorf("%d laps in %s", q.problem.Laps, q.time)
	}
}

// TestNothingAsked: without limits there is no word of them.
func TestNothingAsked(t *testing.T) {
	q := question(t, lapCommand{})
	if q.limits.Any() || q.limits.line(q.room.Room) != "" || q.problem.Laps != 0 || q.time != 0 {
		t.Errorf("limits of nothing: %+v, %q", q.limits, q.limits.line(q.room.Room))
	}
	if a := q.asked; a.Laps != 1 || a.Caps == nil || a.Orders == nil || a.Fixed == nil || a.Must == nil {
		t.Errorf("asked %+v", a)
	}
}

// TestChecksAsAsked: the checker is asked for the same as the search.
func TestChecksAsAsked(t *testing.T) {
	q := question(t, everything())
	c, l := q.checks(), q.problem.Limits
	was := fmt.Sprint(l.Must, l.MinBars, l.MaxBars, l.Uses, l.Apart, l.Different, l.Phrase, l.RightTurns, l.LeaderStep, l.FollowerStep, l.Hardest, l.Orders, l.Fixed, q.problem.Laps)
	is := fmt.Sprint(c.Must, c.MinBars, c.MaxBars, c.Uses, c.Apart, c.Different, c.Phrase, c.RightTurns, c.LeaderStep, c.FollowerStep, c.Hardest, c.Orders, c.Fixed, c.Laps)
	if is != was || !c.Lap || len(c.Caps) != len(l.Caps) {
		t.Errorf("the checker is asked for %s, the search for %s", is, was)
	}
	for i := range c.Caps {
		if c.Caps[i].Name != l.Caps[i].Name || c.Caps[i].Most != l.Caps[i].Most {
			t.Errorf("the checker has the cap %+v, the search %+v", c.Caps[i], l.Caps[i])
		}
	}
	var none limits
	var zero check.Limits
	if none.put(&zero); fmt.Sprint(zero) != fmt.Sprint(check.Limits{}) {
		t.Errorf("no limits are %+v", zero)
	}
}

func TestDuration(t *testing.T) {
	for words, want := range map[string]time.Duration{
		"10s": 10 * time.Second, " 2m ": 2 * time.Minute, "90": 90 * time.Second, "0.5": time.Second / 2, "1m30s": 90 * time.Second, "24h": 24 * time.Hour,
		"": 0, "0": 0, "0s": 0, "-1s": 0, "-1": 0, "25h": 0, "NaN": 0, "Inf": 0, "1e99": 0, "soon": 0, "10 s": 0,
	} {
		got, err := duration(words)
		if (err == nil) != (want > 0) || got != want {
			t.Errorf("duration(%q) = %s, %v, want %s", words, got, err, want)
		}
	}
}

// TestSeveralLapsClose: what is said of a routine of several laps.
func TestSeveralLapsClose(t *testing.T) {
	for _, c := range []struct {
		totals answer.Totals
		want   string
	}{
		{answer.Totals{Closes: true, Laps: 1, Gap: 0.1}, "Lap yes: it ends as it began, 0.10 m from there"},
		{answer.Totals{Closes: true, Laps: 3}, "Laps 3: it ends as it began, 0.00 m from there"},
		{answer.Totals{Corners: 9, Laps: 2, Gap: 4}, "Lap no: it takes 9 corners and ends 4.00 m from where it began"},
	} {
		if f := closing(c.totals); f.name+" "+f.value != c.want {
			t.Errorf("%+v: %q, want %q", c.totals, f, c.want)
		}
	}
	q := question(t, lapCommand{limitFlags: limitFlags{Laps: "3"}})
	if q.name() != "3 laps of Upper Merle Village Hall" {
		t.Errorf("it is called %q", q.name())
	}
	if one := question(t, lapCommand{limitFlags: limitFlags{Laps: "1"}}); one.name() != "Lap of Upper Merle Village Hall" {
		t.Errorf("one lap is called %q", one.name())
	}
}

// TestBadLimits: limits that cannot be read, or that contradict each other, end in
// one sentence that says what is wrong, and exit code 2.
func TestBadLimits(t *testing.T) {
	for _, c := range []struct {
		args  []string // after lap
		words string   // what is said, as a regular expression
	}{
		{[]string{"--cap", "Whisk"}, `--cap takes a figure or a set, an equals sign and the most uses, such as "Whisk=2" or "turns to the left=3", not "Whisk"`},
		{[]string{"--cap", "=2"}, ""},
		{[]string{"--cap", "Whisk=-1"}, `--cap Whisk takes a whole number of uses from 0 to 1000, not "-1"`},
		{[]string{"--cap", "turns to the left=some"}, "--cap turns to the left takes a whole number of uses"},
		{[]string{"--cap", "turns to the lefft=2"}, `--cap: there is no figure or set "turns to the lefft"; the nearest names are: turns to the left, `},
		{[]string{"--cap", "promenades=2"}, "the nearest names are: .*promenade figures"},
		{[]string{"--cap", "Wisk=2"}, `--cap: there is no figure or set "Wisk"; the nearest names are: Whisk`},
		{[]string{"--cap", "Natural Turn (backward)=2"}, `--cap: "Natural Turn \(backward\)" is not a way of dancing Natural Turn`},
		{[]string{"--cap", "above gold=2"}, `--cap takes figures above bronze or above silver, not above "gold"`},
		{[]string{"--cap", "above social=2"}, ""},
		{[]string{"--must", "Whisk", "--cap", "Whisk=0"}, "^lapwright: at most 0 uses of Whisk may be danced, and 1 cannot be done without: Whisk$"},
		{[]string{"--must", "Reverse Turn,Whisk", "--cap", "turns to the left=0"}, "at most 0 uses of turns to the left may be danced"},
		{[]string{"--different", "0"}, `--different takes a whole number of figures from 1 to 1000, not "0"`},
		{[]string{"--different", "99"}, "^lapwright: 99 different figures are asked for, and only [0-9]+ may be used$"},
		{[]string{"--different", "8", "--bars", "7"}, "8 different figures, with all that have to be danced, take 8 bars at least; at most 7 bars are asked for"},
		{[]string{"--order", "Whisk"}, `--order takes figures with commas between, such as "Natural Turn, Whisk", not "Whisk"`},
		{[]string{"--order", "Whisk,"}, ""},
		{[]string{"--order", "Whisk, Natural Trun"}, `--order: there is no figure "Natural Trun"; the nearest names are: Natural Turn`},
		{[]string{"--order", "Whisk, Open Telemark"}, "Open Telemark stands in an order, but is not among the figures that may be: it is not in the repertory of level bronze"},
		{[]string{"--order", "Whisk, Whisk"}, "Whisk cannot come before itself"},
		{[]string{"--order", "Whisk, Natural Turn", "--order", "Natural Turn, Whisk"}, "^lapwright: the orders go round in a circle, so that none of these can ever be danced: Whisk before Natural Turn before Whisk$"},
		{[]string{"--order", "Natural Turn, Whisk", "--fix", "Whisk@1"}, "Whisk cannot begin at bar 1: what is to be danced before it takes 1 bar at least"},
		{[]string{"--fix", "Whisk"}, `--fix takes a figure, @ and a bar, and the wall if you like, such as "Natural Turn@9 wall 3", not "Whisk"`},
		{[]string{"--fix", "@3"}, ""},
		{[]string{"--fix", "Whisk@"}, ""},
		{[]string{"--fix", "Whisk@0"}, `--fix "Whisk@0": bars are whole numbers from 1 to 400`},
		{[]string{"--fix", "Whisk@1000000"}, ""},
		{[]string{"--fix", "Whisk@1.5"}, ""},
		{[]string{"--fix", "Whisk@3 wall 5"}, `--fix "Whisk@3 wall 5": walls are given by their number; Upper Merle Village Hall has walls 1 to 4`},
		{[]string{"--fix", "Whisk@3 wall stag end"}, "walls are given by their number; Upper Merle Village Hall has walls 1 to 4: 1 is the lane side, 2 is the stage end, 3 is the garden side and 4 is the door end$"},
		{[]string{"--fix", "Whisk@3 wall 0"}, "has walls 1 to 4"},
		{[]string{"--fix", "Wisk@3"}, `--fix: there is no figure "Wisk"; the nearest names are: Whisk`},
		{[]string{"--fix", "Natural Turn (1-3)@3"}, "--fix takes the name of a figure without its way of dancing"},
		{[]string{"--fix", "Open Telemark@3"}, "Open Telemark is to begin at bar 3, but is not among the figures that may be"},
		{[]string{"--fix", "Whisk@3, Natural Turn@3"}, "^lapwright: Whisk and Natural Turn cannot both begin at bar 3$"},
		{[]string{"--fix", "Basic Weave@3", "--fix", "Whisk@4"}, "^lapwright: Basic Weave begins at bar 3 and takes 2 bars, so Whisk cannot begin at bar 4$"},
		{[]string{"--fix", "Whisk@41", "--bars", "24-40"}, "^lapwright: Whisk cannot begin at bar 41: it takes 1 bar, and at most 40 bars are asked for$"},
		{[]string{"--fix", "Whisk@3", "--fix", "Whisk@9", "--uses", "1"}, "Whisk is to begin at bars 3, 9, and no figure may be danced more than 1 time"},
		{[]string{"--fix", "Whisk@3", "--fix", "Whisk@9", "--apart", "8"}, "Whisk is to begin at bars 3 and 9, 6 bars apart; at least 8 are asked for"},
		{[]string{"--fix", "Whisk@3 wall 3", "--fix", "Natural Turn@9 wall 2"}, "Natural Turn cannot begin at bar 9 along the stage end: Whisk is to begin at bar 3 along the garden side"},
		{[]string{"--phrase", "0"}, ""},
		{[]string{"--phrase", "8", "--bars", "25-31"}, "^lapwright: no phrase of 8 bars ends within 25 to 31 bars: they end after bars 24 and 32$"},
		{[]string{"--phrase", "999"}, "no phrase of 999 bars ends within 1 to 400 bars"},
		{[]string{"--right-turns", "0"}, `--right-turns takes a whole number of figures from 1 to 1000, not "0"`},
		{[]string{"--right-turns", "-3"}, ""},
		{[]string{"--leader-step", "0"}, `--leader-step takes metres from 0.05 to 2, not "0"`},
		{[]string{"--follower-step", "NaN"}, `--follower-step takes metres from 0.05 to 2, not "NaN"`},
		{[]string{"--follower-step", "0.1"}, `^lapwright: no figure can be danced: the follower.s longest step may be 0.1 m, and is 0\.[0-9]+ m at the least, in `},
		{[]string{"--must", "Natural Turn", "--leader-step", "0.5"}, `^lapwright: Natural Turn must be danced, and cannot be: the leader.s longest step may be 0.5 m, and is 0\.[0-9]+ m at the least$`},
		{[]string{"--laps", "0"}, `--laps takes a whole number of laps from 1 to 20, not "0"`},
		{[]string{"--laps", "21"}, ""},
		{[]string{"--laps", "1000000"}, `--laps takes a whole number of laps from 1 to 20, not "1000000"`},
		{[]string{"--uses", "1", "--bars", "300"}, "^lapwright: 300 bars are asked for, and the figures that may be used fill [0-9]+ at the most: no figure may be danced more than 1 time$"},
		{[]string{"--apart", "20", "--bars", "20-25", "--known", "Natural Turn,Reverse Turn,Whisk"}, "^lapwright: 20 to 25 bars are asked for, and the figures that may be used fill 5 at the most: none again within 20 bars$"},
		{[]string{"--laps", "2", "--bars", "801"}, "--bars takes a number of bars up to 800"},
		{[]string{"--bars", "1000000"}, `--bars takes a number of bars up to 400 or a range such as 24-40, not "1000000"`},
		{[]string{"--time", "0"}, `--time takes seconds or a duration such as 10s or 2m, up to 24 hours, not "0"`},
		{[]string{"--time", "-5s"}, ""},
		{[]string{"--time", "soon"}, `not "soon"`},
		{[]string{"--time", "25h"}, ""},
	} {
		out, errs, code := call(t, append([]string{"lap"}, c.args...)...)
		if code != exitBad || out != "" || strings.Count(errs, "\n") != 1 || !regexp.MustCompile(`(?m)`+c.words).MatchString(errs) {
			t.Errorf("%q: exit code %d, shown %q, said %q; want %q", c.args, code, out, errs, c.words)
		}
	}
	for _, args := range [][]string{{"--fix", "Whisk@3 wall 5"}, {"--cap", "Wisk=2"}, {"--laps", "none"}, {"--bars", "401"}, {"--order", "Whisk"}, {"--time", "3"}} {
		out, errs, code := call(t, append([]string{"check", "../../testdata/routines/tuesday-class.yaml"}, args...)...)
		if code != exitBad || out != "" || strings.Count(errs, "\n") != 1 {
			t.Errorf("check %q: exit code %d, shown %q, said %q", args, code, out, errs)
		}
	}
}
