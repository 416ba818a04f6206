package figures

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"lapwright/figures/document"
)

// Bounds of what a library file may hold.
const (
	maxFigures  = 2000
	maxListings = 40 // of a figure
	maxVariants = 100
	maxParts    = 100
	maxSteps    = 64 // of a part, and of a variant
	maxBeats    = 12 // of a step
	maxStrides  = 3
)

// Load reads a library file and checks that every figure in it can be danced by
// the couple. It refuses a file with any fault and tells all of them, in the
// order of their lines: each a [*document.Error] with file, line, figure and
// step, joined in one error.
func Load(file string, data []byte, c Couple) (*Library, error) {
	return Empty().Extend(file, data, c)
}

// Extend reads a further library file, as [Load] does, and returns a library
// with both: a figure that has the name of one of l's takes its place, and its
// variants may be made of l's parts. What the trade dances before and after a
// figure ([Follows]) is kept by its name. The library l itself stays as it is.
func (l *Library) Extend(file string, data []byte, c Couple) (*Library, error) {
	more, err := read(file, data)
	if err != nil {
		return nil, err
	}
	return l.extend(more, c)
}

// extend is [Library.Extend] with a file that has been read.
func (l *Library) extend(more *loader, c Couple) (*Library, error) {
	if err := more.build(l, c); err != nil {
		return nil, err
	}
	return l.whole(more), nil
}

// whole is the library with everything that was read and built on top of it.
func (l *Library) whole(more *loader) *Library {
	whole := l.some(more, more.figures)
	whole.follows = newFollows(whole, more.rows(l))
	return whole
}

// some is the library with some of the figures that were read on top of it, and
// what it has of follows itself.
func (l *Library) some(more *loader, figures []*Figure) *Library {
	parts := maps.Clone(l.parts)
	maps.Copy(parts, more.parts)
	some := newLibrary(l.with(figures), parts)
	some.follows = l.follows
	return some
}

// with lists the figures of l with further ones, which take the place of those
// of the same name.
func (l *Library) with(more []*Figure) []*Figure {
	figures := l.Figures()
	for _, f := range more {
		if i, ok := l.at[NameKey(f.Name)]; ok {
			figures[i] = f
		} else {
			figures = append(figures, f)
		}
	}
	return figures
}

// read reads what one file says by itself.
func read(file string, data []byte) (*loader, error) {
	doc, err := document.Parse(file, data)
	if err != nil {
		return nil, err
	}
	l := &loader{own: map[string]*Figure{}, parts: map[partKey]*part{}}
	if top := open(doc, "", &l.faults, "dance", "beats", "figures", "follows"); top != nil {
		l.dance, _ = required(top, "dance", (*document.Node).Text)
		if top.Get("figures") != nil || top.Get("follows") == nil { // there may be follows only
			l.beats, _ = required(top, "beats", whole(2, 4))
			list, _ := required(top, "figures", items(maxFigures, "figures"))
			for i, it := range list {
				l.readFigure(it, i+1)
			}
		}
		l.readFollows(top)
	}
	return l, nil
}

// build makes the figures that were read, on top of a library, and tells every
// fault.
func (l *loader) build(base *Library, c Couple) error {
	l.assembleOn(base)
	l.check(c)
	slices.SortStableFunc(l.faults, func(a, b error) int { return cmp.Compare(faultLine(a), faultLine(b)) })
	return errors.Join(l.faults...)
}

// assembleOn makes the figures that were read, on top of a library; what cannot be
// read as figures is among the faults then.
func (l *loader) assembleOn(base *Library) {
	l.base = base
	l.assemble()
	l.names()
	l.checkFollows()
}

// faultLine is the line of a fault in the file.
func faultLine(err error) int {
	var fault *document.Error
	if errors.As(err, &fault) {
		return fault.Line
	}
	return 0
}

// loader gathers figures and faults of a file. It reads all figures and their parts
// first, so that a variant may be made of parts of a figure further down.
type loader struct {
	base    *Library // on top of which the file is read
	dance   string
	beats   int
	figures []*Figure
	own     map[string]*Figure // by name, as NameKey folds it: the first of each
	drafts  []draft
	parts   map[partKey]*part
	follows []followsDraft
	// inFollows is how many of the faults are in those rows themselves.
	inFollows int
	faults    []error
	heads     []head
}

// head is where a figure of the file begins, also one that cannot be read.
type head struct {
	name   string // or its number, where it has no name
	line   int
	figure *Figure // nil where it has no name
}

// part is a run of steps that variants are made of.
type part struct {
	facing Heading // of the leader, when the part begins and its directions hold
	steps  []Step
	broken bool // it has faults of its own, already told
}

// partKey is what a part is found by.
type partKey struct {
	of   *Figure
	name string // as NameKey folds it
}

// draft is a variant whose parts are not yet put together.
type draft struct {
	*form
	variant *Variant
	parts   []string
	from    []Heading
	holds   []Hold
}

// readFigure reads one figure; number is its place in the file, from 1.
func (l *loader) readFigure(at *document.Node, number int) {
	where := title(at, "name")
	if where == "" {
		where = fmt.Sprintf("figure %d", number)
	}
	l.heads = append(l.heads, head{where, at.Line(), nil})
	f := open(at, where, &l.faults,
		"name", "also", "levels", "family", "note", "source", "from", "hold", "parts", "variants")
	if f == nil {
		return
	}
	name := named("figure's name", "(),/")
	fig := &Figure{Dance: l.dance, Beats: l.beats, File: at.File(), Line: at.Line()}
	var ok bool
	if fig.Name, ok = required(f, "name", word(name)); ok {
		l.figures = append(l.figures, fig)
		l.heads[len(l.heads)-1].figure = fig
		if key := NameKey(fig.Name); l.own[key] == nil {
			l.own[key] = fig
		}
	}
	fig.Also, _ = optional(f, "also", words(name))
	fig.Levels = f.listings()
	fig.Family, _ = required(f, "family", (*document.Node).Text)
	fig.Note, _ = optional(f, "note", (*document.Node).Text)
	fig.Source, _ = optional(f, "source", (*document.Node).Text)
	// A figure that is made of another one's parts may have none of its own.
	parts, _ := optional(f, "parts", (*document.Node).Items)
	if len(parts) > maxParts {
		f.fail(f.Get("parts").Fail("%d parts are given; at most %d are expected", len(parts), maxParts))
		parts = nil
	}
	for i, p := range parts {
		l.readPart(fig, f.where, p, i+1)
	}
	variants, _ := required(f, "variants", items(maxVariants, "variants"))
	for i, v := range variants {
		l.readVariant(fig, f, v, i)
	}
}

// ParseLevel reads the name of a level: social, bronze, silver or gold.
func ParseLevel(s string) (Level, error) {
	if l := Level(strings.ToLower(strings.TrimSpace(s))); slices.Contains(Levels, l) {
		return l, nil
	}
	return "", fmt.Errorf("%q is not a level: write one of social, bronze, silver, gold", s)
}

// readPart reads one part of a figure; number is its place among them, from 1.
func (l *loader) readPart(of *Figure, where string, at *document.Node, number int) {
	before := len(l.faults)
	if name := title(at, "part"); name != "" {
		where += ", part " + name
	} else {
		where += fmt.Sprintf(", part %d", number)
	}
	f := open(at, where, &l.faults, "part", "facing", "steps")
	if f == nil {
		return
	}
	name, ok := required(f, "part", word(named("part's name", "")))
	p := &part{}
	p.facing, _ = required(f, "facing", word(parseFront))
	steps, _ := required(f, "steps", items(maxSteps, "steps"))
	for i, item := range steps {
		p.steps = append(p.steps, readStep(item, fmt.Sprintf("%s, step %d", f.where, i+1), &l.faults))
	}
	p.broken = len(l.faults) > before
	switch key := (partKey{of, NameKey(name)}); {
	case !ok:
	case l.parts[key] != nil:
		f.fail(at.Fail("the figure has two parts with the name %q; name them differently", name))
	default:
		l.parts[key] = p
	}
}

// readVariant reads one variant as a draft; place counts it among the
// figure's variants, from 0.
func (l *loader) readVariant(fig *Figure, defaults *form, at *document.Node, place int) {
	before := len(l.faults)
	where := defaults.where
	if label := title(at, "label"); label != "" {
		where += " (" + label + ")"
	} else if place > 0 {
		where += fmt.Sprintf(", variant %d", place+1)
	}
	f := open(at, where, &l.faults,
		"label", "parts", "from", "hold", "awkward", "corner")
	if f == nil {
		return
	}
	v := &Variant{Figure: fig, Line: at.Line()}
	v.Label, _ = optional(f, "label", word(named("variant's label", "(),")))
	if f.Get("label") == nil && place > 0 {
		f.fail(at.Fail("\"label\" is missing; only a figure's first variant, the usual one, goes without"))
	}
	v.Awkward, _ = optional(f, "awkward", number(0, 100))
	v.Corner, _ = optional(f, "corner", (*document.Node).YesNo)
	d := draft{form: f, variant: v}
	d.parts, _ = required(f, "parts", (*document.Node).Texts)
	d.from, _ = inherited(f, defaults, "from", words(parseFront))
	d.holds, _ = inherited(f, defaults, "hold", words(ParseHold))
	if len(l.faults) == before && fig.Name != "" {
		l.drafts = append(l.drafts, d)
	}
}

// inherited reads a field that may be given for the whole figure instead.
func inherited[T any](f, defaults *form, name string, read func(*document.Node) (T, error)) (T, bool) {
	if f.Get(name) == nil && defaults.Get(name) != nil {
		return optional(&form{defaults.Fields, f.where, f.faults}, name, read)
	}
	return required(f, name, read)
}
