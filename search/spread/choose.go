package spread

import (
	"cmp"
	"container/heap"
	"context"
	"slices"
)

// choose takes the first lap, and then again and again the candidate that is farthest
// from all that were taken; of several, the cheapest.
func (p *pool) choose(ctx context.Context, whole bool) (*Set, error) {
	set := &Set{Whole: whole, Candidates: len(p.laps)}
	if len(p.laps) == 0 {
		return set, ctx.Err()
	}
	first := p.best()
	chosen := []int{first}
	open := make(ranking, 0, len(p.laps)-1)
	for i := range p.laps {
		if i != first {
			open = append(open, farthest{at: i, distance: unmeasured})
		}
	}
	slices.SortFunc(open, func(a, b farthest) int {
		x, y := &p.laps[a.at], &p.laps[b.at]
		return cmp.Or(cmp.Compare(x.cost, y.cost), x.path.compare(y.path))
	})
	for i := range open {
		open[i].rank = i
	}
	heap.Init(&open)
	r := newRuler()
	for len(chosen) < p.Count && len(open) > 0 {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		// A candidate's distance can only fall, so that one that stays in front
		// when it has been measured against all is the farthest.
		for open[0].measured < len(chosen) {
			f := &open[0]
			lap := p.laps[chosen[f.measured]].dance
			f.distance = min(f.distance, r.distance(p.laps[f.at].dance, lap, f.distance))
			f.measured++
			heap.Fix(&open, 0)
		}
		if open[0].distance == 0 {
			break
		}
		chosen = append(chosen, heap.Pop(&open).(farthest).at)
	}
	set.Laps = make([]Path, len(chosen))
	set.Distances = make([][]float64, len(chosen))
	for i, at := range chosen {
		set.Laps[i] = p.laps[at].path
		set.Distances[i] = make([]float64, len(chosen))
		for j, other := range chosen[:i] {
			d := Distance(p.laps[at].dance, p.laps[other].dance)
			set.Distances[i][j], set.Distances[j][i] = d, d
		}
	}
	return set, nil
}

// farthest is a candidate with the least distance, in parts, from those laps of the
// choice that it has been measured against.
type farthest struct {
	at       int // in pool.laps
	rank     int // from the cheapest
	distance int32
	measured int
}

// unmeasured is more than any distance.
const unmeasured = 1<<31 - 1

// ranking has the candidate in front that is farthest as far as is known.
type ranking []farthest

func (r ranking) Len() int { return len(r) }
func (r ranking) Less(i, j int) bool {
	return cmp.Or(cmp.Compare(r[j].distance, r[i].distance), cmp.Compare(r[i].rank, r[j].rank)) < 0
}
func (r ranking) Swap(i, j int) { r[i], r[j] = r[j], r[i] }
func (r *ranking) Push(x any)   { *r = append(*r, x.(farthest)) }
func (r *ranking) Pop() any {
	last := (*r)[len(*r)-1]
	*r = (*r)[:len(*r)-1]
	return last
}
