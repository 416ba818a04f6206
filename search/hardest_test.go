package search

import (
	"context"
	"slices"
	"testing"

	"lapwright/figures"
	"lapwright/graph/difficulty"
	"lapwright/search/check"
	"lapwright/search/conflict"
	"lapwright/search/routine"
)

// follow lists which variant a plan lets follow which, by their names.
func follow(pl *plan) map[[2]*figures.Variant]bool {
	all := map[[2]*figures.Variant]bool{}
	for i, e := range pl.edges {
		for _, kind := range pl.moves {
			for _, m := range kind[pl.leads[i]] {
				all[[2]*figures.Variant{e.variant, pl.edges[m.edge].variant}] = true
			}
		}
	}
	return all
}

// TestHardestMoves: with a greatest difficulty those figures and joins are left out
// that are harder, and no others.
func TestHardestMoves(t *testing.T) {
	room := named(t, "village hall")
	build := func(hardest float64) *plan {
		p := problem(room, atLevel(figures.Bronze))
		p.Limits.Hardest = hardest
		p, err := p.settled()
		if err != nil {
			t.Fatal(err)
		}
		return compile(p, newGround(room, p.Weights, 0, 1))
	}
	all := build(0)
	joins := follow(all)
	for _, hardest := range []float64{1.25, 1.75, 2, 2.5, 3.5, 20} {
		got := build(hardest)
		var edges, want int
		for i := range got.edges {
			if p := difficulty.Figure(got.edges[i].variant); p.Total() > hardest+hair {
				t.Errorf("%g: %s has %.2f points a bar", hardest, got.edges[i].variant.Name(), p.Total())
			}
			edges++
		}
		for i := range all.edges {
			if difficulty.Figure(all.edges[i].variant).Total() <= hardest+hair {
				want++
			}
		}
		if edges != want {
			t.Errorf("%g: %d figures, want %d", hardest, edges, want)
		}
		kept := follow(got)
		left := 0
		for j := range joins {
			easy := difficulty.Join(all.problem.Follows, j[0], j[1]).Total() <= hardest+hair &&
				difficulty.Figure(j[0]).Total() <= hardest+hair && difficulty.Figure(j[1]).Total() <= hardest+hair
			if easy != kept[j] {
				t.Errorf("%g: %s then %s is kept: %t", hardest, j[0].Name(), j[1].Name(), kept[j])
			}
			if !easy {
				left++
			}
		}
		if len(kept) > len(joins) || (left == 0) != (hardest == 20) {
			t.Errorf("%g: %d joins of %d are kept, %d left out", hardest, len(kept), len(joins), left)
		}
	}
}

// TestHardestLap: a lap keeps to the greatest difficulty in the checker's eyes, which
// is no looser than it was; a lap that goes beyond it the checker refuses.
func TestHardestLap(t *testing.T) {
	find := func(hardest float64) (*Problem, *Lap) {
		p := problem(named(t, "village hall"), atLevel(figures.Bronze))
		p.Limits.Hardest = hardest
		res, err := Find(context.Background(), p, nil)
		if err != nil || res.Lap == nil {
			t.Fatalf("%g: %v, %v", hardest, res, err)
		}
		judge(t, p, res.Lap)
		return p, res.Lap
	}
	free, before := find(0)
	most := free.danced(before).hardest
	p, lap := find(most - 0.5)
	if got := p.danced(lap).hardest; got > most-0.5+hair {
		t.Errorf("the lap has a figure or join of %.2f points", got)
	}
	if lap.Costs.Total() < before.Costs.Total()-hair {
		t.Errorf("the lap costs %.2f, and without the limit %.2f", lap.Costs.Total(), before.Costs.Total())
	}
	c := checks(p)
	if rep := check.Dance(p.Room, p.Couple, &routine.Routine{Start: before.Start, Steps: before.Steps}, c); len(rep.Faults()) == 0 || slices.ContainsFunc(rep.Faults(), func(f check.Fault) bool { return f.Kind != check.Limit }) {
		t.Errorf("the checker says of the harder lap: %v", rep.Faults())
	}
}

// TestNothingSoEasy: a limit that leaves no figure says so, and what is named as the
// least can be asked for.
func TestNothingSoEasy(t *testing.T) {
	p := problem(named(t, "ballroom"), []*figures.Variant{variant(t, "Natural Spin Turn"), variant(t, "Whisk")})
	p.Limits.Hardest = 1.9
	_, err := p.settled()
	if want := "no figure can be danced: the hardest figure may have 1.9 points a bar, and the easiest of them has 2.00, in Whisk"; err == nil || err.Error() != want {
		t.Errorf("%v, want %q", err, want)
	}
	p.Limits.Hardest = 2
	if _, err := p.settled(); err != nil {
		t.Error(err)
	}
}

// TestHardestAskedAgain: what is remembered of a problem does not serve for another
// greatest difficulty.
func TestHardestAskedAgain(t *testing.T) {
	feasible := NewFeasible()
	for _, c := range []struct {
		hardest float64
		want    conflict.Answer
	}{{0, conflict.Possible}, {1.5, conflict.Impossible}, {1.75, conflict.Possible}, {0, conflict.Possible}, {1.5, conflict.Impossible}} {
		p := problem(named(t, "studio"), atLevel(figures.Bronze))
		p.Limits.Hardest = c.hardest
		got, lap, err := feasible(context.Background(), p)
		if err != nil || got != c.want {
			t.Errorf("%g: %v, want %v; %v", c.hardest, got, c.want, err)
		}
		if lap != nil && c.hardest > 0 && p.danced(lap).hardest > c.hardest+hair {
			t.Errorf("%g: the lap has a figure or join of %.2f points", c.hardest, p.danced(lap).hardest)
		}
	}
}
