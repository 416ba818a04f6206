package figures

import "lapwright/figures/geometry"

// Couple holds the measures of the two dancers, in metres.
type Couple struct {
	// Stride is how far the couple's centre travels in a step of one stride.
	Stride float64
	// Track is how far a foot stands to the side of the middle of the body.
	Track float64
	// Sole is each dancer's shoe: its length and breadth.
	Sole [2]Sole
	// LongestStep is the greatest distance between a dancer's feet, from the
	// middle of one to the middle of the other.
	LongestStep float64
}

// Sole is the outline of a shoe, in metres.
type Sole struct{ Length, Breadth float64 }

// Strides that the program offers, in metres. The usual one is close to a walking
// step of 0.66–0.79 m (Biology Insights, What Is the Average Step Length for an
// Adult); the others are from memory: social dancers step shorter, and couples on
// a crowded floor shorter still.
const (
	UsualStride   = 0.65
	SocialStride  = 0.55
	CrowdedStride = 0.45
	LeastStride   = 0.25
	MostStride    = 1.10
)

// DefaultCouple is a couple of average measures: soles from British adults'
// foot breadth with a street shoe (City University HK online anthropometry)
// and foot lengths from memory; the track and the longest step from memory.
func DefaultCouple() Couple {
	return Couple{
		Stride:      UsualStride,
		Track:       0.11,
		Sole:        [2]Sole{{0.275, 0.105}, {0.245, 0.095}},
		LongestStep: 1.35,
	}
}

// WithStride returns the couple with another stride, in metres.
func (c Couple) WithStride(metres float64) Couple {
	c.Stride = metres
	return c
}

// The frame of the arms, seen from above, as discs around the couple's centre
// with x ahead of the leader and y to the leader's left: both bodies, the joined
// hands on the leader's left and the elbows on the right. Together about 1.25 m
// across and 0.7 m deep (from memory: a couple in closed hold is 0.6–0.7 m deep
// and, elbows out, 1.2–1.5 m wide).
var frame = []geometry.Disc{
	{Centre: geometry.Point{}, Radius: 0.36},
	{Centre: geometry.Point{Y: 0.45}, Radius: 0.2},
	{Centre: geometry.Point{Y: -0.4}, Radius: 0.2},
}

// What a dancer takes of the floor where only hands are joined: the body with
// the elbow of the free arm, and the joined arms. From memory: shoulders are
// 0.4–0.5 m broad.
const (
	dancerRadius = 0.35
	armRadius    = 0.2
)
