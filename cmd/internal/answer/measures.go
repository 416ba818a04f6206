package answer

import "lapwright/figures"

// Measures are the numbers that tell how comfortably a figure is danced: lengths
// in metres, turns in words.
type Measures struct {
	// FootClearance is the least distance between a foot that lands and a foot
	// of the partner's; below nought the edges of the soles overlap.
	FootClearance Number `json:"foot_clearance"`
	// LongestStep is the greatest distance between a dancer's own feet.
	LongestStep EachDancer `json:"longest_step"`
	// HoldStretch is how far the follower's body is at most from where the hold
	// has it, between the footfalls too.
	HoldStretch Number `json:"hold_stretch"`
	// BodiesApart is the distance between the middles of the two bodies.
	BodiesApart Range `json:"bodies_apart"`
	MostTurn    Turns `json:"most_turn"`
	// Walked is how far each dancer's body goes.
	Walked Walked `json:"walked"`
}

// EachDancer is a length of the leader's and one of the follower's.
type EachDancer struct {
	Leader   Number `json:"leader"`
	Follower Number `json:"follower"`
}

// Range is the least and the greatest of a length.
type Range struct {
	Least Number `json:"least"`
	Most  Number `json:"most"`
}

// Turns are the greatest turns with one step, by kind, as fractions of a whole
// turn such as "3/8"; "0" where there is none.
type Turns struct {
	Step     string `json:"step"`
	HeelTurn string `json:"heel_turn"`
	Pivot    string `json:"pivot"`
	// OverFeet is made by the bodies over feet that point already.
	OverFeet string `json:"over_feet"`
}

// NewMeasures are the measures of a figure as it was danced.
func NewMeasures(m figures.Measures) Measures {
	most := func(k figures.TurnKind) string { return m.MostOf[k].Amount() }
	each := func(of [2]float64) EachDancer {
		return EachDancer{Number(of[figures.Leader]), Number(of[figures.Follower])}
	}
	return Measures{FootClearance: Number(m.SoleGap), LongestStep: each(m.LongestStep), HoldStretch: Number(m.Stretch),
		BodiesApart: Range{Number(m.Nearest), Number(m.Farthest)}, Walked: Walked(each(m.Walked)),
		MostTurn: Turns{most(figures.StepTurn), most(figures.HeelTurnTurn), most(figures.PivotTurn), most(figures.CompletingTurn)}}
}
