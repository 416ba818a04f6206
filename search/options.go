package search

import "lapwright/floors"

// Option is a move as it is without a place: what can be danced from a post, wherever
// there is room for it.
type Option struct {
	Edge int // see [Move]
	Post int // in which it leaves the couple; see [States.Posts]
	// Turns tells that the next wall is taken before it.
	Turns  bool
	Marked bool // as in [Move]
}

// Options lists what can be danced from a post along a wall, by the numbers of
// [States.Choice].
func (s *States) Options(wall, post int) []Option {
	var all []Option
	for _, kind := range []int{0, s.plan.kindOf[wall]} {
		for i, m := range s.plan.moves[kind][post] {
			o := Option{Edge: int(m.edge), Post: int(m.to), Turns: kind != 0}
			if s.plan.marks != nil {
				o.Marked = s.plan.marks[kind][post][i]
			}
			all = append(all, o)
		}
	}
	return all
}

// Scale is the share of the couple's stride at which an edge is danced.
func (s *States) Scale(edge int) float64 {
	return s.plan.problem.Scales[s.plan.edges[edge].scale].Share
}

// Wall is the index of the wall in use in a state.
func (s *States) Wall(at State) int {
	layer, _, _ := s.unpack(at)
	return s.plan.ground.layers[layer].wall
}

// Shift is how an edge carries the couple along a wall.
func (s *States) Shift(edge, wall int) floors.Cell { return s.plan.edges[edge].shapes[wall].shift }
