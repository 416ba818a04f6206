package search

import (
	"context"
	"errors"
	"fmt"

	"lapwright/search/export"
)

// instance is the finite graph of all laps that cost no more than a cutoff, with the
// limits, for other programs; nil when there are none.
func (s *searcher) instance(ctx context.Context, cutoff int32) (*export.Instance, error) {
	_, classes := s.labelLimits()
	c, err := s.corridor(ctx, cutoff, classes)
	if err != nil || c == nil {
		return nil, err
	}
	return s.instanceOf(c), nil
}

// instanceOf is a corridor with the limits.
func (s *searcher) instanceOf(c *corridor) *export.Instance {
	limits, _ := s.labelLimits()
	in := &export.Instance{Network: c.Network, Limits: *limits}
	for _, f := range s.plan.figures {
		in.Figures = append(in.Figures, f.Name)
	}
	for _, limit := range s.problem.Limits.Caps {
		in.Classes = append(in.Classes, limit.Name)
	}
	return in
}

// export puts the graph of all laps that cost no more than the one that was found, which
// holds the best within the limits, into the result.
func (s *searcher) export(ctx context.Context) error {
	lap := s.result.Lap
	in, err := s.instance(ctx, hundredths(lap.Costs.Total()))
	if errors.Is(err, errTooWide) {
		return fmt.Errorf("too many laps cost no more than %.2f bars to write them into a file: more than %d ways to go on; allow fewer figures, or ask for less that makes a lap dear", lap.Costs.Total(), mostArcs)
	}
	if err != nil {
		return err
	}
	in.Name = fmt.Sprintf("%s, laps of %.2f bars' cost at most", s.problem.Room.Name, lap.Costs.Total())
	s.result.Instance = in
	return nil
}
