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
	before, tested := len(r.bad), r.Tested
	gets, err := r.Gets(ctx, set)
	switch {
	case err != nil:
		return err
	case gets:
		r.good = append(r.good, set)
	case r.Tested > tested:
		return r.grow(ctx, before)
	default:
		r.bad = r.bad[:before] // no need to remember what fails without the floor
	}
	return ctx.Err()
}

// grow makes a set that fails on the floor as large as it can be: as many items as
// possible are added at once, halves of those where that is too many.
func (r *Round) grow(ctx context.Context, index int) error {
	set := r.bad[index]
	var add func(items []int) error
	add = func(items []int) error {
		if len(items) == 0 {
			return nil
		}
		with := set
		for _, i := range items {
			with = with.With(i)
		}
		fails := !slices.ContainsFunc(r.good, func(g Set) bool { return g.In(with) })
		if fails {
			gets, err := r.lap(ctx, with)
			if err != nil {
				return err
			}
			fails = !gets
		}
		switch half := len(items) / 2; {
		case fails:
			set = with
			return nil
		case half == 0:
			return nil
		default:
			if err := add(items[:half]); err != nil {
				return err
			}
			return add(items[half:])
		}
	}
	var others []int
	for i := range r.Items {
		if !set.Has(i) {
			others = append(others, i)
		}
	}
	if err := add(others); err != nil {
		return err
	}
	r.bad = slices.DeleteFunc(r.bad, func(s Set) bool { return s.In(set) })
	r.bad = append(r.bad, set)
	return nil
}
