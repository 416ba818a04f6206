package sheet

import (
	"math"
	"strconv"
	"strings"

	"lapwright/figures/geometry"
)

// degree is one in radians.
const degree = math.Pi / 180

// curves reads an outline of places and cubic curves (M, C and Z, as SVG has them),
// with its x and y made longer.
func curves(path string, x, y float64) (all []Curve) {
	var points []geometry.Point // since the last letter
	letter := byte('M')
	for _, word := range strings.Fields(path) {
		if word == "Z" {
			continue
		}
		if word[0] == 'M' || word[0] == 'C' {
			letter, word = word[0], word[1:]
		}
		a, b, _ := strings.Cut(word, ",")
		points = append(points, geometry.Point{X: scaled(a, x), Y: scaled(b, y)})
		switch {
		case letter == 'M':
			all = append(all, Curve{Begins: true, To: points[0]})
			points = nil
		case len(points) == 3:
			all = append(all, Curve{First: points[0], Other: points[1], To: points[2]})
			points = nil
		}
	}
	return all
}

// scaled is a number times a length, to a tenth of a millimetre.
func scaled(word string, length float64) float64 {
	x, _ := strconv.ParseFloat(word, 64)
	return math.Round(x*length*1e4) / 1e4
}

// data writes an outline as SVG has it.
func data(all []Curve) string {
	var words []string
	closed := func() {
		if len(words) > 0 {
			words = append(words, "Z")
		}
	}
	for _, c := range all {
		if c.Begins {
			closed()
			words = append(words, "M"+fine(c.To))
			continue
		}
		words = append(words, "C"+fine(c.First)+" "+fine(c.Other)+" "+fine(c.To))
	}
	closed()
	return strings.Join(words, " ")
}

// fine writes a place to a tenth of a millimetre.
func fine(p geometry.Point) string {
	return strconv.FormatFloat(p.X+0, 'f', -1, 64) + "," + strconv.FormatFloat(p.Y+0, 'f', -1, 64)
}
