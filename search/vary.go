package search

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"

	"lapwright/figures"
	"lapwright/figures/geometry"
	"lapwright/floors"
	"lapwright/search/routine"
)

// VaryProblem asks for variations of a routine: other ways of dancing some stretches
// of it, all else as it was.
type VaryProblem struct {
	// Problem says on which floor, with which figures and how; its start, limits and
	// laps do not count. The variants need not have those of the routine among them.
	Problem
	// Routine is danced from its start without a fault, each corner said.
	Routine routine.Routine
	// Stretches are what may be danced otherwise, in order, none overlapping. What
	// lies between them stays.
	Stretches []Stretch
	// Begin are the ways of dancing a figure one of which the first stretch begins with;
	// none: any. BeginCorner tells whether it takes the next wall; unsaid: either.
	Begin       []*figures.Variant
	BeginCorner routine.Corner
	Count       int // how many variations are asked for, from 1 to [MostVariations]
	Sort        VaryOrder
	// Closes tells that the routine has to end within [Tolerance] of its start.
	Closes bool
}

// MostVariations is the greatest number of variations that can be asked for.
const MostVariations = 100

// VaryOrder is what variations are sorted by.
type VaryOrder string

// The orders: most figures changed first, easiest first, farthest along the line of
// dance first.
const (
	ByNovelty    VaryOrder = "novelty"
	ByDifficulty VaryOrder = "difficulty"
	ByTravel     VaryOrder = "travel"
)

// Stretch is a piece of a routine that may be danced otherwise: from where and how
// the couple stands at its beginning to the same stance and wall at its end.
type Stretch struct {
	// First is the index of the first figure that may change, End that of the first
	// one after it that stays, or the number of figures.
	First, End int
	// Tolerance is how far in metres the end may lie from where it was.
	Tolerance float64
	// MinBars and MaxBars are how many bars it takes: both as many as before keep
	// the music.
	MinBars, MaxBars int
}

// Variation is a routine that differs from the one given.
type Variation struct {
	Routine routine.Routine
	Measures
	// Novelty is the share of figures that have changed, from 0 to 1: the fewest
	// figures left out, put in or put in place of another (edit distance;
	// Levenshtein 1966) over the number of figures of the longer routine.
	Novelty float64
	// Off is how far in metres its end lies from that of the routine given.
	Off float64
}

// Varied are the variations of a routine.
type Varied struct {
	Was        Measures
	Variations []Variation
	// Why says why there are none, or fewer than were asked for; empty otherwise.
	Why string
	// All tells that every way of dancing the stretches was looked at. Otherwise
	// only the more promising ones were.
	All bool
}

// stop is where and how a couple stands between two figures of a routine.
type stop struct {
	wall   int // index
	cell   floors.Cell
	stance figures.Stance
	before *figures.Variant // danced just before; nil at the start
}

// Vary finds variations: of each stretch the ways that cost least, chosen so that
// they differ. tell hears how many were found. The same problem has the same answer.
// An error tells that the problem makes no sense or that ctx was cancelled.
func Vary(ctx context.Context, p *VaryProblem, tell func(found int)) (*Varied, error) {
	own, err := p.Problem.withoutLimits().settled()
	if err != nil {
		return nil, err
	}
	if err := p.sense(); err != nil {
		return nil, err
	}
	v := &varying{VaryProblem: p, problem: own, ways: map[string]*wayList{}}
	v.stands = v.dance(v.start(), p.Routine.Steps)
	was := v.measures(&p.Routine)
	out := &Varied{Was: was, All: true}
	seen := map[string]bool{fmt.Sprint(names(p.Routine.Steps)): true}
	add := func(number, only int) error {
		steps, cell, ok, err := v.variation(ctx, number, only)
		key := fmt.Sprint(names(steps))
		if err != nil || !ok || seen[key] {
			return err
		}
		if seen[key] = true; !v.fits(v.start(), steps) {
			return nil
		}
		r := p.Routine
		r.Steps = steps
		end := v.stands[len(v.stands)-1].cell
		out.Variations = append(out.Variations, Variation{Routine: r, Measures: v.measures(&r),
			Novelty: novelty(p.Routine.Steps, steps), Off: cell.Point().Sub(end.Point()).Len()})
		if tell != nil {
			tell(len(out.Variations))
		}
		return nil
	}
	for i := 0; len(out.Variations) < p.Count && i < tries*p.Count; i++ {
		if err := add(i, all); err != nil {
			return nil, err
		}
	}
	// Where they do not all change, one by one may.
	for i := 0; len(p.Stretches) > 1 && len(p.Begin) == 0 && len(out.Variations) < p.Count && i < tries*p.Count; i++ {
		if err := add(i/len(p.Stretches), i%len(p.Stretches)); err != nil {
			return nil, err
		}
	}
	for _, w := range v.ways {
		out.All = out.All && w.all
	}
	out.sort(p.Sort)
	if n := len(out.Variations); n < p.Count {
		out.Why = fmt.Sprintf("%s found of %d that were asked for", count(n, "variation"), p.Count)
		if out.All {
			out.Why += ": there are no more ways that rejoin the routine in the same stance, within the tolerance, in " + p.span()
		} else {
			out.Why += "; not every way was looked at: more bars that may change, or a greater tolerance, can help"
		}
	}
	return out, nil
}

// span says how many bars the stretches may take.
func (p *VaryProblem) span() string {
	for _, s := range p.Stretches {
		if s.MinBars != s.MaxBars {
			return "so many bars"
		}
	}
	return "as many bars"
}

// tries is how many combinations are tried for each variation that is asked for.
const tries = 12

func (p Problem) withoutLimits() *Problem {
	p.Limits, p.Start, p.Laps = Limits{}, nil, 0
	return &p
}

// sense refuses what cannot be varied.
func (p *VaryProblem) sense() error {
	n := len(p.Routine.Steps)
	switch {
	case p.Routine.Start.At == nil || n == 0:
		return errors.New("the routine has no place to start from, or no figures")
	case p.Count < 1 || p.Count > MostVariations:
		return fmt.Errorf("%d variations are asked for; 1 to %d can be had", p.Count, MostVariations)
	case len(p.Stretches) == 0:
		return errors.New("nothing of the routine may change")
	}
	at := 0
	for _, s := range p.Stretches {
		switch {
		case s.First < at || s.End <= s.First || s.End > n:
			return fmt.Errorf("figures %d to %d cannot change: the routine has %d, and stretches follow each other", s.First+1, s.End, n)
		case !(s.Tolerance >= 0 && s.Tolerance <= 5):
			return fmt.Errorf("a tolerance of %g m is out of range: 0 to 5 m", s.Tolerance)
		case s.MinBars < 1 || s.MaxBars < s.MinBars || s.MaxBars > MostVaried:
			return fmt.Errorf("a stretch of %d to %d bars cannot be varied: 1 to %d bars can", s.MinBars, s.MaxBars, MostVaried)
		case corners(p.Routine.Steps[s.First:s.End]) > len(p.Room.Walls):
			return errors.New("a stretch goes round the room more than once; change fewer bars at a time")
		}
		at = s.End
	}
	for i, s := range p.Routine.Steps {
		if s.Variant == nil || s.Corner == routine.Unsaid {
			return fmt.Errorf("figure %d is missing, or does not say which wall it is danced along", i+1)
		}
	}
	return nil
}

// corners is how many corners are taken in some steps.
func corners(steps []routine.Step) (n int) {
	for _, s := range steps {
		n += yes(s.Corner == routine.Take)
	}
	return n
}

// MostVaried is the greatest number of bars of one stretch.
const MostVaried = 64

// varying is a search for variations under way.
type varying struct {
	*VaryProblem
	problem *Problem
	stands  []stop // before each figure of the routine, and at its end
	ways    map[string]*wayList
}

// start is where the routine begins.
func (v *varying) start() stop {
	start := v.Routine.Start
	return stop{start.Wall, floors.CellAt(*start.At), start.Stance, nil}
}

// dance lays some steps on the lattice.
func (v *varying) dance(at stop, steps []routine.Step) []stop {
	stands := []stop{at}
	walls := v.Room.Walls
	for _, s := range steps {
		if s.Corner == routine.Take {
			at.stance = at.stance.Turned(walls[at.wall].Eighths)
			at.wall = (at.wall + 1) % len(walls)
		}
		d := s.Variant.Dance(at.stance, v.Couple.WithStride(v.Couple.Stride*s.Scale))
		at = stop{at.wall, at.cell.Add(walls[at.wall].Shift(d.Displacement)), d.Exit, s.Variant}
		stands = append(stands, at)
	}
	return stands
}

// all says that all stretches change.
const all = -1

// variation is the routine with the ways of the given number for its stretches, or only
// for the one of an index; ok is false where a stretch has none.
func (v *varying) variation(ctx context.Context, number, only int) (steps []routine.Step, end floors.Cell, ok bool, err error) {
	at := 0
	off := floors.Cell{} // by how much the couple is away from where it was
	for k, s := range v.Stretches {
		steps = append(steps, v.Routine.Steps[at:s.First]...)
		if only != all && only != k {
			steps, at = append(steps, v.Routine.Steps[s.First:s.End]...), s.End
			continue
		}
		from := v.stands[s.First]
		from.cell = from.cell.Add(off)
		w, err := v.between(ctx, k, from)
		if err != nil {
			return nil, end, false, err
		}
		if len(w.list) == 0 {
			return nil, end, false, nil
		}
		// The stretches go through their ways at paces of their own, so that they
		// do not always change together.
		way := w.list[(number/(1+k)+k*number)%len(w.list)]
		steps = append(steps, way.steps...)
		off = floors.Cell{X: way.end.X - v.stands[s.End].cell.X, Y: way.end.Y - v.stands[s.End].cell.Y}
		at = s.End
	}
	steps = append(steps, v.Routine.Steps[at:]...)
	last := v.stands[len(v.stands)-1].cell.Add(off)
	return steps, last, v.closes(last.Point()), nil
}

// between finds the ways of dancing a stretch from where the couple stands; they are
// put in an order in which the first ones differ most.
func (v *varying) between(ctx context.Context, k int, from stop) (*wayList, error) {
	key := fmt.Sprint(k, from.cell)
	if w, known := v.ways[key]; known {
		return w, nil
	}
	s := v.Stretches[k]
	var next *routine.Step
	if s.End < len(v.Routine.Steps) {
		next = &v.Routine.Steps[s.End]
	}
	// What stays has to be danced from its end, up to where the routine closes.
	stays, last := v.Routine.Steps[s.End:], k+1 == len(v.Stretches)
	if !last {
		stays = v.Routine.Steps[s.End:v.Stretches[k+1].First]
	}
	good := map[floors.Cell]bool{}
	ends := func(cell floors.Cell) bool {
		is, known := good[cell]
		if !known {
			at := v.stands[s.End]
			off := cell.Point().Sub(at.cell.Point())
			at.cell = cell
			is = (!last || v.closes(v.stands[len(v.stands)-1].cell.Point().Add(off))) && v.fits(at, stays)
			good[cell] = is
		}
		return is
	}
	w, err := v.findWays(ctx, k, from, v.stands[s.End], corners(v.Routine.Steps[s.First:s.End]), next, ends)
	if err != nil {
		return nil, err
	}
	if v.Seed != 0 {
		r := rand.New(rand.NewPCG(v.Seed, uint64(k)))
		r.Shuffle(len(w.list), func(a, b int) { w.list[a], w.list[b] = w.list[b], w.list[a] })
	}
	w.list = spread(w.list, v.Routine.Steps[s.First:s.End])
	if k+1 < len(v.Stretches) {
		// Another stretch has to go on from there: best from where it did before.
		slices.SortStableFunc(w.list, func(a, b way) int { return v.hardly(a.end, s.End) - v.hardly(b.end, s.End) })
	}
	v.ways[key] = w
	return w, nil
}

// spread puts ways in an order in which each differs as much as can be from what was
// danced and from those before it (the farthest first; Gonzalez 1985). What was danced
// comes last: where nothing else will do, a stretch stays as it is.
func spread(list []way, was []routine.Step) []way {
	far := make([]float64, len(list))
	for i := range list {
		far[i] = novelty(was, list[i].steps)
	}
	var chosen []way
	left := slices.Clone(list)
	for len(left) > 0 {
		best := 0
		for i := range left {
			if far[i] > far[best] {
				best = i
			}
		}
		chosen = append(chosen, left[best])
		now := left[best].steps
		left, far = slices.Delete(left, best, best+1), slices.Delete(far, best, best+1)
		for i := range left {
			far[i] = min(far[i], novelty(now, left[i].steps))
		}
	}
	return chosen
}

// hardly is 0 where a way ends within 10 cm of where the figure of an index began, and 1
// elsewhere.
func (v *varying) hardly(end floors.Cell, index int) int {
	return yes(end.Point().Sub(v.stands[index].cell.Point()).Len() > 0.1+1e-9)
}

// closes reports whether the routine may end at a place.
func (v *varying) closes(end geometry.Point) bool {
	return !v.Closes || end.Sub(v.start().cell.Point()).Len() <= Tolerance+1e-9
}

// fits reports whether the couple stays on the floor and at the walls in use through
// some steps.
func (v *varying) fits(at stop, steps []routine.Step) bool {
	stands := v.dance(at, steps)
	margin := v.problem.Margin
	if margin < 0 {
		margin = v.Room.Margin
	}
	for i, s := range steps {
		from, to := stands[i], stands[i+1]
		if s.Corner == routine.Take && !v.Room.InCorner(from.wall, from.cell.Point()) || !v.Room.InUse(to.wall, to.cell.Point()) {
			return false
		}
		entry := from.stance
		if s.Corner == routine.Take {
			entry = entry.Turned(v.Room.Walls[from.wall].Eighths)
		}
		d := s.Variant.Dance(entry, v.Couple.WithStride(v.Couple.Stride*s.Scale))
		for _, disc := range d.Sweep() {
			at := from.cell.Point().Add(disc.Centre.Rotate(v.Room.Walls[to.wall].Direction))
			if v.Room.Clearance(at) < disc.Radius+margin-1e-6 {
				return false
			}
		}
	}
	return true
}
