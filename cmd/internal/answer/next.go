package answer

import (
	"lapwright/figures"
	"lapwright/search"
	"lapwright/search/future"
	"lapwright/search/routine"
	"lapwright/search/tally"
)

// Stand is where a couple stands, and what it dances.
type Stand struct {
	Room    RoomName `json:"room"`
	Class   *Class   `json:"class"` // that has been taught the figures; null where none is named
	Stands  Place    `json:"stands"`
	Danced  string   `json:"danced"` // the figure before; empty at the beginning
	Stride  Number   `json:"stride"`
	Stretch bool     `json:"stretch"` // the couple may reach or hold back
}

// Next is the answer to what can follow where a couple stands.
type Next struct {
	Stand
	// Bars is how many bars after a figure the ways are counted through.
	Bars  int    `json:"bars"`
	Order string `json:"order"` // how the figures are ordered
	// Begin is how many figures begin in the stance; those that have no room are not
	// among the figures that can follow.
	Begin   int      `json:"begin"`
	Figures []Option `json:"figures"`
}

// Option is a figure that can follow, with the future that it leaves.
type Option struct {
	Name          string `json:"name"` // with its way of dancing
	Figure        string `json:"figure"`
	TakesNextWall bool   `json:"takes_next_wall"`
	Bars          int    `json:"bars"`
	Scale         Number `json:"scale"`
	Ends          Place  `json:"ends"`
	// Ways is in how many ways the bars after it can be danced, WaysOn how many of them
	// can be gone on with for ever. Over tells that they are too many to count.
	Ways   tally.Count `json:"ways"`
	WaysOn tally.Count `json:"ways_that_go_on"`
	Over   bool        `json:"too_many_to_count"`
	// Round tells that the couple can still get right round the room.
	Round bool `json:"gets_round"`
	Trap  bool `json:"trap"`
	// MostBars is how many bars can be danced at most after a trap, and Ends in what
	// that ends: "wall", "stance", "wall or stance"; empty where it is no trap.
	MostBars int    `json:"most_bars"`
	EndsIn   string `json:"ends_in"`
	// Instead is what comes of the rest of a routine when the figure takes the place of
	// the one that is danced there now; null where no routine goes on.
	Instead *Instead `json:"instead"`
}

// Instead is what comes of a routine when one figure takes the place of another.
type Instead struct {
	Same bool `json:"same"` // it is the figure that is danced there now
	// Scale is the share of the stride with which the fewest faults come.
	Scale  Number `json:"scale"`
	Faults int    `json:"faults"`
	First  string `json:"first"` // the first fault in a sentence; empty where there is none
}

// NewStand is where a couple stands.
func NewStand(s routine.Start) Place { return newPlace(*s.At, s.Wall, s.Stance, figures.Facing) }

// NewOptions are the figures that can follow.
func NewOptions(options []future.Option) []Option {
	all := make([]Option, len(options))
	for i := range options {
		o := &options[i]
		all[i] = Option{Name: o.Variant.Name(), Figure: o.Variant.Figure.Name, TakesNextWall: o.Turns, Bars: o.Bars, Scale: Number(o.Scale), Ends: standing(o.Ends, o.Variant),
			Ways: o.Ways.All, WaysOn: o.Ways.Live, Over: o.Ways.Over, Round: o.Round, Trap: o.Trap()}
		if o.Trap() {
			all[i].MostBars, all[i].EndsIn = o.End.Bars, endsIn(o.End)
		}
	}
	return all
}

// standing is where and how a couple stands after a figure.
func standing(s search.Standing, danced *figures.Variant) Place {
	return newPlace(s.At(), s.Wall, s.Stance, wayIn(danced, danced.Entries[0], -1))
}

// endsIn is in what dancing ends.
func endsIn(e future.End) string {
	switch {
	case e.Wall && e.Stance:
		return "wall or stance"
	case e.Wall:
		return "wall"
	}
	return "stance"
}
