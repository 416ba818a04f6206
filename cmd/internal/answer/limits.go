package answer

import "lapwright/search"

// Limits are the limits that were asked for, besides the figures that must be
// danced; 0 and an empty list stand for none.
type Limits struct {
	MinBars      int     `json:"min_bars"`
	MaxBars      int     `json:"max_bars"`
	Uses         int     `json:"uses"`
	Apart        int     `json:"apart"`
	Caps         []Cap   `json:"caps"`
	Different    int     `json:"different"`
	Orders       []Order `json:"orders"`
	Fixed        []Fixed `json:"fixed"`
	Phrase       int     `json:"phrase"`
	RightTurns   int     `json:"right_turns"`
	LeaderStep   Number  `json:"leader_step"`
	FollowerStep Number  `json:"follower_step"`
	// Hardest is the greatest difficulty of a figure in points a bar, and of a join
	// in points.
	Hardest Number `json:"hardest"`
	Laps    int    `json:"laps"` // at least 1
}

// Cap is the most uses, all together, of the figures of a set.
type Cap struct {
	Set  string `json:"set"` // "Whisk", "turns to the left"
	Most int    `json:"most"`
}

// Order says that a figure is not danced before another has been.
type Order struct {
	First string `json:"first"`
	Then  string `json:"then"`
}

// Fixed is a figure that is to begin at a bar.
type Fixed struct {
	Figure string `json:"figure"`
	Bar    int    `json:"bar"`
	Wall   int    `json:"wall"` // from 1; 0: any
}

// NewLimits are the limits of a search, for so many laps; 0 is one.
func NewLimits(l *search.Limits, laps int) Limits {
	out := Limits{MinBars: l.MinBars, MaxBars: l.MaxBars, Uses: l.Uses, Apart: l.Apart,
		Caps: []Cap{}, Different: l.Different, Orders: []Order{}, Fixed: []Fixed{}, Phrase: l.Phrase, RightTurns: l.RightTurns,
		LeaderStep: Number(l.LeaderStep), FollowerStep: Number(l.FollowerStep), Hardest: Number(l.Hardest), Laps: max(1, laps)}
	for _, c := range l.Caps {
		out.Caps = append(out.Caps, Cap{c.Name, c.Most})
	}
	for _, o := range l.Orders {
		out.Orders = append(out.Orders, Order{o.First.Name, o.Then.Name})
	}
	for _, x := range l.Fixed {
		out.Fixed = append(out.Fixed, Fixed{x.Figure.Name, x.Bar, max(0, x.Wall+1)})
	}
	return out
}
