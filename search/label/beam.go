package label

import (
	"context"
	"slices"

	"lapwright/search/network"
)

// beam looks for a good lap soon: it counts every limit, goes on bar by bar, and of
// the labels of a bar keeps only so many with the least bounds, the first made among
// equals, and few of each node. Each figure that is new to a label counts as so much
// off its bound. It proves nothing.
func (s *solver) beam(ctx context.Context, width int, fresh int32) {
	const perNode = 3
	r := newRound(s, newCounted(s.n, s.l, true))
	r.slots = make([]int32, s.n.Nodes()*int(r.hands))
	var layers [][]int32 // by bars
	put := func(i int32) {
		bars := int(r.labels[i].bars)
		for len(layers) <= bars {
			layers = append(layers, nil)
		}
		layers[bars] = append(layers[bars], i)
	}
	r.begin(put)
	kept := make([]int32, s.n.Nodes()) // by node: 4 times the bar, and how many were kept there
	for bar := 0; bar < len(layers) && r.made < width*400; bar++ {
		layer := layers[bar]
		slices.SortFunc(layer, func(a, b int32) int {
			if x, y := r.labels[a].bound-fresh*r.variety(a), r.labels[b].bound-fresh*r.variety(b); x != y {
				return int(x) - int(y)
			}
			return int(a) - int(b)
		})
		left := width
		for _, i := range layer {
			at := &r.labels[i]
			if left == 0 || ctx.Err() != nil {
				break
			}
			if at.bound >= s.upper {
				continue
			}
			k := &kept[at.node]
			*k = max(*k, int32(bar)<<2)
			if at.dead || *k&3 == perNode {
				continue
			}
			*k++
			left--
			number := int32(s.n.ArcNumber(at.node))
			for a, arc := range s.n.Arcs(at.node) {
				if !r.extend(i, number+int32(a), &arc) {
					continue
				}
				r.made++
				last := int32(len(r.labels) - 1)
				if arc.Way == network.Closing {
					s.offer(r, last)
					r.drop()
				} else if r.enter() {
					put(last)
				}
			}
		}
	}
	s.result.Labels += r.made
}

// variety is how many different figures a label has danced, as far as it matters.
func (r *round) variety(i int32) int32 {
	if fresh := r.labels[i].fresh; fresh != varied {
		return fresh + r.y.count(r.danced(i))
	}
	return r.y.varied
}
