package search

import (
	"math/big"
	"strings"
	"testing"

	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search/check"
	"lapwright/search/routine"
)

// TestContinuations compares the counts with those of a plain enumeration, in
// which the checker dances every sequence.
func TestContinuations(t *testing.T) {
	for i, room := range rooms(t) {
		p := problem(room, of(t, core...))
		p.Scales = []Scale{{0.8, 0}, {1, 0}}
		// The lattice is careful by up to 7.5 cm, so the count lies between
		// those of two margins.
		start := routine.Start{At: DefaultStart(room, 0).At, Stance: stance(t, "DW, RF")}
		for n := range 3 + (len(pictures)-i)/len(pictures) { // three figures in the smallest room
			got, err := p.Continuations(start, n)
			if err != nil {
				t.Fatal(err)
			}
			least, most := enumerated(p, start, nil, n, 0.075), enumerated(p, start, nil, n, 0)
			if got.Cmp(big.NewInt(least)) < 0 || got.Cmp(big.NewInt(most)) > 0 {
				t.Errorf("%s: %s ways of dancing %d figures; danced one by one, %d to %d", room.Name, got, n, least, most)
			}
			if n > 0 && most == 0 {
				t.Errorf("%s: there is no way of dancing %d figures; that shows little", room.Name, n)
			}
		}
	}
}

// enumerated counts the ways of dancing n more figures with so much clearance
// over the margin.
func enumerated(p *Problem, start routine.Start, steps []routine.Step, n int, over float64) int64 {
	if n == 0 {
		return 1
	}
	count := int64(0)
	for _, v := range p.Variants {
		for _, s := range p.Scales {
			for _, corner := range []routine.Corner{routine.Stay, routine.Take} {
				all := append(steps[:len(steps):len(steps)], routine.Step{Variant: v, Scale: s.Share, Corner: corner})
				rep := check.Dance(p.Room, p.Couple, &routine.Routine{Start: start, Steps: all}, check.Limits{Margin: p.Room.Margin + over})
				if rep.Faults() == nil {
					count += enumerated(p, start, all, n-1, over)
				}
			}
		}
	}
	return count
}

func TestContinuationsRefuse(t *testing.T) {
	hall := named(t, "village hall")
	on := routine.Start{At: at(6, 1.5), Stance: stance(t, "DW, RF")}
	for _, c := range []struct {
		name  string
		n     int
		start func(*routine.Start)
		words string
	}{
		{"fewer than none", -1, func(*routine.Start) {}, "-1 figures cannot be counted"},
		{"too many", MostContinued + 1, func(*routine.Start) {}, "0 to 16 can"},
		{"no place", 1, func(s *routine.Start) { s.At = nil }, "no place is given"},
		{"no wall", 1, func(s *routine.Start) { s.Wall = 9 }, "the room has no wall 10"},
		{"off the floor", 1, func(s *routine.Start) { s.At = at(6, -3) }, "not on the floor"},
	} {
		start := on
		c.start(&start)
		if _, err := problem(hall, atLevel(figures.Bronze)).Continuations(start, c.n); err == nil || !strings.Contains(err.Error(), c.words) {
			t.Errorf("%s: %v, want %q", c.name, err, c.words)
		}
	}
}

func TestDefaultStart(t *testing.T) {
	for _, room := range append(rooms(t), floors.BuiltIn()...) {
		for wall := range room.Walls {
			s := DefaultStart(room, wall)
			if s.Wall != wall || !room.InUse(wall, *s.At) || room.Clearance(*s.At) < figures.FrameRadius()+room.Margin {
				t.Errorf("%s: a lap along %s begins at %v, %.2f m clear", room.Name, &room.Walls[wall], *s.At, room.Clearance(*s.At))
			}
		}
	}
}
