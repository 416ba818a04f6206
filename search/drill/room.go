package drill

import (
	"context"

	"lapwright/figures"
	"lapwright/search"
	"lapwright/search/routine"
)

// room is the floor of a room with what can be danced on it; its vertices are states.
type room struct {
	*search.Sheets
	problem *Problem
	start   search.State
	after   []*search.Set // what can be reached, by bars
}

// counts are a layer of the room.
type counts struct {
	sheets  *search.Sheets
	numbers search.Numbers
}

func (c counts) at(v uint32) float64 { return c.sheets.At(c.numbers, v) }

func newRoom(ctx context.Context, p *Problem) (*room, error) {
	states, err := search.NewMarkedStates(p.Room, p.marks())
	if err != nil {
		return nil, err
	}
	r := &room{problem: p}
	if r.start, err = states.Start(p.Start); err != nil {
		return nil, err
	}
	if states.Choices(r.start) == 0 {
		return nil, search.ErrNothingBegins
	}
	if r.Sheets, err = search.NewSheets(ctx, states); err != nil {
		return nil, err
	}
	dead := true
	r.each(r.start, func(move) { dead = false })
	if dead {
		return nil, ErrDeadEnd
	}
	return r, nil
}

func (r *room) begin() uint32 { return r.start }

func (r *room) each(at uint32, visit func(m move)) {
	wanted := func(_ int, to search.State) bool { return r.Alive(to) }
	r.Each(at, wanted, func(number int, to search.State) {
		edge, marked := r.EdgeOf(at, number)
		v, bars := r.Edge(edge)
		visit(move{number, to, bars, r.problem.weight(v, marked), v})
	})
}

func (r *room) longest() (most int) {
	for i := range r.Edges() {
		_, bars := r.Edge(i)
		most = max(most, bars)
	}
	return most
}

func (r *room) size() int { return 2 * r.Size() }

func (r *room) reached(ctx context.Context, bars int) (any []bool, err error) {
	if r.after, err = r.After(ctx, r.start, bars); err != nil {
		return nil, err
	}
	for _, set := range r.after {
		any = append(any, !set.Empty())
	}
	return any, nil
}

func (r *room) layer(bars int, before func(bars int) layer) (layer, bool) {
	if bars == 0 {
		return counts{r.Sheets, r.Ones()}, true
	}
	weight := func(edge int, marked bool) float64 {
		v, _ := r.Edge(edge)
		return float64(r.problem.weight(v, marked))
	}
	ahead := func(b int) search.Numbers {
		if b > bars {
			return nil
		}
		return before(bars - b).(counts).numbers
	}
	numbers, ok := r.Sum(ahead, weight, r.after[len(r.after)-1-bars])
	return counts{r.Sheets, numbers}, ok
}

func (r *room) stance(at uint32) figures.Stance { return r.Standing(at).Stance }

func (r *room) joins(ctx context.Context, visit func(before, after *figures.Variant)) error {
	return r.Joins(ctx, r.start, func(before, after int) {
		var first *figures.Variant
		if before >= 0 {
			first, _ = r.Edge(before)
		}
		second, _ := r.Edge(after)
		visit(first, second)
	})
}

func (r *room) steps(path []arc) (steps []routine.Step) {
	for _, a := range path {
		m, _ := r.Choice(a.vertex, a.number)
		steps = append(steps, m.Step())
	}
	return steps
}
