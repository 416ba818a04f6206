package sheet

import (
	"fmt"
	"strconv"
	"strings"
)

// Look is how a mark looks. Colours are #rrggbb; an empty one draws nothing. Lengths
// are in metres.
type Look struct {
	Fill   string
	Stroke string
	Width  float64
	Dash   []float64
	// Round lines have round ends.
	Round bool
	// Bold and spaced are letters.
	Bold   bool
	Spaced float64 // between letters, in heights of letters
}

// Ink is the colour of letters and walls.
const Ink = "#1d2a30"

// looks are those of a lap's drawing, by the class of its marks. The colours of the two
// dancers are told apart by colour-blind people, and by grey alone: the leader's shoes
// are filled, the follower's are not.
var looks = []struct {
	class string
	Look
}{
	{"floor", Look{Fill: "#fbf7ee"}},
	{"wall", Look{Stroke: Ink, Width: 0.09}},
	{"stands", Look{Fill: "#d9d2c3", Stroke: Ink, Width: 0.03}},
	{"lane", Look{Stroke: "#a39a85", Width: 0.035, Dash: []float64{0.22, 0.16}}},
	{"dance", Look{Stroke: "#a39a85", Width: 0.06, Round: true}},
	{"way", Look{Stroke: "#5d6b72", Width: 0.035}},
	{"leader", Look{Fill: "#0f4c75", Stroke: "#0f4c75", Width: 0.012}},
	{"follower", Look{Fill: "#ffffff", Stroke: "#b8480c", Width: 0.026}},
	{"facing", Look{Stroke: Ink, Width: 0.05, Round: true}},
	{"under", Look{Stroke: "#fbf7ee", Width: 0.11, Round: true}},
	{"begins", Look{Fill: "#ffffff", Stroke: Ink, Width: 0.04}},
	{"fault", Look{Stroke: "#8a1c1c", Width: 0.09, Round: true}},
	{"thread", Look{Stroke: "#8b949a", Width: 0.018}},
	{"name", Look{Fill: Ink, Bold: true}},
	{"small", Look{Fill: "#44535b"}},
	{"place", Look{Fill: "#6a6454", Spaced: 0.04}},
	{"head", Look{Fill: Ink, Bold: true}},
	{"bar", Look{Fill: Ink}},
	{"hollow", Look{Fill: "#ffffff", Stroke: Ink, Width: 0.02}},
}

// lookOf is the look of a class of marks.
func lookOf(class string) Look {
	for i := range looks {
		if looks[i].class == class {
			return looks[i].Look
		}
	}
	return Look{Fill: Ink}
}

// css writes the looks as a style sheet, for the drawing of that prefix alone.
func css(prefix string) string {
	var b strings.Builder
	scope := ""
	if prefix != "" {
		scope = "#" + prefix + "drawing "
	}
	fmt.Fprintf(&b, "\n    "+scope+"text { font-family: %s; fill: %s }\n", face, Ink)
	for i := range looks {
		fmt.Fprintf(&b, "    %s.%s { %s }\n", scope, looks[i].class, looks[i].css())
	}
	return b.String()
}

// face is the letters of an SVG drawing: whatever plain face there is.
const face = `"Helvetica Neue", Helvetica, Arial, "Liberation Sans", sans-serif`

func (l Look) css() string {
	fill := l.Fill
	if fill == "" {
		fill = "none"
	}
	words := []string{"fill: " + fill}
	if l.Stroke != "" {
		words = append(words, "stroke: "+l.Stroke, "stroke-width: "+num(l.Width), "stroke-linejoin: round")
	}
	if len(l.Dash) > 0 {
		words = append(words, "stroke-dasharray: "+num(l.Dash[0])+" "+num(l.Dash[1]))
	}
	if l.Round {
		words = append(words, "stroke-linecap: round")
	}
	if l.Bold {
		words = append(words, "font-weight: 600")
	}
	if l.Spaced > 0 {
		words = append(words, "letter-spacing: "+strconv.FormatFloat(l.Spaced, 'f', -1, 64)+"em")
	}
	return strings.Join(words, "; ")
}
