package figures

import (
	"fmt"
	"slices"
	"strings"

	"lapwright/figures/document"
)

// maxFollows is the greatest number of rows in a file.
const maxFollows = 5000

// readFollows reads the rows of a file.
func (l *loader) readFollows(top *form) {
	before := len(l.faults)
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
	l.inFollows = len(l.faults) - before
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
func (l *loader) checkFollows() {
	if len(l.follows) == 0 {
		return
	}
	whole := newLibrary(l.base.with(l.figures), nil)
	names, faulty := newIndex(whole), len(l.faults) > l.inFollows
	for _, d := range l.follows {
		look := func(field, name string, side comes) {
			_, err := names.mentioned(name, side)
			if err == nil {
				return
			}
			figure, _, _ := strings.Cut(name, "(")
			if f, ok := whole.Figure(figure); ok && faulty && slices.Contains(l.figures, f) {
				return
			}
			d.fail(d.Get(field).Fail("%v", err))
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
