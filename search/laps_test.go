package search

import (
	"context"
	"testing"

	"lapwright/figures"
)

// TestLapByLap: a lap danced several times is a routine that the judge passes, within
// the limits of which each lap had its share, and it costs what the laps cost.
func TestLapByLap(t *testing.T) {
	found := 0
	for _, c := range []struct {
		name   string
		limits Limits
	}{
		{"none", Limits{}},
		{"uses", Limits{Uses: 7}},
		// The longest steps leave out ways of dancing, which the lap must not bring back.
		{"steps", Limits{LeaderStep: 0.9, FollowerStep: 0.9}},
		{"apart", Limits{Apart: 2}},
		{"bars", Limits{MinBars: 26, MaxBars: 30}},
		{"one use for two laps", Limits{Uses: 1}},
		{"fixed", Limits{Fixed: []Fixed{{figure(t, "Whisk"), 3, -1}}}},
	} {
		if slower > 1 && c.limits.Uses != 7 {
			continue
		}
		p := brief(t)
		p.Laps, p.Limits = 2, c.limits
		s, err := prepare(context.Background(), p, nil)
		if err != nil {
			t.Fatal(c.name, err)
		}
		if c.name == "steps" {
			if res := find(t, p); res.Lap != nil {
				judge(t, p, res.Lap)
			}
		}
		trail, err := s.lapByLap(context.Background(), &p.Limits)
		if err != nil {
			t.Fatal(c.name, err)
		}
		if trail == nil {
			continue
		}
		found++
		half := trail.steps[:len(trail.steps)/2]
		for i, step := range half {
			if trail.steps[len(half)+i] != step {
				t.Errorf("%s: step %d is another in the second lap", c.name, i+1)
			}
		}
		lap := s.plan.lap(*trail)
		lap.Bound = lap.Costs.Total() // as the judge wants it
		lap.Proven = true
		if s.keepsPast(trail) {
			judge(t, p, lap)
		} else if c.name != "one use for two laps" && c.name != "fixed" {
			t.Errorf("%s: a limit is broken that each lap has kept its share of", c.name)
		}
	}
	if found < 4/min(slower, 4) {
		t.Errorf("only %d laps could be danced twice", found)
	}
}

// TestShare: laps that have the same share each keep to the limits together.
func TestShare(t *testing.T) {
	whisk := []*figures.Figure{figure(t, "Whisk")}
	l := Limits{Must: whisk, MinBars: 31, MaxBars: 40, Uses: 7, Apart: 3, Caps: []Cap{{Name: "Whisk", Most: 5}}, Different: 4, Phrase: 8, RightTurns: 2}
	own := l.share(3)
	if own.MinBars != 11 || own.MaxBars != 13 || own.Uses != 2 || own.Caps[0].Most != 1 || own.Apart != 3 || own.Different != 4 || own.Phrase != 8 || own.RightTurns != 2 {
		t.Errorf("a third of the limits is %+v", own)
	}
	if l.Caps[0].Most != 5 {
		t.Error("the limits have changed")
	}
}
