package search

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lapwright/figures"
	"lapwright/figures/geometry"
	"lapwright/graph"
	"lapwright/search/check"
	"lapwright/search/routine"
)

// words writes a lap so that two can be compared.
func words(lap *Lap) string {
	if lap == nil {
		return "no lap"
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%s wall %d %v", lap.Start.Stance, lap.Start.Wall, *lap.Start.At)
	for _, s := range lap.Steps {
		fmt.Fprintf(&b, "; %s ×%g %d", s.Variant.Name(), s.Scale, s.Corner)
	}
	fmt.Fprintf(&b, "; %d bars, %+v, bound %g, proven %t", lap.Bars, lap.Costs, lap.Bound, lap.Proven)
	return b.String()
}

// danced is a lap as the checker dances it.
func danced(p *Problem, lap *Lap) *check.Report {
	return check.Dance(p.Room, p.Couple, &routine.Routine{Start: lap.Start, Steps: lap.Steps}, checks(p))
}

// judge fails unless a lap keeps every promise: as the checker sees it, and by
// what is looked at here without it.
func judge(t faulty, p *Problem, lap *Lap) {
	t.Helper()
	rep := danced(p, lap)
	for _, f := range rep.Faults() {
		t.Errorf("the checker objects: %s", f)
	}
	if !rep.Closes || rep.Bars != lap.Bars || len(rep.Rows) != len(lap.Steps) {
		t.Fatalf("the checker danced %d figures in %d bars (closes: %t); the lap has %d in %d", len(rep.Rows), rep.Bars, rep.Closes, len(lap.Steps), lap.Bars)
	}
	if lap.Bound > lap.Costs.Total() {
		t.Errorf("the bound %g is above the cost %g", lap.Bound, lap.Costs.Total())
	}
	if lap.Proven != (lap.Bound == lap.Costs.Total()) {
		t.Errorf("proven is %t with a bound of %g and a cost of %g", lap.Proven, lap.Bound, lap.Costs.Total())
	}
	joins(t, p, lap)
	feet(t, rep)
	turns(t, p, rep)
	floor(t, p, rep)
	limits(t, p.Limits, lap)
	for _, words := range broken(&p.Limits, lap.Steps, lap.Start.Wall, len(p.Room.Walls)) {
		t.Errorf("a limit is broken: %s", words)
	}
	prices(t, p, lap, rep)
}

// joins follows the stances from figure to figure and back to the first.
func joins(t faulty, p *Problem, lap *Lap) {
	t.Helper()
	s, wall := lap.Start.Stance, lap.Start.Wall
	corners := 0
	for i, step := range lap.Steps {
		corner := step.Corner == routine.Take
		if i > 0 && lap.Steps[i-1].Variant.Corner && !corner {
			t.Errorf("figure %d, %s, is danced at a corner and none is taken after it", i, lap.Steps[i-1].Variant.Name())
		}
		if corner {
			s = s.Turned(p.Room.Walls[wall].Eighths)
			wall = (wall + 1) % len(p.Room.Walls)
			corners++
		}
		if why := graph.WhyNot(s, step.Variant); why != nil {
			t.Errorf("figure %d cannot be joined: %s", i+1, why)
		}
		s = step.Variant.Exit(s)
	}
	if s != lap.Start.Stance || corners != p.rounds()*len(p.Room.Walls) {
		t.Errorf("the lap takes %d corners and ends %s; it began %s", corners, s, lap.Start.Stance)
	}
	if last := lap.Steps[len(lap.Steps)-1].Variant; last.Corner && lap.Steps[0].Corner != routine.Take {
		t.Errorf("the lap ends with %s and does not begin with a corner", last.Name())
	}
}

// feet follows which foot of each dancer is free.
func feet(t faulty, rep *check.Report) {
	t.Helper()
	free := [2]figures.Foot{rep.Start.Stance.Free, rep.Start.Stance.Free.Other()}
	for _, row := range rep.Rows {
		for i, taken := range row.Danced.Steps {
			for d := figures.Leader; d <= figures.Follower; d++ {
				a := taken.Step.Actions[d]
				if a.Foot == figures.NoFoot {
					continue
				}
				if a.Foot != free[d] {
					t.Errorf("figure %d, step %d: the %s steps with the %s; the %s is free", row.Number, i+1, d, a.Foot, free[d])
				}
				if !a.Weightless {
					free[d] = a.Foot.Other()
				}
			}
		}
	}
	if free != [2]figures.Foot{rep.Start.Stance.Free, rep.Start.Stance.Free.Other()} {
		t.Errorf("the lap ends with the leader's %s and the follower's %s free", free[0], free[1])
	}
}

// turns adds up how far the couple turns.
func turns(t faulty, p *Problem, rep *check.Report) {
	t.Helper()
	var turned geometry.Turn
	for _, row := range rep.Rows {
		turned += row.Variant.Turn()
	}
	corners := geometry.Turn(0)
	for _, w := range p.Room.Walls {
		corners += geometry.Turn(w.Eighths) * geometry.Eighth
	}
	if corners != -geometry.Full {
		t.Errorf("the corners turn the line of dance by %s", -corners)
	}
	if turned%geometry.Full != 0 || (turned+corners)%geometry.Full != 0 {
		t.Errorf("the lap turns through %s, which is no number of full turns", turned)
	}
	first, last := &rep.Rows[0], &rep.Rows[len(rep.Rows)-1]
	from, to := first.Angle(first.Danced.Start.Front), last.Angle(last.Danced.Last().Front)
	if first.NextWall {
		// The lap begins round a corner, so that its start is told along another
		// wall than its end.
		from = p.Room.Walls[rep.Start.Wall].Direction + rep.Start.Stance.Facing.Turn().Radians()
	}
	if off := math.Remainder(to-from, 2*math.Pi); math.Abs(off) > 1e-9 {
		t.Errorf("the leader begins facing %.3f in the room and ends facing %.3f", from, to)
	}
}

// floor looks at where both dancers' bodies and feet are.
func floor(t faulty, p *Problem, rep *check.Report) {
	t.Helper()
	margin := p.Margin
	if margin < 0 {
		margin = p.Room.Margin
	}
	at := *rep.Start.At
	for _, row := range rep.Rows {
		if row.From.Sub(at).Len() > 1e-9 && row.Number > 1 {
			t.Errorf("figure %d begins %.2f m from where the one before it ended", row.Number, row.From.Sub(at).Len())
		}
		at = row.To
		if !p.Room.InUse(row.Wall, row.To) {
			t.Errorf("figure %d ends away from the wall in use", row.Number)
		}
		for i, taken := range row.Danced.Steps {
			for d := figures.Leader; d <= figures.Follower; d++ {
				places := []geometry.Point{taken.After.Foot(d, figures.LeftFoot).At, taken.After.Foot(d, figures.RightFoot).At}
				for _, pose := range row.Danced.Poses(i, 8) {
					places = append(places, pose.Bodies[d])
				}
				for _, place := range places {
					if free := p.Room.Clearance(row.Place(place)); free < margin {
						t.Errorf("figure %d, step %d: the %s is within %.2f m of a wall or an obstacle", row.Number, i+1, d, free)
					}
				}
			}
		}
	}
}

// limits looks at what the limits ask for.
func limits(t faulty, l Limits, lap *Lap) {
	t.Helper()
	uses, began := map[*figures.Figure]int{}, map[*figures.Figure]int{}
	bar := 0
	for _, s := range lap.Steps {
		f := s.Variant.Figure
		if uses[f]++; l.Uses > 0 && uses[f] > l.Uses {
			t.Errorf("%s is danced %d times", f.Name, uses[f])
		}
		if l.Apart > 0 && uses[f] > 1 && bar-began[f] < l.Apart {
			t.Errorf("%s comes again after %d bars", f.Name, bar-began[f])
		}
		began[f] = bar
		bar += s.Variant.Bars()
	}
	for _, m := range l.Must {
		if uses[m] == 0 {
			t.Errorf("%s is not danced", m.Name)
		}
	}
	if bar < l.MinBars || l.MaxBars > 0 && bar > l.MaxBars {
		t.Errorf("the lap has %d bars", bar)
	}
}

// prices reckons every part of the cost from the room and the figures. Crowding
// is counted on the lattice, which sees a couple up to 7.5 cm nearer to a wall
// than it is.
func prices(t faulty, p *Problem, lap *Lap, rep *check.Report) {
	t.Helper()
	w, scales := p.Weights, p.Scales
	if len(scales) == 0 {
		scales = DefaultScales
	}
	margin := p.Margin
	if margin < 0 {
		margin = p.Room.Margin
	}
	var want Costs
	least, most := 0.0, 0.0
	for i, row := range rep.Rows {
		v, bars := row.Variant, float64(row.Variant.Bars())
		before := rep.Rows[(i+len(rep.Rows)-1)%len(rep.Rows)].Variant
		want.Bars += w.Bars * bars
		want.Awkward += v.Awkward
		if graph.Awkward(p.Follows, before, v) != graph.Easy {
			want.Awkward += w.Awkward
		}
		if before.Figure == v.Figure {
			want.Repeat += w.Repeat
		}
		scale := scales[slices.IndexFunc(scales, func(s Scale) bool { return s.Share == row.Scale })]
		want.Stretch += w.Stretch * scale.Cost * bars
		wall := &p.Room.Walls[row.Wall]
		_, across := wall.Locate(row.To)
		want.Lane += w.Lane * math.Abs(across-wall.Lane) * bars
		crowd := func(clear float64) float64 {
			return w.Crowding * min(1, max(0, (Comfort-clear)/Comfort)) * bars
		}
		least += crowd(row.Clear - margin + 0.001)
		most += crowd(row.Clear - margin - 0.075)
	}
	want.Gap = w.Gap * rep.Gap
	want.Crowding = min(most+0.02*float64(lap.Bars), max(least-0.02*float64(lap.Bars), lap.Costs.Crowding))
	got := [...]float64{lap.Costs.Bars, lap.Costs.Lane, lap.Costs.Crowding, lap.Costs.Awkward, lap.Costs.Repeat, lap.Costs.Stretch, lap.Costs.Gap}
	for i, x := range [...]float64{want.Bars, want.Lane, want.Crowding, want.Awkward, want.Repeat, want.Stretch, want.Gap} {
		// Each figure's share is rounded to a hundredth of a bar.
		if math.Abs(got[i]-x) > 0.006*float64(lap.Bars) {
			t.Errorf("part %d of the cost is %.3f, reckoned anew %.3f", i+1, got[i], x)
		}
	}
}
