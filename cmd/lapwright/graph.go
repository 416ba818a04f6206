package main

import (
	"bytes"
	"fmt"

	"lapwright/cmd/internal/answer"
	"lapwright/cmd/internal/wholefile"
	"lapwright/figures"
	"lapwright/graph"
)

// squareCorner is what a right-angled corner adds to an alignment, in eighths.
const squareCorner = -2

// graphCommand writes the graph of what may follow what.
type graphCommand struct {
	repertoryFlags `embed:"" set:"level_help=Only figures of this level: social, bronze, silver or gold, several with commas between (all)."`
	Out            string `group:"Files:" placeholder:"FILE" help:"Write it to a file instead of the screen."`
	Force          bool   `group:"Files:" help:"Write over a file that is there already."`
}

// Run writes the graph.
func (c *graphCommand) Run(s *session) error {
	r, err := c.repertoryFlags.choose("all")
	if err != nil {
		return err
	}
	s.notes(r)
	var data bytes.Buffer
	if s.json {
		if err := answer.Write(&data, answer.NewGraph(newGraph(r.variants), r.class.answer())); err != nil {
			return err
		}
	} else {
		text, err := dot(r.variants)
		if err != nil {
			return err
		}
		data.Write(text)
	}
	if c.Out == "" {
		s.out.Write(data.Bytes())
		return nil
	}
	if err := wholefile.Write(c.Out, c.Force, data.Bytes()); err != nil {
		return err
	}
	fmt.Fprintf(s.out, "Written: %s\n", c.Out)
	return nil
}

func newGraph(variants []*figures.Variant) *graph.Graph { return graph.New(variants, squareCorner) }

// dot is the graph of the variants in the DOT language.
func dot(variants []*figures.Variant) ([]byte, error) {
	var b bytes.Buffer
	err := newGraph(variants).DOT(&b)
	return b.Bytes(), err
}
