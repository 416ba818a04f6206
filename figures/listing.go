package figures

import (
	"fmt"
	"slices"
	"strings"

	"lapwright/figures/document"
)

// Style is one of the traditions in which the dance is taught, each with
// syllabi of its own.
type Style string

// The styles: the international one of the technique books, the American one of
// the smooth syllabi, and the country one of the western floor. [AnyStyle]
// stands for all of them where a style is asked for.
const (
	AnyStyle      Style = ""
	International Style = "international"
	American      Style = "american"
	Country       Style = "country"
)

// Styles lists the styles.
var Styles = []Style{International, American, Country}

// String is the style as people read it: "international", "American",
// "country".
func (s Style) String() string {
	if s == American {
		return "American"
	}
	return string(s)
}

// ParseStyle reads the name of a style: international, american or country.
func ParseStyle(s string) (Style, error) {
	if style := Style(strings.ToLower(strings.TrimSpace(s))); slices.Contains(Styles, style) {
		return style, nil
	}
	return "", fmt.Errorf("%q is not a style: write one of international, american, country", s)
}

// Listing is a figure's place in a syllabus.
type Listing struct {
	// Style is the tradition of the syllabus. A listing without one, which is
	// [AnyStyle], counts for every style.
	Style Style
	Level Level
	// Syllabus is the name of the published list that sets the figure at the
	// level, or of a school's own; it may be empty.
	Syllabus string
}

// String is the listing in words: "bronze, international style (IDTA, 1992)".
func (l Listing) String() string {
	words := string(l.Level)
	if l.Style != AnyStyle {
		words += ", " + l.Style.String() + " style"
	}
	if l.Syllabus != "" {
		words += " (" + l.Syllabus + ")"
	}
	return words
}

// At reports whether the figure is in the repertory of one of the levels, or of
// any level where none is given, in a style; [AnyStyle] asks for any.
func (f *Figure) At(style Style, levels ...Level) bool {
	return slices.ContainsFunc(f.Levels, func(k Listing) bool {
		if style != AnyStyle && k.Style != AnyStyle && k.Style != style {
			return false
		}
		return len(levels) == 0 || slices.ContainsFunc(levels, func(l Level) bool { return l.Includes(k.Level) })
	})
}

// listings reads the levels of a figure: one level or listing, or a list of
// them, each given once.
func (f *form) listings() []Listing {
	at, err := f.Need("levels")
	if err != nil {
		f.fail(err)
		return nil
	}
	entries := []*document.Node{at}
	if at.IsList() {
		if entries, err = items(maxListings, "levels")(at); err != nil {
			f.fail(err)
			return nil
		}
	}
	var all []Listing
	for _, entry := range entries {
		l, ok := f.listing(entry)
		switch {
		case !ok:
		case slices.Contains(all, l):
			f.fail(entry.Fail("%q is given twice; keep one", l))
		default:
			all = append(all, l)
		}
	}
	return all
}

// listing reads one level, a plain word or fields; ok is false where it has a
// fault.
func (f *form) listing(at *document.Node) (l Listing, ok bool) {
	if !at.IsFields() {
		if at.IsList() {
			f.fail(at.Fail("a level, or fields (style, level, syllabus), are expected here, not a list"))
			return l, false
		}
		level, err := word(ParseLevel)(at)
		if err != nil {
			f.fail(err)
		}
		return Listing{Level: level}, err == nil
	}
	before := len(*f.faults)
	own := open(at, f.where, f.faults, "style", "level", "syllabus")
	l.Style, _ = optional(own, "style", word(ParseStyle))
	l.Level, _ = required(own, "level", word(ParseLevel))
	l.Syllabus, _ = optional(own, "syllabus", (*document.Node).Text)
	return l, len(*f.faults) == before
}
