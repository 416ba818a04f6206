package compare

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"slices"

	"lapwright/search/export"
	"lapwright/search/label"
	"lapwright/search/network"
)

// Size is how large a problem for the solver is.
type Size struct{ Nodes, Arcs int }

// Facts writes an instance as facts for the encodings, and tells how many nodes and
// arcs they have.
//
// What cannot be part of a lap that costs at most the cutoff is left out, and with limits
// each node stands once for each bar in which it can be reached in such a lap that ends in
// a bar in which it may. Costs are reduced: an arc costs what a lap that goes along it
// loses against the cheapest from where it begins, by our own exact cost to go, so that the
// cheapest lap without limits costs the solver 0. All this is a present from us.
// The cost of a lap is that of [network.Network.Best] and the solver's together.
func Facts(w io.Writer, in *export.Instance) (Size, error) {
	f := &facts{Writer: bufio.NewWriter(w), in: in, n: in.Network}
	f.number()
	if limited(in) {
		f.timed()
		f.ways()
		f.limits()
	} else {
		f.plain()
	}
	return f.size, f.Flush()
}

type facts struct {
	*bufio.Writer
	in   *export.Instance
	n    *network.Network
	size Size
	// alike is, by way, the first way of which limits cannot tell it.
	alike []int32
}

// limited reports whether any limit is set.
func limited(in *export.Instance) bool {
	l := &in.Limits
	return l.MinBars > 0 || l.MaxBars > 0 || l.Phrase > 0 || l.Uses > 0 || l.Apart > 0 || l.Different > 0 ||
		len(l.Caps) > 0 || len(l.Must) > 0 || len(l.Orders) > 0 || len(l.Fixed) > 0 || l.RightTurns > 0
}

// number finds which ways are alike.
func (f *facts) number() {
	first := map[network.Way]int32{}
	f.alike = make([]int32, len(f.n.Ways))
	for i, w := range f.n.Ways {
		if _, known := first[w]; !known {
			first[w] = int32(i)
		}
		f.alike[i] = first[w]
	}
}

// arc writes an arc between two nodes of the network, under the numbers they have for
// the solver.
func (f *facts) arc(from, to int32, number, next int, a network.Arc) {
	f.size.Arcs++
	way := a.Way
	if way != network.Closing {
		way = f.alike[way]
	}
	fmt.Fprintf(f, "arc(%d,%d,%d,%d).\n", number, next, way, a.Cost+f.n.ToGo(to)-f.n.ToGo(from))
}

func (f *facts) source(node int32, number int) {
	fmt.Fprintf(f, "source(%d,%d).\n", number, f.n.ToGo(node)-f.n.Best())
}

// plain writes the graph itself; of arcs side by side only the cheapest is of use.
func (f *facts) plain() {
	n := f.n
	f.size.Nodes = n.Nodes()
	for _, s := range n.Sources {
		if n.ToGo(s) <= n.Cutoff {
			f.source(s, int(s))
		}
	}
	fmt.Fprintf(f, "end(%d).\n", n.End)
	for node := range int32(n.Nodes()) {
		if n.ToGo(node) == network.Unreachable {
			continue
		}
		cheapest := map[int32]bool{}
		for _, a := range n.Arcs(node) { // those to one node come in the order of their costs
			if n.ToGo(a.To) != network.Unreachable && !cheapest[a.To] {
				cheapest[a.To] = true
				f.arc(node, a.To, int(node), int(a.To), a)
			}
		}
	}
}

// moment is a node at the end of so many bars.
type moment struct {
	node int32
	bars int
}

// ends reports whether a lap may end after so many bars.
func ends(l *label.Limits, bars int) bool {
	return bars >= int(l.MinBars) && (l.MaxBars == 0 || bars <= int(l.MaxBars)) && (l.Phrase == 0 || bars%int(l.Phrase) == 0)
}

// distinct are the arcs that leave a node and differ, for a limit, in way or end; of those
// that do not, only the cheapest is of use, and stands first.
func (f *facts) distinct(node int32) (all []network.Arc) {
	for _, a := range f.n.Arcs(node) {
		if !slices.ContainsFunc(all, func(o network.Arc) bool {
			return o.To == a.To && (a.Way == network.Closing || f.alike[o.Way] == f.alike[a.Way])
		}) {
			all = append(all, a)
		}
	}
	return all
}

// timed writes the graph with each node once for each number of bars.
func (f *facts) timed() {
	n, l := f.n, &f.in.Limits
	cost, togo := f.moments()
	number := map[moment]int{}
	numbered := func(m moment) int {
		i, known := number[m]
		if !known {
			i = len(number) + 1
			number[m] = i
			fmt.Fprintf(f, "bar(%d,%d).\n", i, m.bars+1)
			if wall := n.Walls[m.node]; wall >= 0 && len(l.Fixed) > 0 {
				fmt.Fprintf(f, "wall(%d,%d).\n", i, wall)
			}
		}
		return i
	}
	f.WriteString("end(0).\n")
	for _, s := range n.Sources {
		if _, ok := togo[0][s]; ok {
			f.source(s, numbered(moment{s, 0}))
		}
	}
	for bars := range togo {
		for node := range int32(n.Nodes()) {
			if _, ok := togo[bars][node]; !ok {
				continue
			}
			for _, a := range f.distinct(node) {
				if a.Way == network.Closing {
					if ends(l, bars) && cost[bars][node]+a.Cost <= n.Cutoff {
						f.arc(node, a.To, numbered(moment{node, bars}), 0, a)
					}
					continue
				}
				then := bars + int(n.Ways[a.Way].Bars)
				if then < len(togo) {
					if left, ok := togo[then][a.To]; ok && cost[bars][node]+a.Cost+left <= n.Cutoff {
						f.arc(node, a.To, numbered(moment{node, bars}), numbered(moment{a.To, then}), a)
					}
				}
			}
		}
	}
	f.size.Nodes = len(number) + 1
}

// moments are the least costs to each node by the number of bars, and from it to the end
// at a bar in which a lap may end; nodes through which no lap is cheap enough have none.
func (f *facts) moments() (cost, togo []map[int32]int32) {
	n, l := f.n, &f.in.Limits
	cost = []map[int32]int32{{}}
	for _, s := range n.Sources {
		cost[0][s] = 0
	}
	for bars := 0; bars < len(cost); bars++ {
		for node, so := range cost[bars] {
			for _, a := range n.Arcs(node) {
				if a.Way == network.Closing || n.ToGo(a.To) == network.Unreachable || so+a.Cost+n.ToGo(a.To) > n.Cutoff {
					continue
				}
				then := bars + int(n.Ways[a.Way].Bars)
				if l.MaxBars > 0 && then > int(l.MaxBars) {
					continue
				}
				for len(cost) <= then {
					cost = append(cost, map[int32]int32{})
				}
				if was, known := cost[then][a.To]; !known || so+a.Cost < was {
					cost[then][a.To] = so + a.Cost
				}
			}
		}
	}
	togo = make([]map[int32]int32, len(cost))
	for bars := len(cost) - 1; bars >= 0; bars-- {
		togo[bars] = map[int32]int32{}
		for node, so := range cost[bars] {
			least := int32(math.MaxInt32)
			for _, a := range n.Arcs(node) {
				if a.Way == network.Closing {
					if ends(l, bars) {
						least = min(least, a.Cost)
					}
				} else if then := bars + int(n.Ways[a.Way].Bars); then < len(togo) {
					if left, ok := togo[then][a.To]; ok {
						least = min(least, a.Cost+left)
					}
				}
			}
			if least <= n.Cutoff-so {
				togo[bars][node] = least
			}
		}
	}
	return cost, togo
}

// ways writes what limits can ask about the ways.
func (f *facts) ways() {
	for i, w := range f.n.Ways {
		if f.alike[i] != int32(i) {
			continue
		}
		fmt.Fprintf(f, "way(%d,%d).\n", i, w.Figure)
		if w.Right {
			fmt.Fprintf(f, "right(%d).\n", i)
		}
		for class := range 64 {
			if w.Classes&(1<<class) != 0 {
				fmt.Fprintf(f, "in(%d,%d).\n", i, class)
			}
		}
	}
}

// limits writes the limits that are not kept by leaving arcs out.
func (f *facts) limits() {
	l := &f.in.Limits
	for _, n := range []struct {
		name  string
		value int32
	}{{"uses", l.Uses}, {"apart", l.Apart}, {"different", l.Different}, {"turns", l.RightTurns}} {
		if n.value > 0 {
			fmt.Fprintf(f, "limit(%s,%d).\n", n.name, n.value)
		}
	}
	for _, c := range l.Caps {
		fmt.Fprintf(f, "limit(most,%d,%d).\n", c.Class, c.Most)
	}
	for _, m := range l.Must {
		fmt.Fprintf(f, "limit(must,%d).\n", m)
	}
	for _, o := range l.Orders {
		fmt.Fprintf(f, "limit(order,%d,%d).\n", o.First, o.Then)
	}
	for _, x := range l.Fixed {
		fmt.Fprintf(f, "limit(fixed,%d,%d,%d).\n", x.Figure, x.Bar, max(-1, x.Wall))
	}
}
