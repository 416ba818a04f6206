package classfile

import (
	"fmt"
	"strconv"
	"strings"

	"lapwright/figures/document"
)

// Format writes the file of a class. The same class gives the same text, and [Read]
// reads it back as it was, but for the lines.
func Format(c *Class) []byte {
	var b strings.Builder
	line := func(is bool, name, value string) {
		if is {
			fmt.Fprintf(&b, "%s: %s\n", name, value)
		}
	}
	line(c.Name != "", "name", document.Quoted(c.Name))
	line(c.Dance != "", "dance", document.Quoted(c.Dance))
	line(c.Style != "", "style", string(c.Style))
	line(c.Room != "", "room", document.Quoted(c.Room))
	line(c.Stride > 0, "stride", strconv.FormatFloat(c.Stride, 'f', -1, 64))
	line(c.Tempo > 0, "tempo", strconv.FormatFloat(c.Tempo, 'f', -1, 64))
	b.WriteString("weeks:\n")
	for _, w := range c.Weeks {
		head := "  - "
		for _, of := range []struct{ name, text string }{{"title", w.Title}, {"note", w.Note}} {
			if of.text != "" {
				fmt.Fprintf(&b, "%s%s: %s\n", head, of.name, document.Quoted(of.text))
				head = "    "
			}
		}
		b.WriteString(head + "figures:\n")
		for _, t := range w.Figures {
			b.WriteString("      - " + document.Quoted(t.Name) + "\n")
		}
	}
	return []byte(b.String())
}
