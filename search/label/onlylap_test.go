package label_test

import (
	"testing"

	"pgregory.net/rapid"

	"lapwright/search/label"
	"lapwright/search/network"
)

// row is a lap of one figure after the other, each different, and what could be danced
// in the place of each that spoils it; no bars: nothing can. Key is a figure that
// nothing stands beside.
type row struct {
	good, bad []network.Way
	key       int
}

// newRow is a row of figures of one bar, with figures besides that are like them but for
// their numbers.
func newRow(places, key int) *row {
	r := &row{key: key}
	for i := range places {
		r.good = append(r.good, network.Way{Figure: int32(i), Bars: 1})
		r.bad = append(r.bad, network.Way{Figure: int32(places + i), Bars: 1})
	}
	r.bad[key].Bars = 0
	return r
}

// spoil makes something of each figure that spoils the lap.
func (r *row) spoil(make func(w *network.Way)) {
	for i := range r.bad {
		if r.bad[i].Bars > 0 {
			make(&r.bad[i])
		}
	}
}

// last makes the last figure the key.
func (r *row) last() *row {
	return newRow(len(r.good), len(r.good)-1)
}

// spoilers set one limit each, and make every figure that may stand in the place of
// another spoil the lap, by itself or later.
var spoilers = []struct {
	limit string
	make  func(r *row) (*row, label.Limits)
}{
	{"uses", func(r *row) (*row, label.Limits) {
		r.spoil(func(w *network.Way) { w.Figure = int32(r.key) })
		return r, label.Limits{Uses: 1}
	}},
	{"apart", func(r *row) (*row, label.Limits) {
		r.spoil(func(w *network.Way) { w.Figure = int32(r.key) })
		return r, label.Limits{Apart: int32(len(r.good))}
	}},
	{"caps", func(r *row) (*row, label.Limits) {
		r.spoil(func(w *network.Way) { w.Classes = 2 })
		r.good[r.key].Classes = 3
		return r, label.Limits{Caps: []label.Cap{{Class: 0, Most: 1}, {Class: 1, Most: 1}}}
	}},
	{"different", func(r *row) (*row, label.Limits) {
		r.spoil(func(w *network.Way) { w.Figure = int32(r.key) })
		return r, label.Limits{Different: int32(len(r.good))}
	}},
	{"bars at least", func(r *row) (*row, label.Limits) {
		for i := range r.good {
			r.good[i].Bars = 2
		}
		return r, label.Limits{MinBars: 2 * int32(len(r.good))}
	}},
	{"bars at most", func(r *row) (*row, label.Limits) {
		// At the end a short figure seems to be left, which may not be danced.
		r = r.last()
		r.spoil(func(w *network.Way) { w.Bars = 2 })
		r.good[r.key].Bars, r.bad[r.key].Bars, r.bad[r.key].Classes = 9, 1, 1
		return r, label.Limits{MaxBars: int32(r.key) + 9, Caps: []label.Cap{{Class: 0, Most: 0}}}
	}},
	{"exact bars", func(r *row) (*row, label.Limits) {
		r.spoil(func(w *network.Way) { w.Bars = 3 })
		return r, label.Limits{MinBars: int32(len(r.good)), MaxBars: int32(len(r.good))}
	}},
	{"phrase", func(r *row) (*row, label.Limits) {
		r.spoil(func(w *network.Way) { w.Bars = 2 })
		return r, label.Limits{Phrase: int32(len(r.good))}
	}},
	{"must", func(r *row) (*row, label.Limits) {
		var l label.Limits
		for _, w := range r.good {
			l.Must = append(l.Must, w.Figure)
		}
		return r, l
	}},
	{"orders", func(r *row) (*row, label.Limits) {
		r = r.last()
		var l label.Limits
		for _, w := range r.good[:r.key] {
			l.Orders = append(l.Orders, label.Order{First: w.Figure, Then: int32(r.key)})
		}
		return r, l
	}},
	{"fixed", func(r *row) (*row, label.Limits) {
		r = r.last()
		r.spoil(func(w *network.Way) { w.Bars = 2 })
		return r, label.Limits{Fixed: []label.Fixed{{Figure: int32(r.key), Bar: int32(len(r.good)), Wall: -1}}}
	}},
	{"right turns", func(r *row) (*row, label.Limits) {
		// Every second figure is a rest; without it there are two in a row.
		for i := range r.good {
			r.good[i].Right = i%2 == r.key%2
			if r.good[i].Right {
				r.bad[i].Bars = 0
			}
		}
		r.spoil(func(w *network.Way) { w.Right = true })
		return r, label.Limits{RightTurns: 1}
	}},
}

// laps counts the laps of a network that keep to limits, one by one.
func laps(n *network.Network, l *label.Limits) (kept int) {
	var arcs []int32
	var walk func(node int32)
	walk = func(node int32) {
		if node == n.End {
			if label.Keeps(n, l, n.Sources[0], arcs) {
				kept++
			}
			return
		}
		for i, a := range n.Arcs(node) {
			arcs = append(arcs, int32(n.ArcNumber(node)+i))
			walk(a.To)
			arcs = arcs[:len(arcs)-1]
		}
	}
	walk(n.Sources[0])
	return kept
}

// TestTheOnlyLapIsFound: where one lap alone keeps to a limit, and every figure of it
// that another could stand for is dearer than the other, so that all that can be begun
// is cheaper than its own beginning and leads to the same place, it is found all the
// same, and proven.
func TestTheOnlyLapIsFound(t *testing.T) {
	for _, c := range spoilers {
		t.Run(c.limit, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				places := rapid.IntRange(3, 8).Draw(t, "places")
				r, l := c.make(newRow(places, rapid.IntRange(0, places-1).Draw(t, "key")))
				b := network.Builder{Network: network.Network{
					Ways: append(r.good, r.bad...), Figures: 2 * places, Sources: []int32{0}, End: int32(places + 1), Walls: make([]int16, places+2),
				}}
				want := int32(0)
				for i := range places {
					cost := int32(rapid.IntRange(100, 300).Draw(t, "cost"))
					want += cost
					b.Add(int32(i), network.Arc{To: int32(i + 1), Way: int32(i), Cost: cost})
					if r.bad[i].Bars > 0 {
						b.Add(int32(i), network.Arc{To: int32(i + 1), Way: int32(places + i), Cost: int32(rapid.IntRange(50, int(cost)).Draw(t, "cheaper"))})
					} else {
						b.Ways[places+i].Bars = 1
					}
				}
				b.Add(int32(places), network.Arc{To: b.End, Way: network.Closing})
				n, err := b.Build()
				if err != nil {
					t.Fatal(err)
				}
				if kept := laps(n, &l); kept != 1 {
					t.Fatalf("%d laps keep to %+v", kept, l)
				}
				stages := label.SolveInStages(n, &l, rapid.IntRange(0, 200).Draw(t, "first"))
				for _, r := range []*label.Result{solve(t, n, &l, label.Options{}), stages} {
					if !r.Found || !r.Proven || r.Cost != want {
						t.Fatalf("with %+v the only lap costs %d; the search says %+v", l, want, *r)
					}
				}
			})
		})
	}
}
