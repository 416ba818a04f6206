package figures

import "lapwright/figures/geometry"

// Join is how a figure begins from where the one before it really left the feet
// and the bodies, rather than from feet beside each other: feet that closed have
// swivelled, feet that crossed or passed stand apart.
type Join struct {
	// Danced is the second variant, danced from there.
	Danced *Danced
	// Steps is how many of its steps feel how the first one ended: until each
	// dancer has placed both feet anew.
	Steps int
	// Faults are all that keeps the couple from dancing them.
	Faults []Fault

	begun Danced // only these steps
}

// Measures measures the steps that feel how the first variant ended.
func (j *Join) Measures() Measures { return j.begun.Measures() }

// Join dances next right after the variant that was danced, from where it left
// the couple; eighths is what the next wall adds to the alignment where it is
// taken between the two, as in [Stance.Turned], and 0 along one wall. It is
// false where next does not begin in that stance, or has no steps.
func (d *Danced) Join(next *Variant, eighths int) (j Join, ok bool) {
	entry := d.Exit.Turned(eighths)
	for _, e := range next.Entries {
		ok = ok || e == entry
	}
	if !ok || len(next.Steps) == 0 {
		return j, false
	}
	j.Danced = next.danceFrom(d.Last().turned(geometry.Turn(eighths)*geometry.Eighth), entry, d.Couple)
	j.Steps = j.Danced.settled()
	j.begun = *j.Danced
	j.begun.Steps = j.begun.Steps[:j.Steps]
	j.Faults = j.begun.Faults()
	return j, true
}

// settled is how many steps it takes until each dancer has placed both feet.
func (d *Danced) settled() int {
	var placed [2][RightFoot + 1]bool
	n := 0
	for i := range d.Steps {
		for who := Leader; who <= Follower; who++ {
			if f := d.Steps[i].Falls[who].Foot; f != NoFoot && !placed[who][f] {
				placed[who][f] = true
				n++
			}
		}
		if n == 4 {
			return i + 1
		}
	}
	return len(d.Steps)
}

// turned is the moment as the beginning of another figure: seen from the couple's
// centre, in the frame of a line of dance from which its front reads t more to
// the left.
func (m *Moment) turned(t geometry.Turn) Moment {
	at := func(p geometry.Point) geometry.Point { return p.Sub(m.Centre).Rotate(t.Radians()) }
	out := *m
	out.Centre, out.Front, out.Time = geometry.Point{}, m.Front+t, 0
	for who := range out.Bodies {
		b := &out.Bodies[who]
		b.At, b.Front = at(b.At), b.Front+t
		for f := range out.Feet[who] {
			print := &out.Feet[who][f]
			print.At, print.Front = at(print.At), print.Front+t
		}
	}
	return out
}
