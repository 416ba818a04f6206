package cover

import (
	"container/heap"
	"slices"

	"lapwright/figures"
	"lapwright/graph"
)

// Joins makes the shortest routine that uses every join of some figures, or as many as
// one routine can. It is the postman problem on a directed graph: the joins are streets,
// each to be gone through at least once, from any beginning to any end. How often each is
// gone through is a flow of least cost, which has whole numbers, and the routine is an
// Euler trail through it (Edmonds and Johnson 1973).
//
// Where not everything can be reached from everything, the figures fall into parts; the
// routine goes through the row of parts that has the most joins.
func Joins(variants []*figures.Variant) *Cover {
	n := newNet(variants)
	row := n.bestRow()
	at := map[int]int{} // by part: its place in the row
	for i, p := range row {
		at[p] = i
	}
	in := func(v int) bool { _, ok := at[n.part[v]]; return ok }
	// The last two vertices are where the routine comes from and goes to.
	source, sink := len(n.edges), len(n.edges)+1
	f := newFlow(sink + 1)
	uses := func(v, w int) (inside, between bool) {
		i, j := at[n.part[v]], at[n.part[w]]
		return i == j, j == i+1
	}
	type street struct{ from, to, arc, least int }
	var streets []street
	out := &Cover{}
	for v := range n.edges {
		if !in(v) {
			continue
		}
		for _, w := range n.next[v] {
			if !in(w) {
				continue
			}
			switch inside, between := uses(v, w); {
			case inside:
				streets = append(streets, street{v, w, f.arc(v, w, n.bars(w)), 1})
				f.excess[v]--
				f.excess[w]++
				out.Bound += n.bars(w)
			case between:
				streets = append(streets, street{v, w, f.arc(v, w, n.bars(w)), 0})
			}
		}
		if n.part[v] == row[0] {
			streets = append(streets, street{source, v, f.arc(source, v, n.bars(v)), 0})
		}
		if n.part[v] == row[len(row)-1] {
			streets = append(streets, street{v, sink, f.arc(v, sink, 0), 0})
		}
	}
	if len(row) > 0 {
		f.excess[source]++
		f.excess[sink]--
		out.Bound += f.send()
	}
	times := make([][]int, sink+1) // where to go from each vertex, each as often as it is gone
	covered := map[[2]int]bool{}
	for _, s := range streets {
		for range s.least + f.flow(s.arc) {
			times[s.from] = append(times[s.from], s.to)
			covered[[2]int{s.from, s.to}] = true
		}
	}
	for _, v := range trail(times, source) {
		if v < len(n.edges) {
			out.Routine = append(out.Routine, n.edges[v])
			out.Bars += n.bars(v)
		}
	}
	for v, list := range n.next {
		for _, w := range list {
			if covered[[2]int{v, w}] {
				out.Joins++
			} else {
				out.Left = append(out.Left, Join{n.edges[v], n.edges[w]})
			}
		}
	}
	out.Proven = out.Bars == out.Bound
	return out
}

// bestRow is the row of parts, each leading to the next, with the most joins.
func (n *net) bestRow() (row []int) {
	best, after := make([]int, len(n.parts)), make([]int, len(n.parts))
	first := -1
	for i := len(n.parts) - 1; i >= 0; i-- {
		inside := 0
		for _, v := range n.parts[i] {
			for _, w := range n.next[v] {
				if n.part[w] == i {
					inside++
				}
			}
		}
		best[i], after[i] = inside, -1
		for _, k := range n.follow[i] {
			if inside+1+best[k] > best[i] {
				best[i], after[i] = inside+1+best[k], k
			}
		}
		if first < 0 || best[i] > best[first] {
			first = i
		}
	}
	for i := first; i >= 0; i = after[i] {
		row = append(row, i)
	}
	return row
}

// trail goes through everything that is to be gone through, from a vertex on
// (Hierholzer 1873).
func trail(times [][]int, from int) (all []int) {
	stack := []int{from}
	for len(stack) > 0 {
		v := stack[len(stack)-1]
		if rest := times[v]; len(rest) > 0 {
			times[v] = rest[:len(rest)-1]
			stack = append(stack, rest[len(rest)-1])
			continue
		}
		all = append(all, v)
		stack = stack[:len(stack)-1]
	}
	slices.Reverse(all)
	return all
}

// flow is a flow of least cost: by shortest paths, one after the other, with potentials
// (Busacker and Gowen 1960; Edmonds and Karp 1972).
type flow struct {
	out    [][]int // arcs by vertex, with those that take flow back
	arcs   []flowArc
	excess []int
}

type flowArc struct{ to, cost, room int }

const endless = 1 << 40

func newFlow(vertices int) *flow {
	return &flow{out: make([][]int, vertices), excess: make([]int, vertices)}
}

// arc adds an arc through which any amount can flow, and is its number.
func (f *flow) arc(from, to, cost int) int {
	i := len(f.arcs)
	f.arcs = append(f.arcs, flowArc{to, cost, endless}, flowArc{from, -cost, 0})
	f.out[from] = append(f.out[from], i)
	f.out[to] = append(f.out[to], i+1)
	return i
}

// flow is how much flows through an arc.
func (f *flow) flow(arc int) int { return f.arcs[arc^1].room }

// send brings all that is in excess to where it lacks, and is what that costs. It has to
// be possible.
func (f *flow) send() (cost int) {
	potential := make([]int, len(f.out))
	for v := range f.excess {
		for f.excess[v] > 0 {
			far, by := f.paths(v, potential)
			to := -1
			for w, left := range f.excess {
				if left < 0 && far[w] < endless && (to < 0 || far[w]+potential[w] < far[to]+potential[to]) {
					to = w
				}
			}
			if to < 0 {
				panic("cover: what is in excess cannot be sent")
			}
			// Beyond the target nothing needs to be shorter than it.
			for w := range potential {
				potential[w] += min(far[w], far[to])
			}
			amount := min(f.excess[v], -f.excess[to])
			for w := to; w != v; w = f.arcs[by[w]^1].to {
				amount = min(amount, f.arcs[by[w]].room)
			}
			for w := to; w != v; w = f.arcs[by[w]^1].to {
				f.arcs[by[w]].room -= amount
				f.arcs[by[w]^1].room += amount
				cost += amount * f.arcs[by[w]].cost
			}
			f.excess[v] -= amount
			f.excess[to] += amount
		}
	}
	return cost
}

// paths are the shortest paths from a vertex, in costs made less by potentials so that
// none is negative, and the last arc of each (Dijkstra 1959).
func (f *flow) paths(from int, potential []int) (far, by []int) {
	far, by = make([]int, len(f.out)), make([]int, len(f.out))
	for v := range far {
		far[v], by[v] = endless, -1
	}
	far[from] = 0
	open := &queue{{0, from}}
	for open.Len() > 0 {
		q := heap.Pop(open).(item)
		if q.far > far[q.vertex] {
			continue
		}
		for _, i := range f.out[q.vertex] {
			a := &f.arcs[i]
			if a.room == 0 {
				continue
			}
			if d := q.far + a.cost + potential[q.vertex] - potential[a.to]; d < far[a.to] {
				far[a.to], by[a.to] = d, i
				heap.Push(open, item{d, a.to})
			}
		}
	}
	return far, by
}

type item struct{ far, vertex int }

type queue []item

func (q queue) Len() int { return len(q) }
func (q queue) Less(i, j int) bool {
	return q[i].far < q[j].far || q[i].far == q[j].far && q[i].vertex < q[j].vertex
}
func (q queue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *queue) Push(x any)   { *q = append(*q, x.(item)) }
func (q *queue) Pop() any {
	last := (*q)[len(*q)-1]
	*q = (*q)[:len(*q)-1]
	return last
}

// routine is some vertices as a routine.
func (n *net) routine(vertices []int) (all []graph.Edge, bars int) {
	for _, v := range vertices {
		all = append(all, n.edges[v])
		bars += n.bars(v)
	}
	return all, bars
}
