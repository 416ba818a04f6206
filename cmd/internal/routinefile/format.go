package routinefile

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"lapwright/figures/document"
	"lapwright/search/routine"
)

// Format writes the file of a routine. The same routine gives the same text, and
// [Read] reads it back as it was: places to a tenth of a millimetre, scales and
// strides exactly.
func Format(f *File) []byte {
	var b strings.Builder
	line := func(name, value string) { fmt.Fprintf(&b, "%s: %s\n", name, value) }
	if f.Name != "" {
		line("name", document.Quoted(f.Name))
	}
	if f.Dance != "" {
		line("dance", document.Quoted(f.Dance))
	}
	if f.Room != "" {
		line("room", document.Quoted(f.Room))
	}
	if f.Stride > 0 {
		line("stride", number(f.Stride))
	}
	if f.Tempo > 0 {
		line("tempo", number(f.Tempo))
	}
	if f.Margin >= 0 {
		line("margin", number(f.Margin))
	}
	switch {
	case f.Lap && f.Laps > 1:
		line("laps", strconv.Itoa(f.Laps))
	case f.Lap:
		line("lap", "yes")
	}
	if f.Made != "" {
		line("made by", document.Quoted(f.Made))
	}
	s := f.Start
	var start []string
	if s.At != nil {
		start = append(start, fmt.Sprintf("at: [%s, %s]", metres(s.At.X), metres(s.At.Y)))
	}
	start = append(start, fmt.Sprintf("wall: %d", s.Wall+1), "facing: "+s.Stance.Facing.Short(),
		"free foot: "+s.Stance.Free.Short(), "hold: "+s.Stance.Hold.String())
	line("start", "{"+strings.Join(start, ", ")+"}")
	b.WriteString("figures:\n")
	for _, step := range f.Steps {
		b.WriteString("  - " + figure(step) + "\n")
	}
	return []byte(b.String())
}

// figure writes one figure: its name, or fields where there is more to say.
func figure(s routine.Step) string {
	name := document.Quoted(s.Variant.Name())
	more := ""
	if s.Scale != 1 {
		more += ", scale: " + number(s.Scale)
	}
	switch s.Corner {
	case routine.Take:
		more += ", wall: next"
	case routine.Stay:
		more += ", wall: same"
	}
	if more == "" {
		return name
	}
	return "{figure: " + name + more + "}"
}

// metres writes a place's number without the last digits of a sum.
func metres(x float64) string { return number(math.Round(x*1e4)/1e4 + 0) }
