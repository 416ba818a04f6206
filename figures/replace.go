package figures

import (
	"fmt"
	"strings"
)

// A figure may be made of parts of other figures, and may take the place of one
// that has its name. Both together could go round in a circle: a figure made of
// parts that went when it, or a figure that it is made of, took another's place.
// So the parts of a figure go with it, and whoever needs one is refused.

// noPart says why there is no part of a name for a figure.
func (l *loader) noPart(of *Figure, name string) string {
	otherName, part, _ := strings.Cut(name, "/")
	other := l.own[NameKey(otherName)]
	old := l.replaced(other)
	if old == nil || l.base.parts[partKey{old, NameKey(part)}] == nil {
		return fmt.Sprintf("there is no part %q; the parts of a figure stand under its \"parts\", those of another are named figure/part", name)
	}
	gone := fmt.Sprintf("the part %q goes with the figure %s, whose place ", name, of.lineOf(old))
	if other == of {
		return gone + "this one takes: a figure cannot be made of what it replaces; write the steps out here, or give it a name of its own"
	}
	gone += other.Name + " takes"
	if round := l.wayBack(other, of, map[*Figure]bool{}); round != nil {
		names := []string{of.Name}
		for _, f := range round {
			names = append(names, f.Name)
		}
		return fmt.Sprintf("%s, and these figures go round in a circle, each made of a part of the next that the next has replaced: %s; write the steps of one of them out",
			gone, strings.Join(names, ", "))
	}
	return gone + "; give that figure such a part, or write the steps out here"
}

// replaced is the figure whose place one of this file takes, or nil.
func (l *loader) replaced(f *Figure) *Figure {
	if f == nil {
		return nil
	}
	if i, ok := l.base.at[NameKey(f.Name)]; ok {
		return l.base.figures[i]
	}
	return nil
}

// wayBack is a chain of figures from one to another in which each needs a part
// that went when the next took another figure's place; nil where there is none.
func (l *loader) wayBack(from, to *Figure, been map[*Figure]bool) []*Figure {
	if from == to {
		return []*Figure{to}
	}
	been[from] = true
	for i := range l.drafts {
		d := &l.drafts[i]
		if d.variant.Figure != from {
			continue
		}
		for _, name := range d.parts {
			head, part, _ := strings.Cut(name, "/")
			next := l.own[NameKey(head)]
			old := l.replaced(next)
			lost := old != nil && l.part(from, name) == nil && l.base.parts[partKey{old, NameKey(part)}] != nil
			if !lost || been[next] {
				continue
			}
			if chain := l.wayBack(next, to, been); chain != nil {
				return append([]*Figure{from}, chain...)
			}
		}
	}
	return nil
}
