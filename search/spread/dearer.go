package spread

import (
	"context"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
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
	if p.Count < 2 {
		return nil
	}
	t := newTariff(p.Problem)
	walkers := make([]*walker, min(batch, runtime.GOMAXPROCS(0)))
	for i := range walkers {
		walkers[i] = newWalker(p.Problem, t)
	}
	var so []int // the laps so far, by their places in the pool
	take := func(at int) {
		so = append(so, at)
		t.count(p.laps[at].dance)
	}
	if len(p.laps) > 0 {
		take(p.best())
	}
	trials := make([]trial, batch)
	without := 0
	for round := 0; round < min(mostRounds, p.Count-1) && without < fruitless; round++ {
		solveAll(ctx, walkers, uint64(round*batch), trials)
		far, err := p.farthest(trials, so)
		if err != nil {
			return err
		}
		without++
		if far >= 0 {
			take(far)
			without = 0
			continue
		}
		// Nothing is new: what was found is made dearer all the same.
		if i := slices.IndexFunc(trials, func(t trial) bool { return t.found }); i >= 0 {
			t.count(p.dance(trials[i].path))
		}
	}
	return nil
}

// trial is a search of a batch, and what it found.
type trial struct {
	path  Path
	found bool
	err   error
	// times is how many times dearer the last lap was that was found here with
	// the extra than without.
	times float32
}

// solveAll makes a batch of searches, the first of which has a number.
func solveAll(ctx context.Context, walkers []*walker, first uint64, trials []trial) {
	next := make(chan int, len(trials))
	for i := range trials {
		next <- i
	}
	close(next)
	var all sync.WaitGroup
	for _, w := range walkers {
		all.Go(func() {
			for i := range next {
				w.solve(ctx, first+uint64(i), &trials[i])
			}
		})
	}
	all.Wait()
}

// farthest adds what a batch found, and returns the place in the pool of what is new
// and farthest from some laps; -1 where nothing is new.
func (p *pool) farthest(trials []trial, from []int) (int, error) {
	best, far := -1, int32(0)
	r := newRuler()
	for _, t := range trials {
		if t.err != nil {
			return -1, t.err
		}
		if !t.found || !p.keeps(t.path) || !p.add(t.path) {
			continue
		}
		at := len(p.laps) - 1
		near := int32(unmeasured)
		for _, other := range from {
			near = min(near, r.distance(p.laps[at].dance, p.laps[other].dance, near))
		}
		if near > far {
			best, far = at, near
		}
	}
	return best, nil
}

// tariff counts for each figure, wall and square of floor how many laps dance it
// there; one that dances it less than Reach away counts in part.
type tariff struct {
	keys          []int32   // by arc: what is danced, and where; -1 where nothing is
	danced        []float32 // by key: how many laps dance it
	low           Place
	columns, rows int32
	walls         int32
	figures       int32
	// squares numbers the squares of floor from which figures are danced along a
	// wall, by square and wall; -1 where none is.
	squares []int32
}

func newTariff(p *Problem) *tariff {
	n := p.Network
	t := &tariff{low: Place{math.MaxInt32, math.MaxInt32}, figures: int32(n.Figures)}
	high := Place{math.MinInt32, math.MinInt32}
	for node, at := range p.Places {
		if int32(node) != n.End {
			t.low = Place{min(t.low.X, at.X), min(t.low.Y, at.Y)}
			high = Place{max(high.X, at.X), max(high.Y, at.Y)}
		}
	}
	for _, w := range n.Walls {
		t.walls = max(t.walls, int32(w)+1)
	}
	t.columns, t.rows = (high.X-t.low.X)/square+1, (high.Y-t.low.Y)/square+1
	t.squares = make([]int32, t.columns*t.rows*t.walls)
	for i := range t.squares {
		t.squares[i] = -1
	}
	count := int32(0)
	t.keys = make([]int32, n.Size())
	for node := range int32(n.Nodes()) {
		at := p.Places[node]
		for i, a := range n.Arcs(node) {
			key := int32(-1)
			if a.Way != network.Closing {
				number := t.square((at.X-t.low.X)/square, (at.Y-t.low.Y)/square, n.Walls[a.To])
				if *number < 0 {
					*number = count
					count++
				}
				key = *number*t.figures + n.Ways[a.Way].Figure
			}
			t.keys[n.ArcNumber(node)+i] = key
		}
	}
	t.danced = make([]float32, count*t.figures)
	return t
}

// square is the number of a square of floor from which figures are danced along a wall.
func (t *tariff) square(x, y int32, wall int16) *int32 {
	return &t.squares[(y*t.columns+x)*t.walls+int32(wall)]
}

// count counts a lap.
func (t *tariff) count(dance []Danced) {
	const reach = Reach * 100
	for _, d := range dance {
		for y := max(0, (d.Y-reach-t.low.Y)/square); y <= min(t.rows-1, (d.Y+reach-t.low.Y)/square); y++ {
			for x := max(0, (d.X-reach-t.low.X)/square); x <= min(t.columns-1, (d.X+reach-t.low.X)/square); x++ {
				dx, dy := t.low.X+x*square+square/2-d.X, t.low.Y+y*square+square/2-d.Y
				away := math.Sqrt(float64(dx*dx + dy*dy))
				if number := *t.square(x, y, d.Wall); number >= 0 && away < reach {
					t.danced[number*t.figures+d.Figure] += float32(1 - away/reach)
				}
			}
		}
	}
}

// dearness is how much dearer a figure is, in hundredths of a bar, for each lap that
// dances it there, by the number of a search in its batch.
var dearness = [batch]float32{10, 40}

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
