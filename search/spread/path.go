package spread

import (
	"cmp"
	"fmt"
	"slices"

	"lapwright/search/network"
)

// Path is a lap as a path in a network: the source where it begins, and the numbers
// of its arcs up to the end.
type Path struct {
	Source int32
	Arcs   []int32
}

// Cost is what the path costs, in hundredths of a bar.
func (p Path) Cost(n *network.Network) (cost int32) {
	for _, a := range p.Arcs {
		cost += n.Arc(int(a)).Cost
	}
	return cost
}

// compare puts paths in an order that depends on nothing but their arcs.
func (p Path) compare(q Path) int {
	return cmp.Or(cmp.Compare(p.Source, q.Source), slices.Compare(p.Arcs, q.Arcs))
}

// back is the way to a node from a source, given the arcs by which nodes are reached.
func (p *Problem) back(node int32, by []int32) Path {
	path := Path{Source: node}
	for by[path.Source] >= 0 {
		path.Arcs = append(path.Arcs, by[path.Source])
		path.Source = p.Network.Tail(by[path.Source])
	}
	slices.Reverse(path.Arcs)
	return path
}

// Place is where a node lies, in whole centimetres in the room's frame.
type Place struct{ X, Y int32 }

// dance is what the measure sees of a path.
func (p *Problem) dance(path Path) []Danced {
	dance := make([]Danced, 0, len(path.Arcs))
	node := path.Source
	for _, number := range path.Arcs {
		a := p.Network.Arc(int(number))
		if a.Way != network.Closing {
			at := p.Places[node]
			way := a.Way
			if p.Same != nil {
				way = p.Same[way]
			}
			dance = append(dance, Danced{Figure: p.Network.Ways[a.Way].Figure, Way: way, Wall: p.Network.Walls[a.To], X: at.X, Y: at.Y})
		}
		node = a.To
	}
	return dance
}

// follows tells what is wrong with a path: it must begin at a source, follow the arcs,
// end at the end and cost no more than it may.
func (p *Problem) follows(path Path) error {
	n := p.Network
	node, cost := path.Source, int64(0)
	if !slices.Contains(n.Sources, node) {
		return fmt.Errorf("spread: a lap begins at node %d, which is no source", node)
	}
	for i, number := range path.Arcs {
		if first := n.ArcNumber(node); int(number) < first || int(number) >= first+len(n.Arcs(node)) {
			return fmt.Errorf("spread: arc %d of a lap, number %d, does not leave node %d", i, number, node)
		}
		a := n.Arc(int(number))
		node, cost = a.To, cost+int64(a.Cost)
	}
	switch {
	case node != n.End:
		return fmt.Errorf("spread: a lap ends at node %d, which is not the end", node)
	case cost > int64(p.Most):
		return fmt.Errorf("spread: a lap costs %d; at most %d is asked for", cost, p.Most)
	}
	return nil
}
