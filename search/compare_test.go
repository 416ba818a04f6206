//go:build compare

package search

import (
	"bytes"
	"context"
	"errors"
	"flag"
	"fmt"
	"maps"
	"math"
	"os"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"lapwright/search/compare"
	"lapwright/search/export"
	labels "lapwright/search/label"
)

const (
	// leeway is how much dearer than the best, in hundredths of a bar, the laps may be
	// that are in the graph that the solver is given, so that it is not told the answer;
	// limitedLeeway is that with limits.
	leeway, limitedLeeway = 60, 30
	// dearest is how much dearer than the best without limits the laps of that graph
	// may be at most where our own search does not prove what the best is.
	dearest = 60
)

// allowed is how long each solver of the comparison has for an instance.
var allowed = flag.Duration("longest", 3*time.Second, "how long each solver of the comparison has for an instance")

// own is how our own search did.
type own struct {
	cost       int32 // of the best lap found, in hundredths of a bar; unreachable: none
	proven     bool
	expansions int
	took       compare.Time
	after      compare.Time // the part of it after the bound
}

// errNoProof tells that the search for limits gave up.
var errNoProof = errors.New("no proof")

// search is our own search over all starts, from the compiled problem on, as Find makes it:
// its bound is part of it, and with limits the making of the graph of laps. It works on one
// thread, as the others do.
func (c *compared) search(t faulty, s *searcher) own {
	none := compare.Time{None: true}
	o := own{cost: unreachable, took: none, after: none}
	ctx, cancel := context.WithTimeout(context.Background(), *allowed)
	defer cancel()
	defer alone()()
	started := time.Now()
	bounded := started
	err := func() error {
		if err := s.survey(ctx); err != nil {
			return err
		}
		bounded = time.Now()
		best, _, err := s.plain(ctx)
		o.expansions = s.kernel.expanded
		if err != nil || best == nil {
			return err
		}
		if !s.problem.Limits.past() || s.keeps(best) {
			o.cost, o.proven = hundredths(s.plan.lap(*best).Costs.Total()), true
			return nil
		}
		if _, err := s.limited(ctx, *best); err != nil {
			return err
		}
		o.expansions = s.kernel.expanded
		if lap := s.result.Lap; lap != nil {
			o.cost, o.proven = hundredths(lap.Costs.Total()), lap.Proven
		}
		if !o.proven {
			return errNoProof
		}
		return nil
	}()
	took, after := time.Since(started), time.Since(bounded)
	over := errors.Is(err, errTooWide) || errors.Is(err, errNoProof) || errors.Is(err, context.DeadlineExceeded)
	if err != nil && !over {
		t.Fatal(err)
	}
	o.took = compare.Time{Took: took, Over: over}
	if !s.problem.Limits.past() {
		o.after = compare.Time{Took: after, Over: over}
	}
	return o
}

// onCut is our own search for limits on the graph that other solvers are given, with the
// costs to go, which they are given too.
func (c *compared) onCut(t faulty, in *export.Instance) (float64, compare.Time) {
	ctx, cancel := context.WithTimeout(context.Background(), *allowed)
	defer cancel()
	defer alone()()
	started := time.Now()
	in.Network.Backward(nil)
	found, err := labels.Solve(ctx, in.Network, &in.Limits, labels.Options{Threads: 1}, nil)
	took := time.Since(started)
	switch {
	case err != nil:
		t.Fatal(err)
	case !found.Proven:
		return math.NaN(), compare.Time{Took: took, Over: true}
	case !found.Found:
		return math.Inf(1), compare.Time{Took: took}
	}
	return float64(found.Cost), compare.Time{Took: took}
}

// exported is what other solvers are given: the graph of all laps that are a little
// dearer than the best at most, and the limits, as the text that lap --export writes says
// them; and where its nodes stand on the floor.
func (c *compared) exported(t faulty, s *searcher, cutoff int32) (*export.Instance, []standing) {
	_, classes := s.labelLimits()
	cut, err := s.corridor(context.Background(), cutoff, classes)
	if err != nil || cut == nil {
		t.Fatalf("%s: there is no graph of laps: %v", c, err)
	}
	in := s.instanceOf(cut)
	in.Name = c.String()
	var text bytes.Buffer
	if err := export.Write(&text, in); err != nil {
		t.Fatal(err)
	}
	if in, err = export.Read(in.Name, text.Bytes()); err != nil {
		t.Fatal(err)
	}
	return in, cut.nodes
}

// cutoff is what the laps of the graph that other solvers are given cost at most, where
// the best without limits costs so much. Of a lap that is not proven they can say whether
// it is the best if that graph holds it.
func (c *compared) cutoff(s *searcher, least int32, o own) int32 {
	switch {
	case !o.proven:
		return min(o.cost, least+dearest)
	case s.problem.Limits.past():
		return o.cost + limitedLeeway
	}
	return o.cost + leeway
}

// compare runs all solvers on an instance. They must agree.
func (c *compared) compare(t *testing.T) compare.Row {
	s, err := prepare(context.Background(), c.problem(t), nil)
	if err != nil {
		t.Fatal(err)
	}
	// The best without limits, however long it takes, says how dear a graph can be.
	best, _, err := s.plain(context.Background())
	if err != nil || best == nil {
		t.Fatal("there is no lap", err)
	}
	least := hundredths(s.plan.lap(*best).Costs.Total())
	limited := s.problem.Limits.past()
	o := c.search(t, s)
	if err := s.survey(context.Background()); err != nil { // also where the time was over in one
		t.Fatal(err)
	}
	cutoff := c.cutoff(s, least, o)
	in, nodes := c.exported(t, s, cutoff)
	row := compare.Row{Cost: -1, Cutoff: int(cutoff), Room: c.room, Figures: c.figures, Limits: c.limits, Limited: limited,
		States: s.result.States, Expansions: o.expansions, Ours: o.took, Search: o.after, Making: compare.Time{None: true}}
	said := verdicts{}
	switch {
	case !limited:
		said.add("our own", float64(least))
	case o.proven:
		said.add("our own", float64(o.cost))
	}
	// All three search a graph of their own; the bounds ask that of the search.
	byAll := func(whole func() fanned, from, to int64, ahead, lane bound) {
		for _, solver := range []struct {
			name string
			togo bound
			took *compare.Time
		}{{"gonum's A* with our bound", ahead, &row.Ahead}, {"gonum's A* with the lane bound", lane, &row.Lane}, {"gonum's Dijkstra", nil, &row.Dijkstra}} {
			var cost float64
			cost, *solver.took = byGonum(whole(), from, to, solver.togo, *allowed)
			said.add(solver.name, cost)
		}
	}
	if limited {
		var g *limitedGraph
		fresh := func() fanned { g = newLimitedGraph(in); return g }
		lane := newLaneBound(s.plan, s.starts).on(t, in.Network, nodes)
		byAll(fresh, before, behind, func(id int64) float64 { return g.ahead(id) }, func(id int64) float64 { return g.lane(lane, id) })
	} else {
		fresh := func() fanned { return newWholeGraph(s.plan, s.starts) }
		g := newWholeGraph(s.plan, s.starts)
		ahead, making := s.ahead(t, g)
		row.Making = compare.Time{Took: making}
		byAll(fresh, outset, closed, ahead, s.lane(g))
	}
	cost, took := c.onCut(t, in)
	row.OnCut = took
	said.add("our own on the graph that is cut down", cost)
	a := c.byClingo(t, in, &row)
	if a.Proven {
		cost := math.Inf(1)
		if a.Cost >= 0 {
			cost = float64(a.Cost)
		}
		said.add("clingo", cost)
	}
	said.agree(t, c, &row, o)
	if a.Cost >= 0 && (row.Cost < 0 && len(said) > 0 || row.Cost >= 0 && a.Cost < row.Cost) {
		t.Errorf("%s: clingo has a lap at %d", c, a.Cost)
	}
	if a.Cost < 0 || a.Cost != row.Cost { // the best is not among what it found
		row.ToBest = compare.Time{Took: *allowed, Over: true, None: a.Proven}
	}
	return row
}

// byClingo is what clingo says, with its times in the row.
func (c *compared) byClingo(t faulty, in *export.Instance, row *compare.Row) *compare.Answer {
	a, err := compare.Solve(context.Background(), in, *allowed)
	if err != nil {
		t.Fatal(err)
	}
	row.Cut, row.ToBest, row.ToProof = a.Size, compare.Time{Took: a.Best}, compare.Time{Took: a.Proof}
	if !a.Proven {
		row.ToProof = compare.Time{Took: *allowed, Over: true}
	}
	return a
}

// verdicts are the least costs by what each solver that was done says; infinite: no lap.
type verdicts map[string]float64

// add notes an answer; there is none where the cost is no number.
func (a verdicts) add(name string, cost float64) {
	if !math.IsNaN(cost) {
		a[name] = cost
	}
}

// agree fails where two answers differ, or our own search has found a lap that is better. It
// notes the answer, and whether one of ours and one of another's say the same of a lap. A
// lap that is dearer than the cutoff is in no graph that is cut down.
func (a verdicts) agree(t *testing.T, c *compared, row *compare.Row, o own) {
	value, by := math.NaN(), ""
	ours := 0
	for _, name := range slices.Sorted(maps.Keys(a)) {
		v := a[name]
		if v > float64(row.Cutoff) {
			v = math.Inf(1)
		}
		if strings.HasPrefix(name, "our own") {
			ours++
		}
		if by == "" {
			value, by = v, name
		} else if v != value {
			t.Errorf("%s: %s says %g, %s %g", c, by, value, name, v)
			return
		}
	}
	if float64(o.cost) < value && int(o.cost) <= row.Cutoff {
		t.Errorf("%s: our own search has a lap at %d, %s says %g", c, o.cost, by, value)
		return
	}
	if by != "" && !math.IsInf(value, 0) {
		row.Cost = int(value)
		row.Agreed = ours > 0 && ours < len(a)
	}
}

// TestCompare runs the comparison and, with -update, writes its tables into README.md.
func TestCompare(t *testing.T) {
	version, err := compare.Version()
	if err != nil {
		t.Fatal("clingo is needed for this: ", err)
	}
	var rows []compare.Row
	together := 0
	all := instances(t)
	for _, c := range all {
		t.Run(c.String(), func(t *testing.T) {
			started := time.Now()
			row := c.compare(t)
			rows = append(rows, row)
			if row.Agreed {
				together++
			}
			t.Logf("%s (%s)", strings.Split(compare.Table([]compare.Row{row}), "\n")[2], time.Since(started).Round(time.Millisecond))
		})
	}
	text := about(version) + compare.Table(rows) + "\n" + compare.Aims(rows) + "\n"
	t.Log("\n" + text)
	if len(rows) < len(all) {
		return // only some were asked for, or some failed
	}
	if together < 30 {
		t.Errorf("only on %d instances a solver that nobody here wrote had the time to agree with ours", together)
	}
	if !*update || t.Failed() {
		return
	}
	const readme = "../README.md"
	data, err := os.ReadFile(readme)
	if err == nil {
		data, err = compare.Replace(data, text)
	}
	if err == nil {
		err = os.WriteFile(readme, data, 0o644)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// about says where and when the table was made.
func about(version string) string {
	return fmt.Sprintf("\nRun on %s, %d cores (%s/%s), %s, gonum %s, %s. Each solver had %g s for an instance.\n\n",
		time.Now().Format("2 January 2006"), runtime.NumCPU(), runtime.GOOS, runtime.GOARCH, runtime.Version(), gonumVersion(), version, allowed.Seconds())
}

// gonumVersion is the version of gonum that this was built with.
func gonumVersion() string {
	data, err := os.ReadFile("../go.mod")
	if err != nil {
		return ""
	}
	_, rest, _ := strings.Cut(string(data), "gonum.org/v1/gonum ")
	version, _, _ := strings.Cut(rest, "\n")
	return version
}
