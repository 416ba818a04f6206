package figures

// throughFeet are the feet on the inside of a hold in which the partners are not
// in line: those that step through between them or past each other, across the
// dancer's own body. ahead tells whether each takes that step forward.
var throughFeet = map[Hold]struct {
	feet  [2]Foot
	ahead [2]bool
}{
	Promenade:          {[2]Foot{RightFoot, LeftFoot}, [2]bool{true, true}},
	CounterPromenade:   {[2]Foot{LeftFoot, RightFoot}, [2]bool{true, true}},
	OutsidePartner:     {[2]Foot{RightFoot, LeftFoot}, [2]bool{true, false}},
	OutsidePartnerLeft: {[2]Foot{LeftFoot, RightFoot}, [2]bool{true, false}},
	PartnerOutside:     {[2]Foot{LeftFoot, RightFoot}, [2]bool{false, true}},
	Fallaway:           {[2]Foot{LeftFoot, RightFoot}, [2]bool{false, false}},
}

// CBMP reports whether a dancer takes a step, counted from 0, in contra body
// movement position: the foot is placed on or across the line of the other. It
// follows from the hold where both partners step through in promenade or past
// each other outside; for other steps the library says so. (Common practice, no
// source, for the rule; the published steps are in TestPublishedTechnique.)
func (d *Danced) CBMP(step int, who Dancer) bool {
	t := &d.Steps[step]
	if t.Step.Actions[who].CBMP {
		return true
	}
	hold := d.Start.Hold
	if step > 0 {
		hold = d.Steps[step-1].After.Hold
	}
	through, ok := throughFeet[hold]
	if !ok {
		return false
	}
	for dancer := Leader; dancer <= Follower; dancer++ {
		fall := t.Falls[dancer]
		if fall.Foot != through.feet[dancer] || t.Step.Actions[dancer].Weightless {
			return false
		}
		ahead := fall.way == movesForward
		if !ahead && fall.way != movesBack && fall.Word != CrossesBehind.String() || ahead != through.ahead[dancer] {
			return false
		}
	}
	return true
}
