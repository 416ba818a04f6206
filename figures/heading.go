package figures

import (
	"fmt"
	"strings"

	"lapwright/figures/geometry"
)

// Heading is one of the eight directions of the trade, relative to the line of
// dance of the wall in use, in whole eighths of a turn counted to the left
// (towards the centre). Its values run from 0 to 7.
type Heading int8

// The eight directions.
const (
	LineOfDance             Heading = iota // LOD
	DiagonalToCentre                       // DC
	Centre                                 // C
	DiagonalToCentreAgainst                // DCA, against the line of dance
	AgainstLineOfDance                     // ALOD
	DiagonalToWallAgainst                  // DWA, against the line of dance
	Wall                                   // W
	DiagonalToWall                         // DW
)

// Headings is the number of directions.
const Headings = 8

var (
	headingShort = [Headings]string{"LOD", "DC", "C", "DCA", "ALOD", "DWA", "W", "DW"}
	headingLong  = [Headings]string{
		"line of dance", "diagonal to centre", "centre", "diagonal to centre against line of dance",
		"against line of dance", "diagonal to wall against line of dance", "wall", "diagonal to wall",
	}
)

// String is the direction in full words.
func (h Heading) String() string { return headingLong[h.wrap()] }

// Short is the direction as tables write it: LOD, DC, C, DCA, ALOD, DWA, W, DW.
func (h Heading) Short() string { return headingShort[h.wrap()] }

func (h Heading) wrap() Heading { return ((h % Headings) + Headings) % Headings }

// Add returns the heading n eighths further to the left (to the right when n is
// negative).
func (h Heading) Add(n int) Heading {
	return Heading((int(h) + n%Headings + Headings) % Headings).wrap()
}

// Turn is the heading as a turn to the left from the line of dance.
func (h Heading) Turn() geometry.Turn { return geometry.Turn(h.wrap()) * geometry.Eighth }

// HeadingOf returns the heading that a turn to the left from the line of dance
// leads to; exact is false where that lies between two of the eight.
func HeadingOf(t geometry.Turn) (h Heading, exact bool) {
	t = t.Direction()
	return Heading(t / 2), t%2 == 0
}

// ParseHeading reads a direction in short or in full words.
func ParseHeading(s string) (Heading, error) {
	w := strings.ToLower(strings.TrimSpace(s))
	for h := Heading(0); h < Headings; h++ {
		if w == strings.ToLower(headingShort[h]) || w == headingLong[h] {
			return h, nil
		}
	}
	return 0, fmt.Errorf("%q is not a direction: write one of %s", s, strings.Join(headingShort[:], ", "))
}

// parseDirection reads a direction of travel: one of the eight, or halfway
// between two neighbours, written with a dash: LOD-DC.
func parseDirection(s string) (geometry.Turn, error) {
	first, second, halfway := strings.Cut(s, "-")
	a, err := ParseHeading(first)
	if err != nil || !halfway {
		return a.Turn(), err
	}
	b, err := ParseHeading(second)
	if err != nil {
		return 0, err
	}
	switch (b.Turn() - a.Turn()).Within() {
	case geometry.Eighth:
		return a.Turn() + 1, nil
	case -geometry.Eighth:
		return b.Turn() + 1, nil
	}
	return 0, fmt.Errorf("%q is not a direction: %s and %s are not neighbours", s, first, second)
}

// Way tells how an alignment is meant.
type Way int8

// The three qualifiers of an alignment (WDSF Technique Books, Waltz, sample
// pages 2012): a dancer faces the way she moves forward or sideways, backs the
// way she moves backward, and a foot points where its body does not yet face.
const (
	Facing Way = iota
	Backing
	Pointing
)

var wayLong = [...]string{"facing", "backing", "pointing"}

// String is the qualifier as a word.
func (w Way) String() string { return wayLong[w] }

// Alignment is a dancer's or a foot's direction in a handbook's words.
type Alignment struct {
	Way     Way
	Heading Heading
}

// String writes the alignment in full words: "backing line of dance".
func (a Alignment) String() string { return a.Way.String() + " " + a.Heading.String() }

// Short writes the alignment as tables do: "backing LOD".
func (a Alignment) Short() string { return a.Way.String() + " " + a.Heading.Short() }

// Front is the direction that the dancer's front, or the foot's toe, has.
func (a Alignment) Front() Heading {
	if a.Way == Backing {
		return a.Heading.Add(Headings / 2)
	}
	return a.Heading
}

// parseFront reads an alignment as the direction that the dancer's front has.
func parseFront(s string) (Heading, error) {
	a, err := ParseAlignment(s)
	return a.Front(), err
}

// ParseAlignment reads an alignment such as "facing DW" or "backing line of
// dance"; a direction alone is faced.
func ParseAlignment(s string) (Alignment, error) {
	words := strings.TrimSpace(s)
	for w, name := range wayLong {
		if rest, ok := strings.CutPrefix(strings.ToLower(words), name+" "); ok {
			h, err := ParseHeading(rest)
			return Alignment{Way(w), h}, err
		}
	}
	h, err := ParseHeading(words)
	return Alignment{Facing, h}, err
}
