package search

import (
	"container/heap"
	"context"
	"fmt"
	"math"
	"sync"
	"testing"
	"time"

	"lapwright/figures"
	"lapwright/figures/geometry"
	"lapwright/floors"

	"pgregory.net/rapid"
)

// A closet is a room so small, with so few figures, that every state that can be
// reached in it is written out, so that the best lap can be found by looking at laps
// one by one.
type closet struct {
	name    string
	problem *Problem // without limits
	laps    map[int]*written
}

// written is all that can be danced in a closet in so many laps: by state, each way to
// go on. It is laid out without limits on the length of steps; what these forbid is
// passed over where laps are looked at.
type written struct {
	plan   *plan
	starts []int32 // states, by start
	posts  []int32 // by start
	gaps   []map[int32]int32
	hops   [][]hop
	back   [][]hop // turned round: to is where each hop comes from
	toEnd  [][]int32
	best   int32 // the least cost of a lap; unreachable where there is none
}

// hop is a figure danced from a state.
type hop struct{ to, edge, wall, cost int32 }

// queue is a heap of what waits, the least key first.
type queue[T any] struct {
	keys  []int32
	items []T
}

func (q *queue[T]) Len() int           { return len(q.keys) }
func (q *queue[T]) Less(i, j int) bool { return q.keys[i] < q.keys[j] }
func (q *queue[T]) Swap(i, j int) {
	q.keys[i], q.keys[j] = q.keys[j], q.keys[i]
	q.items[i], q.items[j] = q.items[j], q.items[i]
}
func (q *queue[T]) Push(x any) { q.items = append(q.items, x.(T)) }
func (q *queue[T]) Pop() any {
	last := len(q.keys) - 1
	item := q.items[last]
	q.keys, q.items = q.keys[:last], q.items[:last]
	return item
}

func (q *queue[T]) add(key int32, item T) {
	q.keys = append(q.keys, key)
	heap.Push(q, item)
}

func (q *queue[T]) take() (key int32, item T) {
	key = q.keys[0]
	return key, heap.Pop(q).(T)
}

// writeOut writes out what can be danced from a problem's starts.
func writeOut(t faulty, p *Problem) *written {
	t.Helper()
	s, err := prepare(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	type place struct {
		layer int
		cell  floors.Cell
		post  int32
	}
	pl := s.plan
	w := &written{plan: pl}
	layers := pl.ground.layers
	number := map[place]int32{}
	var places []place
	state := func(at place) int32 {
		n, known := number[at]
		if !known {
			n = int32(len(places))
			number[at] = n
			places = append(places, at)
		}
		return n
	}
	for _, start := range s.starts {
		w.starts = append(w.starts, state(place{0, layers[0].cell(start.place), start.post}))
		w.posts = append(w.posts, start.post)
	}
	for i := 0; i < len(places); i++ {
		from := places[i]
		var hops []hop
		dance := func(layer int, moves []move) {
			l := &layers[layer]
			for _, m := range moves {
				e := &pl.edges[m.edge]
				to := from.cell.Add(e.shapes[l.wall].shift)
				if !l.holds(to) || l.usable[l.place(to)] == 0 {
					continue
				}
				crowd := pl.crowd(&e.shapes[l.wall], from.cell)
				if crowd != blocked {
					cost := m.cost + (int32(l.lane[l.place(to)])+crowd)*e.bars
					hops = append(hops, hop{state(place{layer, to, m.to}), m.edge, int32(l.wall), cost})
				}
			}
		}
		here := layers[from.layer].usable[layers[from.layer].place(from.cell)]
		if here&inUse != 0 {
			dance(from.layer, pl.moves[0][from.post])
		}
		if from.layer+1 < len(layers) && here&inCorner != 0 {
			dance(from.layer+1, pl.moves[pl.kindOf[from.layer]][from.post])
		}
		w.hops = append(w.hops, hops)
	}
	w.back = make([][]hop, len(places))
	for from, hops := range w.hops {
		for _, h := range hops {
			w.back[h.to] = append(w.back[h.to], hop{int32(from), h.edge, h.wall, h.cost})
		}
	}
	w.best = unreachable
	for i, start := range w.starts {
		gaps := map[int32]int32{}
		home := places[start].cell.Point()
		for n, at := range places {
			if away := at.cell.Point().Sub(home).Len(); at.layer == len(layers)-1 && at.post == w.posts[i] && away <= Tolerance+1e-9 {
				gaps[int32(n)] = int32(math.Round(100 * p.Weights.Gap * away))
			}
		}
		w.gaps = append(w.gaps, gaps)
		w.toEnd = append(w.toEnd, w.costsToEnd(gaps))
		w.best = min(w.best, w.toEnd[i][start])
	}
	return w
}

// costsToEnd is, by state, the least cost of going on to the end of a lap without
// limits, by Dijkstra's algorithm; unreachable where there is no way.
func (w *written) costsToEnd(gaps map[int32]int32) []int32 {
	costs := make([]int32, len(w.hops))
	for i := range costs {
		costs[i] = unreachable
	}
	var open queue[int32]
	for state, gap := range gaps {
		costs[state] = gap
		open.add(gap, state)
	}
	for open.Len() > 0 {
		cost, state := open.take()
		if cost > costs[state] {
			continue
		}
		for _, h := range w.back[state] {
			if through := cost + h.cost; through < costs[h.to] {
				costs[h.to] = through
				open.add(through, h.to)
			}
		}
	}
	return costs
}

// in is what can be danced in a closet in so many laps.
func (c *closet) in(t faulty, laps int) *written {
	if c.laps == nil {
		c.laps = map[int]*written{}
	}
	if c.laps[laps] == nil {
		p := *c.problem
		p.Laps = laps
		c.laps[laps] = writeOut(t, &p)
	}
	return c.laps[laps]
}

// box is a rectangular room.
func box(t faulty, width, depth float64) *floors.Room {
	t.Helper()
	return loaded(t, "Closet", outline(geometry.Point{}, geometry.Point{X: width}, geometry.Point{X: width, Y: depth}, geometry.Point{Y: depth}))
}

// In a closet there is no time to wonder why there is no lap, and no margin.
func closetProblem(room *floors.Room, variants []*figures.Variant, scales ...Scale) *Problem {
	p := problem(room, variants)
	p.Margin, p.WhyTime, p.Scales = 0, time.Nanosecond, scales
	return p
}

// closets are some closets, written out once for all tests.
var closets = sync.OnceValue(func() (all []*closet) {
	var t panicking
	small, half := Scale{0.6, 0.06}, Scale{0.7, 0.03}
	for _, c := range []struct {
		width, depth float64
		more         []string
		scales       []Scale
		lane         float64
	}{
		{4.5, 4.5, []string{"Whisk", "Chassé from Promenade", "Passing Natural Turn"}, []Scale{small}, 0.4},
		{5, 4.4, []string{"Natural Spin Turn", "Hesitation Change"}, []Scale{small}, 0.4},
		{4.4, 4.4, nil, []Scale{small, half}, 0.1},
		{4.6, 4.6, []string{"Whisk", "Chassé from Promenade"}, []Scale{small, half}, 0},
	} {
		p := closetProblem(box(t, c.width, c.depth), of(t, append(c.more, core...)...), c.scales...)
		p.Weights.Lane = c.lane
		all = append(all, &closet{name: fmt.Sprintf("%g × %g m, %d figures", c.width, c.depth, len(figuresOf(p.Variants))), problem: p})
	}
	return all
})

// someCloset draws one of the closets; the one that is soonest searched where all is
// slower.
func someCloset(t *rapid.T) *closet {
	if slower > 1 {
		return closets()[1]
	}
	return rapid.SampledFrom(closets()).Draw(t, "closet")
}

// panicking fails where there is no test to fail.
type panicking struct{}

func (panicking) Helper()                      {}
func (panicking) Errorf(f string, args ...any) { panic(fmt.Sprintf(f, args...)) }
func (panicking) Fatalf(f string, args ...any) { panic(fmt.Sprintf(f, args...)) }
func (panicking) Fatal(args ...any)            { panic(fmt.Sprint(args...)) }

// drawCloset draws a closet of its own.
func drawCloset(t *rapid.T) *closet {
	more := []string{"Whisk", "Chassé from Promenade", "Natural Spin Turn", "Hesitation Change", "Outside Change"}
	names := append([]string(nil), core...)
	for _, i := range rapid.SliceOfNDistinct(rapid.IntRange(0, len(more)-1), 0, 2, rapid.ID).Draw(t, "more") {
		names = append(names, more[i])
	}
	scales := []Scale{{float64(rapid.IntRange(55, 70).Draw(t, "share")) / 100, 0.06}}
	p := closetProblem(box(t, metres(t, "width", 4.3, 4.8), metres(t, "depth", 4.3, 4.8)), of(t, names...), scales...)
	p.Weights = weights(t)
	return &closet{name: "drawn", problem: p}
}

// TestClosets: the closets are small, and the couple gets round.
func TestClosets(t *testing.T) {
	for i, c := range closets() {
		if slower > 1 && i > 1 {
			break
		}
		w := c.in(t, 1)
		hops := 0
		for _, h := range w.hops {
			hops += len(h)
		}
		t.Logf("%s: %d states, %d hops, %d starts; the best lap costs %d", c.name, len(w.hops), hops, len(w.starts), w.best)
		if w.best == unreachable || len(w.hops) > 80_000 {
			t.Errorf("%s: %d states, and the best lap costs %d", c.name, len(w.hops), w.best)
		}
		if got := cost(find(t, c.problem)); got != float64(w.best) {
			t.Errorf("%s: the best lap costs %g; all written out it costs %d", c.name, got, w.best)
		}
	}
}
