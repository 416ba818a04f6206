package figures

import (
	"fmt"
	"slices"
	"strings"

	"lapwright/figures/document"
	"lapwright/figures/geometry"
)

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
	// places numbers the library's variants; listed has a bit for each pair of
	// them.
	places map[*Variant]int
	listed []uint64
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
	i, known := f.places[v]
	j, too := f.places[next]
	switch at := i*len(f.places) + j; {
	case !known || !too:
		return Untold
	case f.listed[at/64]&(1<<(at%64)) != 0:
		return Listed
	case f.hasThen[v.Figure] && f.hasAfter[next.Figure]:
		return Unlisted
	}
	return Untold
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
	f := &Follows{rows: rows, places: map[*Variant]int{}, hasThen: map[*Figure]bool{}, hasAfter: map[*Figure]bool{}}
	for _, v := range l.Variants() {
		f.places[v] = len(f.places)
	}
	f.listed = make([]uint64, (len(f.places)*len(f.places)+63)/64)
	for i := range rows {
		row := &rows[i]
		for _, figure := range row.Figures {
			own, _ := l.mentioned(figure, anywhere)
			for _, v := range own {
				f.hasThen[v.Figure] = f.hasThen[v.Figure] || len(row.Then) > 0
				f.hasAfter[v.Figure] = f.hasAfter[v.Figure] || len(row.After) > 0
			}
			for _, name := range row.After {
				before, _ := l.mentioned(name, comesBefore)
				f.list(FollowsPair{row, name, figure, before, own})
			}
			for _, name := range row.Then {
				after, _ := l.mentioned(name, comesAfter)
				f.list(FollowsPair{row, figure, name, own, after})
			}
		}
	}
	return f
}

// list takes in one pair of a row.
func (f *Follows) list(p FollowsPair) {
	f.pairs = append(f.pairs, p)
	if p.Row.Reason != "" {
		return
	}
	for _, v := range p.Firsts {
		for _, next := range p.Seconds {
			at := f.places[v]*len(f.places) + f.places[next]
			f.listed[at/64] |= 1 << (at % 64)
		}
	}
}

// comes tells on which side of a join a name stands.
type comes int8

const (
	anywhere comes = iota
	comesBefore
	comesAfter
)

// mentioned lists the variants that a name in a row stands for, or says what is
// wrong with it.
func (l *Library) mentioned(name string, side comes) ([]*Variant, error) {
	if class, ok := anyOf(name); ok {
		return l.ofClass(class, side)
	}
	figure, label, labelled := strings.Cut(name, "(")
	f, ok := l.Figure(figure)
	switch {
	case !ok:
		return nil, fmt.Errorf("there is no figure %q%s", strings.TrimSpace(figure), meant(l.Nearest(figure, 2)))
	case !labelled:
		return f.Variants, nil
	}
	if v, ok := l.Variant(name); ok {
		return []*Variant{v}, nil
	}
	if NameKey(label) == "usual" && len(f.Variants) > 0 {
		return f.Variants[:1], nil
	}
	var ways []string
	for _, v := range f.Variants {
		if v.Label != "" {
			ways = append(ways, v.Label)
		}
	}
	if len(ways) == 0 {
		return nil, fmt.Errorf("%s is danced in one way only, so nothing goes in brackets", f.Name)
	}
	return nil, fmt.Errorf("%s has no way of dancing %q; it has: %s", f.Name, strings.TrimSuffix(strings.TrimSpace(label), ")"), strings.Join(ways, "; "))
}

// anyOf reads "any natural figure" and the like.
func anyOf(name string) (class string, ok bool) {
	words := strings.Fields(strings.ToLower(name))
	if len(words) == 3 && words[0] == "any" && words[2] == "figure" {
		return words[1], true
	}
	return "", false
}

// ofClass lists the variants that "any … figure" stands for.
func (l *Library) ofClass(class string, side comes) ([]*Variant, error) {
	if side == anywhere {
		return nil, fmt.Errorf("a row is about one figure; \"any %s figure\" may stand only in what comes before and after it", class)
	}
	known := class == Promenade.String()
	var all []*Variant
	for _, v := range l.Variants() {
		ofFamily := strings.EqualFold(v.Figure.Family, class)
		known = known || ofFamily
		first := v.Entries[0]
		var in bool
		switch {
		case class == Promenade.String() && side == comesAfter:
			in = first.Hold == Promenade
		case class == Promenade.String():
			in = v.Exit(first).Hold == Promenade
		case class == "natural" && side == comesAfter:
			in = ofFamily && first.Free == RightFoot && v.beginsForward()
		case class == "reverse" && side == comesAfter:
			in = ofFamily && first.Free == LeftFoot && v.beginsForward()
		default:
			in = ofFamily
		}
		if in {
			all = append(all, v)
		}
	}
	if !known {
		return nil, fmt.Errorf("there are no figures of the family %q; there are %s", class, strings.Join(l.families(), ", "))
	}
	return all, nil
}

// families lists the families of the figures, and promenade.
func (l *Library) families() []string {
	all := []string{Promenade.String()}
	for _, f := range l.figures {
		all = append(all, strings.ToLower(f.Family))
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// beginsForward tells whether the couple's first step goes to where the leader
// faces rather than to where the leader's back is.
func (v *Variant) beginsForward() bool {
	return len(v.Steps) > 0 && (v.Steps[0].Toward-v.Entries[0].Facing.Turn()).Within().Abs() < geometry.Full/4
}

// meant asks whether one of the names was meant.
func meant(names []string) string {
	if len(names) == 0 {
		return ""
	}
	return "; was " + strings.Join(names, " or ") + " meant?"
}

// maxFollows is the greatest number of rows in a file.
const maxFollows = 5000

// readFollows reads the rows of a file, once its figures are read.
func (l *loader) readFollows(top *form) {
	faulty := len(l.faults) > 0
	list, _ := optional(top, "follows", items(maxFollows, "rows"))
	for i, at := range list {
		where := title(at, "figure")
		if where == "" {
			where = fmt.Sprintf("row %d", i+1)
		}
		f := open(at, where, &l.faults, "figure", "after", "then", "source", "reason")
		if f == nil {
			continue
		}
		row := FollowsRow{File: at.File(), Line: at.Line()}
		same := words(func(s string) (string, error) { return s, nil })
		row.Figures, _ = required(f, "figure", same)
		row.After, _ = optional(f, "after", same)
		row.Then, _ = optional(f, "then", same)
		row.Source, _ = optional(f, "source", (*document.Node).Text)
		row.Reason, _ = optional(f, "reason", (*document.Node).Text)
		if f.Get("after") == nil && f.Get("then") == nil {
			f.fail(at.Fail("\"after\" and \"then\" are both missing; give what the figure follows, what follows it, or both"))
		}
		l.follows = append(l.follows, followsDraft{f, row})
	}
	l.checkFollows(faulty)
}

// followsDraft is a row whose names are not yet looked up.
type followsDraft struct {
	*form
	row FollowsRow
}

// rows lists the rows of a library and then those of the file.
func (l *loader) rows(base *Library) []FollowsRow {
	rows := base.Follows().Rows()
	for _, d := range l.follows {
		rows = append(rows, d.row)
	}
	return rows
}

// checkFollows refuses rows with names that the library and the file do not have.
// Where the file's figures are faulty their ways of dancing are not asked for,
// which may be missing for faults that are told.
func (l *loader) checkFollows(faulty bool) {
	if len(l.follows) == 0 {
		return
	}
	whole := newLibrary(l.base.with(l.figures), nil)
	for _, d := range l.follows {
		look := func(field, name string, side comes) {
			figure, _, _ := strings.Cut(name, "(")
			if f, ok := whole.Figure(figure); ok && faulty && slices.Contains(l.figures, f) {
				return
			}
			if _, err := whole.mentioned(name, side); err != nil {
				d.fail(d.Get(field).Fail("%v", err))
			}
		}
		for _, name := range d.row.Figures {
			look("figure", name, anywhere)
		}
		for _, name := range d.row.After {
			look("after", name, comesBefore)
		}
		for _, name := range d.row.Then {
			look("then", name, comesAfter)
		}
	}
}
