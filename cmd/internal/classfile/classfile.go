// Package classfile reads and writes the file of a class: which figures it is
// taught, week by week.
//
// What lives here: the shape of that file. What does not: which figures there are
// (package figures), the file of a room (floors) and that of a routine
// (routinefile).
//
// # The file of a class
//
//	name: Thursday beginners
//	dance: waltz
//	style: international   # whose levels are meant; any where left out
//	room: village hall     # a room's name, or its file, relative to this file
//	stride: social         # metres, or usual, social or crowded
//	tempo: 28              # bars a minute
//	weeks:
//	  - figures: [Natural Turn, Right Foot Closed Change]
//	  - title: To the left
//	    note: The other way round, and the change that leads back.
//	    figures: [Reverse Turn, Left Foot Closed Change]
//	  - [Whisk, Chassé from Promenade]
//
// Only the weeks are needed. A week is a list of figures, or fields with a title and
// a note beside it. A figure stands for all ways of dancing it, one way in brackets,
// Natural Turn (1-3), for itself only. What has been taught is known from then on,
// so that it is not written again.
//
// A first use:
//
//	c, err := classfile.Read("thursday.yaml", data, library)
//	known := c.Known(3)
package classfile

import (
	"errors"
	"slices"
	"strings"

	"lapwright/figures"
	"lapwright/figures/document"
	"lapwright/search/routine"
)

// The most that a file may hold.
const (
	MostWeeks   = 200
	MostFigures = 100 // of a week
)

// Class is what a file says of a class.
type Class struct {
	Name  string // may be empty
	Dance string
	// Style is the tradition whose levels are meant; [figures.AnyStyle] where the
	// file does not say.
	Style  figures.Style
	Room   string  // a room's name, or its file relative to the class's; may be empty
	Stride float64 // metres; 0 where the file does not say
	Tempo  float64 // bars a minute; 0 where the file does not say
	Weeks  []Week  // at least one
}

// Week is what a class is taught in one week.
type Week struct {
	Title, Note string   // may be empty
	Figures     []Taught // at least one
}

// Taught is a figure that is taught, or one way of dancing it.
type Taught struct {
	// Name is the figure's, as the library has it; with the way of dancing in
	// brackets where only that is taught.
	Name     string
	Variants []*figures.Variant // what it stands for
	Line     int                // in the file; 0 where there is none
}

// Known lists what is taught up to a week, from 1, in the order in which it is; more
// weeks than the class has are all of them.
func (c *Class) Known(week int) (all []Taught) {
	for _, w := range c.Weeks[:max(0, min(week, len(c.Weeks)))] {
		all = append(all, w.Figures...)
	}
	return all
}

// Read reads a class from the text of its file; file is the name to use in errors.
// Every error is a [*document.Error], or several joined. Whether there is such a room
// it does not look at.
func Read(file string, data []byte, library *figures.Library) (*Class, error) {
	doc, err := document.Parse(file, data)
	if err != nil {
		return nil, err
	}
	top, err := doc.Fields("name", "dance", "style", "room", "stride", "tempo", "weeks")
	if err != nil {
		return nil, err
	}
	r := reader{library: library, class: &Class{Dance: "waltz"}, weekOf: map[*figures.Variant]int{}}
	r.head(top)
	if weeks, err := top.Need("weeks"); r.note(err) {
		r.weeks(weeks)
	}
	if len(r.faults) > 0 {
		return nil, errors.Join(r.faults...)
	}
	return r.class, nil
}

// reader gathers a class and its faults.
type reader struct {
	library *figures.Library
	class   *Class
	// weekOf is the week in which a way of dancing is taught, from 1.
	weekOf map[*figures.Variant]int
	faults []error
}

// note keeps a fault, and reports whether there was none.
func (r *reader) note(err error) bool {
	if err != nil {
		r.faults = append(r.faults, err)
	}
	return err == nil
}

// head reads what is said about the class as a whole.
func (r *reader) head(top *document.Fields) {
	word := func(name string, read func(at *document.Node, words string) error) {
		if at := top.Get(name); at != nil {
			words, err := at.Text()
			if err == nil {
				err = read(at, words)
			}
			r.note(err)
		}
	}
	c := r.class
	word("name", func(_ *document.Node, words string) error { c.Name = words; return nil })
	word("room", func(_ *document.Node, words string) error { c.Room = words; return nil })
	word("dance", r.dance)
	word("style", func(at *document.Node, words string) (err error) {
		if c.Style, err = figures.ParseStyle(words); err != nil {
			return at.Fail("%v", err)
		}
		return nil
	})
	word("stride", func(at *document.Node, words string) (err error) {
		if c.Stride, err = figures.ParseStride(words); err != nil {
			return at.Fail("%v", err)
		}
		return nil
	})
	if at := top.Get("tempo"); at != nil {
		var err error
		c.Tempo, err = at.Number(routine.LeastTempo, routine.MostTempo)
		r.note(err)
	}
}

// dance refuses a dance of which the library has no figures.
func (r *reader) dance(at *document.Node, words string) error {
	for _, f := range r.library.Figures() {
		if strings.EqualFold(f.Dance, words) {
			r.class.Dance = f.Dance
			return nil
		}
	}
	return at.Fail("the library has no figures for %q", words)
}

// weeks reads the list of weeks.
func (r *reader) weeks(at *document.Node) {
	list, err := at.Items()
	if !r.note(err) {
		return
	}
	if len(list) == 0 || len(list) > MostWeeks {
		r.note(at.Fail("%d weeks are given; a class has from 1 to %d", len(list), MostWeeks))
		return
	}
	for i, it := range list {
		r.class.Weeks = append(r.class.Weeks, r.week(it, i+1))
	}
}

// week reads one week: a list of figures, or fields.
func (r *reader) week(at *document.Node, number int) (w Week) {
	list := at
	if !at.IsList() {
		f, err := at.Fields("title", "note", "figures")
		if !r.note(err) {
			return w
		}
		for _, of := range []struct {
			name string
			to   *string
		}{{"title", &w.Title}, {"note", &w.Note}} {
			if v := f.Get(of.name); v != nil {
				*of.to, err = v.Text()
				r.note(err)
			}
		}
		if list, err = f.Need("figures"); !r.note(err) {
			return w
		}
	}
	items, err := list.Items()
	if !r.note(err) {
		return w
	}
	if len(items) == 0 || len(items) > MostFigures {
		r.note(list.Fail("week %d teaches %d figures; a week has from 1 to %d", number, len(items), MostFigures))
		return w
	}
	for _, it := range items {
		if t, ok := r.taught(it, number); ok {
			w.Figures = append(w.Figures, t)
		}
	}
	return w
}

// taught reads one figure; ok is false where it has a fault.
func (r *reader) taught(at *document.Node, week int) (t Taught, ok bool) {
	words, err := at.Text()
	if !r.note(err) {
		return t, false
	}
	ways, err := r.library.Ways(words)
	if err != nil {
		r.note(at.Fail("%v", err))
		return t, false
	}
	f := ways[0].Figure
	t = Taught{Name: f.Name, Variants: ways, Line: at.Line()}
	if strings.Contains(words, "(") {
		t.Name = ways[0].Name()
	}
	if f.Dance != r.class.Dance {
		r.note(at.Fail("%s belongs to the %s; the class dances %s", f.Name, f.Dance, r.class.Dance))
		return t, false
	}
	before := 0
	isNew := slices.ContainsFunc(ways, func(v *figures.Variant) bool { return r.weekOf[v] == 0 })
	for _, v := range ways {
		before = max(before, r.weekOf[v])
	}
	switch {
	case !isNew && before == week:
		r.note(at.Fail("%s is taught twice in week %d; keep one", t.Name, week))
		return t, false
	case !isNew:
		r.note(at.Fail("%s has been taught in week %d, and is known from then on; leave it out of week %d", t.Name, before, week))
		return t, false
	}
	for _, v := range ways {
		if r.weekOf[v] == 0 {
			r.weekOf[v] = week
		}
	}
	return t, true
}
