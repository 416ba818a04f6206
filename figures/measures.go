package figures

import (
	"math"

	"lapwright/figures/geometry"
)

// TurnKind is a way in which a body turns with a step, each with a limit of its
// own.
type TurnKind int8

// The kinds of turn.
const (
	// StepTurn is made as an ordinary step is taken; at most [MostTurn].
	StepTurn TurnKind = iota
	// HeelTurnTurn is made in a heel turn; at most [MostHeelTurn].
	HeelTurnTurn
	// PivotTurn is made by both on the foot that was placed; at most [MostPivot].
	PivotTurn
	// CompletingTurn is made by the bodies over feet that point already.
	CompletingTurn
	turnKinds
)

// TurnKinds is the number of kinds of turn.
const TurnKinds = int(turnKinds)

// String is the kind in words: "in a step", "in a heel turn" …
func (k TurnKind) String() string {
	return [...]string{"in a step", "in a heel turn", "in a pivot", "of the bodies over the feet"}[k]
}

// Most is the greatest turn of the kind that the trade allows in one step.
func (k TurnKind) Most() geometry.Turn {
	return [...]geometry.Turn{MostTurn, MostHeelTurn, MostPivot, mostCompletes}[k]
}

// Measures are the numbers that tell how comfortably a variant is danced. What
// goes on between the footfalls counts as well: each step is looked at at
// [instantsOfStep] instants.
type Measures struct {
	// LongestStep is the greatest distance between each dancer's feet, in
	// metres from the middle of one sole to the middle of the other; at most
	// [Couple.LongestStep].
	LongestStep [2]float64
	// SoleGap is the least gap in metres between a foot that lands and a foot
	// of the partner's.
	SoleGap float64
	// Stretch is how far, in metres, the follower's body is at most from where
	// the hold has it, or from the way between the two places where the hold
	// changes.
	Stretch float64
	// Nearest and Farthest are the least and the greatest distance in metres
	// between the middles of the two bodies.
	Nearest, Farthest float64
	// MostTurn is the greatest turn of the couple with one step, in all.
	MostTurn geometry.Turn
	// MostOf is the greatest turn of a body with one step, by kind.
	MostOf [TurnKinds]geometry.Turn
	// Walked is how far each dancer's body goes, in metres.
	Walked [2]float64
}

// instantsOfStep is how many instants of each step are looked at: with the
// greatest turn of an ordinary step one every 17 degrees.
const instantsOfStep = 8

// Measures measures the variant as it was danced.
func (d *Danced) Measures() Measures {
	m := Measures{SoleGap: math.Inf(1), Nearest: math.Inf(1)}
	m.bodies(d.Start.pose(), d.Start.Hold, d.Start.Hold)
	from := &d.Start
	for i := range d.Steps {
		t := &d.Steps[i]
		for who := Leader; who <= Follower; who++ {
			m.LongestStep[who] = math.Max(m.LongestStep[who], t.Falls[who].Length)
			m.Walked[who] += t.Placed.Bodies[who].At.Sub(from.Bodies[who].At).Len() +
				t.After.Bodies[who].At.Sub(t.Placed.Bodies[who].At).Len()
			kind := StepTurn
			if t.Step.Actions[who].HeelTurn {
				kind = HeelTurnTurn
			}
			m.turn(kind, t.Placed.Bodies[who].Front-from.Bodies[who].Front)
		}
		gap, _ := t.soles(d.Couple)
		m.SoleGap = math.Min(m.SoleGap, gap)
		m.Stretch = math.Max(m.Stretch, t.Placed.stretch())
		for _, p := range d.Poses(i, instantsOfStep) {
			m.bodies(p, from.Hold, t.Placed.Hold)
		}
		m.turn(PivotTurn, t.Step.Pivot)
		m.turn(CompletingTurn, t.Step.Completes)
		m.MostTurn = max(m.MostTurn, t.Step.turns().Abs())
		from = &t.After
	}
	return m
}

// turn notes a turn of a body.
func (m *Measures) turn(kind TurnKind, t geometry.Turn) {
	m.MostOf[kind] = max(m.MostOf[kind], t.Within().Abs())
}

// bodies notes how the bodies are at an instant on the way from a hold to
// another.
func (m *Measures) bodies(p Pose, from, to Hold) {
	follower := p.Bodies[Follower].Sub(p.Bodies[Leader])
	m.Nearest = math.Min(m.Nearest, follower.Len())
	m.Farthest = math.Max(m.Farthest, follower.Len())
	out := geometry.PointGap(follower.Rotate(-p.Front), from.Shape().Follower, to.Shape().Follower)
	m.Stretch = math.Max(m.Stretch, out)
}
