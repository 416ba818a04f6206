package figures

import (
	"cmp"
	"errors"
	"slices"
	"strings"

	"lapwright/figures/document"
)

// Examination is what there is to say about a library file, figure by figure,
// without refusing it as a whole.
type Examination struct {
	// Figures are those of the file in its order, with those that cannot be
	// read.
	Figures []Examined
	// Unread is what cannot be read outside the figures.
	Unread []Trouble
	// Library is the library with the file's figures on top, where all of them
	// can be danced; else nil.
	Library *Library
	// Danceable is the library with those of the file's figures on top that can
	// be danced.
	Danceable *Library
}

// Examined is what there is to say about one figure.
type Examined struct {
	Name   string  // or its number in the file, where it has none
	Line   int     // in the file
	Figure *Figure // nil where it has no name
	// Replaces is the figure whose place it takes; nil where it is a new one.
	Replaces *Figure
	// Unread is what cannot be read, Undanced what cannot be danced.
	Unread   []Trouble
	Undanced []Trouble
}

// Danceable reports whether the figure can be read and danced in all its ways.
func (e *Examined) Danceable() bool { return len(e.Unread) == 0 && len(e.Undanced) == 0 }

// Trouble is one reason why a figure cannot be read or danced.
type Trouble struct {
	Line    int      // in the file; 0 where it has none
	Field   string   // of the file that cannot be read, such as "foot"; may be empty
	Variant *Variant // nil where the figure cannot be read there
	Step    int      // from 1; 0 where it is no step's
	Reason  string   // with the amount where there is one
}

// Examine reads a library file on top of l, as [Library.Extend] does, and tells of
// each figure in it whether the couple can dance it and, where not, every reason.
// The error tells that the file is no document at all.
func (l *Library) Examine(file string, data []byte, c Couple) (*Examination, error) {
	read, err := read(file, data)
	if err != nil {
		return nil, err
	}
	read.assembleOn(l)
	x := &Examination{}
	for _, h := range read.heads {
		e := Examined{Name: h.name, Line: h.line, Figure: h.figure}
		if h.figure != nil {
			if i, ok := l.at[NameKey(h.figure.Name)]; ok {
				e.Replaces = l.figures[i]
			}
			if read.beats > 0 {
				e.Undanced = undanced(h.figure, c)
			}
		}
		x.Figures = append(x.Figures, e)
	}
	x.unread(read.faults)
	var danceable []*Figure
	for i := range x.Figures {
		if e := &x.Figures[i]; e.Figure != nil && e.Danceable() && read.beats > 0 {
			danceable = append(danceable, e.Figure)
		}
	}
	x.Danceable = l.some(read, danceable)
	if len(x.Unread) == 0 && !slices.ContainsFunc(x.Figures, func(e Examined) bool { return !e.Danceable() }) {
		x.Library = l.whole(read)
	}
	return x, nil
}

// undanced is what keeps a couple from dancing a figure.
func undanced(f *Figure, c Couple) (all []Trouble) {
	for _, v := range f.Variants {
		for _, fault := range v.Faults(c) {
			line := v.Line
			if fault.Step > 0 {
				line = v.Steps[fault.Step-1].Line
			}
			all = append(all, Trouble{Line: line, Variant: v, Step: fault.Step, Reason: fault.Reason})
		}
	}
	return all
}

// unread puts what cannot be read with the figure in whose lines it stands.
func (x *Examination) unread(faults []error) {
	for _, err := range faults {
		t := Trouble{Reason: err.Error()}
		var fault *document.Error
		if errors.As(err, &fault) {
			t.Line, t.Reason = fault.Line, fault.Problem
			if t.Field = fault.Field[strings.LastIndex(fault.Field, ".")+1:]; strings.HasSuffix(t.Field, "]") {
				t.Field = ""
			}
		}
		to := &x.Unread
		for i := range x.Figures {
			if x.Figures[i].Line <= t.Line {
				to = &x.Figures[i].Unread
			}
		}
		for i := range x.Figures {
			// The figure need not be named again under its own name.
			if f := &x.Figures[i]; to == &f.Unread {
				if rest, ok := strings.CutPrefix(t.Reason, f.Name); ok {
					t.Reason = strings.TrimLeft(rest, ",: ")
				}
			}
		}
		*to = append(*to, t)
	}
	byLine := func(a, b Trouble) int { return cmp.Compare(a.Line, b.Line) }
	slices.SortStableFunc(x.Unread, byLine)
	for i := range x.Figures {
		slices.SortStableFunc(x.Figures[i].Unread, byLine)
	}
}
