package answer

import (
	"fmt"
	"strings"

	"lapwright/figures"
	"lapwright/graph"
)

// FileOfFigures is what there is to say about somebody's own figures.
type FileOfFigures struct {
	File string `json:"file"`
	// Readable tells that all of it is figures; Danceable that all of them can
	// be danced as well.
	Readable  bool            `json:"readable"`
	Danceable bool            `json:"danceable"`
	Faults    []FigureFault   `json:"faults"` // outside the figures
	Figures   []CheckedFigure `json:"figures"`
}

// CheckedFigure is what there is to say about one figure of a file.
type CheckedFigure struct {
	Name      string `json:"name"`
	Line      int    `json:"line"` // in the file
	Danceable bool   `json:"danceable"`
	// Replaces names the file of the figure whose place it takes, or "built-in";
	// empty where it is a new one.
	Replaces string        `json:"replaces"`
	Ways     []CheckedWay  `json:"ways"`
	Faults   []FigureFault `json:"faults"`
	Warnings []Warning     `json:"warnings"`
}

// CheckedWay is one way of dancing a figure, from its first beginning; its
// measures mean something only where the figure is danceable.
type CheckedWay struct {
	Name     string   `json:"name"`
	Line     int      `json:"line"`
	Measures Measures `json:"measures"`
}

// FigureFault is a reason why a figure cannot be read or danced.
type FigureFault struct {
	Kind  string `json:"kind"`  // reading or dancing
	Line  int    `json:"line"`  // in the file; 0 where there is none
	Field string `json:"field"` // that cannot be read; may be empty
	Way   string `json:"way"`   // of dancing; empty where it cannot be read
	Step  int    `json:"step"`  // from 1; 0 where it is no step's
	Words string `json:"words"`
}

// Warning is something that is meant as it is, perhaps.
type Warning struct {
	// Kind is replaces, ends (where no other figure begins), begins (where no
	// other figure ends) or join (which the feet do not allow).
	Kind  string `json:"kind"`
	Words string `json:"words"`
}

// NewFileOfFigures is the answer about a file that was examined on top of a
// library. The graph, of everything that can be danced then, is asked where the
// figures lead.
func NewFileOfFigures(file string, x *figures.Examination, g *graph.Graph, c figures.Couple) FileOfFigures {
	out := FileOfFigures{File: file, Readable: len(x.Unread) == 0, Danceable: len(x.Unread) == 0,
		Faults: figureFaults(x.Unread, "reading"), Figures: []CheckedFigure{}}
	for i := range x.Figures {
		e := &x.Figures[i]
		f := CheckedFigure{Name: e.Name, Line: e.Line, Danceable: e.Danceable(), Replaces: replaced(e.Replaces), Ways: []CheckedWay{},
			Faults: append(figureFaults(e.Unread, "reading"), figureFaults(e.Undanced, "dancing")...), Warnings: []Warning{}}
		out.Readable = out.Readable && len(e.Unread) == 0
		out.Danceable = out.Danceable && f.Danceable
		if f.Replaces != "" {
			f.Warnings = append(f.Warnings, Warning{"replaces", fmt.Sprintf("it takes the place of %s", place(e.Replaces))})
		}
		if f.Danceable {
			for _, v := range e.Figure.Variants {
				f.Ways = append(f.Ways, CheckedWay{v.Name(), v.Line, NewMeasures(v.Dance(v.Entries[0], c).Measures())})
				f.Warnings = append(f.Warnings, looseEnds(g, v)...)
			}
			f.Warnings = append(f.Warnings, stumbles(g, e.Figure, c)...)
		}
		out.Figures = append(out.Figures, f)
	}
	return out
}

// replaced names where a figure comes from.
func replaced(f *figures.Figure) string {
	switch {
	case f == nil:
		return ""
	case builtIn(f):
		return "built-in"
	}
	return f.File
}

func place(f *figures.Figure) string {
	if builtIn(f) {
		return "the built-in " + f.Name
	}
	return f.Name + " of " + f.File
}

func builtIn(f *figures.Figure) bool {
	known, ok := figures.BuiltIn().Figure(f.Name)
	return ok && known == f
}

func figureFaults(all []figures.Trouble, kind string) []FigureFault {
	out := []FigureFault{}
	for _, t := range all {
		way := ""
		if t.Variant != nil {
			way = t.Variant.Name()
		}
		out = append(out, FigureFault{kind, t.Line, t.Field, way, t.Step, t.Reason})
	}
	return out
}

// looseEnds warns of ends and beginnings at which nothing else is met.
func looseEnds(g *graph.Graph, v *figures.Variant) (all []Warning) {
	for _, s := range g.LooseEnds(v) {
		all = append(all, Warning{"ends", fmt.Sprintf("%s ends %s: nothing else in the library begins so", v.Name(), s)})
	}
	if loose := g.LooseBeginnings(v); len(loose) == len(v.Entries) {
		var words []string
		for _, s := range loose {
			words = append(words, s.String())
		}
		all = append(all, Warning{"begins", fmt.Sprintf("%s begins %s: nothing else in the library leads there", v.Name(), strings.Join(words, ", or "))})
	}
	return all
}

// stumbles warns of joins that the feet do not allow.
func stumbles(g *graph.Graph, f *figures.Figure, c figures.Couple) (all []Warning) {
	for _, s := range g.Stumbles(c, func(v *figures.Variant) bool { return v.Figure == f }) {
		words := fmt.Sprintf("%s, begun %s, does not lead on to %s: on %s", s.First.Name(), s.From, s.Second.Name(), s.Fault)
		all = append(all, Warning{"join", words})
	}
	return all
}
