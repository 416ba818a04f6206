package figures

import (
	"fmt"
	"slices"
	"strings"

	"lapwright/figures/geometry"
)

// comes tells on which side of a join a name stands.
type comes int8

const (
	anywhere comes = iota
	comesBefore
	comesAfter
)

// index looks names up in a library, each once.
type index struct {
	library *Library
	seen    map[mention]found
}

// mention is a name on one side of a join.
type mention struct {
	name string
	side comes
}

// found is what a name stands for, or what is wrong with it.
type found struct {
	variants []*Variant
	err      error
}

func newIndex(l *Library) index { return index{l, map[mention]found{}} }

// mentioned is [Library.mentioned], remembered.
func (x index) mentioned(name string, side comes) ([]*Variant, error) {
	m := mention{name, side}
	f, ok := x.seen[m]
	if !ok {
		f.variants, f.err = x.library.mentioned(name, side)
		x.seen[m] = f
	}
	return f.variants, f.err
}

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
