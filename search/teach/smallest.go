package teach

import (
	"context"
	"runtime"
	"slices"
	"sync"
)

// Smallest lists every set of up to so many items that gets round and of which nothing
// can be left out, those of fewer items first, then in the order of the items. tell
// hears how many items the sets have that are being looked at, and how many were found.
//
// All sets are gone through, level by level as in the search for frequent sets of items
// (Agrawal and Srikant 1994): more figures never hurt, so that a set which holds one that
// gets round is passed over. So is one of which some item serves no lap as far as the
// stances go ([Round.Core]), for without that item it was tried before. Only what is left
// is tried on the floor, on all cores.
//
// Of sets of the most items only those are looked at that built allows; nil allows all.
func (r *Round) Smallest(ctx context.Context, most int, built func(Set) bool, tell func(size, found int)) (all []Set, tried int, err error) {
	for size := 1; size <= min(most, len(r.Items)); size++ {
		if tell != nil {
			tell(size, len(all))
		}
		try := r.candidates(all, size, func(s Set) bool { return size < most || built == nil || built(s) })
		gets := make([]bool, len(try))
		faults := make([]error, len(try))
		onAllCores(len(try), func(i int) {
			// Laps that do without some item were looked for before.
			gets[i], faults[i] = r.lap(ctx, try[i], func(core Set) bool { return core == try[i] })
		})
		for _, err := range faults {
			if err != nil {
				return all, tried, err
			}
		}
		tried += len(try)
		for i, set := range try {
			if gets[i] {
				all = append(all, set)
			}
		}
	}
	return all, tried, nil
}

// candidates lists the sets of a size that hold none of some sets, that are built as
// wanted, and of which each item may serve a lap.
func (r *Round) candidates(good []Set, size int, built func(Set) bool) []Set {
	byFirst := make([][]Set, len(r.Items))
	onAllCores(len(r.Items), func(first int) {
		var each func(set Set, from, more int)
		each = func(set Set, from, more int) {
			if slices.ContainsFunc(good, func(g Set) bool { return g.In(set) }) {
				return
			}
			if more == 0 {
				if built(set) && r.Core(set) == set {
					byFirst[first] = append(byFirst[first], set)
				}
				return
			}
			for i := from; i+more <= len(r.Items); i++ {
				each(set.With(i), i+1, more-1)
			}
		}
		each(Of(first), first+1, size-1)
	})
	return slices.Concat(byFirst...)
}

// onAllCores does so many pieces of work, which must not depend on each other.
func onAllCores(pieces int, work func(piece int)) {
	var all sync.WaitGroup
	next := make(chan int, pieces)
	for i := range pieces {
		next <- i
	}
	close(next)
	for range min(pieces, cores()) {
		all.Go(func() {
			for i := range next {
				work(i)
			}
		})
	}
	all.Wait()
}
func cores() int { return runtime.GOMAXPROCS(0) }
