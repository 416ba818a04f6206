//go:build compare

package search

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"lapwright/search/compare"
	"lapwright/search/export"
	labels "lapwright/search/label"
	"lapwright/search/network"

	"pgregory.net/rapid"
)

// drawnInstance draws a small graph with limits.
func drawnInstance(t *rapid.T) *export.Instance {
	whole := func(label string, least, most int) int { return rapid.IntRange(least, most).Draw(t, label) }
	now := func(label string) bool { return rapid.IntRange(0, 6).Draw(t, label) == 6 }
	figures, nodes := whole("figures", 2, 4), whole("nodes", 4, 9)
	b := network.Builder{Network: network.Network{Figures: figures, End: int32(nodes - 1), Sources: []int32{0}, Cutoff: int32(whole("cutoff", 500, 1000))}}
	for f := range figures {
		for range whole("ways", 1, 2) {
			b.Ways = append(b.Ways, network.Way{Figure: int32(f), Bars: int32(whole("bars", 1, 2)),
				Classes: rapid.Uint64Range(0, 3).Draw(t, "classes"), Right: rapid.Bool().Draw(t, "right")})
		}
	}
	if now("two sources") {
		b.Sources = append(b.Sources, 1)
	}
	for node := range nodes {
		b.Walls = append(b.Walls, int16(whole("wall", 0, 1)))
		if node == nodes-1 {
			break
		}
		for range whole("arcs", 2, 4) {
			to := min(nodes-2, max(0, node+whole("ahead", -1, 3)))
			b.Add(int32(node), network.Arc{To: int32(to), Way: int32(whole("way", 0, len(b.Ways)-1)), Cost: int32(whole("cost", 90, 250))})
		}
		if node >= nodes/2 {
			b.Add(int32(node), network.Arc{To: b.End, Way: network.Closing, Cost: int32(whole("gap", 0, 20))})
		}
	}
	n, err := b.Build()
	if err != nil {
		t.Fatal(err)
	}
	in := &export.Instance{Network: n, Figures: make([]string, figures), Classes: []string{"one", "two"}}
	l := &in.Limits
	for _, limit := range []struct {
		name        string
		value       *int32
		least, most int
	}{{"least bars", &l.MinBars, 2, 5}, {"most bars", &l.MaxBars, 3, 7}, {"phrase", &l.Phrase, 2, 4}, {"uses", &l.Uses, 1, 3},
		{"apart", &l.Apart, 2, 4}, {"different", &l.Different, 2, 3}, {"right turns", &l.RightTurns, 1, 3}} {
		if now("limit " + limit.name) {
			*limit.value = int32(whole(limit.name, limit.least, limit.most))
		}
	}
	figure := func() int32 { return int32(whole("figure", 0, figures-1)) }
	for now("cap") {
		l.Caps = append(l.Caps, labels.Cap{Class: uint8(whole("class", 0, 1)), Most: int32(whole("most", 0, 3))})
	}
	if now("must") {
		l.Must = append(l.Must, figure())
	}
	for now("order") {
		l.Orders = append(l.Orders, labels.Order{First: figure(), Then: figure()})
	}
	if now("fixed") {
		l.Fixed = append(l.Fixed, labels.Fixed{Figure: figure(), Bar: int32(whole("bar", 1, 5)), Wall: int16(whole("along", -1, 1))})
	}
	return in
}

// oneStep is a figure danced on the way that everyLap is on.
type oneStep struct{ way, bar, wall int32 }

// everyLap is the least cost of a lap that keeps to the limits and costs no more than
// the cutoff, by trying all of them; infinite when there is none.
func everyLap(in *export.Instance) float64 {
	n := in.Network
	best := math.Inf(1)
	var steps []oneStep
	var dance func(node, bars, cost int32)
	dance = func(node, bars, cost int32) {
		for _, a := range n.Arcs(node) {
			total := cost + a.Cost
			if togo := n.ToGo(a.To); togo == network.Unreachable || total+togo > n.Cutoff {
				continue
			}
			if a.Way == network.Closing {
				if keepsTo(in, steps, bars) {
					best = min(best, float64(total))
				}
				continue
			}
			steps = append(steps, oneStep{a.Way, bars + 1, int32(n.Walls[a.To])})
			dance(a.To, bars+n.Ways[a.Way].Bars, total)
			steps = steps[:len(steps)-1]
		}
	}
	for _, s := range n.Sources {
		dance(s, 0, 0)
	}
	return best
}

// keepsTo reports whether a whole lap keeps to the limits.
func keepsTo(in *export.Instance, steps []oneStep, bars int32) bool {
	l, ways := &in.Limits, in.Network.Ways
	begins := make([][]int32, in.Network.Figures)
	caps := map[uint8]int32{}
	right := int32(0)
	for _, s := range steps {
		w := ways[s.way]
		f := int(w.Figure)
		if last := len(begins[f]) - 1; last >= 0 && s.bar-begins[f][last] < l.Apart {
			return false
		}
		for _, o := range l.Orders {
			if o.Then == w.Figure && len(begins[o.First]) == 0 {
				return false
			}
		}
		begins[f] = append(begins[f], s.bar)
		for c := range uint8(2) {
			if w.Classes&(1<<c) != 0 {
				caps[c]++
			}
		}
		if right++; !w.Right {
			right = 0
		}
		if l.RightTurns > 0 && right > l.RightTurns {
			return false
		}
	}
	different := int32(0)
	for _, at := range begins {
		if l.Uses > 0 && len(at) > int(l.Uses) {
			return false
		}
		different += int32(min(1, len(at)))
	}
	for _, c := range l.Caps {
		if caps[c.Class] > c.Most {
			return false
		}
	}
	for _, m := range l.Must {
		if len(begins[m]) == 0 {
			return false
		}
	}
	for _, x := range l.Fixed {
		if !slices.ContainsFunc(steps, func(s oneStep) bool {
			return ways[s.way].Figure == x.Figure && s.bar == x.Bar && (x.Wall < 0 || s.wall == int32(x.Wall))
		}) {
			return false
		}
	}
	return different >= l.Different && bars >= l.MinBars && (l.MaxBars == 0 || bars <= l.MaxBars) && (l.Phrase == 0 || bars%l.Phrase == 0)
}

// TestCompareAsEnumerated: on small graphs the encodings and the graph that gonum is
// given find what is found by trying all laps.
func TestCompareAsEnumerated(t *testing.T) {
	var laps share
	draws(t, 1, func(t *rapid.T) {
		in := drawnInstance(t)
		want := everyLap(in)
		g := newLimitedGraph(in)
		for name, togo := range map[string]bound{"Dijkstra's algorithm": nil, "A*": g.ahead} {
			got, _ := byGonum(g, before, behind, togo, time.Minute)
			if got > float64(in.Network.Cutoff) {
				got = math.Inf(1)
			}
			if got != want {
				t.Errorf("gonum's %s finds %g, all laps %g", name, got, want)
			}
		}
		a, err := compare.Solve(context.Background(), in, time.Minute)
		if err != nil {
			t.Fatal(err)
		}
		got := math.Inf(1)
		if a.Cost >= 0 {
			got = float64(a.Cost)
		}
		if got != want || !a.Proven {
			t.Errorf("clingo finds %g (proven: %t), all laps %g in\n%s", got, a.Proven, want, show(in))
		}
		laps.add(!math.IsInf(want, 1))
	})
	laps.report(t, 0.2)
}

// show writes an instance.
func show(in *export.Instance) string {
	for i := range in.Figures {
		in.Figures[i] = string(rune('A' + i))
	}
	var b strings.Builder
	if err := export.Write(&b, in); err != nil {
		return err.Error()
	}
	return b.String()
}
