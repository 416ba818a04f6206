package search

import (
	"time"

	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search/routine"
)

// Problem is what is asked of a lap.
type Problem struct {
	Room *floors.Room
	// Variants are the ways of dancing that may be used.
	Variants []*figures.Variant
	// More are ways of dancing that might be allowed besides, those first that are
	// best added; they are tried where there is no lap, to say what would help.
	More []*figures.Variant
	// Follows says which joins the trade lists; nil leaves the couple's way to
	// say which are awkward.
	Follows *figures.Follows
	Couple  figures.Couple
	Weights Weights
	// Scales are the shares of the couple's stride that a figure may be danced
	// at; empty means [DefaultScales].
	Scales []Scale
	// Start is where the lap begins; nil means that it is chosen.
	Start  *routine.Start
	Limits Limits
	// Laps is how many times round the room the routine goes; 0 is 1.
	Laps int
	// Count is how many laps are wanted, really different ones, up to [MostCount];
	// 0 is 1.
	Count int
	// Within is by what share of the best lap's cost the others may be dearer:
	// 0.1 is ten per cent. At least 0, at most 1.
	Within float64
	// Margin is the floor in metres kept free between the couple and walls or
	// obstacles; negative means the room's own.
	Margin float64
	// Seed decides among laps that are equally good.
	Seed uint64
	// Export asks for the finite graph of all laps that cost no more than the one
	// that is found, with the limits, for other programs.
	Export bool
	// WhyTime is how long to look for the reason where there is no lap; 0: as long
	// as it takes.
	WhyTime time.Duration

	// bare leaves out of the posts what joins cost: posts then differ by what can be
	// danced from them, and by nothing else.
	bare bool
	// marked tells joins apart, so that posts differ by them; nil: none.
	marked func(before, after *figures.Variant) bool
}

// Scale is a share of the couple's stride, with what it costs to dance a bar at
// it, in bars.
type Scale struct{ Share, Cost float64 }

// DefaultScales let a couple reach a little or hold back; common practice, no
// source.
var DefaultScales = []Scale{{0.8, 0.06}, {0.9, 0.02}, {1, 0}, {1.1, 0.18}}

// Weights say what a good lap is: how much each named cost counts, in bars.
type Weights struct {
	Bars     float64 // for each bar that the lap takes
	Lane     float64 // for each metre from the middle of the lane, each bar
	Crowding float64 // for each bar danced right at the margin of a wall or obstacle
	Awkward  float64 // for each awkward join
	Repeat   float64 // for dancing the figure that was just danced
	Stretch  float64 // times the cost of a scale other than 1
	Gap      float64 // for each metre between the lap's end and its start
}

// DefaultWeights make a short lap along the lane with some variety.
func DefaultWeights() Weights {
	return Weights{Bars: 1, Lane: 0.4, Crowding: 0.5, Awkward: 0.5, Repeat: 0.4, Stretch: 1, Gap: 1}
}

// Comfort is the clearance in metres, over the margin, from which a couple no
// longer feels crowded.
const Comfort = 0.3

// Tolerance is how far in metres the end of a lap may lie from its start.
const Tolerance = 0.3

// toleranceCells is the tolerance in steps of the lattice.
const toleranceCells = 6
