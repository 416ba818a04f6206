package teach

import (
	"context"
	"slices"
)

// Smallest lists every set of up to so many items that gets round and of which nothing
// can be left out, those of fewer items first, then in the order of the items. tell
// hears how many items the sets have that are being looked at, and how many were found.
//
// All sets are gone through, size by size; those that hold a set that gets round are
// passed over, as are those within a set that does not. A set that fails on the floor is
// made as large as it can be while it still fails (as in the enumeration of minimal
// unsatisfiable sets; Liffiton, Previti, Malik and Marques-Silva 2016), so that one try
// answers for many.
func (r *Round) Smallest(ctx context.Context, most int, tell func(size, found int)) ([]Set, error) {
	for size := 1; size <= min(most, len(r.Items)); size++ {
		if tell != nil {
			tell(size, len(r.good))
		}
		if err := r.each(ctx, Set{}, 0, size, 1); err != nil {
			return nil, err
		}
	}
	return slices.Clone(r.good), nil
}

// each tries every set of so many more items from a number on.
func (r *Round) each(ctx context.Context, set Set, from, more, _ int) error {
	if more == 0 {
		return r.try(ctx, set)
	}
	for i := from; i+more <= len(r.Items); i++ {
		with := set.With(i)
		if more > 1 && slices.ContainsFunc(r.good, func(g Set) bool { return g.In(with) }) {
			continue
		}
		if err := r.each(ctx, with, i+1, more-1, 0); err != nil {
			return err
		}
	}
	return nil
}

// try finds out about a set.
func (r *Round) try(ctx context.Context, set Set) error {
	if slices.ContainsFunc(r.good, func(g Set) bool { return g.In(set) }) {
		return nil
	}
	before := len(r.bad)
	gets, err := r.Gets(ctx, set)
	switch {
	case err != nil:
		return err
	case gets:
		r.good = append(r.good, set)
	case len(r.bad) > before:
		return r.grow(ctx, before)
	}
	return ctx.Err()
}

// grow makes a set that fails on the floor as large as it can be.
func (r *Round) grow(ctx context.Context, index int) error {
	set := r.bad[index]
	for i := range r.Items {
		if set.Has(i) {
			continue
		}
		with := set.With(i)
		if slices.ContainsFunc(r.good, func(g Set) bool { return g.In(with) }) {
			continue
		}
		if r.turns(with) {
			r.Tested++
			gets, err := r.lap(ctx, with)
			if err != nil {
				return err
			}
			if gets {
				continue
			}
		}
		set = with
	}
	r.bad = slices.DeleteFunc(r.bad, func(s Set) bool { return s.In(set) })
	r.bad = append(r.bad, set)
	return nil
}
