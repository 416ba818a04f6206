package figures

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Find finds a figure and the way of dancing it by name, as [Library.Variant] does; an
// error says in one sentence what there is instead.
func (l *Library) Find(name string) (*Variant, error) {
	if v, ok := l.Variant(name); ok {
		return v, nil
	}
	head, _, _ := strings.Cut(name, "(")
	if f, ok := l.Figure(head); ok {
		var ways []string
		for _, v := range f.Variants {
			ways = append(ways, v.Name())
		}
		return nil, fmt.Errorf("%q is not a way of dancing %s; there are: %s", name, f.Name, strings.Join(ways, ", "))
	}
	return nil, l.Unknown(strings.TrimSpace(name))
}

// Ways finds all ways of dancing a figure by its name; a way of dancing in brackets
// stands for itself only. An error says in one sentence what there is instead.
func (l *Library) Ways(name string) ([]*Variant, error) {
	name = strings.TrimSpace(name)
	if f, ok := l.Figure(name); ok && !strings.Contains(name, "(") {
		return slices.Clone(f.Variants), nil
	}
	v, err := l.Find(name)
	if err != nil {
		return nil, err
	}
	return []*Variant{v}, nil
}

// Unknown says that there is no figure of a name, and which names come nearest.
func (l *Library) Unknown(name string) error {
	head, _, _ := strings.Cut(name, "(")
	if near := l.Nearest(head, 3); len(near) > 0 {
		return fmt.Errorf("there is no figure %q; the nearest names are: %s", name, strings.Join(near, ", "))
	}
	return fmt.Errorf("there is no figure %q, nor one with a name like it", name)
}

// The strides that have a name, in metres, are read by [ParseStride].
var strideNames = map[string]float64{"usual": UsualStride, "social": SocialStride, "crowded": CrowdedStride}

// ParseStride reads a stride: usual, social, crowded, or metres from [LeastStride] to
// [MostStride].
func ParseStride(s string) (metres float64, err error) {
	words := strings.ToLower(strings.TrimSpace(s))
	if metres, ok := strideNames[words]; ok {
		return metres, nil
	}
	metres, err = strconv.ParseFloat(words, 64)
	if err != nil || !(metres >= LeastStride && metres <= MostStride) {
		return 0, fmt.Errorf("%q is not a stride: write usual, social, crowded or metres from %g to %g", s, LeastStride, MostStride)
	}
	return metres, nil
}
