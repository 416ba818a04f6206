package spread

import (
	"context"
	"math"
	"math/rand/v2"
	"runtime"
	"sync"

	"lapwright/search/network"
)

// How laps are made dearer.
const (
	// batch is how many searches are made side by side before what they find is
	// looked at. It is the same on any number of cores.
	batch = 2
	// mostRounds is how many batches there are at most.
	mostRounds = 128
	// fruitless is after how many batches without a new lap no more are tried.
	fruitless = 8
	// square is the side in centimetres of the squares of floor on which what is
	// danced is counted.
	square = 100
)

// addDearer adds the laps that are found when figures are the dearer the more of the
// laps so far dance them near by. Those so far are the first lap and, of each batch,
// the one that is farthest from them.
func (p *pool) addDearer(ctx context.Context) error {
	t := newTariff(p.Problem)
	solvers := make([]*walker, min(batch, runtime.GOMAXPROCS(0)))
	for i := range solvers {
		solvers[i] = newWalker(p.Problem, t)
	}
	var so []int // far laps so far, by their place in the pool
	take := func(at int) {
		so = append(so, at)
		t.count(p.laps[at].dance)
	}
	if len(p.laps) > 0 {
		take(p.best())
	}
	times := [batch]float32{1, 1} // that the laps found last were dearer
	r := newRuler()
	without := 0
	for round := 0; round < min(mostRounds, p.Count-1) && without < fruitless; round++ {
		var found [batch]Path
		var ok [batch]bool
		var failed [batch]error
		next := make(chan int, batch)
		for i := range batch {
			next <- i
		}
		close(next)
		var all sync.WaitGroup
		for _, w := range solvers {
			all.Go(func() {
				for i := range next {
					found[i], ok[i], failed[i] = w.solve(ctx, uint64(round*batch+i), times[i])
					if ok[i] {
						times[i] = w.dearer(found[i])
					}
				}
			})
		}
		all.Wait()
		best, far := -1, int32(0)
		for i, path := range found {
			if failed[i] != nil {
				return failed[i]
			}
			if !ok[i] {
				continue
			}
			if p.Solve != nil {
				if err := p.follows(path); err != nil {
					return err
				}
			}
			if !p.keeps(path) || !p.add(path) {
				continue
			}
			at := len(p.laps) - 1
			near := int32(unmeasured)
			for _, other := range so {
				near = min(near, r.distance(p.laps[at].dance, p.laps[other].dance, near))
			}
			if near > far {
				best, far = at, near
			}
		}
		without++
		if best >= 0 {
			take(best)
			without = 0
			continue
		}
		// Nothing is new: what was found is made dearer all the same.
		for i, path := range found {
			if ok[i] {
				t.count(p.dance(path))
				break
			}
		}
	}
	return nil
}

// tariff counts for each figure, wall and square of floor how many laps dance it
// there; one that dances it less than Reach away counts in part.
type tariff struct {
	keys    []int32 // by arc: its key, or -1 where nothing is danced
	columns int32
	rows    int32
	low     Place
	walls   int32
	figures int32
	danced  []float32 // by key: how many laps dance it
	laps    int
}

func newTariff(p *Problem) *tariff {
	n := p.Network
	t := &tariff{low: p.Places[0], figures: int32(n.Figures)}
	high := t.low
	for _, at := range p.Places {
		t.low = Place{min(t.low.X, at.X), min(t.low.Y, at.Y)}
		high = Place{max(high.X, at.X), max(high.Y, at.Y)}
	}
	for _, w := range n.Walls {
		t.walls = max(t.walls, int32(w)+1)
	}
	t.columns, t.rows = (high.X-t.low.X)/square+1, (high.Y-t.low.Y)/square+1
	t.danced = make([]float32, t.columns*t.rows*t.walls*t.figures)
	t.keys = make([]int32, n.Size())
	for node := range int32(n.Nodes()) {
		at := p.Places[node]
		place := (at.Y-t.low.Y)/square*t.columns + (at.X-t.low.X)/square
		for i, a := range n.Arcs(node) {
			key := int32(-1)
			if a.Way != network.Closing {
				key = (place*t.walls+int32(n.Walls[a.To]))*t.figures + n.Ways[a.Way].Figure
			}
			t.keys[n.ArcNumber(node)+i] = key
		}
	}
	return t
}

// count counts a lap.
func (t *tariff) count(dance []Danced) {
	t.laps++
	const reach = Reach * 100
	for _, d := range dance {
		for y := max(0, (d.Y-reach-t.low.Y)/square); y <= min(t.rows-1, (d.Y+reach-t.low.Y)/square); y++ {
			for x := max(0, (d.X-reach-t.low.X)/square); x <= min(t.columns-1, (d.X+reach-t.low.X)/square); x++ {
				away := math.Hypot(float64(t.low.X+x*square+square/2-d.X), float64(t.low.Y+y*square+square/2-d.Y))
				if away < reach {
					t.danced[((y*t.columns+x)*t.walls+int32(d.Wall))*t.figures+d.Figure] += float32(1 - away/reach)
				}
			}
		}
	}
}

// dearness is how much dearer a figure is, in hundredths of a bar, for each lap that
// dances it there, by the number of a search in its batch.
var dearness = [batch]float32{25, 100}

// extra sets what each key costs more in a search. Each is up to half dearer or
// cheaper by the draw, so that searches differ.
func (t *tariff) extra(seed, number uint64, extra []int32) []int32 {
	r := rand.New(rand.NewPCG(seed, 2+number))
	extra = append(extra[:0], make([]int32, len(t.danced))...)
	dear := dearness[number%batch]
	for i, d := range t.danced {
		if d > 0 {
			extra[i] = int32(dear * d * (0.5 + r.Float32()))
		}
	}
	return extra
}
