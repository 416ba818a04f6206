package main

import (
	"encoding/json"
	"fmt"
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
		Fix: []string{"Reverse Turn@9", " natural turn @ 1 Wall 1 "}, Phrase: "8", RightTurns: "3", LeaderStep: "1.2", FollowerStep: "1.1"}}
}

// TestAsked: what was asked for is repeated, in words and in JSON.
func TestAsked(t *testing.T) {
	q := question(t, everything())
	want := []string{"2 laps", "48 to 64 bars", "ends with a phrase of 8 bars", "Whisk at least once", "Reverse Turn at bar 9",
		"Natural Turn at bar 1 along the lane side", "Reverse Turn only after Natural Turn", "Hesitation Change only after Reverse Turn",
		"no figure more than 9 times", "at least 2 bars from one use of a figure to the next", "turns to the left at most 8 times", "no promenade figures",
		"at least 4 different figures", "at most 3 turns to the right in a row", "leader's steps up to 1.2 m", "follower's steps up to 1.1 m"}
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
		`"phrase":8,"right_turns":3,"leader_step":1.2,"follower_step":1.1,"laps":2,"time":90,`} {
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
	was := fmt.Sprint(l.Must, l.MinBars, l.MaxBars, l.Uses, l.Apart, l.Different, l.Phrase, l.RightTurns, l.LeaderStep, l.FollowerStep, l.Orders, l.Fixed, q.problem.Laps)
	is := fmt.Sprint(c.Must, c.MinBars, c.MaxBars, c.Uses, c.Apart, c.Different, c.Phrase, c.RightTurns, c.LeaderStep, c.FollowerStep, c.Orders, c.Fixed, c.Laps)
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
