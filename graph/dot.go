package graph

import (
	"bufio"
	"fmt"
	"io"
	"strings"
	"unicode"
)

// DOT writes the graph in the DOT language, for any program that draws it. A
// stance is a box with its short form (DW RF closed); every figure is an arrow
// with its name, parallel ones each, dotted if it is danced at a corner only; a
// corner is a dashed arrow with the eighths of a turn that it adds to the heading. The order is that of [Graph.Edges] and
// [Graph.Corners]. The only errors are those of the writer.
//
// Names may hold any letter. In a label DOT gives a meaning to quotes,
// backslashes and the ampersand, so these are escaped; a line break stays one,
// and what is no text (other control characters, broken UTF-8) becomes a space
// or a question mark.
func (g *Graph) DOT(w io.Writer) error {
	out := bufio.NewWriter(w)
	fmt.Fprint(out, "digraph figures {\n\trankdir=LR;\n\tnode [shape=box];\n")
	for _, s := range g.stances {
		fmt.Fprintf(out, "\t%s;\n", quoted(s.Short()))
	}
	for _, e := range g.edges {
		style := ""
		if e.Variant.Corner {
			style = ", style=dotted"
		}
		fmt.Fprintf(out, "\t%s -> %s [label=%s%s];\n", quoted(e.From.Short()), quoted(e.To.Short()), quoted(name(e.Variant)), style)
	}
	for _, c := range g.Corners() {
		fmt.Fprintf(out, "\t%s -> %s [label=%s, style=dashed];\n",
			quoted(c.From.Short()), quoted(c.To.Short()), quoted(fmt.Sprintf("corner %+d/8", c.Eighths)))
	}
	fmt.Fprint(out, "}\n")
	return out.Flush()
}

// quoted writes words as a quoted string that reads as those words in a label
// (Graphviz, The DOT Language, and Attribute type escString).
func quoted(words string) string {
	var b strings.Builder
	b.WriteByte('"')
	words = strings.ReplaceAll(words, "\r\n", "\n")
	for _, r := range words {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\n' || r == '\r':
			b.WriteString(`\n`)
		case r == '&':
			b.WriteString("&amp;")
		case r == unicode.ReplacementChar:
			b.WriteByte('?')
		case unicode.IsControl(r):
			b.WriteByte(' ')
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
