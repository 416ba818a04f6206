package graph_test

import (
	"bytes"
	"errors"
	"fmt"
	"html"
	"maps"
	"strconv"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"gonum.org/v1/gonum/graph/formats/dot"
	"gonum.org/v1/gonum/graph/formats/dot/ast"
	"pgregory.net/rapid"

	"lapwright/figures"
	"lapwright/graph"
)

// arrow is an edge as a drawing program reads it.
type arrow struct {
	from, to, label string
	style           string
}

// read parses a drawing with gonum's parser of the DOT language and returns its
// boxes and its arrows, each with the number of times that it is drawn.
func read(t rapid.TB, g *graph.Graph) (boxes map[string]int, arrows map[arrow]int) {
	t.Helper()
	var out bytes.Buffer
	if err := g.DOT(&out); err != nil {
		t.Fatal(err)
	}
	file, err := dot.ParseBytes(out.Bytes())
	if err != nil {
		t.Fatalf("%v in\n%s", err, &out)
	}
	if len(file.Graphs) != 1 || !file.Graphs[0].Directed || file.Graphs[0].Strict {
		t.Fatalf("it is not one directed graph with parallel arrows:\n%s", &out)
	}
	boxes, arrows = map[string]int{}, map[arrow]int{}
	for _, stmt := range file.Graphs[0].Stmts {
		switch s := stmt.(type) {
		case *ast.NodeStmt:
			boxes[unquote(t, s.Node.ID)]++
		case *ast.EdgeStmt:
			a := arrow{from: unquote(t, s.From.(*ast.Node).ID), to: unquote(t, s.To.Vertex.(*ast.Node).ID)}
			for _, attr := range s.Attrs {
				switch attr.Key {
				case "label":
					a.label = html.UnescapeString(unquote(t, attr.Val))
				case "style":
					a.style = attr.Val
				}
			}
			arrows[a]++
		}
	}
	return boxes, arrows
}

func unquote(t rapid.TB, s string) string {
	t.Helper()
	words, err := strconv.Unquote(s)
	if err != nil {
		t.Fatalf("%s: %v", s, err)
	}
	return words
}

// A drawing holds every stance, every figure and every corner, and nothing else.
func TestDOTReadsBack(t *testing.T) {
	forLibraries(t, func(t rapid.TB, _ []*figures.Variant, _ []int, g *graph.Graph) {
		boxes, arrows := read(t, g)
		wantBoxes, wantArrows := map[string]int{}, map[arrow]int{}
		for _, s := range g.Stances() {
			wantBoxes[s.Short()]++
		}
		for _, e := range g.Edges() {
			style := ""
			if e.Variant.Corner {
				style = "dotted"
			}
			wantArrows[arrow{e.From.Short(), e.To.Short(), e.Variant.Name(), style}]++
		}
		for _, c := range g.Corners() {
			wantArrows[arrow{c.From.Short(), c.To.Short(), fmt.Sprintf("corner %+d/8", c.Eighths), "dashed"}]++
		}
		if !maps.Equal(boxes, wantBoxes) {
			t.Errorf("boxes %v, want %v", boxes, wantBoxes)
		}
		if !maps.Equal(arrows, wantArrows) {
			t.Errorf("arrows %v, want %v", arrows, wantArrows)
		}
	})
}

// named is the label that a drawing gives to a figure of that name.
func named(t rapid.TB, name string) string {
	v := &figures.Variant{
		Figure:  &figures.Figure{Name: name, Beats: 3},
		Entries: []figures.Stance{{Free: figures.LeftFoot}},
	}
	_, arrows := read(t, graph.New([]*figures.Variant{v}))
	if len(arrows) != 1 {
		t.Fatalf("%q: arrows %v", name, arrows)
	}
	for a := range arrows {
		return a.label
	}
	return ""
}

func TestDOTEscapesNames(t *testing.T) {
	for name, want := range map[string]string{
		`Chassé à gauche`:            `Chassé à gauche`,
		`the "open" turn`:            `the "open" turn`,
		`back\slash`:                 `back\slash`,
		`ends in a backslash \`:      `ends in a backslash \`,
		`\" both`:                    `\" both`,
		`\N \L \n are no codes`:      `\N \L \n are no codes`,
		"two\nlines":                 "two\nlines",
		"two\r\nlines":               "two\nlines",
		"rock & roll":                "rock & roll",
		"no entity &quot; &amp; &#9": "no entity &quot; &amp; &#9",
		"<b>no markup</b>":           "<b>no markup</b>",
		"tab\tand bell\a":            "tab and bell ",
		"broken \xff letter":         "broken ? letter",
		"nothing \x00":               "nothing  ",
		"// no comment # /* */":      "// no comment # /* */",
		"ワルツ ☺ e\u0301":              "ワルツ ☺ e\u0301",
		"];}":                        "];}",
		"":                           "",
	} {
		if got := named(t, name); got != want {
			t.Errorf("%q reads %q, want %q", name, got, want)
		}
	}
}

// Whatever a figure is called, the drawing opens, and reads the same name if
// that is text.
func FuzzDOTNames(f *testing.F) {
	for _, name := range []string{"Chassé", `"`, `\`, `\"`, "\n", "&amp;", "\x00\xff", "<i>", "{|}", "\u2028", "\U0010ffff"} {
		f.Add(name)
	}
	f.Fuzz(func(t *testing.T, name string) {
		got := named(t, name)
		odd := func(r rune) bool { return r != '\n' && unicode.IsControl(r) || r == utf8.RuneError }
		if !strings.ContainsFunc(name, odd) && got != name {
			t.Errorf("%q reads %q", name, got)
		}
	})
}

// full is a writer with no room left.
type full struct{}

var errFull = errors.New("no room left")

func (full) Write([]byte) (int, error) { return 0, errFull }

func TestDOTTellsTheWritersError(t *testing.T) {
	for _, variants := range [][]*figures.Variant{nil, figures.BuiltIn().Variants()} {
		if err := graph.New(variants).DOT(full{}); !errors.Is(err, errFull) {
			t.Errorf("got %v", err)
		}
	}
}

func TestDOTIsTheSameEveryTime(t *testing.T) {
	var first, again bytes.Buffer
	variants := figures.BuiltIn().Variants()
	if err := errors.Join(graph.New(variants, -2).DOT(&first), graph.New(variants, -2).DOT(&again)); err != nil {
		t.Fatal(err)
	}
	if first.String() != again.String() {
		t.Error("two drawings of the same graph differ")
	}
}
