package repair

import (
	"container/heap"
	"context"
	"slices"

	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search"
	"lapwright/search/routine"
)

// repairing is a search for repairs under way.
type repairing struct {
	problem  *Problem
	states   *search.States
	begins   figures.Stance
	start    search.State
	stays    []bool // by figure of the routine
	corners  int    // to be taken in all; 0 where the routine need not close
	edges    []edge
	options  [][][]search.Option // by wall and post
	bound    *bound
	distance *distance

	nodes  []node
	closed map[key][]int32 // nodes that were expanded
	tiers  []openList      // by fewest changes
	tier   int
	found  []int32
}

// began says how the dance began, as far as its end depends on that.
type began uint8

const (
	nothingYet   began = iota
	alongTheWall       // or with whatever, where the routine need not close
	roundACorner
)

// key is all that the rest of a repair depends on.
type key struct {
	at      search.State
	done    uint16 // figures of the routine dealt with
	corners uint16 // taken so far; 0 where the routine need not close
	began   began
}

// node is a way of having come to a key.
type node struct {
	key    key
	edits  int32
	cost   cost
	danced uint64 // stands for the figures danced so far, in order
	parent int32
	edge   int32 // danced last; −1 where a figure was left out
	what   What
	turned bool
	scale  bool // the figure stays, at another share of the stride
	corner bool // the figure stays, along another wall than said
	open   bool // it has been expanded once, as far as its tier went
}

// run takes the tiers one after the other: in tier n all ways are followed that need n
// changes by the bound, the cheapest first, and a node is put off to the next tier in
// which more can follow from it (A* with partial expansion; Yoshizumi, Miura and Ishida
// 2000). So the first way that ends has the fewest changes, and costs least of these.
// Each key is passed by as many ways as repairs are wanted, each with figures of its own.
func (s *repairing) run(ctx context.Context, tell func(changes, expanded int)) (*Result, error) {
	s.closed = map[key][]int32{}
	most := s.problem.Most
	if most <= 0 {
		most = UsualMost
	}
	out := &Result{}
	first := node{key: key{at: s.start}, parent: -1, edge: -1}
	if s.push(first) == never {
		out.Never = true
		return out, nil
	}
	for s.tier = 0; len(s.found) == 0 && s.tier < len(s.tiers); s.tier++ {
		if s.tier > MostChanges {
			out.AtLeast = s.tier
			return out, nil
		}
		for len(s.tiers[s.tier]) > 0 && len(s.found) < s.problem.Count {
			if out.Expanded++; out.Expanded%1024 == 0 {
				if err := ctx.Err(); err != nil {
					return nil, err
				}
				if tell != nil {
					tell(s.tier, out.Expanded)
				}
			}
			if out.Expanded > most || len(s.nodes) > 8*most {
				out.AtLeast = s.tier
				s.finish(out)
				return out, nil
			}
			s.expand(heap.Pop(&s.tiers[s.tier]).(item).node)
		}
	}
	if out.Never = len(s.found) == 0; !out.Never {
		out.AtLeast, out.All = s.tier-1, true
	}
	s.finish(out)
	return out, nil
}

// finish writes down the repairs that were found.
func (s *repairing) finish(out *Result) {
	for _, id := range s.found {
		out.Ways = append(out.Ways, s.way(id))
	}
}

// push adds a way, and returns the tier in which it belongs.
func (s *repairing) push(n node) int {
	left := s.corners - int(n.key.corners)
	more := max(s.bound.of(int(n.key.done), left, s.post(n.key.at)), s.distance.of(s, n.key))
	if more == never {
		return never
	}
	tier := int(n.edits) + more
	s.nodes = append(s.nodes, n)
	s.putOff(int32(len(s.nodes)-1), tier)
	return tier
}

// putOff puts a node into the open list of a tier.
func (s *repairing) putOff(id int32, tier int) {
	for tier >= len(s.tiers) {
		s.tiers = append(s.tiers, nil)
	}
	n := &s.nodes[id]
	heap.Push(&s.tiers[tier], item{n.cost, n.key.done, id})
}

func (s *repairing) post(at search.State) int { return int(at) % s.states.Posts() }

// expand follows a node as far as the tier goes.
func (s *repairing) expand(id int32) {
	n := s.nodes[id]
	first := !n.open
	if first {
		before := s.closed[n.key]
		if len(before) >= s.problem.Count || slices.ContainsFunc(before, func(b int32) bool { return s.nodes[b].danced == n.danced }) {
			return
		}
		s.closed[n.key] = append(before, id)
		s.nodes[id].open = true
		if s.ends(&n) {
			if !slices.ContainsFunc(s.found, func(f int32) bool { return s.nodes[f].danced == n.danced }) {
				s.found = append(s.found, id)
			}
		}
	}
	next := never // the next tier in which more follows
	// wanted tells whether a way with so many changes more is for this tier.
	wanted := func(edits, more int) bool {
		if more == never {
			return false
		}
		tier := int(n.edits) + edits + more
		if tier > s.tier {
			next = min(next, tier)
		}
		return tier == s.tier || first && tier < s.tier
	}
	done, left := int(n.key.done), s.corners-int(n.key.corners)
	steps := s.problem.Routine.Steps
	if done < len(steps) && wanted(1, s.bound.of(done+1, left, s.post(n.key.at))) {
		out := n
		out.key.done++
		out.edits++
		out.cost += oneLost + bars(s.barsOf(done))
		out.parent, out.edge, out.what, out.open = id, -1, LeftOut, false
		out.scale, out.corner, out.turned = false, false, false
		s.push(out)
	}
	wall := s.states.Wall(n.key.at)
	for number, o := range s.options[wall][s.post(n.key.at)] {
		e := &s.edges[o.Edge]
		after := left
		if o.Turns && s.problem.Closes {
			if after--; after < 0 {
				continue
			}
		}
		put := e.mayCome && wanted(1, s.bound.of(done, after, o.Post))
		deals := false
		stays := done < len(steps) && e.variant == steps[done].Variant
		if done < len(steps) {
			more := s.bound.of(done+1, after, o.Post)
			switch {
			case stays:
				deals = s.stays[done] && wanted(0, more)
			case e.mayCome:
				deals = wanted(1, more)
			}
		}
		if !put && !deals {
			continue
		}
		to, _, ok := s.states.Leads(n.key.at, number)
		if !ok {
			continue
		}
		child := n
		child.parent, child.edge, child.turned, child.open = id, int32(o.Edge), o.Turns, false
		child.scale, child.corner = false, false
		child.danced = mix(n.danced, e.number)
		child.key.at = to
		child.key.corners = uint16(s.corners - after)
		if n.key.began == nothingYet {
			child.key.began = alongTheWall
			if o.Turns && s.problem.Closes {
				child.key.began = roundACorner
			}
		}
		if o.Marked {
			child.cost += oneAwkward
		}
		if put {
			in := child
			in.what = PutIn
			in.edits++
			in.cost += bars(e.bars) + e.hard
			s.push(in)
		}
		if !deals {
			continue
		}
		child.key.done++
		if stays {
			child.what = Stays
			child.scale = e.scale != steps[done].Scale
			child.corner = steps[done].Corner == routine.Take && !o.Turns || steps[done].Corner == routine.Stay && o.Turns
			if child.scale {
				child.cost += oneAdjusted + otherScale(e.scale, steps[done].Scale)
			}
			if child.corner {
				child.cost += oneAdjusted
			}
		} else {
			child.what = PutInPlace
			child.edits++
			child.cost += oneLost + bars(e.bars-s.barsOf(done)) + e.hard
		}
		s.push(child)
	}
	if next != never {
		s.putOff(id, next)
	}
}

// barsOf is how many bars a figure of the routine takes; 0 where it is missing.
func (s *repairing) barsOf(figure int) int {
	if v := s.problem.Routine.Steps[figure].Variant; v != nil {
		return v.Bars()
	}
	return 0
}

// mix stands for the figures so far and one more (the finalizer of SplitMix64; Steele, Lea
// and Flood 2014).
func mix(danced, figure uint64) uint64 {
	z := danced + 0x9e3779b97f4a7c15*(figure+1)
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// ends reports whether a repair is complete with a node.
func (s *repairing) ends(n *node) bool {
	if int(n.key.done) < len(s.problem.Routine.Steps) || n.key.began == nothingYet {
		return false
	}
	if !s.problem.Closes {
		return true
	}
	at := s.states.Standing(n.key.at)
	start := floors.CellAt(*s.problem.Routine.Start.At)
	return int(n.key.corners) == s.corners && at.Stance == s.begins &&
		at.At().Sub(start.Point()).Len() <= search.Tolerance+1e-9 &&
		(!at.MustTurn || n.key.began == roundACorner)
}

// way is the repair that ends with a node.
func (s *repairing) way(id int32) Way {
	w := Way{Routine: s.problem.Routine, Edits: int(s.nodes[id].edits), Adjusted: s.nodes[id].cost.adjusted()}
	w.Routine.Steps = nil
	var path []int32
	for ; s.nodes[id].parent >= 0; id = s.nodes[id].parent {
		path = append(path, id)
	}
	slices.Reverse(path)
	was := 0
	for _, id := range path {
		n := &s.nodes[id]
		c := Change{What: n.what, Was: -1, Now: -1, Scale: n.scale, Corner: n.corner}
		line := 0
		if n.what != PutIn {
			c.Was = was
			line = s.problem.Routine.Steps[was].Line
			was++
		}
		if n.what != LeftOut {
			c.Now = len(w.Routine.Steps)
			e := &s.edges[n.edge]
			step := routine.Step{Variant: e.variant, Scale: e.scale, Corner: routine.Stay, Line: line}
			if n.turned {
				step.Corner = routine.Take
			}
			w.Routine.Steps = append(w.Routine.Steps, step)
		}
		w.Changes = append(w.Changes, c)
	}
	return w
}
