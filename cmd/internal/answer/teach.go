package answer

import (
	"lapwright/figures"
	"lapwright/graph/difficulty"
)

// Smallest is the answer to which figures are enough to get right round a room.
type Smallest struct {
	Room     RoomName `json:"room"`
	Stride   Number   `json:"stride"`
	Dance    string   `json:"dance"`
	Levels   []string `json:"levels"`
	Style    string   `json:"style"`
	LookedAt int      `json:"figures_looked_at"`
	Lists    []Sets   `json:"lists"`
}

// Sets are all the sets of at most so many figures of which nothing can be left out.
type Sets struct {
	// BothWays tells that the couple turns to the right and to the left.
	BothWays bool `json:"both_ways"`
	// TurnsAndLink tells that only sets of one right turn, one left turn and at most one
	// link are listed.
	TurnsAndLink bool   `json:"right_left_and_link"`
	Most         int    `json:"most_figures"`
	Tried        int    `json:"tried_on_the_floor"` // the others follow from these or from the stances
	Order        string `json:"order"`
	Sets         []Set  `json:"sets"`
}

// Set is a set of figures that gets a couple right round.
type Set struct {
	Figures []string `json:"figures"` // those that turn right, those that turn left, links
	Right   []string `json:"right_turns"`
	Left    []string `json:"left_turns"`
	Links   []string `json:"links"` // figures that do not turn, as they usually are danced
	Hardest Number   `json:"hardest"`
	Sum     Number   `json:"difficulty_sum"`
}

// NewSet sorts figures by how they turn as they usually are danced. Their difficulty, in
// points a bar, is that of the usual way too.
func NewSet(all []*figures.Figure) Set {
	s := Set{Figures: []string{}, Right: []string{}, Left: []string{}, Links: []string{}}
	for _, f := range all {
		v := f.Variants[0]
		switch {
		case v.TurnsRight():
			s.Right = append(s.Right, f.Name)
		case v.TurnsLeft():
			s.Left = append(s.Left, f.Name)
		default:
			s.Links = append(s.Links, f.Name)
		}
		points := Number(difficulty.Figure(v).Total())
		s.Hardest = max(s.Hardest, points)
		s.Sum += points
	}
	s.Figures = append(append(append(s.Figures, s.Right...), s.Left...), s.Links...)
	return s
}
