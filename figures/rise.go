package figures

import (
	"fmt"
	"slices"
	"strings"
)

// Rise is rise and fall on one step of one dancer, in the words of the trade. It
// holds no number of a step: a part is danced as steps 1 to 3 of one variant and
// as 4 to 6 of another, so the number is put in by [Rise.At]. Empty is not known.
type Rise string

// The words for rise and fall (as the handbooks use them; read in Magic Dance
// World, natural spin turn and reverse turn charts, and DanceCentral, outside
// change).
const (
	CommenceToRise      Rise = "commence to rise"
	CommenceToRiseAtEnd Rise = "commence to rise at the end"
	CommenceNoFootRise  Rise = "commence to rise at the end (no foot rise)"
	RiseAtEnd           Rise = "rise at the end"
	RiseAtEndNoFootRise Rise = "rise at the end (no foot rise)"
	ContinueToRise      Rise = "continue to rise"
	ContinueNoFootRise  Rise = "continue to rise (no foot rise)"
	ContinueToRiseLower Rise = "continue to rise and lower at the end"
	Up                  Rise = "up"
	UpLower             Rise = "up and lower at the end"
	LowerAtEnd          Rise = "lower at the end"
	NoRise              Rise = "no rise"

	atTheEnd   = "at the end"
	noFootRise = "(no foot rise)"
)

// Rises lists the words for rise and fall in the order of a figure.
var Rises = []Rise{CommenceToRise, CommenceToRiseAtEnd, CommenceNoFootRise, RiseAtEnd, RiseAtEndNoFootRise,
	ContinueToRise, ContinueNoFootRise, ContinueToRiseLower, Up, UpLower, LowerAtEnd, NoRise}

// ParseRise reads the words for rise and fall on a step.
func ParseRise(s string) (Rise, error) {
	r := Rise(strings.ToLower(strings.TrimSpace(s)))
	if slices.Contains(Rises, r) {
		return r, nil
	}
	names := make([]string, len(Rises))
	for i, r := range Rises {
		names[i] = string(r)
	}
	return "", fmt.Errorf("%q is not rise and fall: write %s, without the number of the step, which is put in where the step is danced",
		s, strings.Join(names[:len(names)-1], "; ")+" or "+names[len(names)-1])
}

// At is rise and fall as a handbook writes it on the step with a number, counted
// from 1 in the variant that is danced: "lower at the end of 3". The leader's and
// the follower's steps that are taken together have one number.
func (r Rise) At(step int) string {
	return strings.Replace(string(r), atTheEnd, fmt.Sprintf("%s of %d", atTheEnd, step), 1)
}

// Lowers reports whether the step ends lowered.
func (r Rise) Lowers() bool { return r == LowerAtEnd || r == UpLower || r == ContinueToRiseLower }

// NoFootRise reports whether the rise is felt in the body and legs only: the
// heel of the standing foot stays down, as for the dancer who goes back.
func (r Rise) NoFootRise() bool { return strings.HasSuffix(string(r), noFootRise) }
