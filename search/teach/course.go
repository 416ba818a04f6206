package teach

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"

	"lapwright/figures"
	"lapwright/graph/growth"
	"lapwright/search"
)

// Course is the question of what to teach week by week.
type Course struct {
	Problem *search.Problem // its variants and limits do not count
	Known   []*figures.Variant
	Items   []Item // what may be taught, and is not known
	Weeks   int
	Each    int // figures taught each week
}

// Week is one week of a course.
type Week struct {
	Teach []Item
	// Bits is the growth rate of the routines of all that is known then.
	Bits float64
	// Lap is the practice lap: it dances every figure of the week, in as few bars as that
	// can be done in.
	Lap *search.Path
}

// ErrNoRound tells that no set of the figures gets round the room.
var ErrNoRound = errors.New("all the figures together do not get round this room")

// How widely a week's figures are looked for.
const (
	wide    = 4  // sets that are kept while a week is filled
	ahead   = 12 // figures or pairs, the easiest first, of which each is tried
	choices = 12 // weeks of which the practice lap is looked for
	// longestLap is the most bars of a practice lap.
	longestLap = 120
)

// MostEach is how many figures a week may have.
const MostEach = 4

// Find makes the course. It begins with a smallest set that gets round turning both ways,
// where the figures of a week are enough for one, or else with a smallest that gets round
// (of more figures than wanted, where fewer are not enough). All that follows joins what
// is known: it can be danced in a lap, as far as stances go. Each week is filled figure by
// figure, or pair by pair where one needs the other, keeping the best few (beam search):
// those whose figures are easiest for what they open – the points a bar of all that the
// week teaches, less [bitWorth] for each doubling a bar by which routines then grow, and
// at the end [barWorth] for each bar of the shortest lap. Of these weeks the first is
// taken that has a practice lap with all of its figures.
//
// A course that runs out of figures that join ends early. The error is [ErrNoRound], or
// that of ctx.
func (c *Course) Find(ctx context.Context, tell func(week int)) ([]Week, error) {
	items := c.items()
	r, err := NewRound(c.Problem, items)
	if err != nil {
		return nil, err
	}
	f := &filling{course: c, round: r, model: growth.New(variantsIn(items)), first: 0}
	known := Set{}
	if len(c.Known) > 0 {
		known, f.first = Of(0), 1
	}
	var weeks []Week
	for number := 1; number <= c.Weeks; number++ {
		if tell != nil {
			tell(number)
		}
		var begin []Set
		gets, err := r.Lap(ctx, known)
		if err != nil {
			return nil, err
		}
		if gets {
			begin = []Set{known}
		} else {
			if begin, err = f.beginnings(ctx, known, true, c.Each); err == nil && len(begin) == 0 {
				begin, err = f.beginnings(ctx, known, false, len(items))
			}
			if err != nil {
				return nil, err
			}
			if len(begin) == 0 {
				return nil, ErrNoRound
			}
		}
		week, now, err := f.week(ctx, known, begin)
		if err != nil {
			return nil, err
		}
		if week == nil {
			break
		}
		weeks, known = append(weeks, *week), now
	}
	return weeks, nil
}

// items are what may be taught, after what is known as one item.
func (c *Course) items() (all []Item) {
	if len(c.Known) > 0 {
		all = append(all, Item{Figure: c.Known[0].Figure, Variants: c.Known})
	}
	for _, it := range c.Items {
		own := Item{Figure: it.Figure}
		for _, v := range it.Variants {
			if !slices.Contains(c.Known, v) {
				own.Variants = append(own.Variants, v)
			}
		}
		all = append(all, own)
	}
	return all
}

func variantsIn(items []Item) (all []*figures.Variant) {
	for _, it := range items {
		all = append(all, it.Variants...)
	}
	return all
}

// filling is a course being made.
type filling struct {
	course *Course
	round  *Round
	model  *growth.Model
	first  int // item that may be taught
	// bits are growth rates that were found.
	bits map[Set]float64
}

// What is set against the points a bar of difficulty.
const (
	bitWorth = 2   // for a doubling a bar
	barWorth = 0.1 // for a bar of the shortest lap
)

// rate is the growth rate of a set.
func (f *filling) rate(set Set) float64 {
	if bits, known := f.bits[set]; known {
		return bits
	}
	itemOf := map[*figures.Variant]int{}
	for i, it := range f.round.Items {
		for _, v := range it.Variants {
			itemOf[v] = i
		}
	}
	bits := f.model.Rate(func(v *figures.Variant) bool { return set.Has(itemOf[v]) }).Bits()
	if f.bits == nil {
		f.bits = map[Set]float64{}
	}
	f.bits[set] = bits
	return bits
}

// price is what is set against what a set opens.
func (f *filling) price(set, known Set) float64 {
	price := -bitWorth * max(0, f.rate(set))
	for _, i := range set.Items() {
		if !known.Has(i) {
			price += f.round.Items[i].Points()
		}
	}
	return price
}

// beginnings are the smallest sets that get round, turning both ways or not, and hold
// what is known, with at most so many more figures.
func (f *filling) beginnings(ctx context.Context, known Set, both bool, most int) ([]Set, error) {
	f.round.BothWays = both
	defer func() { f.round.BothWays = false }()
	if gets, err := f.round.Lap(ctx, All(f.round.Items)); err != nil || !gets {
		return nil, err
	}
	for more := 1; more <= min(most, len(f.round.Items)); more++ {
		var found []Set
		var sets []Set
		var each func(set Set, from, more int)
		each = func(set Set, from, more int) {
			if more == 0 {
				sets = append(sets, set)
				return
			}
			for i := from; i+more <= len(f.round.Items); i++ {
				each(set.With(i), i+1, more-1)
			}
		}
		each(known, f.first, more)
		gets, faults := make([]bool, len(sets)), make([]error, len(sets))
		onAllCores(len(sets), func(i int) {
			// What serves no lap would be taught in vain.
			if core := f.round.Core(sets[i]); sets[i].Less(known).In(core) {
				gets[i], faults[i] = f.round.Lap(ctx, sets[i])
			}
		})
		for i, err := range faults {
			if err != nil {
				return nil, err
			}
			if gets[i] {
				found = append(found, sets[i])
			}
		}
		if len(found) > 0 {
			return found, nil
		}
	}
	return nil, nil
}

// addition is what is taught together.
type addition struct {
	items  []int
	points float64 // each, on average
}

// additions are the figures that join a set, and pairs of which each needs the other, the
// easiest first.
func (f *filling) additions(set Set, most int) (all []addition) {
	items := f.round.Items
	var apart []int
	for i := f.first; i < len(items); i++ {
		switch {
		case set.Has(i):
		case f.round.Core(set.With(i)).Has(i):
			all = append(all, addition{[]int{i}, items[i].Points()})
		default:
			apart = append(apart, i)
		}
	}
	if most >= 2 {
		for k, a := range apart {
			for _, b := range apart[k+1:] {
				if core := f.round.Core(set.With(a).With(b)); core.Has(a) && core.Has(b) {
					all = append(all, addition{[]int{a, b}, (items[a].Points() + items[b].Points()) / 2})
				}
			}
		}
	}
	slices.SortStableFunc(all, func(a, b addition) int { return cmp.Compare(a.points, b.points) })
	return all
}

// week fills a week from its beginnings, and finds its practice lap; nil where nothing
// more joins what is known.
func (f *filling) week(ctx context.Context, known Set, begin []Set) (*Week, Set, error) {
	goal := known.Len() + f.course.Each
	full := map[Set]bool{}
	open := begin
	if err := f.shortest(ctx, &open, known); err != nil {
		return nil, known, err
	}
	open = open[:min(len(open), wide)]
	for len(open) > 0 {
		if err := ctx.Err(); err != nil {
			return nil, known, err
		}
		var next []Set
		seen := map[Set]bool{}
		for _, set := range open {
			more := goal - set.Len()
			if more <= 0 {
				full[set] = true
				continue
			}
			adds := f.additions(set, more)
			if len(adds) == 0 && set != known {
				full[set] = true
			}
			for _, a := range adds[:min(len(adds), ahead)] {
				with := set
				for _, i := range a.items {
					with = with.With(i)
				}
				if !seen[with] {
					seen[with] = true
					next = append(next, with)
				}
			}
		}
		f.best(&next, known, choices)
		open = next
		if len(open) > wide && open[0].Len() < goal {
			open = open[:wide]
		}
	}
	var sets []Set
	for set := range full {
		sets = append(sets, set)
	}
	f.best(&sets, known, choices)
	if err := f.shortest(ctx, &sets, known); err != nil {
		return nil, known, err
	}
	for _, set := range sets {
		lap, err := f.lap(ctx, set, known)
		if err != nil {
			return nil, known, err
		}
		if lap == nil {
			continue
		}
		w := &Week{Bits: f.rate(set), Lap: lap}
		for _, i := range set.Less(known).Items() {
			w.Teach = append(w.Teach, f.round.Items[i])
		}
		Easiest(w.Teach)
		return w, set, nil
	}
	return nil, known, nil
}

// best keeps the best sets, in order.
func (f *filling) best(sets *[]Set, known Set, most int) {
	f.order(*sets, func(s Set) float64 { return f.price(s, known) })
	*sets = (*sets)[:min(len(*sets), most)]
}

// order puts the cheapest sets first.
func (f *filling) order(sets []Set, price func(Set) float64) {
	prices := map[Set]float64{}
	for _, s := range sets {
		prices[s] = math.Round(1e6 * price(s))
	}
	slices.SortFunc(sets, func(a, b Set) int {
		return cmp.Or(cmp.Compare(prices[a], prices[b]), slices.Compare(a.Items(), b.Items()))
	})
}

// shortest orders sets with what their shortest laps, at the usual stride, cost too.
func (f *filling) shortest(ctx context.Context, sets *[]Set, known Set) error {
	bars, faults := make([]int, len(*sets)), make([]error, len(*sets))
	onAllCores(len(bars), func(i int) { bars[i], faults[i] = f.round.Shortest(ctx, (*sets)[i], mostBars) })
	price := map[Set]float64{}
	for i, s := range *sets {
		if faults[i] != nil {
			return faults[i]
		}
		price[s] = f.price(s, known) + barWorth*float64(bars[i])
	}
	f.order(*sets, func(s Set) float64 { return price[s] })
	return nil
}

// lap is a lap with all figures of a set that were not known, of the fewest bars at the
// usual stride, or else reaching and holding back; nil where there is none.
func (f *filling) lap(ctx context.Context, set, known Set) (*search.Path, error) {
	return f.round.Path(ctx, set, set.Less(known), longestLap)
}
