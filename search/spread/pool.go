package spread

import (
	"cmp"
	"context"
	"encoding/binary"
	"math/rand/v2"
	"slices"

	"lapwright/search/network"
)

// candidate is a lap that may be chosen.
type candidate struct {
	path  Path
	dance []Danced
	cost  int32
}

// pool holds the candidates, each dance once.
type pool struct {
	*Problem
	laps  []candidate
	known map[string]int // by what is danced: its place in laps
}

func newPool(p *Problem) *pool { return &pool{Problem: p, known: map[string]int{}} }

// Sizes of the pool.
const (
	// mostListed is up to how many laps all of them are candidates.
	mostListed = 4096
	// mostThrough is how many candidates are laps through single places.
	mostThrough = 1024
	// mostRefused is how many laps through single places may be refused because
	// of limits before no more are tried.
	mostRefused = 32768
)

// add adds a lap and reports whether anything in it is new. Of two laps of the same
// dance the cheaper one stays, but for the first.
func (p *pool) add(path Path) bool {
	c := candidate{path, p.dance(path), path.Cost(p.Network)}
	key := c.key()
	at, known := p.known[key]
	switch {
	case !known:
		p.known[key] = len(p.laps)
		p.laps = append(p.laps, c)
	case p.First != nil && at == 0:
	case cmp.Or(cmp.Compare(c.cost, p.laps[at].cost), c.path.compare(p.laps[at].path)) < 0:
		p.laps[at] = c
	}
	return !known
}

// key tells dances apart.
func (c *candidate) key() string {
	b := make([]byte, 0, 18*len(c.dance))
	for _, d := range c.dance {
		for _, n := range []int32{d.Figure, d.Way, d.X, d.Y} {
			b = binary.LittleEndian.AppendUint32(b, uint32(n))
		}
		b = binary.LittleEndian.AppendUint16(b, uint16(d.Wall))
	}
	return string(b)
}

// keeps reports whether a lap keeps to the limits.
func (p *pool) keeps(path Path) bool { return p.Keeps == nil || p.Keeps(path) }

// addAll adds all laps, and reports whether it did: it gives up, and adds none, when
// there are too many.
func (p *pool) addAll(ctx context.Context) (bool, error) {
	l := lister{Problem: p.Problem, left: mostListed}
	for _, s := range p.Network.Sources {
		l.source = s
		if !l.list(s, p.Most) {
			return false, ctx.Err()
		}
	}
	for _, path := range l.paths {
		if p.keeps(path) {
			p.add(path)
		}
	}
	return true, ctx.Err()
}

// lister lists all laps, depth first. The exact cost to go tells that every way it
// goes leads to a lap.
type lister struct {
	*Problem
	left   int // how many laps it may still list
	source int32
	arcs   []int32
	paths  []Path
}

// list lists the ways on from a node that cost no more than most, and reports
// whether that were not too many.
func (l *lister) list(node, most int32) bool {
	n := l.Network
	if n.ToGo(node) > most {
		return true
	}
	if node == n.End {
		l.left--
		l.paths = append(l.paths, Path{l.source, slices.Clone(l.arcs)})
		return l.left > 0
	}
	for i, a := range n.Arcs(node) {
		l.arcs = append(l.arcs, int32(n.ArcNumber(node)+i))
		more := a.Cost > most || l.list(a.To, most-a.Cost)
		l.arcs = l.arcs[:len(l.arcs)-1]
		if !more {
			return false
		}
	}
	return true
}

// addThrough adds the cheapest laps through single places: the cheapest of all, and
// others by the draw.
func (p *pool) addThrough(ctx context.Context) error {
	n := p.Network
	cost, by := n.Forward(p.Most)
	var nodes []int32
	best := int32(-1)
	for node := range int32(n.Nodes()) {
		if cost[node] == network.Unreachable || int64(cost[node])+int64(n.ToGo(node)) > int64(p.Most) {
			continue
		}
		if by[node] < 0 && (best < 0 || n.ToGo(node) < n.ToGo(best)) {
			best = node
		}
		// A place to which the cheapest lap through the place before leads has
		// nothing new.
		if by[node] < 0 || int(by[node]) != n.ArcNumber(n.Tail(by[node])) {
			nodes = append(nodes, node)
		}
	}
	r := rand.New(rand.NewPCG(p.Seed, 1))
	r.Shuffle(len(nodes), func(i, j int) { nodes[i], nodes[j] = nodes[j], nodes[i] })
	if best >= 0 {
		nodes = append([]int32{best}, nodes...)
	}
	added, refused := 0, 0
	for i, node := range nodes {
		if added == mostThrough || refused == mostRefused {
			break
		}
		if i%1024 == 0 && ctx.Err() != nil {
			break
		}
		path := p.through(node, by)
		if !p.keeps(path) {
			refused++
		} else if p.add(path) {
			added++
		}
	}
	return ctx.Err()
}

// through is the cheapest lap through a node, given the arcs by which nodes are
// reached.
func (p *pool) through(node int32, by []int32) Path {
	n := p.Network
	path := p.back(node, by)
	for node != n.End {
		first := int32(n.ArcNumber(node)) // leads to the cheapest lap
		path.Arcs = append(path.Arcs, first)
		node = n.Arc(int(first)).To
	}
	return path
}

// best is the place of the lap with which the set begins.
func (p *pool) best() int {
	if p.First != nil {
		return 0
	}
	best := 0
	for i := range p.laps {
		a, b := &p.laps[i], &p.laps[best]
		if cmp.Or(cmp.Compare(a.cost, b.cost), a.path.compare(b.path)) < 0 {
			best = i
		}
	}
	return best
}
