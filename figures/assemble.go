package figures

import (
	"fmt"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"lapwright/figures/document"
)

// assemble makes the variants from their parts.
func (l *loader) assemble() {
	for i := range l.drafts {
		if v := l.assembleOne(&l.drafts[i]); v != nil {
			v.Figure.Variants = append(v.Figure.Variants, v)
		}
	}
}

// assembleOne puts the parts of a draft one after the other: each is turned to
// where the one before it ended. It is nil where a part is missing or has faults.
func (l *loader) assembleOne(d *draft) *Variant {
	v := d.variant
	heading, hold, free := d.from[0].Turn(), d.holds[0], NoFoot
	missing := false
	for _, name := range d.parts {
		if p := l.part(v.Figure, name); p == nil || p.broken {
			missing = true
			if p == nil {
				d.fail(d.Get("parts").Fail("%s", l.noPart(v.Figure, name)))
			}
		}
	}
	if missing {
		return nil
	}
	for _, name := range d.parts {
		p := l.part(v.Figure, name)
		rotation := heading - p.facing.Turn()
		for _, step := range p.steps {
			step.Toward = (step.Toward + rotation).Direction()
			step.Hold = step.holdAfter(hold)
			hold = step.Hold
			heading += step.turns()
			if free == NoFoot {
				free = step.Actions[Leader].Foot
			}
			v.Steps = append(v.Steps, step)
		}
		if len(v.Steps) > maxSteps {
			d.fail(d.Get("parts").Fail("the parts make more than %d steps; a variant may have no more", maxSteps))
			return nil
		}
	}
	if free == NoFoot {
		d.fail(d.Fail("the leader takes no step at all"))
		return nil
	}
	for _, h := range d.holds {
		for _, from := range d.from {
			v.Entries = append(v.Entries, Stance{from, free, h})
		}
	}
	return v
}

// part finds a part of the figure, or of another one named figure/part.
func (l *loader) part(of *Figure, name string) *part {
	if p := l.parts[partKey{of, NameKey(name)}]; p != nil {
		return p
	}
	other, part, ok := strings.Cut(name, "/")
	if !ok {
		return nil
	}
	figure := NameKey(other)
	if f := l.own[figure]; f != nil {
		// Where it takes the place of another figure, that one's parts have gone.
		return l.parts[partKey{f, NameKey(part)}]
	}
	if i, ok := l.base.at[figure]; ok {
		return l.base.parts[partKey{l.base.figures[i], NameKey(part)}]
	}
	return nil
}

// names refuses names that a reader could take for one another.
func (l *loader) names() {
	refuse := func(f *Figure, line int, field, format string, args ...any) {
		l.faults = append(l.faults, &document.Error{File: f.File, Line: line, Field: field,
			Problem: f.Name + ": " + fmt.Sprintf(format, args...)})
	}
	taken := map[string]*Figure{}
	for _, old := range l.base.figures {
		replaced := l.own[NameKey(old.Name)] != nil
		for _, name := range append([]string{old.Name}, old.Also...) {
			if !replaced {
				taken[NameKey(name)] = old
			}
		}
	}
	for _, f := range l.figures {
		for i, name := range append([]string{f.Name}, f.Also...) {
			field := "name"
			if i > 0 {
				field = "also"
			}
			key := NameKey(name)
			switch other := taken[key]; {
			case other == nil:
				taken[key] = f
			case other == f:
				refuse(f, f.Line, field, "the name %q is given to it twice; names that differ in no more than case, accents, spaces or dashes are the same", name)
			case !slices.Contains(l.figures, other) && i == 0: // of its own name it would take the place
				refuse(f, f.Line, field, "the name %q is another name of %s, %s; call it %s to take that one's place, or else by a name of its own",
					name, other.Name, f.lineOf(other), other.Name)
			case !slices.Contains(l.figures, other):
				refuse(f, f.Line, field, "the name %q is that of %s, %s; leave it out here, or take that figure's place by its own name",
					name, other.Name, f.lineOf(other))
			default:
				refuse(f, f.Line, field, "the name %q is taken by the figure %s; two figures need names that differ in more than case, accents, spaces or dashes", name, f.lineOf(other))
			}
		}
	}
	type label struct {
		of  *Figure
		key string
	}
	labels := map[label]bool{}
	for _, d := range l.drafts {
		v := d.variant
		key := label{v.Figure, NameKey(v.Label)}
		if labels[key] {
			refuse(v.Figure, v.Line, "label", "two variants have the label %q; they need labels that differ in more than case, accents, spaces or dashes", v.Label)
		}
		labels[key] = true
	}
}

// lineOf says where another figure stands, from the file of this one.
func (f *Figure) lineOf(other *Figure) string {
	if f.File == other.File {
		return fmt.Sprintf("on line %d", other.Line)
	}
	return fmt.Sprintf("on line %d of %s", other.Line, other.File)
}

// check refuses what cannot be danced.
func (l *loader) check(c Couple) {
	// Figures are danced side by side, as many as there are processors; their
	// faults are told in the order of the file.
	found := make([][]error, len(l.figures))
	var next atomic.Int32
	var dancing sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(l.figures)) {
		dancing.Go(func() {
			for i := int(next.Add(1)) - 1; i < len(l.figures); i = int(next.Add(1)) - 1 {
				found[i] = l.figures[i].undanceable(c)
			}
		})
	}
	dancing.Wait()
	l.faults = append(l.faults, slices.Concat(found...)...)
}

// undanceable tells every reason why a figure cannot be danced.
func (f *Figure) undanceable(c Couple) []error {
	var faults []error
	for _, v := range f.Variants {
		for _, fault := range v.Faults(c) {
			line := v.Line
			if fault.Step > 0 {
				line = v.Steps[fault.Step-1].Line
			}
			faults = append(faults, &document.Error{File: f.File, Line: line, Problem: v.Name() + fault.after()})
		}
	}
	return faults
}
