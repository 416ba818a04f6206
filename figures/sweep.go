package figures

import (
	"math"

	"lapwright/figures/geometry"
)

// Pose is where the two bodies are at one instant within a step, in metres and
// radians to the left of the line of dance.
type Pose struct {
	Centre geometry.Point
	Front  float64 // of the leader's body
	Bodies [2]geometry.Point
	Fronts [2]float64
}

// pose is the couple at a moment.
func (m *Moment) pose() Pose {
	p := Pose{Centre: m.Centre, Front: m.Front.Radians()}
	for d, b := range m.Bodies {
		p.Bodies[d], p.Fronts[d] = b.At, b.Front.Radians()
	}
	return p
}

// Poses samples how the bodies move in step i, counted from 0 and less than the
// number of steps, from its beginning to its end: n instants after the one at
// which it begins, the last of them its end. It is empty where n is less than 1.
// In a heel turn the partner goes round the dancer who makes it; otherwise both
// go round the couple's centre, which travels straight.
func (d *Danced) Poses(i, n int) []Pose {
	if n < 1 {
		return nil
	}
	from := &d.Start
	if i > 0 {
		from = &d.Steps[i-1].After
	}
	t := &d.Steps[i]
	// The step's time is shared between placing the foot and what turns after.
	turned := 0.0
	if t.Step.Pivot+t.Step.Completes != 0 {
		turned = 0.4
	}
	poses := make([]Pose, n)
	for k := range poses {
		if at := float64(k+1) / float64(n); at <= 1-turned {
			poses[k] = between(from, &t.Placed, at/(1-turned), t.Step)
		} else {
			poses[k] = between(&t.Placed, &t.After, (at-1+turned)/turned, nil)
		}
	}
	poses[n-1] = t.After.pose()
	return poses
}

// between is the couple a share of the way from one moment to another; step is
// the step that leads there, or nil when the couple turns on the spot.
func between(from, to *Moment, share float64, step *Step) Pose {
	// The partners' places are blended as seen along the leader's front, so
	// that they go round each other rather than through.
	front := from.Front.Radians() + (to.Front-from.Front).Radians()*share
	p := Pose{Front: front, Centre: from.Centre.Between(to.Centre, share)}
	var offset [2]geometry.Point
	for d := Leader; d <= Follower; d++ {
		was := from.Bodies[d].At.Sub(from.Centre).Rotate(-from.Front.Radians())
		will := to.Bodies[d].At.Sub(to.Centre).Rotate(-to.Front.Radians())
		offset[d] = was.Between(will, share).Rotate(front)
		own := from.Bodies[d].Front - from.Front
		p.Fronts[d] = front + own.Radians() + (to.Bodies[d].Front-to.Front-own).Within().Radians()*share
	}
	if step != nil {
		for d := Leader; d <= Follower; d++ {
			if step.Stays(d) {
				p.Centre = from.Bodies[d].At.Between(to.Bodies[d].At, share).Sub(offset[d])
			}
		}
	}
	for d := range offset {
		p.Bodies[d] = p.Centre.Add(offset[d])
	}
	return p
}

// samples is how many poses of a step are tried against walls, for about one
// every 8 cm and 1/16 of turn.
func samples(from *Moment, t *Taken) int {
	moved := t.After.Centre.Sub(from.Centre).Len() / 0.08
	turned := float64(t.Step.Turn.Abs() + t.Step.Pivot.Abs() + t.Step.Completes.Abs())
	return int(math.Ceil(math.Max(2, math.Max(moved, turned))))
}

// Sweep lists the floor that the variant takes as discs in metres, in the frame
// of the line of dance with the couple's centre at the start as the origin:
// the frame of the arms at close intervals along the way, and both dancers' feet.
// Where only hands are joined each dancer takes the floor round the own body, and
// there is the arm between.
func (d *Danced) Sweep() []geometry.Disc {
	discs := takenAt(d.Start.pose(), d.Start.Hold, d.Start.Hold)
	from := &d.Start
	print := func(m *Moment, who Dancer, f Foot) {
		discs = append(discs, geometry.Disc{Centre: m.Foot(who, f).At, Radius: d.Couple.Sole[who].Length / 2})
	}
	for who := Leader; who <= Follower; who++ {
		print(from, who, LeftFoot)
		print(from, who, RightFoot)
	}
	for i := range d.Steps {
		t := &d.Steps[i]
		for _, p := range d.Poses(i, samples(from, t)) {
			discs = append(discs, takenAt(p, from.Hold, t.Placed.Hold)...)
		}
		for who := Leader; who <= Follower; who++ {
			if f := t.Falls[who]; f.Foot != NoFoot {
				print(&t.Placed, who, f.Foot)
				print(&t.After, who, f.Foot)
			}
		}
		from = &t.After
	}
	return outermost(discs)
}

// takenAt is the floor that the couple takes in a pose on the way from a hold to
// another.
func takenAt(p Pose, from, to Hold) []geometry.Disc {
	var discs []geometry.Disc
	if from.Shape().HandsOnly || to.Shape().HandsOnly {
		discs = apartAt(p)
	}
	if !from.Shape().HandsOnly || !to.Shape().HandsOnly {
		discs = append(discs, frameAt(p)...)
	}
	return discs
}

// apartAt is the two bodies and the joined arms between them in a pose.
func apartAt(p Pose) []geometry.Disc {
	return []geometry.Disc{
		{Centre: p.Bodies[Leader], Radius: dancerRadius},
		{Centre: p.Bodies[Follower], Radius: dancerRadius},
		{Centre: p.Bodies[Leader].Between(p.Bodies[Follower], 0.5), Radius: armRadius},
	}
}

// frameAt is the frame of the arms in a pose.
func frameAt(p Pose) []geometry.Disc {
	discs := make([]geometry.Disc, len(frame))
	for i, f := range frame {
		discs[i] = geometry.Disc{Centre: p.Centre.Add(f.Centre.Rotate(p.Front)), Radius: f.Radius}
	}
	return discs
}

// outermost drops discs that lie within another one.
func outermost(discs []geometry.Disc) []geometry.Disc {
	kept := discs[:0:0]
	for i, d := range discs {
		inside := false
		for j, e := range discs {
			far := d.Centre.Sub(e.Centre).Len()
			if i != j && far+d.Radius <= e.Radius && (far+e.Radius > d.Radius || j < i) {
				inside = true
				break
			}
		}
		if !inside {
			kept = append(kept, d)
		}
	}
	return kept
}

// FrameRadius is the radius in metres of the floor that a couple takes when it
// stands: the least circle about its centre that holds the frame of the arms.
func FrameRadius() float64 {
	r := 0.0
	for _, f := range frame {
		r = math.Max(r, f.Centre.Len()+f.Radius)
	}
	return r
}
