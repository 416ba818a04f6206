package export

import (
	"bufio"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"lapwright/search/label"
	"lapwright/search/network"
)

// Write writes an instance in the form of the package comment. An error tells of a
// name that does not fit on a line, or is the writer's.
func Write(w io.Writer, in *Instance) error {
	if err := in.nameable(); err != nil {
		return err
	}
	b := bufio.NewWriter(w)
	fmt.Fprintf(b, "%s %d\n", form, version)
	if in.Name != "" {
		fmt.Fprintf(b, "name %s\n", in.Name)
	}
	n := in.Network
	fmt.Fprintf(b, "cutoff %d\n", n.Cutoff)
	for i, name := range in.Figures {
		fmt.Fprintf(b, "figure %d %s\n", i, name)
	}
	for i, name := range in.Classes {
		fmt.Fprintf(b, "class %d %s\n", i, name)
	}
	for i := range n.Ways {
		writeWay(b, i, &n.Ways[i])
	}
	writeLimits(b, &in.Limits)
	fmt.Fprintf(b, "nodes %d end %d\n", n.Nodes(), n.End)
	sources := make([]bool, n.Nodes())
	for _, s := range n.Sources {
		sources[s] = true
	}
	for node := range int32(n.Nodes()) {
		fmt.Fprintf(b, "node %d", node)
		if n.Walls[node] >= 0 {
			fmt.Fprintf(b, " wall %d", n.Walls[node])
		}
		if sources[node] {
			b.WriteString(" source")
		}
		b.WriteByte('\n')
		for _, a := range n.Arcs(node) {
			if a.Way == network.Closing {
				fmt.Fprintf(b, "  to %d closes cost %d\n", a.To, a.Cost)
			} else {
				fmt.Fprintf(b, "  to %d way %d cost %d\n", a.To, a.Way, a.Cost)
			}
		}
	}
	return b.Flush()
}

func writeWay(b *bufio.Writer, number int, w *network.Way) {
	fmt.Fprintf(b, "way %d figure %d bars %d", number, w.Figure, w.Bars)
	if w.Right {
		b.WriteString(" right")
	}
	if w.Classes != 0 {
		b.WriteString(" class")
	}
	for c := range most.classes {
		if w.Classes&(1<<c) != 0 {
			fmt.Fprintf(b, " %d", c)
		}
	}
	b.WriteByte('\n')
}

func writeLimits(b *bufio.Writer, l *label.Limits) {
	for _, f := range numbers(l) {
		if *f.value > 0 {
			fmt.Fprintf(b, "limit %s %d\n", f.words, *f.value)
		}
	}
	for _, c := range l.Caps {
		fmt.Fprintf(b, "limit class %d most %d\n", c.Class, c.Most)
	}
	for _, m := range l.Must {
		fmt.Fprintf(b, "limit must figure %d\n", m)
	}
	for _, o := range l.Orders {
		fmt.Fprintf(b, "limit order figure %d figure %d\n", o.First, o.Then)
	}
	for _, f := range l.Fixed {
		fmt.Fprintf(b, "limit fixed figure %d bar %d", f.Figure, f.Bar)
		if f.Wall >= 0 {
			fmt.Fprintf(b, " wall %d", f.Wall)
		}
		b.WriteByte('\n')
	}
}

// number is a limit that is one number.
type number struct {
	words string
	value *int32
}

// numbers are the limits that are one number, in the order in which they are written.
func numbers(l *label.Limits) []number {
	return []number{
		{"least bars", &l.MinBars}, {"most bars", &l.MaxBars}, {"phrase", &l.Phrase}, {"uses", &l.Uses},
		{"apart", &l.Apart}, {"different", &l.Different}, {"right turns", &l.RightTurns},
	}
}

// nameable tells which name cannot be written so that it is read as it was.
func (in *Instance) nameable() error {
	if in.Name != "" && !onLine(in.Name) {
		return fmt.Errorf("export: the name %q does not fit on a line", in.Name)
	}
	for _, names := range [][]string{in.Figures, in.Classes} {
		if i := slices.IndexFunc(names, func(name string) bool { return !onLine(name) }); i >= 0 {
			return fmt.Errorf("export: the name %q does not fit on a line", names[i])
		}
	}
	if len(in.Figures) != in.Network.Figures {
		return fmt.Errorf("export: %d names for %d figures", len(in.Figures), in.Network.Figures)
	}
	if len(in.Classes) > most.classes {
		return fmt.Errorf("export: %d classes; there can be %d", len(in.Classes), most.classes)
	}
	return nil
}

// onLine reports whether words are the same when they are read from a line.
func onLine(words string) bool {
	return words != "" && strings.Join(strings.Fields(words), " ") == words && utf8.ValidString(words) &&
		strings.IndexFunc(words, unicode.IsControl) < 0
}
