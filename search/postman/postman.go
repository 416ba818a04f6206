// Package postman finds how short a walk over a directed graph can be that uses some arcs
// at least once: the directed postman problem, open at both ends (Edmonds and Johnson,
// Matching, Euler tours and the Chinese postman, 1973).
//
// What lives here: the least cost, as a flow of least cost. What does not: the walk
// itself, and what the graph stands for.
package postman

import "math"

// Arc leads from one vertex to another.
type Arc struct {
	From, To int
	Cost     int // at least 0
	// Needed arcs must be used.
	Needed bool
}

// Bound is the least cost of a walk from a vertex that uses every needed arc, or less:
// the least of what leaves as many arcs into each vertex as out of it, but for the
// walk's two ends, be it in one piece or not. A walk of that cost is a shortest one. ok is
// false where no walk uses them all.
//
// Each needed arc is used once; how often arcs are used beyond that is a flow from the
// vertices with more needed arcs in than out to those with more out than in, found by
// shortest augmenting paths with potentials.
func Bound(vertices, start int, arcs []Arc) (cost int, ok bool) {
	supply := make([]int, vertices)
	stays := true // the walk may end at the start
	for _, a := range arcs {
		stays = stays && !a.Needed
	}
	for _, a := range arcs {
		stays = stays || a.To == start
		if a.Needed {
			cost += a.Cost
			supply[a.To]++
			supply[a.From]--
		}
	}
	// The walk comes in at the start, and goes out wherever it likes.
	supply[start]++
	n := newNet(vertices + 2)
	source, sink := vertices, vertices+1
	want := 0
	for v, s := range supply {
		if s > 0 {
			n.add(source, v, s, 0)
			want += s
		} else if s < 0 {
			n.add(v, sink, -s, 0)
		}
	}
	// One unit ends anywhere.
	end := n.vertex()
	for v := range vertices {
		if v != start || stays {
			n.add(v, end, 1, 0)
		}
	}
	n.add(end, sink, 1, 0)
	for _, a := range arcs {
		n.add(a.From, a.To, math.MaxInt32, a.Cost)
	}
	sent, more := n.send(source, sink, want)
	return cost + more, sent == want
}

// net is a network with what each arc can still carry; arc i^1 is arc i back.
type net struct {
	out   [][]int32
	to    []int32
	room  []int
	costs []int
}

func newNet(vertices int) *net { return &net{out: make([][]int32, vertices)} }

func (n *net) vertex() int {
	n.out = append(n.out, nil)
	return len(n.out) - 1
}

func (n *net) add(from, to, room, cost int) {
	if room == 0 {
		return
	}
	i := int32(len(n.to))
	n.out[from], n.out[to] = append(n.out[from], i), append(n.out[to], i+1)
	n.to, n.room, n.costs = append(n.to, int32(to), int32(from)), append(n.room, room, 0), append(n.costs, cost, -cost)
}

// send sends as much as can be, up to so much, at the least cost.
func (n *net) send(source, sink, want int) (sent, cost int) {
	potential := make([]int, len(n.out))
	for sent < want {
		dist, by := n.nearest(source, potential)
		if dist[sink] == math.MaxInt {
			return sent, cost
		}
		for v := range potential {
			if dist[v] < math.MaxInt {
				potential[v] += dist[v]
			} else {
				potential[v] += dist[sink]
			}
		}
		push := want - sent
		for v := sink; v != source; v = int(n.to[by[v]^1]) {
			push = min(push, n.room[by[v]])
		}
		for v := sink; v != source; v = int(n.to[by[v]^1]) {
			n.room[by[v]] -= push
			n.room[by[v]^1] += push
			cost += push * n.costs[by[v]]
		}
		sent += push
	}
	return sent, cost
}

// nearest is Dijkstra's algorithm over costs reduced by potentials; costs are small whole
// numbers, so that the open list is a list of lists.
func (n *net) nearest(source int, potential []int) (dist []int, by []int32) {
	dist, by = make([]int, len(n.out)), make([]int32, len(n.out))
	for v := range dist {
		dist[v] = math.MaxInt
	}
	dist[source] = 0
	open := [][]int32{{int32(source)}}
	for d := 0; d < len(open); d++ {
		for k := 0; k < len(open[d]); k++ {
			v := int(open[d][k])
			if dist[v] != d {
				continue
			}
			for _, i := range n.out[v] {
				to := int(n.to[i])
				if n.room[i] == 0 {
					continue
				}
				if next := d + n.costs[i] + potential[v] - potential[to]; next < dist[to] {
					dist[to], by[to] = next, i
					for len(open) <= next {
						open = append(open, nil)
					}
					open[next] = append(open[next], int32(to))
				}
			}
		}
	}
	return dist, by
}
