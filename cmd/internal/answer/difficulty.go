package answer

import "lapwright/graph/difficulty"

// Difficulty is how hard something is to dance, with the parts that it is made of:
// of a figure or a routine in points a bar, of a join in points.
type Difficulty struct {
	Total       Number `json:"total"`
	Level       Number `json:"level"`
	Turn        Number `json:"turn"`
	Holds       Number `json:"holds"`
	Alignment   Number `json:"alignment"`
	Awkwardness Number `json:"awkwardness"`
}

// NewDifficulty is a difficulty with its parts.
func NewDifficulty(p difficulty.Parts) Difficulty {
	return Difficulty{Number(p.Total()), Number(p.Level), Number(p.Turn), Number(p.Holds), Number(p.Alignment), Number(p.Awkward)}
}
