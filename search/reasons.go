package search

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search/conflict"
	"lapwright/search/routine"
)

// Reasons are why a problem has no lap, or none was found, and what would help.
type Reasons struct {
	// Clash is what clashes, in words: an irreducible set of limits. It is empty
	// where there is no lap even without limits.
	Clash []string
	// Proven tells that no lap keeps to all of the clash. Otherwise none was found.
	Proven bool
	// Irreducible tells that there is a lap that keeps to all but any one of them.
	Irreducible bool
	// Ways are what would help, one thing at a time, and what would not.
	Ways []Way
	// Untried are what could not be tried, or not to the end, in the time given.
	Untried []string
}

// Way is a change of one thing, and whether it opens a way to a lap.
type Way struct {
	// Open tells that there is a lap with the change.
	Open bool
	Bars int // that the lap takes which was found; 0 where none was
	// Words say what is changed and what comes of it, in a sentence.
	Words string
}

// roomStep is by how much in metres a room is stretched at a time, and mostStretched
// how many times.
const (
	roomStep      = 0.25
	mostStretched = 24
)

// Why finds out why a problem has no lap: first a set of limits that clash, by
// conflict.Find, then for each of them the least by which it must give way, all else
// as asked, and which figures of [Problem.More], and how much more room, would do
// instead. It is nil when there is a lap.
//
// Where ctx's deadline passes, what is known by then is returned, with what was left
// untried; an error tells that the problem makes no sense or that ctx was cancelled.
func Why(ctx context.Context, p *Problem, feasible Feasible) (*Reasons, error) {
	return newWondering(ctx, p, feasible).wonder()
}

func newWondering(ctx context.Context, p *Problem, feasible Feasible) *wondering {
	return &wondering{ctx: ctx, problem: p, feasible: feasible, demands: p.demands(), reasons: &Reasons{}, laps: map[string]*Lap{}}
}

func (w *wondering) wonder() (*Reasons, error) {
	if err := w.clash(); err != nil {
		return nil, err
	}
	if w.members == nil && !w.hopeless && !w.late() {
		return nil, nil
	}
	steps := []func() error{w.giveWay, w.moreFigures, w.moreRoom}
	if w.hopeless {
		steps = []func() error{w.moreRoom, w.moreFigures}
	}
	for _, ask := range steps {
		if err := ask(); err != nil {
			return nil, err
		}
	}
	return w.reasons, nil
}

// wondering is a search for reasons under way.
type wondering struct {
	ctx      context.Context
	problem  *Problem
	feasible Feasible
	demands  []demand
	members  []int // of the clash
	hopeless bool  // there is no lap, whatever the limits
	noRoom   bool  // more room is no help
	reasons  *Reasons
	laps     map[string]*Lap // that were found, by what was kept
}

// late reports whether the time is over.
func (w *wondering) late() bool { return errors.Is(w.ctx.Err(), context.DeadlineExceeded) }

// untried notes what was not tried if an error says that the time is over; any other
// error is returned.
func (w *wondering) untried(err error, what string) error {
	if err != nil && w.late() {
		w.reasons.Untried = append(w.reasons.Untried, what)
		return nil
	}
	return err
}

// ask asks about the problem with other limits. Limits that contradict each other by
// themselves are proven to have no lap.
func (w *wondering) ask(ctx context.Context, l Limits) (conflict.Answer, *Lap, error) {
	p := *w.problem
	p.Limits = l
	if _, err := p.settled(); err != nil {
		return conflict.Impossible, nil, nil
	}
	return w.feasible(ctx, &p)
}

// limits are those of some demands.
func (w *wondering) limits(kept []int) (l Limits) {
	for _, i := range kept {
		w.demands[i].keep(&l)
	}
	return l
}

// others are all demands but one.
func (w *wondering) others(without int) (kept []int) {
	for i := range w.demands {
		if i != without {
			kept = append(kept, i)
		}
	}
	return kept
}

// clash finds a set of limits that clash.
func (w *wondering) clash() error {
	clash, err := conflict.Find(w.ctx, len(w.demands), func(ctx context.Context, kept []int) (conflict.Answer, error) {
		a, lap, err := w.ask(ctx, w.limits(kept))
		if a == conflict.Possible {
			w.laps[fmt.Sprint(kept)] = lap
		}
		return a, err
	})
	if err := w.untried(err, "a smaller set of limits that clash"); err != nil || clash == nil {
		return err
	}
	w.members, w.hopeless = clash.Members, len(clash.Members) == 0
	r := w.reasons
	r.Proven, r.Irreducible = clash.Proven, clash.Irreducible
	if len(w.members) == 1 && !r.Proven && len(w.demands) > 1 && w.search(w.limits(w.members)) != nil {
		w.members, r.Irreducible = w.others(-1), false
	}
	for _, i := range w.members {
		r.Clash = append(r.Clash, w.demands[i].words)
	}
	return nil
}

// search asks the search itself for a lap that keeps to some limits, where it is not
// known whether there is one; that takes longer. It is nil where none is found in time.
func (w *wondering) search(l Limits) *Lap {
	p := *w.problem
	p.Limits, p.Count, p.Export, p.WhyTime = l, 1, false, 1
	res, err := Find(w.ctx, &p, nil)
	if err != nil {
		return nil
	}
	return res.Lap
}

// giveWay finds by how much each limit of the clash must give way.
func (w *wondering) giveWay() error {
	for _, i := range w.members {
		d := &w.demands[i]
		if w.late() {
			w.reasons.Untried = append(w.reasons.Untried, "laps "+d.without)
			continue
		}
		way, err := w.giving(i)
		what := "laps " + d.without
		if way.Words != "" {
			what = "whether a smaller change would do"
		}
		if err = w.untried(err, what); err != nil {
			return err
		}
		if way.Words != "" {
			w.add(way)
		}
	}
	return nil
}

// giving finds by how much one limit must give way, the others being as they are.
func (w *wondering) giving(i int) (way Way, err error) {
	d := &w.demands[i]
	kept := w.others(i)
	lap, a := w.laps[fmt.Sprint(kept)], conflict.Possible
	if lap == nil {
		if a, lap, err = w.ask(w.ctx, w.limits(kept)); err != nil {
			return way, err
		}
	}
	if a == conflict.Unknown {
		if lap = w.search(w.limits(kept)); lap != nil {
			a = conflict.Possible
		}
	}
	if a != conflict.Possible {
		return Way{Words: d.without + w.neither(a)}, nil
	}
	way = Way{true, lap.Bars, fmt.Sprintf("%s there is a lap of %s", d.without, count(lap.Bars, "bar"))}
	if d.ease == nil {
		if other, err := w.instead(d, kept); err != nil || other.Open {
			return other, err
		}
		return way, nil
	}
	// The lap that was found says by how much is enough.
	enough := d.over(w.problem.danced(lap))
	best := lap
	o, err := conflict.Least(w.ctx, enough, func(ctx context.Context, by int) (conflict.Answer, error) {
		if by == enough {
			return conflict.Possible, nil
		}
		l := w.limits(kept)
		d.ease(&l, by)
		a, lap, err := w.ask(ctx, l)
		if a == conflict.Possible {
			best = lap
		}
		return a, err
	})
	if !o.Found {
		o.At = enough
	}
	for o.Shut > 0 && !o.Proven && err == nil {
		l := w.limits(kept)
		d.ease(&l, o.Shut)
		lap := w.search(l)
		if lap == nil {
			break
		}
		best, o.At = lap, d.over(w.problem.danced(lap))
		o.Shut = o.At - 1
	}
	return Way{true, best.Bars, w.numbers(d, &o, best)}, err
}

// numbers says by how much a limit must give way: "at most 22 bars would do; at most
// 21 bars would not (proven)".
func (w *wondering) numbers(d *demand, o *conflict.Opening, lap *Lap) string {
	words := d.eased(o.At) + " would do"
	switch {
	case d.nothing > 0 && o.At >= d.nothing:
		words = fmt.Sprintf("%s there is a lap of %s", d.without, count(lap.Bars, "bar"))
	case !d.bars:
		words += fmt.Sprintf(", with a lap of %s", count(lap.Bars, "bar"))
	}
	switch {
	case o.Shut > 0 && o.Proven:
		words += fmt.Sprintf("; %s would not%s", d.eased(o.Shut), w.proof())
	case o.Shut > 0:
		words += fmt.Sprintf("; with %s none was found", d.eased(o.Shut))
	}
	return words
}

// instead tries what could be asked for in place of a demand, the nearest first.
func (w *wondering) instead(d *demand, kept []int) (Way, error) {
	for i := range d.others {
		other := &d.others[i]
		l := w.limits(kept)
		other.keep(&l)
		a, lap, err := w.ask(w.ctx, l)
		if err != nil {
			return Way{}, err
		}
		if a == conflict.Possible {
			return Way{true, lap.Bars, fmt.Sprintf("%s would do, with a lap of %s", other.words, count(lap.Bars, "bar"))}, nil
		}
	}
	return Way{}, nil
}

// moreFigures finds which figures would have to be added.
func (w *wondering) moreFigures() error {
	added := byFigure(w.problem.More)
	if len(added) == 0 {
		return nil
	}
	if w.late() {
		w.reasons.Untried = append(w.reasons.Untried, "more figures")
		return nil
	}
	laps := map[string]*Lap{}
	found, proven, err := conflict.Additions(w.ctx, len(added), func(ctx context.Context, some []int) (conflict.Answer, error) {
		p := *w.problem
		p.Variants = slices.Clone(p.Variants)
		for _, i := range some {
			p.Variants = append(p.Variants, added[i]...)
		}
		a, lap, err := w.feasible(ctx, &p)
		if a == conflict.Possible {
			laps[fmt.Sprint(some)] = lap
		}
		return a, err
	})
	late := err != nil
	what := "more figures"
	if len(found) > 0 {
		what = "whether fewer other figures would do"
	}
	if err := w.untried(err, what); err != nil {
		return err
	}
	switch {
	case proven:
		w.add(Way{Words: "with any of the other figures" + w.neither(conflict.Impossible)})
	case len(found) > 0:
		bars := laps[fmt.Sprint(found)].Bars
		w.add(Way{true, bars, fmt.Sprintf("with %s added there is a lap of %s", someFigures(added, found), count(bars, "bar"))})
	case !late:
		w.add(Way{Words: "with any of the other figures" + w.neither(conflict.Unknown)})
	}
	return nil
}

// add adds a way to the reasons.
func (w *wondering) add(way Way) { w.reasons.Ways = append(w.reasons.Ways, way) }

// someFigures names figures where they are few.
func someFigures(all [][]*figures.Variant, some []int) string {
	if len(some) > 4 {
		return "more figures"
	}
	var names []string
	for _, i := range some {
		names = append(names, all[i][0].Figure.Name)
	}
	return and(names)
}

// byFigure puts the variants of each figure together, in the order of the first ones.
func byFigure(variants []*figures.Variant) (groups [][]*figures.Variant) {
	number := map[*figures.Figure]int{}
	for _, v := range variants {
		i, known := number[v.Figure]
		if !known {
			i = len(groups)
			number[v.Figure] = i
			groups = append(groups, nil)
		}
		groups[i] = append(groups[i], v)
	}
	return groups
}

// moreRoom finds by how much the room would have to be longer. Where too many bars
// are the trouble, more room is no help.
func (w *wondering) moreRoom() error {
	if w.noRoom || w.problem.Limits.MaxBars > 0 && slices.Contains(w.members, 0) {
		return nil
	}
	none := []string{}
	for _, wall := range directions(w.problem.Room) {
		along := "along " + w.problem.Room.Walls[wall].Name
		if w.late() {
			w.reasons.Untried = append(w.reasons.Untried, "more room "+along)
			continue
		}
		var best *Lap
		o, err := conflict.Least(w.ctx, mostStretched, func(ctx context.Context, by int) (conflict.Answer, error) {
			p, err := stretched(w.problem, wall, roomStep*float64(by))
			if err != nil {
				// A room that cannot be stretched so helps nobody.
				return conflict.Impossible, nil
			}
			a, lap, err := w.feasible(ctx, p)
			if a == conflict.Possible {
				best = lap
			}
			return a, err
		})
		if err = w.untried(err, "more room "+along); err != nil {
			return err
		}
		switch {
		case o.Found:
			words := fmt.Sprintf("with %g m more %s there is a lap of %s", roomStep*float64(o.At), along, count(best.Bars, "bar"))
			if o.Shut > 0 {
				words += fmt.Sprintf("; with %g m none was found", roomStep*float64(o.Shut))
			}
			w.add(Way{true, best.Bars, words})
		case !w.late():
			none = append(none, along)
		}
	}
	if len(none) > 0 {
		w.add(Way{Words: fmt.Sprintf("with up to %g m more %s", roomStep*mostStretched, strings.Join(none, " or ")) + w.neither(conflict.Unknown)})
	}
	return nil
}

// directions are walls that lead in different directions, against each other not
// counted: along each of them the room can be stretched otherwise.
func directions(room *floors.Room) (walls []int) {
	for i := range room.Walls {
		u := room.Walls[i].To.Sub(room.Walls[i].From)
		if !slices.ContainsFunc(walls, func(k int) bool {
			v := room.Walls[k].To.Sub(room.Walls[k].From)
			return u.Cross(v)*u.Cross(v) < 1e-6*u.Dot(u)*v.Dot(v)
		}) {
			walls = append(walls, i)
		}
	}
	return walls
}

// stretched is a problem in a room that has been stretched; a start goes with the
// floor on which it lies.
func stretched(p *Problem, wall int, metres float64) (*Problem, error) {
	room, err := p.Room.Stretched(wall, metres)
	if err != nil {
		return nil, err
	}
	if len(room.Walls) != len(p.Room.Walls) {
		return nil, errors.New("the room has other walls when it is longer")
	}
	own := *p
	own.Room = room
	if p.Start != nil && p.Start.At != nil {
		at := p.Room.StretchedPlace(wall, metres, *p.Start.At)
		own.Start = &routine.Start{Wall: p.Start.Wall, At: &at, Stance: p.Start.Stance}
	}
	return &own, nil
}

// proof says that something is proven, and for which laps.
func (w *wondering) proof() string { return proof(w.problem) }

func proof(p *Problem) string {
	if p.Start != nil && p.Start.At != nil {
		return " (proven)"
	}
	return " (proven for the starts that were tried)"
}

// neither says that there is no lap either, or that none was found.
func (w *wondering) neither(a conflict.Answer) string {
	if a == conflict.Impossible {
		return " there is no lap either" + w.proof()
	}
	return " no lap was found either"
}

// and joins words: "A", "A and B", "A, B and C".
func and(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// Sentences tell the reasons, one after the other, of a problem that has them: what
// clashes, what would help, and what was not tried.
func (r *Reasons) Sentences(p *Problem) []string {
	var all []string
	if len(r.Clash) > 0 {
		all = append(all, r.clashWords(p))
	}
	for _, open := range []bool{true, false} {
		for _, way := range r.Ways {
			if way.Open == open {
				all = append(all, way.Words)
			}
		}
	}
	if len(r.Untried) > 0 {
		all = append(all, "the time for finding out why was over before these were tried: "+strings.Join(r.Untried, "; "))
	}
	return all
}

// clashWords say what clashes, and how sure that is.
func (r *Reasons) clashWords(p *Problem) string {
	what := strings.Join(r.Clash, "; ")
	if len(r.Clash) == 1 {
		if r.Proven {
			return fmt.Sprintf("no lap keeps to this: %s%s", what, proof(p))
		}
		return fmt.Sprintf("no lap was found that keeps to this: %s (that there is none is not proven)", what)
	}
	which, spare := "all of them", ", though one keeps to all but any one of them"
	if len(r.Clash) == 2 {
		which, spare = "both", ", though one keeps to either"
	}
	if !r.Irreducible {
		spare = ""
	}
	if r.Proven {
		return fmt.Sprintf("these limits clash: %s; no lap keeps to %s%s%s", what, which, proof(p), spare)
	}
	return fmt.Sprintf("these limits clash: %s; no lap was found that keeps to %s (that there is none is not proven)%s", what, which, spare)
}
