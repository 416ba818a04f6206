package conflict

import (
	"context"
	"slices"
)

// Opening is the least by which a number must give way.
type Opening struct {
	// Found tells that it is enough to give way by At.
	Found bool
	At    int
	// Shut is the most by which the number gave way in vain: At - 1 where Found; 0
	// where nothing less was tried.
	Shut int
	// Proven tells that there is no way when the number gives way by Shut.
	// Otherwise none was found. It is false where Shut is 0.
	Proven bool
	// Asked is how many times opens was asked.
	Asked int
}

// Least finds the least whole number from 1 to most by which a constraint must give
// way so that there is a way: by doubling it until there is one and halving the gap
// then (Bentley and Yao 1976), with no more than 2·log₂(most) + 2 questions. More is
// taken never to be worse than less. Where ctx ends early, what is known until then
// is returned with its error; so are errors of opens.
func Least(ctx context.Context, most int, opens func(ctx context.Context, by int) (Answer, error)) (Opening, error) {
	var o Opening
	proven := 0 // by this much there is proven to be no way
	try := func(by int) error {
		if err := ctx.Err(); err != nil {
			return err
		}
		o.Asked++
		a, err := opens(ctx, by)
		switch {
		case err != nil:
			return err
		case a == Possible:
			o.Found, o.At = true, by
		default:
			o.Shut = by
			if a == Impossible {
				proven = max(proven, by)
			}
		}
		o.Proven = o.Shut > 0 && proven >= o.Shut
		return nil
	}
	for by := 1; !o.Found && o.Shut < most; by = min(2*by, most) {
		if err := try(by); err != nil {
			return o, err
		}
	}
	for o.Found && o.At-o.Shut > 1 {
		if err := try(o.Shut + (o.At-o.Shut)/2); err != nil {
			return o, err
		}
	}
	return o, nil
}

// Additions finds a smallest set of n things that, added, open a way: an irreducible
// one. With none added there is taken to be no way. Things with lower numbers are
// preferred, and tried first: so many of them as open a way, twice as many each time.
// The set is nil when there is no way even when all are added, or none was found;
// proven tells which. Where ctx ends early, or opens fails, the error is returned
// with the smallest set known to open a way by then.
func Additions(ctx context.Context, n int, opens func(ctx context.Context, added []int) (Answer, error)) (added []int, proven bool, err error) {
	// Things that are not added are constraints that are kept.
	m := newMemo(n, func(ctx context.Context, left []int) (Answer, error) { return opens(ctx, others(n, left)) })
	last := Unknown
	open := func(some []int) (bool, error) {
		a, err := m.ask(ctx, others(n, some))
		last = a
		if a == Possible && (added == nil || len(some) < len(added)) {
			added = slices.Clone(some)
		}
		return a == Possible, err
	}
	all := others(n, nil)
	for some := min(fewAdded, n); ; some = min(2*some, n) {
		held, err := open(all[:some])
		if held {
			break
		}
		if err != nil || some == n {
			return nil, last == Impossible && err == nil, err
		}
	}
	found, err := smallest(added, open)
	if err == nil {
		found, err = filtered(found, open)
	}
	if err != nil {
		return added, false, err
	}
	return found, false, nil
}

// fewAdded is how many things [Additions] tries at first.
const fewAdded = 4

// others lists the numbers from 0 to n-1 that are not in a set.
func others(n int, set []int) []int {
	var rest []int
	for i := range n {
		if !slices.Contains(set, i) {
			rest = append(rest, i)
		}
	}
	return rest
}
