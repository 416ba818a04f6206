package search

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"lapwright/figures"
	"lapwright/search/check"
	"lapwright/search/routine"

	"pgregory.net/rapid"
)

// varied is a lap of a room as a routine, to be varied.
func varied(t faulty, p *Problem) *VaryProblem {
	res := find(t, p)
	if res.Lap == nil {
		t.Fatalf("no lap: %q", res.Why)
	}
	return &VaryProblem{Problem: *p, Count: 5,
		Routine: routine.Routine{Stride: p.Couple.Stride, Start: res.Lap.Start, Steps: res.Lap.Steps}}
}

// stretch is some figures of a routine, with the bars that they take.
func stretch(r *routine.Routine, first, end int, tolerance float64) Stretch {
	bars := 0
	for _, s := range r.Steps[first:end] {
		bars += s.Variant.Bars()
	}
	return Stretch{first, end, tolerance, bars, bars}
}

// judgeVariations looks at variations with the checker: each dances without a fault,
// keeps what may not change, the bars and the end, differs from the routine and from
// the others, and its measures are what they are said to be.
func judgeVariations(t faulty, p *VaryProblem, out *Varied) {
	was := check.Dance(p.Room, p.Couple, &p.Routine, check.Limits{Margin: -1})
	if faults := was.Faults(); len(faults) > 0 {
		t.Fatalf("the routine itself: %s", faults[0])
	}
	end := was.Rows[len(was.Rows)-1]
	seen := map[string]bool{strings.Join(names(p.Routine.Steps), ", "): true}
	for _, v := range out.Variations {
		rep := check.Dance(p.Room, p.Couple, &v.Routine, check.Limits{Margin: -1})
		if faults := rep.Faults(); len(faults) > 0 {
			t.Errorf("%q: %s", names(v.Routine.Steps), faults[0])
			continue
		}
		last := rep.Rows[len(rep.Rows)-1]
		most, least, longest := 0.0, was.Bars, was.Bars
		for _, s := range p.Stretches {
			own := stretch(&p.Routine, s.First, s.End, 0).MinBars
			most, least, longest = max(most, s.Tolerance), least+s.MinBars-own, longest+s.MaxBars-own
		}
		if off := last.To.Sub(end.To).Len(); rep.Bars < least || rep.Bars > longest || last.Exit != end.Exit || last.Wall != end.Wall || off > most+1e-9 || math.Abs(off-v.Off) > 1e-9 {
			t.Errorf("%q: %d bars of %d, %s for %s, %g m off (%g are told)", names(v.Routine.Steps), rep.Bars, was.Bars, last.Exit, end.Exit, off, v.Off)
		}
		if key := strings.Join(names(v.Routine.Steps), ", "); seen[key] {
			t.Errorf("%s is there twice", key)
		} else {
			seen[key] = true
		}
		if !(v.Novelty > 0 && v.Novelty <= 1) || v.Bars != rep.Bars || !(v.Difficulty.Total() > 0) || !(v.Travel > 0) {
			t.Errorf("%q: %+v", names(v.Routine.Steps), v.Measures)
		}
	}
}

func TestVary(t *testing.T) {
	hall := problem(named(t, "village hall"), atLevel(figures.Bronze))
	p := varied(t, hall)
	p.Variants = atLevel()
	n := len(p.Routine.Steps)
	for _, c := range []struct {
		name      string
		stretches []Stretch
	}{
		{"in the middle", []Stretch{stretch(&p.Routine, 2, 8, 0.5)}},
		{"at the beginning", []Stretch{stretch(&p.Routine, 0, 5, 0.3)}},
		{"at the end", []Stretch{stretch(&p.Routine, n-5, n, 0.2)}},
		{"round a corner", []Stretch{stretch(&p.Routine, 5, 12, 0.5)}},
		{"two stretches", []Stretch{stretch(&p.Routine, 0, 5, 0.3), stretch(&p.Routine, 8, 14, 0.5)}},
	} {
		if slower > 1 && c.name != "two stretches" {
			continue
		}
		p.Stretches = c.stretches
		out, err := Vary(context.Background(), p, nil)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		if len(out.Variations) == 0 {
			t.Errorf("%s: %s", c.name, out.Why)
		}
		judgeVariations(t, p, out)
		for _, v := range out.Variations {
			for i, s := range p.Routine.Steps[:c.stretches[0].First] {
				if v.Routine.Steps[i] != s {
					t.Errorf("%s: figure %d has changed: %q", c.name, i+1, names(v.Routine.Steps))
				}
			}
			behind := n - c.stretches[len(c.stretches)-1].End
			for i := range behind {
				if v.Routine.Steps[len(v.Routine.Steps)-1-i] != p.Routine.Steps[n-1-i] {
					t.Errorf("%s: the figure %d before the end has changed: %q", c.name, i+1, names(v.Routine.Steps))
				}
			}
		}
	}
}

// TestVaryRoundTheRoom: nearly all of a lap can be danced otherwise, though its end has to be
// met after so many bars to the decimetre, in every room that comes with the program.
func TestVaryRoundTheRoom(t *testing.T) {
	for _, name := range []string{"village hall", "studio", "clubroom", "ballroom"}[:max(1, 4/slower)] {
		p := varied(t, problem(named(t, name), atLevel(figures.Bronze)))
		n := len(p.Routine.Steps)
		for _, stretches := range [][]Stretch{
			{stretch(&p.Routine, 0, n, 0.3)},
			{stretch(&p.Routine, 1, 2, 0.3), stretch(&p.Routine, 3, n, 0.3)},
		} {
			p.Stretches, p.Closes = stretches, true
			out, err := Vary(context.Background(), p, nil)
			if err != nil {
				t.Fatal(err)
			}
			if len(out.Variations) < p.Count {
				t.Errorf("%s, %v: %s", name, stretches, out.Why)
			}
			judgeVariations(t, p, out)
			most := 0.0
			for _, v := range out.Variations {
				most = max(most, v.Novelty)
			}
			if most < 0.2 {
				t.Errorf("%s, %v: at most %.0f %% of the figures are new", name, stretches, 100*most)
			}
		}
	}
}

// TestVaryBeginWith: what is asked to come first comes first, along the wall or round the
// corner as is said.
func TestVaryBeginWith(t *testing.T) {
	p := varied(t, problem(named(t, "studio"), atLevel(figures.Bronze)))
	p.Stretches = []Stretch{stretch(&p.Routine, 2, 8, 0.5)}
	for _, corner := range []routine.Corner{routine.Unsaid, routine.Stay, routine.Take} {
		p.BeginCorner = corner
		total := 0
		for _, v := range p.Variants {
			p.Begin = []*figures.Variant{v}
			out, err := Vary(context.Background(), p, nil)
			if err != nil {
				t.Fatal(err)
			}
			judgeVariations(t, p, out)
			for _, x := range out.Variations {
				total++
				if first := x.Routine.Steps[2]; first.Variant != v || corner != routine.Unsaid && first.Corner != corner {
					t.Errorf("%s and %v were asked for: %s, %v", v.Name(), corner, first.Variant.Name(), first.Corner)
				}
			}
			if slower > 1 && total > 0 {
				break
			}
		}
		if total == 0 && corner != routine.Take {
			t.Errorf("%v: nothing can come first", corner)
		}
	}
}

// TestVaryLonger: a piece that may be longer or shorter is, and there are more ways of it.
func TestVaryLonger(t *testing.T) {
	p := varied(t, problem(named(t, "studio"), atLevel(figures.Bronze)))
	s := stretch(&p.Routine, 2, 7, 0.3)
	p.Stretches, p.Count = []Stretch{s}, 40
	same, err := Vary(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	s.MinBars, s.MaxBars = s.MinBars-2, s.MaxBars+2
	p.Stretches = []Stretch{s}
	out, err := Vary(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	judgeVariations(t, p, out)
	lengths := map[int]bool{}
	for _, v := range out.Variations {
		lengths[v.Bars] = true
	}
	if len(lengths) < 3 || len(out.Variations) < len(same.Variations) {
		t.Errorf("%d ways of %v bars; %d of as many bars", len(out.Variations), lengths, len(same.Variations))
	}
}

// TestVarySorts: the orders are what they say.
func TestVarySorts(t *testing.T) {
	p := varied(t, problem(named(t, "studio"), atLevel(figures.Bronze)))
	p.Stretches = []Stretch{stretch(&p.Routine, 1, 5, 0.5)}
	for _, by := range []VaryOrder{ByNovelty, ByDifficulty, ByTravel} {
		p.Sort = by
		out, err := Vary(context.Background(), p, nil)
		if err != nil || len(out.Variations) < 2 {
			t.Fatal(out, err)
		}
		judgeVariations(t, p, out)
		for i := 1; i < len(out.Variations); i++ {
			a, b := out.Variations[i-1], out.Variations[i]
			if by == ByNovelty && a.Novelty < b.Novelty || by == ByDifficulty && a.Difficulty.Total() > b.Difficulty.Total() || by == ByTravel && a.Travel < b.Travel {
				t.Errorf("by %s: %+v before %+v", by, a, b)
			}
		}
	}
}

// TestVaryAgain: the same problem has the same answer.
func TestVaryAgain(t *testing.T) {
	p := varied(t, problem(named(t, "studio"), atLevel(figures.Bronze)))
	p.Stretches, p.Seed = []Stretch{stretch(&p.Routine, 1, 5, 0.5)}, 7
	var first []string
	for range 2 {
		out, err := Vary(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		var all []string
		for _, v := range out.Variations {
			all = append(all, names(v.Routine.Steps)...)
		}
		if first != nil && strings.Join(first, ", ") != strings.Join(all, ", ") {
			t.Errorf("%q, and then %q", first, all)
		}
		first = all
	}
}

func TestBadVariations(t *testing.T) {
	p := varied(t, problem(named(t, "studio"), atLevel(figures.Bronze)))
	n := len(p.Routine.Steps)
	good := stretch(&p.Routine, 1, 3, 0.3)
	for _, c := range []struct {
		change func(*VaryProblem)
		words  string
	}{
		{func(p *VaryProblem) { p.Stretches = nil }, "nothing of the routine may change"},
		{func(p *VaryProblem) { p.Count = 0 }, "0 variations are asked for; 1 to 100"},
		{func(p *VaryProblem) { p.Count = 101 }, "101 variations are asked for"},
		{func(p *VaryProblem) { p.Stretches = []Stretch{good, good} }, "stretches follow each other"},
		{func(p *VaryProblem) { p.Stretches = []Stretch{{2, 2, 0, 1, 1}} }, "cannot change"},
		{func(p *VaryProblem) { p.Stretches = []Stretch{{n - 1, n + 1, 0, 1, 1}} }, "cannot change"},
		{func(p *VaryProblem) { p.Stretches = []Stretch{{1, 3, -1, 1, 1}} }, "a tolerance of -1 m"},
		{func(p *VaryProblem) { p.Stretches = []Stretch{{1, 3, math.NaN(), 1, 1}} }, "a tolerance of NaN m"},
		{func(p *VaryProblem) { p.Stretches = []Stretch{{1, 3, 0, 2, 1}} }, "2 to 1 bars cannot be varied"},
		{func(p *VaryProblem) { p.Stretches = []Stretch{{1, 3, 0, 1, 65}} }, "1 to 65 bars cannot be varied"},
		{func(p *VaryProblem) { p.Routine.Steps = nil }, "no figures"},
		{func(p *VaryProblem) { p.Routine.Start.At = nil }, "no place to start"},
		{func(p *VaryProblem) { p.Routine.Steps = append([]routine.Step{{}}, p.Routine.Steps...) }, "figure 1 is missing"},
		{func(p *VaryProblem) { p.Room = nil }, "no room"},
	} {
		own := *p
		own.Stretches = []Stretch{good}
		c.change(&own)
		if _, err := Vary(context.Background(), &own, nil); err == nil || !strings.Contains(err.Error(), c.words) {
			t.Errorf("%v, not %q", err, c.words)
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	p.Stretches = []Stretch{good}
	if _, err := Vary(ctx, p, nil); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
}

// TestNovelty: the edit distance is a distance.
func TestNovelty(t *testing.T) {
	letters := alphabet(t)
	rapid.Check(t, func(t *rapid.T) {
		draw := func(label string) (steps []routine.Step) {
			for _, v := range rapid.SliceOfN(rapid.SampledFrom(letters), 1, 8).Draw(t, label) {
				steps = append(steps, routine.Step{Variant: v, Scale: 1})
			}
			return steps
		}
		a, b, c := draw("a"), draw("b"), draw("c")
		edits := func(x, y []routine.Step) float64 { return novelty(x, y) * float64(max(len(x), len(y))) }
		if ab := novelty(a, b); ab < 0 || ab > 1 || math.Abs(ab-novelty(b, a)) > 1e-12 || novelty(a, a) != 0 {
			t.Errorf("%g", ab)
		}
		if edits(a, c) > edits(a, b)+edits(b, c)+1e-9 {
			t.Errorf("%g is more than %g and %g", edits(a, c), edits(a, b), edits(b, c))
		}
	})
}

// TestVaryFindsAll: every way of dancing a stretch that the checker passes with room
// to spare is found, by trying out all figures one after the other.
func TestVaryFindsAll(t *testing.T) {
	p := varied(t, problem(named(t, "studio"), of(t, core...)))
	p.Scales = []Scale{{1, 0}}
	p.Count = MostVariations
	total := 0
	for first := range max(1, (len(p.Routine.Steps)-2)/slower) {
		for _, tolerance := range []float64{0.3, 1.5} {
			s := stretch(&p.Routine, first, first+2, tolerance)
			p.Stretches = []Stretch{s}
			out, err := Vary(context.Background(), p, nil)
			if err != nil {
				t.Fatal(err)
			}
			judgeVariations(t, p, out)
			found := map[string]bool{}
			for _, v := range out.Variations {
				found[strings.Join(names(v.Routine.Steps), ", ")] = true
			}
			was := check.Dance(p.Room, p.Couple, &p.Routine, check.Limits{Margin: -1})
			end := was.Rows[s.End-1]
			var try func(steps []routine.Step, bars int)
			try = func(steps []routine.Step, bars int) {
				if bars == s.MaxBars {
					r := p.Routine
					r.Steps = append(append(append([]routine.Step{}, p.Routine.Steps[:s.First]...), steps...), p.Routine.Steps[s.End:]...)
					rep := check.Dance(p.Room, p.Couple, &r, check.Limits{Margin: p.Room.Margin + 0.15})
					last := rep.Rows[s.First+len(steps)-1]
					if len(rep.Faults()) > 0 || last.Exit != end.Exit || last.Wall != end.Wall || last.To.Sub(end.To).Len() > tolerance {
						return
					}
					total++
					if key := strings.Join(names(r.Steps), ", "); !found[key] && key != strings.Join(names(p.Routine.Steps), ", ") {
						t.Errorf("figures %d and %d, %g m: not found: %s", s.First+1, s.End, tolerance, key)
					}
					return
				}
				at := check.Dance(p.Room, p.Couple, &routine.Routine{Stride: p.Routine.Stride, Start: p.Routine.Start,
					Steps: append(append([]routine.Step{}, p.Routine.Steps[:s.First]...), steps...)}, check.Limits{Margin: p.Room.Margin + 0.15})
				if len(at.Faults()) > 0 {
					return
				}
				for _, v := range p.Variants {
					if bars+v.Bars() <= s.MaxBars {
						for _, corner := range []routine.Corner{routine.Stay, routine.Take} {
							try(append(append([]routine.Step{}, steps...), routine.Step{Variant: v, Scale: 1, Corner: corner}), bars+v.Bars())
						}
					}
				}
			}
			try(nil, 0)
		}
	}
	if total < 10/slower {
		t.Errorf("only %d ways were tried out", total)
	}
}
