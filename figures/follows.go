package figures

import "slices"

// Follows is what the trade dances before and after each figure: the rows that
// stand under "follows" in the library files, looked up in one library. It does
// not change once it is made, and a nil one has no rows.
//
// A name without brackets stands for every way of dancing the figure; whether
// two of them join at all is for their stances to say (package graph). "any
// natural figure", "any box figure" and so on stand for all figures of that
// family; "(usual)" in brackets stands for the first way of dancing a figure. But:
//
//   - where it comes after, "any natural figure" begins forward on the leader's
//     right foot and "any reverse figure" forward on the left, as the trade means
//     it;
//   - "any promenade figure" ends in promenade where it comes before, and begins
//     in promenade where it comes after, whatever its family.
//
// Rows keep to names. A figure that takes the place of another takes over its
// rows; what a row names and the library no longer has is passed over.
type Follows struct {
	rows  []FollowsRow
	pairs []FollowsPair
	// before and after hold, by variant, the numbers of the pairs without a
	// reason in which it comes first, and second; each rises.
	before, after map[*Variant][]int32
	// known holds the library's variants.
	known map[*Variant]bool
	// hasThen and hasAfter hold the figures with a row of their own that says
	// what comes after them, and before.
	hasThen, hasAfter map[*Figure]bool
}

// FollowsRow is one row: what comes before and after a figure, or each of
// several, as it was written.
type FollowsRow struct {
	Figures     []string
	After, Then []string // what the figure follows, and what follows it
	Source      string   // where that is published; may be empty
	// Reason tells why the library's ways of dancing do not join so, where they
	// don't; empty for a row of which every pair joins.
	Reason string
	File   string
	Line   int
}

// FollowsPair is one join of a row: the two names, and the variants that they
// stand for in the library.
type FollowsPair struct {
	Row             *FollowsRow
	First, Second   string
	Firsts, Seconds []*Variant
}

// Told is what the rows say of a join.
type Told int8

// The answers of [Follows.Of].
const (
	// Untold: no row says what follows the first figure, or what the second
	// follows, as for a teacher's own figures without rows.
	Untold Told = iota
	Listed
	// Unlisted: rows say what follows the first and what the second follows,
	// and none has this join.
	Unlisted
)

// Of tells whether the trade lists next right after v.
func (f *Follows) Of(v, next *Variant) Told {
	if f == nil || v == nil || next == nil {
		return Untold
	}
	switch {
	case !f.known[v] || !f.known[next]:
		return Untold
	case meet(f.before[v], f.after[next]):
		return Listed
	case f.hasThen[v.Figure] && f.hasAfter[next.Figure]:
		return Unlisted
	}
	return Untold
}

// meet reports whether two rising lists have a number in common.
func meet(a, b []int32) bool {
	for len(a) > 0 && len(b) > 0 {
		switch {
		case a[0] == b[0]:
			return true
		case a[0] < b[0]:
			a = a[1:]
		default:
			b = b[1:]
		}
	}
	return false
}

// Rows lists the rows in the order of the library files.
func (f *Follows) Rows() []FollowsRow {
	if f == nil {
		return nil
	}
	return slices.Clone(f.rows)
}

// Pairs lists every join that a row names, in the order of the rows. Those of a
// row with a reason are among them.
func (f *Follows) Pairs() []FollowsPair {
	if f == nil {
		return nil
	}
	return slices.Clone(f.pairs)
}

// newFollows looks the rows up in a library.
func newFollows(l *Library, rows []FollowsRow) *Follows {
	f := &Follows{rows: rows, before: map[*Variant][]int32{}, after: map[*Variant][]int32{}, known: map[*Variant]bool{},
		hasThen: map[*Figure]bool{}, hasAfter: map[*Figure]bool{}}
	for _, v := range l.Variants() {
		f.known[v] = true
	}
	names := newIndex(l)
	for i := range rows {
		row := &rows[i]
		for _, figure := range row.Figures {
			own, _ := names.mentioned(figure, anywhere)
			for _, v := range own {
				f.hasThen[v.Figure] = f.hasThen[v.Figure] || len(row.Then) > 0
				f.hasAfter[v.Figure] = f.hasAfter[v.Figure] || len(row.After) > 0
			}
			for _, name := range row.After {
				before, _ := names.mentioned(name, comesBefore)
				f.list(FollowsPair{row, name, figure, before, own})
			}
			for _, name := range row.Then {
				after, _ := names.mentioned(name, comesAfter)
				f.list(FollowsPair{row, figure, name, own, after})
			}
		}
	}
	return f
}

// list takes in one pair of a row.
func (f *Follows) list(p FollowsPair) {
	number := int32(len(f.pairs))
	f.pairs = append(f.pairs, p)
	if p.Row.Reason != "" {
		return
	}
	for _, v := range p.Firsts {
		f.before[v] = append(f.before[v], number)
	}
	for _, v := range p.Seconds {
		f.after[v] = append(f.after[v], number)
	}
}
