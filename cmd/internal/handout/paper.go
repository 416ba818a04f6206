package handout

import (
	"fmt"
	"strings"
)

// Paper is a size of paper, upright, in millimetres.
type Paper struct {
	Name          string
	Width, Height float64
}

// The papers that sheets are set on: A4 of ISO 216, and Letter of ANSI/ASME Y14.1
// (8.5 by 11 inches).
var (
	A4     = Paper{"A4", 210, 297}
	Letter = Paper{"Letter", 215.9, 279.4}
)

// Papers lists them.
var Papers = []Paper{A4, Letter}

// ParsePaper reads the name of a paper.
func ParsePaper(name string) (Paper, error) {
	for _, p := range Papers {
		if strings.EqualFold(strings.TrimSpace(name), p.Name) {
			return p, nil
		}
	}
	return Paper{}, fmt.Errorf("%q is not a paper that sheets are set on: write A4 or Letter", name)
}
