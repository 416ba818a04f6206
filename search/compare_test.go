//go:build compare

package search

import (
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

	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search/compare"
	"lapwright/search/export"
	labels "lapwright/search/label"

	"gonum.org/v1/gonum/graph"
	"gonum.org/v1/gonum/graph/path"
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

// longest is how long each solver of the comparison has for an instance.
var longest = flag.Duration("longest", time.Minute, "how long each solver of the comparison has for an instance")

// compared is an instance of the comparison.
type compared struct {
	room, figures, limits string
	set                   func(*Limits) // nil: no limits
}

// classes are the sets of figures that limits of the comparison speak of.
var classes = []struct {
	name string
	has  func(*figures.Variant) bool
}{
	{"turns to the left", func(v *figures.Variant) bool { return v.Turn() > 0 }},
}

// instances are the rooms, figures and limits of the comparison.
func instances(t faulty) (all []compared) {
	for _, room := range comparedRooms {
		all = append(all, compared{room, "bronze", "none", nil}, compared{room, "first file", "none", nil})
	}
	all = append(all, compared{"Pantry", "library", "none", nil}, compared{"studio", "library", "none", nil})
	fig := func(name string) *figures.Figure { return figure(t, name) }
	class := func(i, most int) Cap { return Cap{classes[i].name, classes[i].has, most} }
	variety := []compared{
		{limits: "each figure at most 3 times", set: func(l *Limits) { l.Uses = 3 }},
		{limits: "3 bars apart", set: func(l *Limits) { l.Apart = 3 }},
		{limits: "at least 6 different", set: func(l *Limits) { l.Different = 6 }},
		{limits: "with a Whisk", set: func(l *Limits) { l.Must = []*figures.Figure{fig("Whisk")} }},
		{limits: "at most 2 turns to the left", set: func(l *Limits) { l.Caps = []Cap{class(0, 2)} }},
		{limits: "at most 3 right turns in a row", set: func(l *Limits) { l.RightTurns = 3 }},
		{limits: "ends on a phrase of 8 bars", set: func(l *Limits) { l.Phrase = 8 }},
		{limits: "no Hesitation Change before a Whisk", set: func(l *Limits) {
			l.Orders = []Order{{fig("Whisk"), fig("Hesitation Change")}}
		}},
		{limits: "a Whisk in bar 5", set: func(l *Limits) { l.Fixed = []Fixed{{fig("Whisk"), 5, -1}} }},
		{limits: "at most 4 times, 2 bars apart, at least 5 different", set: func(l *Limits) { l.Uses, l.Apart, l.Different = 4, 2, 5 }},
	}
	for _, room := range []string{"studio", "Pantry", "Square", "Bend"} {
		for _, c := range variety {
			all = append(all, compared{room, "bronze", c.limits, c.set})
		}
	}
	for _, room := range []string{"village hall", "clubroom"} {
		for _, c := range variety[3:7] {
			all = append(all, compared{room, "bronze", c.limits, c.set})
		}
	}
	return all
}

// comparedRooms are the rooms of the comparison.
var comparedRooms = []string{"studio", "village hall", "clubroom", "Pantry", "Square", "Parlour with a Column", "Bend", "Nook"}

// problem is the problem of an instance.
func (c *compared) problem(t faulty) *Problem {
	variants := map[string]func() []*figures.Variant{
		"bronze":     func() []*figures.Variant { return atLevel(figures.Bronze) },
		"first file": func() []*figures.Variant { return atLevel() },
		"library":    figures.BuiltIn().Variants,
	}[c.figures]()
	all := rooms(t)
	i := slices.IndexFunc(all, func(r *floors.Room) bool { return r.Name == c.room })
	if i < 0 {
		all, i = []*floors.Room{named(t, c.room)}, 0
	}
	p := problem(all[i], variants)
	if c.set != nil {
		c.set(&p.Limits)
	}
	return p
}

// own is how our own search did.
type own struct {
	cost       int32 // in hundredths of a bar; unreachable: no lap was found
	proven     bool
	expansions int
	took       compare.Time
	after      compare.Time // the part of it after the bound
}

// errNoProof tells that the search for limits gave up.
var errNoProof = errors.New("no proof")

// search is our own search, from the compiled problem on: its bound is part of it, and
// with limits the making of the graph of laps. It works on one core, as the others do.
func (c *compared) search(t faulty, s *searcher) own {
	none := compare.Time{None: true}
	o := own{cost: unreachable, took: none, after: none}
	ctx, cancel := context.WithTimeout(context.Background(), *longest)
	defer cancel()
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	runtime.GC()
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
			o.proven = err == nil
			return err
		}
		least := hundredths(s.plan.lap(*best).Costs.Total())
		if c.set == nil {
			o.cost, o.proven = least, true
			return nil
		}
		if _, err := s.limited(ctx, *best); err != nil {
			return err
		}
		lap := s.result.Lap
		if lap == nil || !lap.Proven {
			return errNoProof
		}
		o.cost, o.proven, o.expansions = hundredths(lap.Costs.Total()), true, s.kernel.expanded
		return nil
	}()
	took, after := time.Since(started), time.Since(bounded)
	switch {
	case errors.Is(err, errTooWide), errors.Is(err, errNoProof), errors.Is(err, context.DeadlineExceeded):
		o.took = compare.Time{Took: took, Over: true}
		if c.set == nil {
			o.after = o.took
		}
	case err != nil:
		t.Fatal(err)
	default:
		o.took = compare.Time{Took: took}
		if c.set == nil {
			o.after = compare.Time{Took: after}
		}
	}
	return o
}

// onCut is our own search for limits on the graph that other solvers are given, with the
// costs to go, which they are given too.
func (c *compared) onCut(t faulty, in *export.Instance) (float64, compare.Time) {
	ctx, cancel := context.WithTimeout(context.Background(), *longest)
	defer cancel()
	runtime.GC()
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
// dearer than the best at most, and the limits.
func (c *compared) exported(t faulty, s *searcher, cutoff int32) *export.Instance {
	in, err := s.instance(context.Background(), cutoff)
	if err != nil || in == nil {
		t.Fatal("there is no graph of laps: ", err)
	}
	in.Name = fmt.Sprintf("%s, %s, %s", c.room, c.figures, c.limits)
	return in
}

// compare runs all solvers on an instance. They must agree.
func (c *compared) compare(t *testing.T) (row compare.Row, agreed bool) {
	p := c.problem(t)
	s, err := prepare(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	// The best without limits says which start is the best, and how dear a graph
	// can be.
	best, _, err := s.plain(context.Background())
	if err != nil || best == nil {
		t.Fatal("there is no lap", err)
	}
	least := hundredths(s.plan.lap(*best).Costs.Total())
	o := c.search(t, s)
	if err := s.survey(context.Background()); err != nil { // also where the time was over in one
		t.Fatal(err)
	}
	cutoff := least + dearest
	if o.proven && o.cost != unreachable {
		cutoff = o.cost + leeway
		if c.set != nil {
			cutoff = o.cost + limitedLeeway
		}
	}
	in := c.exported(t, s, cutoff)
	row = compare.Row{Cost: -1, Cutoff: int(cutoff), Room: c.room, Figures: c.figures, Limits: c.limits, States: s.result.States, Expansions: o.expansions,
		Ours: o.took, Search: o.after}
	answers := map[string]float64{}
	if o.proven {
		answers["our own"] = float64(o.cost)
	}
	byName := func(name string, cost float64) {
		if !math.IsNaN(cost) {
			answers[name] = cost
		}
	}
	var cost float64
	if c.set == nil {
		g := &plainGraph{plan: s.plan, start: best.start}
		from := g.node(0, best.start.place, best.start.post)
		togo := s.ahead(t, g)
		cost, row.AStar = byGonum(g, from, closed, togo, *longest)
		byName("gonum's A*", cost)
		cost, row.Dijkstra = byGonum(&plainGraph{plan: s.plan, start: best.start}, from, closed, nil, *longest)
		byName("gonum's Dijkstra", cost)
	} else {
		g := newLimitedGraph(in)
		togo := func(u, _ graph.Node) float64 { return g.togo(u.ID()) }
		cost, row.AStar = byGonum(g, before, behind, togo, *longest)
		byName("gonum's A*", cost)
		cost, row.Dijkstra = byGonum(newLimitedGraph(in), before, behind, nil, *longest)
		byName("gonum's Dijkstra", cost)
	}
	cost, row.OnCut = c.onCut(t, in)
	byName("our own on the graph that is cut down", cost)
	a, err := compare.Solve(context.Background(), in, *longest)
	if err != nil {
		t.Fatal(err)
	}
	row.Cut = a.Size
	row.ToBest = compare.Time{Took: a.Best}
	row.ToProof = compare.Time{Took: a.Proof}
	if !a.Proven {
		row.ToProof = compare.Time{Took: *longest, Over: true}
	} else if a.Cost >= 0 {
		answers["clingo"] = float64(a.Cost)
	} else {
		answers["clingo"] = math.Inf(1)
	}
	agreed = agree(t, c, &row, answers, cutoff, o)
	if a.Cost >= 0 && (row.Cost < 0 && agreed || a.Cost < row.Cost) {
		t.Errorf("%s, %s, %s: clingo has a lap at %d", c.room, c.figures, c.limits, a.Cost)
	}
	if a.Cost < 0 || a.Cost != row.Cost { // the best is not among what it found
		row.ToBest = compare.Time{Took: *longest, Over: true, None: a.Proven}
	}
	return row, agreed
}

// ahead is the cost to go by a survey of the whole floor, as fine as the one with
// which our own search goes the other way.
func (s *searcher) ahead(t faulty, g *plainGraph) path.Heuristic {
	costs := s.grouping.costs()
	fine := newSketch(s.grouping, costs, grain{nearAlong, nearAcross, s.grouping.slope(costs, nearAlong)}, false).survey(true, nil)
	s.fromEnds(fine, s.starts)
	if err := fine.run(context.Background()); err != nil {
		t.Fatal(err)
	}
	return func(u, _ graph.Node) float64 {
		if u.ID() == closed {
			return 0
		}
		layer, place, post := g.decode(u.ID())
		return float64(fine.at(layer, place, fine.kind(post)))
	}
}

// agree fails where two answers differ, and notes the answer. A lap that is dearer than
// the cutoff is in no graph.
func agree(t *testing.T, c *compared, row *compare.Row, answers map[string]float64, cutoff int32, o own) bool {
	value, by := math.NaN(), ""
	for _, name := range slices.Sorted(maps.Keys(answers)) {
		v := answers[name]
		if v > float64(cutoff) {
			v = math.Inf(1)
		}
		if by == "" {
			value, by = v, name
		} else if v != value {
			t.Errorf("%s, %s, %s: %s says %g, %s %g", c.room, c.figures, c.limits, by, value, name, v)
			return false
		}
	}
	if o.cost != unreachable && float64(o.cost) < value && !math.IsInf(value, 1) {
		t.Errorf("%s, %s, %s: our own search has a lap at %d, %s says %g", c.room, c.figures, c.limits, o.cost, by, value)
		return false
	}
	if !math.IsInf(value, 0) && by != "" {
		row.Cost = int(value)
	}
	return len(answers) > 1
}

// TestCompare runs the comparison and, with -update, writes it into README.md.
func TestCompare(t *testing.T) {
	version, err := compare.Version()
	if err != nil {
		t.Fatal("clingo is needed for this: ", err)
	}
	var rows []compare.Row
	together := 0
	all := instances(t)
	for _, c := range all {
		t.Run(c.room+", "+c.figures+", "+c.limits, func(t *testing.T) {
			started := time.Now()
			row, agreed := c.compare(t)
			rows = append(rows, row)
			if agreed {
				together++
			}
			t.Logf("%s (%s)", strings.Split(compare.Table([]compare.Row{row}), "\n")[2], time.Since(started).Round(time.Millisecond))
		})
	}
	text := about(together, len(rows), version) + compare.Table(rows) + "\n"
	t.Log("\n" + text)
	if len(rows) < len(all) {
		return // only some were asked for, or some failed
	}
	if together < 30 {
		t.Errorf("only on %d instances two solvers had the time to agree", together)
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
func about(together, rows int, version string) string {
	return fmt.Sprintf("\nRun on %s, %d cores (%s/%s), %s, gonum %s, %s. At least two solvers were done\non %d of %d instances, and all that were done agree on the least cost.\n\n",
		time.Now().Format("2 January 2006"), runtime.NumCPU(), runtime.GOOS, runtime.GOARCH, runtime.Version(), gonumVersion(), version, together, rows)
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
