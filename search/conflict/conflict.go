// Package conflict finds out why constraints cannot all be kept: a smallest set of
// them that clash, and the least by which a number must give way.
//
// What lives here: the search over sets of constraints and over numbers, with what
// is proven and what is not kept apart. What does not: what the constraints say,
// and how it is found out whether some of them can be kept, which is an [Oracle];
// nothing here knows about dancing.
//
//	clash, err := conflict.Find(ctx, len(limits), oracle)
//	if clash.Proven { fmt.Println("these cannot all be kept:", clash.Members) }
//
// Oracles are taken to be monotone: constraints that can be kept together with
// others can be kept without them.
package conflict

import (
	"context"
	"slices"
)

// Answer is what an oracle knows.
type Answer int8

// The three answers.
const (
	// Unknown: no way was found, and none was ruled out.
	Unknown Answer = iota
	// Possible: there is a way.
	Possible
	// Impossible: it is proven that there is none.
	Impossible
)

// String is the answer in a word.
func (a Answer) String() string {
	switch a {
	case Possible:
		return "possible"
	case Impossible:
		return "impossible"
	}
	return "unknown"
}

// Oracle says whether some constraints, numbered from 0 and in order, can be kept
// all at once. It may be asked about none. It must not change or keep the list.
type Oracle func(ctx context.Context, kept []int) (Answer, error)

// Clash is a set of constraints that cannot all be kept, as far as is known.
type Clash struct {
	// Members are the numbers of the constraints, in order. None of them means
	// that there is no way even when nothing is asked for.
	Members []int
	// Proven tells that there is no way of keeping the members. Otherwise none was
	// found.
	Proven bool
	// Irreducible tells that there is a way when any one of the members is left
	// out. It is false only when ctx ended before that was known, or when the
	// oracle is not monotone.
	Irreducible bool
	// Asked is how many times the oracle was asked.
	Asked int
}

// Find finds a smallest set of n constraints that clash: an irreducible one, not
// one with the fewest members. Of several such sets, one of constraints with lower
// numbers is found first. It is nil when all constraints can be kept.
//
// An answer [Unknown] counts as a clash that is not proven. Where ctx ends early,
// the smallest set known to clash until then is returned with ctx's error; it is nil
// when none is known. Errors of the oracle are handled likewise.
//
// The sets are halved as in QuickXplain (Junker 2004): for a clash of k members the
// oracle is asked no more than 2k + 2k·log₂(n/k) + 1 times, n rounded up to a power
// of two.
func Find(ctx context.Context, n int, oracle Oracle) (*Clash, error) {
	m := newMemo(n, oracle)
	all := make([]int, n)
	for i := range all {
		all[i] = i
	}
	clashes := func(kept []int) (bool, error) {
		a, err := m.ask(ctx, kept)
		return a != Possible, err
	}
	if clash, err := clashes(all); err != nil || !clash {
		return nil, err
	}
	members, err := smallest(all, clashes)
	if err == nil {
		members, err = filtered(members, clashes)
	}
	if err != nil {
		members = m.least()
	}
	return m.clash(members), err
}

// smallest is an irreducible subset of a set for which a property holds that holds
// for every larger set too. It must hold for the set itself.
func smallest(set []int, holds func([]int) (bool, error)) ([]int, error) {
	var halve func(given []int, more bool, rest []int) ([]int, error)
	// given are members taken for now, to which more were added since the property
	// was last tried; rest are those from which the missing ones must come.
	halve = func(given []int, more bool, rest []int) ([]int, error) {
		if more {
			if held, err := holds(given); err != nil || held {
				return nil, err
			}
		}
		if len(rest) <= 1 {
			return rest, nil
		}
		first, second := rest[:(len(rest)+1)/2], rest[(len(rest)+1)/2:]
		fromSecond, err := halve(union(given, first), true, second)
		if err != nil {
			return nil, err
		}
		fromFirst, err := halve(union(given, fromSecond), len(fromSecond) > 0, first)
		return union(fromFirst, fromSecond), err
	}
	return halve(nil, true, set)
}

// filtered leaves out, one after the other, the members without which a property
// still holds (the deletion filter of Chinneck and Dravnieks 1991). What [smallest]
// has found is known to need all of its members, so that nothing has to be tried,
// unless an oracle contradicts itself.
func filtered(members []int, holds func([]int) (bool, error)) ([]int, error) {
	for i := 0; i < len(members); {
		rest := slices.Delete(slices.Clone(members), i, i+1)
		held, err := holds(rest)
		if err != nil {
			return members, err
		}
		if held {
			members = rest
		} else {
			i++
		}
	}
	return members, nil
}

// union is two sets together, in order.
func union(a, b []int) []int {
	both := append(slices.Clone(a), b...)
	slices.Sort(both)
	return slices.Compact(both)
}

// memo remembers what the oracle answered.
type memo struct {
	n      int
	oracle Oracle
	asked  int
	known  []known
}

// known is an answer that was given.
type known struct {
	has    []bool // by constraint: whether it was kept
	size   int
	answer Answer
}

func newMemo(n int, oracle Oracle) *memo { return &memo{n: n, oracle: oracle} }

// ask asks the oracle, unless the answer follows from what it has answered.
func (m *memo) ask(ctx context.Context, kept []int) (Answer, error) {
	if a, ok := m.recall(kept); ok {
		return a, nil
	}
	if err := ctx.Err(); err != nil {
		return Unknown, err
	}
	m.asked++
	a, err := m.oracle(ctx, kept)
	if err == nil {
		k := known{make([]bool, m.n), len(kept), a}
		for _, i := range kept {
			k.has[i] = true
		}
		m.known = append(m.known, k)
	}
	return a, err
}

// recall is the answer about a set that follows from the answers given so far: it is
// possible if a larger one was, and impossible if a smaller one was.
func (m *memo) recall(kept []int) (Answer, bool) {
	alike := false
	for _, k := range m.known {
		common := 0
		for _, i := range kept {
			if k.has[i] {
				common++
			}
		}
		switch {
		case k.answer == Possible && common == len(kept):
			return Possible, true
		case k.answer == Impossible && common == k.size:
			return Impossible, true
		case k.answer == Unknown && common == len(kept) && common == k.size:
			alike = true
		}
	}
	return Unknown, alike
}

// least is the smallest set that was found to clash; a proven one counts for more.
func (m *memo) least() []int {
	best := -1
	for i, k := range m.known {
		switch {
		case k.answer == Possible:
		case best < 0, k.size < m.known[best].size, k.size == m.known[best].size && k.answer == Impossible:
			best = i
		}
	}
	var members []int
	if best >= 0 {
		for i, in := range m.known[best].has {
			if in {
				members = append(members, i)
			}
		}
	}
	return members
}

// clash says what is known of a set that clashes; nil when nothing is.
func (m *memo) clash(members []int) *Clash {
	a, ok := m.recall(members)
	if !ok && !slices.ContainsFunc(m.known, func(k known) bool { return k.answer != Possible }) {
		return nil
	}
	c := &Clash{Members: members, Proven: a == Impossible, Irreducible: true, Asked: m.asked}
	for i := range members {
		without, _ := m.recall(slices.Delete(slices.Clone(members), i, i+1))
		c.Irreducible = c.Irreducible && without == Possible
	}
	return c
}
