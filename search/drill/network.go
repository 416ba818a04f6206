package drill

import (
	"context"
	"runtime"
	"sync"

	"lapwright/figures"
	"lapwright/graph"
	"lapwright/search"
	"lapwright/search/future"
	"lapwright/search/routine"
)

// network is what can be danced, with nothing in it that cannot be gone on with for
// ever: vertices and, for each, its arcs.
type network struct {
	first []uint32 // by vertex: the number of its first arc; one more at the end
	to    []uint32 // by arc
	kind  []uint8  // by arc: number of its kind
	kinds []kind
	start uint32
}

// kind is what many arcs have in common.
type kind struct {
	bars   int
	weight uint64
}

// arc is an arc of a vertex by its number among that vertex's arcs.
type arc struct{ vertex, number uint32 }

// vertices is how many there are.
func (n *network) vertices() int { return len(n.first) - 1 }

// longest is the most bars of an arc.
func (n *network) longest() (bars int) {
	for _, k := range n.kinds {
		bars = max(bars, k.bars)
	}
	return bars
}

// kindOf is the number of a kind, which is added unless it is there.
func (n *network) kindOf(bars int, weight uint64) uint8 {
	for i, k := range n.kinds {
		if k.bars == bars && k.weight == weight {
			return uint8(i)
		}
	}
	n.kinds = append(n.kinds, kind{bars, weight})
	return uint8(len(n.kinds) - 1)
}

// room is the network of a room's states.
type room struct {
	*search.States
	alive  *future.Alive
	number []uint32 // by state: its vertex; noVertex where it does not live
	state  []search.State
}

const noVertex = ^uint32(0)

// inRoom makes the network of a room.
func (s *Source) inRoom(ctx context.Context) error {
	states, err := search.NewMarkedStates(s.problem.Room, s.problem.marks())
	if err != nil {
		return err
	}
	begin, err := states.Start(s.problem.Start)
	if err != nil {
		return err
	}
	if states.Choices(begin) == 0 {
		return search.ErrNothingBegins
	}
	alive, err := future.NewAlive(ctx, states)
	if err != nil {
		return err
	}
	r := &room{States: states, alive: alive, number: make([]uint32, states.Count())}
	for i := range r.number {
		r.number[i] = noVertex
	}
	// What is danced in one stance after the other lies side by side.
	posts := search.State(states.Posts())
	for post := range posts {
		for at := post; at < search.State(states.Count()); at += posts {
			if alive.Has(at) {
				r.add(at)
			}
		}
	}
	if r.number[begin] == noVertex {
		r.add(begin)
	}
	n, err := r.network(ctx, s.problem)
	if err != nil {
		return err
	}
	n.start = r.number[begin]
	if n.first[n.start] == n.first[n.start+1] {
		return ErrDeadEnd
	}
	s.network = n
	s.steps = func(path []arc) []routine.Step {
		var steps []routine.Step
		for _, a := range path {
			steps = append(steps, r.move(a).Step())
		}
		return steps
	}
	return nil
}

func (r *room) add(at search.State) {
	r.number[at] = uint32(len(r.state))
	r.state = append(r.state, at)
}

// network lists the arcs, on all cores, each run of vertices in a list of its own.
func (r *room) network(ctx context.Context, p *Problem) (*network, error) {
	n := &network{}
	kinds := make([][2]uint8, r.Edges()) // by edge and whether the join is marked
	for i := range kinds {
		v, bars := r.Edge(i)
		kinds[i] = [2]uint8{n.kindOf(bars, p.weight(v, false)), n.kindOf(bars, p.weight(v, true))}
	}
	type part struct {
		count []uint32
		to    []uint32
		kind  []uint8
	}
	const runs = 64
	parts := make([]part, runs)
	bound := func(i int) int { return len(r.state) * i / runs }
	inParallel(runs, func(i int) {
		if ctx.Err() != nil {
			return
		}
		part := &parts[i]
		states := r.state[bound(i):bound(i+1)]
		part.count = make([]uint32, 0, len(states))
		part.to, part.kind = make([]uint32, 0, 4*len(states)), make([]uint8, 0, 4*len(states))
		var at search.State
		wanted := func(_ int, to search.State) bool { return r.alive.Has(to) }
		visit := func(number int, to search.State) {
			edge, marked := r.EdgeOf(at, number)
			part.to, part.kind = append(part.to, r.number[to]), append(part.kind, kinds[edge][yes(marked)])
		}
		for _, at = range states {
			before := len(part.to)
			r.Each(at, wanted, visit)
			part.count = append(part.count, uint32(len(part.to)-before))
		}
	})
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	n.first = make([]uint32, 1, len(r.state)+1)
	for i := range parts {
		for _, c := range parts[i].count {
			n.first = append(n.first, n.first[len(n.first)-1]+c)
		}
		n.to, n.kind = append(n.to, parts[i].to...), append(n.kind, parts[i].kind...)
	}
	return n, nil
}

// move is the move of an arc.
func (r *room) move(a arc) search.Move {
	at, number := r.state[a.vertex], a.number
	for m := range r.Moves(at) {
		if !r.alive.Has(m.To) {
			continue
		}
		if number == 0 {
			return m
		}
		number--
	}
	panic("drill: an arc is none of its vertex")
}

// anywhere makes the network of an endless wall: a vertex is a figure that has just been
// danced; the last one is the beginning.
func (s *Source) anywhere() error {
	g := graph.New(s.problem.Room.Variants)
	var edges []graph.Edge
	for _, e := range g.Edges() {
		if !e.Variant.Corner {
			edges = append(edges, e)
		}
	}
	begin := uint32(len(edges))
	marked := s.problem.marks()
	usual := s.problem.Room.Couple.WithStride(figures.UsualStride)
	follows := make([][]uint32, len(edges)+1)
	for i := range follows {
		for k, e := range edges {
			switch {
			case uint32(i) == begin && e.From != s.problem.Start.Stance.Turned(0):
			case uint32(i) != begin && (edges[i].To != e.From || refused(edges[i].Variant, e.Variant, usual)):
			default:
				follows[i] = append(follows[i], uint32(k))
			}
		}
	}
	if len(follows[begin]) == 0 {
		return search.ErrNothingBegins
	}
	dead := make([]bool, len(follows))
	for gone := true; gone; {
		gone = false
		for i, list := range follows {
			on := false
			for _, k := range list {
				on = on || !dead[k]
			}
			if !on && !dead[i] {
				dead[i], gone = true, true
			}
		}
	}
	if dead[begin] {
		return ErrDeadEnd
	}
	n := &network{first: []uint32{0}, start: begin}
	for i, list := range follows {
		for _, k := range list {
			if dead[i] || dead[k] {
				continue
			}
			v := edges[k].Variant
			mark := marked != nil && uint32(i) != begin && marked(edges[i].Variant, v)
			n.to = append(n.to, k)
			n.kind = append(n.kind, n.kindOf(v.Bars(), s.problem.weight(v, mark)))
		}
		n.first = append(n.first, uint32(len(n.to)))
	}
	s.network = n
	s.steps = func(path []arc) []routine.Step {
		var steps []routine.Step
		for _, a := range path {
			steps = append(steps, routine.Step{Variant: edges[n.to[n.first[a.vertex]+a.number]].Variant, Scale: 1, Corner: routine.Stay})
		}
		return steps
	}
	return nil
}

func refused(before, after *figures.Variant, c figures.Couple) bool {
	_, refused := graph.CannotJoin(before, after, c)
	return refused
}

// inParallel does so many pieces of work on all cores.
func inParallel(pieces int, work func(piece int)) {
	var all sync.WaitGroup
	next := make(chan int, pieces)
	for i := range pieces {
		next <- i
	}
	close(next)
	for range runtime.GOMAXPROCS(0) {
		all.Go(func() {
			for i := range next {
				work(i)
			}
		})
	}
	all.Wait()
}

func yes(b bool) int {
	if b {
		return 1
	}
	return 0
}
