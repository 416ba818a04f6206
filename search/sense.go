package search

import (
	"errors"
	"fmt"
	"math"

	"lapwright/figures"
	"lapwright/floors"
)

// MostBars is the greatest number of bars that a lap may be asked to have; several
// laps may have as many times more, see [Problem.MostBars].
const MostBars = 400

// MostLaps is the greatest number of laps that a routine may be asked to have.
const MostLaps = 20

// MostBars is the greatest number of bars that the routine may be asked to have:
// [MostBars] for each lap.
func (p *Problem) MostBars() int { return MostBars * p.rounds() }

// rounds is how many times round the room the routine goes.
func (p *Problem) rounds() int { return max(1, p.Laps) }

// The ranges of a [Scale].
const (
	leastShare = 0.25
	mostShare  = 2
	mostScales = 16
)

// settled is the problem with what it leaves open filled in, or an error when it
// makes no sense. The problem itself is not changed.
func (p *Problem) settled() (*Problem, error) {
	own := *p
	if len(own.Scales) == 0 {
		own.Scales = DefaultScales
	}
	for _, check := range []func() error{own.senseRoom, own.senseFigures, own.senseCouple, own.senseLaps, own.senseLimits, own.senseWeights, own.senseCount} {
		if err := check(); err != nil {
			return nil, err
		}
	}
	own.Limits.clamp(2 * own.MostBars())
	return &own, nil
}

func (p *Problem) senseRoom() error {
	switch {
	case p.Room == nil || len(p.Room.Walls) == 0:
		return errors.New("no room is given")
	case math.IsNaN(p.Margin) || p.Margin > 5:
		return fmt.Errorf("a margin of %g m is out of range: 0 to 5 m", p.Margin)
	case p.Margin > p.Room.Margin && p.Room.Widest() < floors.CoupleRadius+p.Margin:
		return fmt.Errorf("a margin of %g m leaves no floor to dance on: the largest free circle in %s has a radius of %.3g m, and a couple takes %g m of it",
			p.Margin, p.Room.Name, p.Room.Widest(), floors.CoupleRadius)
	case p.Start == nil:
		return nil
	case p.Start.Wall < 0 || p.Start.Wall >= len(p.Room.Walls):
		return fmt.Errorf("the room has no wall %d: its walls are numbered from 1 to %d", p.Start.Wall+1, len(p.Room.Walls))
	}
	if at := p.Start.At; at != nil && !(math.Abs(at.X) <= 1000 && math.Abs(at.Y) <= 1000) {
		return fmt.Errorf("no couple can begin at (%g, %g): that is no place in a room", at.X, at.Y)
	}
	return nil
}

func (p *Problem) senseFigures() error {
	if len(p.Variants) == 0 {
		return errors.New("no figures are left to dance")
	}
	for i, v := range p.Variants {
		switch {
		case v == nil || v.Figure == nil || len(v.Steps) == 0 || len(v.Entries) == 0:
			return fmt.Errorf("figure %d of those that may be used has no name, no steps or nowhere to begin", i+1)
		case v.Figure.Beats < 1 || v.Bars() < 1:
			return fmt.Errorf("%s takes no whole bar, so a lap could go on for ever at no cost", v.Name())
		case !(v.Awkward >= 0 && v.Awkward <= 100):
			return fmt.Errorf("a cost of %g for dancing %s is out of range: 0 to 100 bars", v.Awkward, v.Name())
		}
	}
	return nil
}

func (p *Problem) senseCouple() error {
	if s := p.Couple.Stride; !(s >= figures.LeastStride && s <= figures.MostStride) {
		return fmt.Errorf("a stride of %g m is out of range: %g to %g m", s, figures.LeastStride, figures.MostStride)
	}
	if len(p.Scales) > mostScales {
		return fmt.Errorf("a figure is to be danced at %d scales; at most %d can be asked for", len(p.Scales), mostScales)
	}
	for _, s := range p.Scales {
		if !(s.Share >= leastShare && s.Share <= mostShare) {
			return fmt.Errorf("a share of %g of the stride is out of range: %g to %d", s.Share, leastShare, mostShare)
		}
		if !(s.Cost >= 0 && s.Cost <= 100) {
			return fmt.Errorf("a cost of %g for a share of %g of the stride is out of range: 0 to 100 bars", s.Cost, s.Share)
		}
	}
	return nil
}

// mostWeight is the greatest weight in bars.
const mostWeight = 100

func (p *Problem) senseWeights() error {
	w := p.Weights
	for _, x := range []struct {
		name  string
		value float64
	}{{"bars", w.Bars}, {"lane", w.Lane}, {"crowding", w.Crowding}, {"awkward", w.Awkward}, {"repeat", w.Repeat}, {"stretch", w.Stretch}, {"gap", w.Gap}} {
		if !(x.value >= 0 && x.value <= mostWeight) {
			return fmt.Errorf("a weight of %g for %s is out of range: 0 to %d bars", x.value, x.name, mostWeight)
		}
	}
	if w.Bars < 0.01 {
		return errors.New("the weight of bars must be at least 0.01, or a lap could go on for ever at no cost")
	}
	return nil
}
