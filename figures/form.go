package figures

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"lapwright/figures/document"
)

// form reads the fields of one place in a library file and gathers every fault
// it meets instead of stopping at the first.
type form struct {
	*document.Fields
	where  string // the figure, part and step, for the faults' words
	faults *[]error
}

// open begins to read a mapping with the known fields. It is nil where the value
// is no mapping.
func open(at *document.Node, where string, faults *[]error, known ...string) *form {
	fields, err := at.Fields(known...)
	f := &form{fields, where, faults}
	if err != nil {
		f.fail(err)
	}
	if fields == nil {
		return nil
	}
	return f
}

// title is the text of a field that names the place, or empty where it has none.
func title(at *document.Node, field string) string {
	value := at.Lookup(field)
	if value == nil {
		return ""
	}
	text, err := value.Text()
	if err != nil {
		return ""
	}
	return text
}

// fail notes a fault, or the several that are joined in one error, with the
// place in front.
func (f *form) fail(err error) {
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		for _, e := range joined.Unwrap() {
			f.fail(e)
		}
		return
	}
	var fault *document.Error
	if f.where != "" && errors.As(err, &fault) {
		told := *fault
		told.Problem = f.where + ": " + fault.Problem
		told.Field = lastField(fault.Field)
		err = &told
	}
	*f.faults = append(*f.faults, err)
}

// optional reads a field that may be left out; ok is false where it is, or where
// it cannot be read.
func optional[T any](f *form, name string, read func(*document.Node) (T, error)) (value T, ok bool) {
	at := f.Get(name)
	if at == nil {
		return value, false
	}
	value, err := read(at)
	if err != nil {
		f.fail(err)
		return value, false
	}
	return value, true
}

// required reads a field that must be given.
func required[T any](f *form, name string, read func(*document.Node) (T, error)) (value T, ok bool) {
	if _, err := f.Need(name); err != nil {
		f.fail(err)
		return value, false
	}
	return optional(f, name, read)
}

// word reads one word or phrase with a parser.
func word[T any](parse func(string) (T, error)) func(*document.Node) (T, error) {
	return func(at *document.Node) (value T, err error) {
		text, err := at.Text()
		if err != nil {
			return value, err
		}
		if value, err = parse(text); err != nil {
			return value, at.Fail("%v", err)
		}
		return value, nil
	}
}

// words reads one word or a list of them, each given once.
func words[T comparable](parse func(string) (T, error)) func(*document.Node) ([]T, error) {
	return func(at *document.Node) ([]T, error) {
		texts, err := at.Texts()
		if err != nil {
			return nil, err
		}
		if len(texts) == 0 {
			return nil, at.Fail("at least one is expected here")
		}
		var values []T
		var faults []error
		for _, text := range texts {
			value, err := parse(text)
			switch {
			case err != nil:
				faults = append(faults, at.Fail("%v", err))
			case slices.Contains(values, value):
				faults = append(faults, at.Fail("%q is given twice; keep one", text))
			default:
				values = append(values, value)
			}
		}
		return values, errors.Join(faults...)
	}
}

// items reads a list of at least one and at most so many things.
func items(most int, of string) func(*document.Node) ([]*document.Node, error) {
	return func(at *document.Node) ([]*document.Node, error) {
		list, err := at.Items()
		if err != nil {
			return nil, err
		}
		if len(list) == 0 || len(list) > most {
			return nil, at.Fail("%d %s are given; from 1 to %d are expected", len(list), of, most)
		}
		return list, nil
	}
}

// number reads a number in a range.
func number(least, most float64) func(*document.Node) (float64, error) {
	return func(at *document.Node) (float64, error) { return at.Number(least, most) }
}

// whole reads a whole number in a range.
func whole(least, most int) func(*document.Node) (int, error) {
	return func(at *document.Node) (int, error) { return at.Whole(least, most) }
}

// named is a parser of names: they hold none of the reserved characters, which
// have a meaning where names are written, and are more than signs.
func named(what, reserved string) func(string) (string, error) {
	return func(s string) (string, error) {
		if i := strings.IndexAny(s, reserved); i >= 0 {
			return "", fmt.Errorf("a %s may not hold %q", what, s[i:i+1])
		}
		if NameKey(s) == "" {
			return "", fmt.Errorf("a %s needs a letter or a digit", what)
		}
		return s, nil
	}
}

// lastField is the name of a field without the way to it, for a fault that says in
// words where it is; empty for a whole figure, part, variant or step.
func lastField(path string) string {
	name, _, listed := strings.Cut(path[strings.LastIndex(path, ".")+1:], "[")
	if listed && slices.Contains([]string{"figures", "parts", "variants", "steps", "follows"}, name) {
		return ""
	}
	return name
}
