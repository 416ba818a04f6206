package figures

import (
	"math"

	"lapwright/figures/geometry"
)

// Footprint is a foot on the floor: the middle of the sole in metres and the
// direction in which its toe points, as a turn to the left from the line of
// dance.
type Footprint struct {
	At    geometry.Point
	Front geometry.Turn
}

// Body is where a dancer's body is and which way it faces, as a turn to the
// left from the line of dance.
type Body struct {
	At    geometry.Point
	Front geometry.Turn
}

// Moment is how the couple stands after a step (or before the first). Places
// are metres in the frame of the line of dance, with the couple's centre at the
// start as the origin.
type Moment struct {
	Centre geometry.Point
	// Front is the way the couple faces: that of the leader's body, but for what
	// the leader has turned alone.
	Front geometry.Turn
	Hold  Hold
	// Alone is how far each dancer has turned alone since the start.
	Alone  [2]geometry.Turn
	Bodies [2]Body
	// Feet holds each dancer's prints, indexed by dancer and by foot less
	// [LeftFoot].
	Feet [2][2]Footprint
	// Weight is the foot on which each dancer stands.
	Weight [2]Foot
	Time   float64 // beats from the start of the variant

	// further is how much further a couple with the usual stride has come since
	// the start, and footFurther how much further each of its feet stands.
	further     geometry.Point
	footFurther [2][2]geometry.Point
}

// Foot is a dancer's print.
func (m *Moment) Foot(d Dancer, f Foot) *Footprint { return &m.Feet[d][f-LeftFoot] }

// Taken is one step as it was danced.
type Taken struct {
	Step   *Step
	Placed Moment // when the feet have been placed
	After  Moment // when pivot and completing turn are done
	Falls  [2]Footfall
}

// Footfall is one dancer's part of a step, in a handbook's terms.
type Footfall struct {
	Foot      Foot      // NoFoot when the dancer stands; all else is empty then
	Word      string    // the direction: "forward", "side", "closes" …
	Alignment Alignment // of the foot
	// Turn is what the handbooks' amount-of-turn column gives: how much the
	// foot's alignment differs from that of the foot before it. What the couple
	// then pivots on this foot is [Step.Pivot].
	Turn geometry.Turn
	// Length is the distance in metres from the standing foot to this one.
	Length float64
	// Travel is how far the dancer's body moves, in metres.
	Travel float64

	way   way
	front geometry.Turn // of the foot
	ahead bool          // of its body
}

// Danced is a variant as a couple dances it: every position computed.
type Danced struct {
	Variant *Variant
	Couple  Couple
	Entry   Stance
	Exit    Stance
	Start   Moment
	Steps   []Taken
	// Displacement is where the couple's centre ends, in metres, in the frame
	// of the line of dance.
	Displacement geometry.Point
}

// Dance computes a variant danced from one of its entry stances by a couple whose
// stride is at least [LeastStride]. The directions of its steps, which are
// written for the first entry, are turned with the entry's alignment.
func (v *Variant) Dance(entry Stance, c Couple) *Danced {
	return v.danceFrom(standing(entry, c), entry, c)
}

// danceFrom dances the variant from a moment in which the couple stands as the
// entry says, with its centre at the origin.
func (v *Variant) danceFrom(start Moment, entry Stance, c Couple) *Danced {
	d := &Danced{Variant: v, Couple: c, Entry: entry, Exit: v.Exit(entry), Start: start}
	rotation := entry.Facing.Turn() - v.Entries[0].Facing.Turn()
	last := d.Start
	d.Steps = make([]Taken, len(v.Steps))
	for i := range v.Steps {
		d.Steps[i] = take(last, &v.Steps[i], rotation, c)
		last = d.Steps[i].After
	}
	d.wordAlignments()
	d.Displacement = last.Centre
	return d
}

// Last is the moment at which the variant is over.
func (d *Danced) Last() *Moment {
	if len(d.Steps) == 0 {
		return &d.Start
	}
	return &d.Steps[len(d.Steps)-1].After
}

// standing is a couple in a stance, with the feet beside each other.
func standing(s Stance, c Couple) Moment {
	m := Moment{Front: s.Facing.Turn(), Hold: s.Hold}
	m.Weight = [2]Foot{s.Free.Other(), s.Free}
	place(&m, [2]geometry.Point{})
	for d := Leader; d <= Follower; d++ {
		for f := LeftFoot; f <= RightFoot; f++ {
			*m.Foot(d, f) = m.under(d, f, c)
		}
	}
	return m
}

// place puts the two bodies where the hold has them around the centre, each
// moved by its shift.
func place(m *Moment, shift [2]geometry.Point) {
	shape := m.Hold.Shape()
	front := m.Front.Radians()
	lead := shape.leader().Rotate(front)
	m.Bodies[Leader] = Body{m.Centre.Add(lead), m.Front}
	m.Bodies[Follower] = Body{m.Centre.Sub(lead), m.Front + shape.Turned}
	for d := range m.Bodies {
		b := &m.Bodies[d]
		b.Front += m.Alone[d]
		b.At = b.At.Add(shift[d].Rotate(b.Front.Radians()))
	}
}

// under is the print of a foot that is beside the middle of its body.
func (m *Moment) under(d Dancer, f Foot, c Couple) Footprint {
	b := m.Bodies[d]
	return Footprint{b.At.Add(geometry.Point{Y: c.Track * f.side()}.Rotate(b.Front.Radians())), b.Front}
}

// take dances one step from a moment.
func take(from Moment, s *Step, rotation geometry.Turn, c Couple) Taken {
	placed := from
	placed.Time = from.Time + s.Beats
	placed.Front = from.Front + s.Turn
	placed.Hold = s.holdAfter(from.Hold)
	for d := range placed.Alone {
		placed.Alone[d] += s.Actions[d].Alone
	}
	way := geometry.Unit((s.Toward + rotation).Radians()).Scale(s.Strides)
	travel := way.Scale(c.Stride)
	shift := [2]geometry.Point{s.Actions[Leader].Shift, s.Actions[Follower].Shift}
	placed.Centre = from.Centre.Add(travel)
	placed.further = from.further.Add(way.Scale(UsualStride - c.Stride))
	place(&placed, shift)
	for d := Leader; d <= Follower; d++ {
		if s.Stays(d) {
			// This body, not the centre, makes the travel, from where the new
			// hold would have had it: so the couple ends in the same place
			// whichever hold it began in.
			begin := from
			begin.Hold = placed.Hold
			place(&begin, [2]geometry.Point{})
			placed.Centre = placed.Centre.Add(begin.Bodies[d].At.Add(travel).Sub(placed.Bodies[d].At))
			place(&placed, shift)
		}
	}
	t := Taken{Step: s}
	for d := Leader; d <= Follower; d++ {
		a := s.Actions[d]
		if a.Foot == NoFoot {
			continue
		}
		print := placed.under(d, a.Foot, c)
		print.Front += a.Points
		*placed.Foot(d, a.Foot) = print
		if !a.Weightless {
			placed.Weight[d] = a.Foot
		}
	}
	for d := Leader; d <= Follower; d++ {
		t.Falls[d] = footfall(d, s.Actions[d], &from, &placed, c)
	}
	t.Placed = placed
	after := placed
	after.Front += s.Pivot + s.Completes
	place(&after, shift)
	if s.Pivot != 0 {
		for d := Leader; d <= Follower; d++ {
			f := after.Weight[d]
			points := placed.Foot(d, f).Front - placed.Bodies[d].Front
			print := after.under(d, f, c)
			print.Front += points
			*after.Foot(d, f) = print
		}
	}
	t.After = after
	return t
}

// footfall describes one dancer's step. A foot whose weight is replaced stays
// where it stood. One that closes is put beside the
// standing one, which swivels with it: as a body turns about the couple's centre
// it drifts past its own standing foot. The words are those of a couple with the
// usual stride, so that a figure reads the same for everybody: further is what
// its body travels beyond this one's.
func footfall(d Dancer, a Action, from, placed *Moment, c Couple) Footfall {
	if a.Foot == NoFoot {
		return Footfall{}
	}
	standing := from.Foot(d, a.Foot.Other())
	print := placed.Foot(d, a.Foot)
	body, before := placed.Bodies[d], from.Bodies[d]
	travel := body.At.Sub(before.At)
	mean := before.Front.Radians() + (body.Front-before.Front).Within().Radians()/2
	f := Footfall{Foot: a.Foot, Travel: travel.Len()}
	further := placed.further.Sub(from.further)
	f.Word, f.way = direct(travel.Add(further).Rotate(-mean), a, placed.Hold)
	footFurther := &placed.footFurther[d]
	standingFurther := footFurther[a.Foot.Other()-LeftFoot]
	stood := from.Foot(d, a.Foot).At
	moved := print.At.Sub(stood).Add(placed.further.Sub(footFurther[a.Foot-LeftFoot]))
	switch {
	case f.way != closing:
		footFurther[a.Foot-LeftFoot] = placed.further
	case !a.HeelTurn && moved.Len() < samePlace:
		f.Word, print.At = "in place", stood
		if a.Weightless {
			f.Word += " without weight"
		}
	default:
		footFurther[a.Foot-LeftFoot] = standingFurther
		apart, least := print.At.Sub(standing.At).Len(), c.Sole[d].Breadth+0.015
		if apart < least || !a.HeelTurn { // in a heel turn the body stays over its feet
			beside := geometry.Point{Y: a.Foot.side() * math.Max(least, math.Min(apart, 2*c.Track))}
			print.At = standing.At.Add(beside.Rotate(body.Front.Radians()))
		}
		placed.Foot(d, a.Foot.Other()).Front = print.Front
	}
	if a.Crosses != NoCross {
		f.Word, f.way = a.Crosses.String(), movesSide
		footFurther[a.Foot-LeftFoot] = standingFurther
		crossed := geometry.Point{X: 0.2, Y: -0.05 * a.Foot.side()}
		if a.Crosses == CrossesBehind {
			crossed.X = -crossed.X
		}
		print.At = standing.At.Add(crossed.Rotate(body.Front.Radians()))
	}
	f.Length = print.At.Sub(standing.At).Len()
	f.Turn = (print.Front - from.Foot(d, from.Weight[d]).Front).Within()
	if f.Turn == geometry.Full/2 && body.Front < before.Front {
		f.Turn = -f.Turn // half a turn is told with the side to which the body turns
	}
	f.front, f.ahead = print.Front, print.Front != body.Front
	return f
}

// wordAlignments words the direction of each foot as the charts do: steps
// forward and back are faced and backed; a foot ahead of its body points; a
// side step or a close is backed where the dancer's front is against the line
// of dance. Where it is straight to wall or centre, the dancer's next step
// decides.
func (d *Danced) wordAlignments() {
	for who := Leader; who <= Follower; who++ {
		next := Facing
		for i := len(d.Steps) - 1; i >= 0; i-- {
			f := &d.Steps[i].Falls[who]
			if f.Foot == NoFoot {
				continue
			}
			h, _ := HeadingOf(f.front)
			way := Facing
			switch {
			case f.way == movesBack:
				way = Backing
			case f.way == movesForward:
			case h == DiagonalToCentreAgainst || h == AgainstLineOfDance || h == DiagonalToWallAgainst:
				way = Backing
			case h == Centre || h == Wall:
				way = next
			}
			next = way
			if way == Facing && f.ahead {
				way = Pointing
			}
			f.Alignment = Alignment{way, h}
			if way == Backing {
				f.Alignment.Heading = h.Add(Headings / 2)
			}
		}
	}
}

// nearClose is the travel of a body, in metres, below which its foot closes:
// turning an eighth about the couple's centre moves a body 0.15 m.
const nearClose = 0.20

// samePlace is how near, in metres, a foot lands to where it stood when its
// weight is replaced: it is taken in place then. From memory.
const samePlace = 0.03

// way is how a dancer moves in a step.
type way int8

const (
	movesForward way = iota
	movesBack
	movesSide
	closing
)

// direct words the direction of a step from the body's travel, with x ahead of
// the dancer and y to the left, both taken halfway through the step's turn, and
// the hold after it. The words are those of the handbooks.
func direct(travel geometry.Point, a Action, hold Hold) (string, way) {
	if a.HeelTurn {
		return "closes (heel turn)", closing
	}
	if travel.Len() < nearClose {
		if a.Weightless {
			return "closes without weight", closing
		}
		return "closes", closing
	}
	// out is the travel to the stepping foot's own side.
	out := travel.Y * a.Foot.side()
	angle := math.Atan2(math.Abs(out), travel.X) * 180 / math.Pi // 0 ahead, 180 behind
	across := out < 0
	switch {
	case hold == Fallaway && angle > 128:
		// In fallaway both go back between their two alignments, each 1/8 off
		// the own back, on whichever foot.
		return "back", movesBack
	case angle <= 24:
		return "forward", movesForward
	case angle >= 156:
		return "back", movesBack
	case across && angle < 90:
		return "forward and across", movesForward
	case across:
		return "crosses behind", movesSide
	case angle < 52:
		return "diagonally forward", movesForward
	case angle > 128:
		return "diagonally back", movesBack
	case angle < 76:
		return "side and slightly forward", movesSide
	case angle > 104:
		return "side and slightly back", movesSide
	}
	return "side", movesSide
}
