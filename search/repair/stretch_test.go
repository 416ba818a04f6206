package repair_test

import (
	"slices"
	"testing"

	"lapwright/search"
	"lapwright/search/repair"
	"lapwright/search/routine"
)

// TestStretchLeftOut: from a lap a stretch is left out that begins and ends in the same
// stance, so that nothing is wrong but where the couple comes to. It is mended with no more
// figures than were left out.
func TestStretchLeftOut(t *testing.T) {
	tried := 0
	for i := range rooms() {
		c := &rooms()[i]
		p := &repair.Problem{Problem: c.problem, Closes: true, Count: 1}
		rows := dance(p, &c.lap).Rows
		for first := range rows {
			for end := first + 1; end <= min(first+3, len(rows)-1); end++ {
				if rows[first].Entry != rows[end].Entry || rows[first].NextWall != rows[end].NextWall || tried >= 4*(i+1) {
					continue
				}
				tried++
				p.Routine = routine.Routine{Start: c.lap.Start, Steps: slices.Delete(slices.Clone(c.lap.Steps), first, end)}
				if res := find(t, p); len(res.Ways) == 0 || res.AtLeast > end-first {
					t.Errorf("%s: without figures %d to %d there are %d ways, with at least %d changes", p.Room.Name, first+1, end, len(res.Ways), res.AtLeast)
				}
			}
		}
	}
	if tried < 3 {
		t.Errorf("only %d stretches begin and end alike", tried)
	}
}

// TestFarToGo: a lap lacks so many of its last figures that the distance alone asks for
// some.
func TestFarToGo(t *testing.T) {
	c := &rooms()[0]
	p := &repair.Problem{Problem: c.problem, Closes: true, Count: 1}
	p.Variants, p.Scales = nil, []search.Scale{{Share: 1}}
	for _, s := range c.lap.Steps {
		if !slices.Contains(p.Variants, s.Variant) {
			p.Variants = append(p.Variants, s.Variant)
		}
	}
	for left := 4; left <= 7; left++ {
		p.Routine = routine.Routine{Start: c.lap.Start, Steps: c.lap.Steps[:len(c.lap.Steps)-left]}
		if res := find(t, p); len(res.Ways) == 0 || res.AtLeast > left {
			t.Errorf("without the last %d figures there are %d ways, with at least %d changes", left, len(res.Ways), res.AtLeast)
		}
	}
}

// TestFarFromDone: however much of a lap is missing, it is never told that no repair can
// be; that it cannot be seen in a few steps is another matter.
func TestFarFromDone(t *testing.T) {
	c := &rooms()[1]
	p := &repair.Problem{Problem: c.problem, Closes: true, Count: 1, Most: 2000}
	most := 0
	for n := 2; n <= len(c.lap.Steps); n += 2 {
		p.Routine = routine.Routine{Start: c.lap.Start, Steps: c.lap.Steps[:n]}
		res := find(t, p)
		if res.Never || res.AtLeast > len(c.lap.Steps)-n {
			t.Errorf("with %d figures of %d: %+v", n, len(c.lap.Steps), res)
		}
		most = max(most, res.AtLeast)
	}
	if most < 4 {
		t.Errorf("at least %d changes are told at the most", most)
	}
}
