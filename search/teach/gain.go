package teach

import (
	"context"
	"math"
	"slices"
	"strings"

	"lapwright/figures"
	"lapwright/floors"
	"lapwright/graph"
	"lapwright/graph/growth"
	"lapwright/search"
)

// Measures are what a class can do with the figures that it knows.
type Measures struct {
	// Round tells that there is a lap.
	Round bool
	// Bits is the growth rate of the number of routines in doublings a bar, along a wall
	// (package graph/growth); minus infinity where no routine goes on for ever.
	Bits float64
	// DeadEnds are the stances in which a figure ends and none goes on, along a wall or
	// round a corner of the room.
	DeadEnds []figures.Stance

	// What follows is found on the floor, for some figures only: see [Gains].
	OnFloor bool
	// States are the places and stances in which one of the figures known before can end,
	// Endless those of them from which dancing can go on for ever.
	States, Endless int
	// Shortest is the bars of the shortest lap that begins in the usual stance for one
	// ([search.DefaultStart]); 0: none.
	Shortest int
	// Laps is how many laps there are that begin so, of at most the bars that are counted.
	Laps     uint64
	LapsOver bool // too many for the number
}

// Gain is what one more figure opens to a class.
type Gain struct {
	Item     Item
	After    Measures
	Follows  []*figures.Figure // known figures after which it can be danced
	Leads    []*figures.Figure // known figures that can follow it
	Opens    Opening
	Turned   [2]int // for FromTurn: from and to, -1 right, 1 left
	Released []figures.Stance
}

// Opening says what a figure opens, the greatest first.
type Opening int

// The openings.
const (
	OpensRound  Opening = iota // there is a lap where there was none
	OpensTurns                 // a way from the one turn to the other
	OpensStance                // a way on from stances that nothing led on from
	OpensChoice                // more to choose from
)

// Next is the question of what to teach next.
type Next struct {
	Problem *search.Problem
	Known   []*figures.Variant
	Items   []Item // what may be taught
	// OnFloor is for how many figures, the best ones, all is found that is found on the
	// floor.
	OnFloor int
	// Beyond is how many bars longer than the shortest lap those may be that are counted.
	Beyond int
}

// Gains is its answer.
type Gains struct {
	Before   Measures
	Gains    []Gain // those that open most first
	Apart    []Item // those that join nothing that is known, before or after
	MostBars int    // laps of at most so many bars were counted; 0: none were
}

// mostBars is how long the shortest lap may be that is looked for.
const mostBars = 120

// Find tells what each figure opens. Those come first that open a lap where there is
// none, then those with the higher growth rate afterwards, then those that leave fewer
// dead ends, then the others in their order.
func (n *Next) Find(ctx context.Context) (*Gains, error) {
	own := *n.Problem
	own.Variants = slices.Clone(n.Known)
	itemOf := map[*figures.Variant]int{}
	for i, it := range n.Items {
		for _, v := range it.Variants {
			if !slices.Contains(n.Known, v) {
				own.Variants = append(own.Variants, v)
				itemOf[v] = i
			}
		}
	}
	f, err := newFloor(&own, n.Known, itemOf)
	if err != nil {
		return nil, err
	}
	g := &Gains{}
	model := growth.New(own.Variants)
	all := graph.New(own.Variants, corners(own.Room)...)
	if g.Before, err = f.measure(ctx, model, all, -1); err != nil {
		return nil, err
	}
	f.round = g.Before.Round
	var fit []int
	gains := make([]Gain, len(n.Items))
	for i, it := range n.Items {
		gains[i] = Gain{Item: it}
		gains[i].Follows, gains[i].Leads = Joins(own.Room, n.Known, it)
		if len(gains[i].Follows) == 0 || len(gains[i].Leads) == 0 {
			g.Apart = append(g.Apart, it)
		} else {
			fit = append(fit, i)
		}
	}
	faults := make([]error, len(fit))
	onAllCores(len(fit), func(k int) {
		i := fit[k]
		gains[i].After, faults[k] = f.measure(ctx, model, all, i)
		gains[i].open(f, all, &g.Before, i)
	})
	for _, err := range faults {
		if err != nil {
			return nil, err
		}
	}
	slices.SortStableFunc(fit, func(a, b int) int { return compareGains(&gains[a], &gains[b]) })
	best := fit[:min(len(fit), n.OnFloor)]
	if err := f.onFloor(ctx, g, gains, best, n.Beyond); err != nil {
		return nil, err
	}
	for _, i := range fit {
		g.Gains = append(g.Gains, gains[i])
	}
	return g, nil
}

// compareGains puts first what opens more.
func compareGains(a, b *Gain) int {
	round := func(m *Measures) int {
		if m.Round {
			return 0
		}
		return 1
	}
	bits := func(m *Measures) float64 { return math.Round(m.Bits*1000) / 1000 }
	switch {
	case round(&a.After) != round(&b.After):
		return round(&a.After) - round(&b.After)
	case bits(&a.After) != bits(&b.After):
		if bits(&a.After) > bits(&b.After) {
			return -1
		}
		return 1
	}
	return len(a.After.DeadEnds) - len(b.After.DeadEnds)
}

// floorOf is a room with all figures that are known or may be taught.
type floorOf struct {
	reach *search.Reach
	known []*figures.Variant
	item  map[*figures.Variant]int // those that are not known
	edges []int                    // by edge: the item; -1 known
	homes []search.State
	usual search.State // the home of the usual start
	has   bool         // there is a usual start
	round bool         // the known figures get round
}

func newFloor(p *search.Problem, known []*figures.Variant, itemOf map[*figures.Variant]int) (*floorOf, error) {
	states, err := search.NewStates(p)
	if err != nil {
		return nil, err
	}
	f := &floorOf{reach: search.NewReach(states), known: known, item: itemOf, edges: make([]int, states.Edges())}
	for edge := range f.edges {
		v, _ := states.Edge(edge)
		i, isNew := itemOf[v]
		if !isNew {
			i = -1
		}
		f.edges[edge] = i
	}
	start := search.DefaultStart(p.Room, 0)
	for _, at := range states.StandingAt(0, floors.CellAt(*start.At)) {
		s := states.Standing(at).Stance
		if search.CommonStart(s) {
			f.homes = append(f.homes, at)
		}
		if s == start.Stance && !f.has {
			f.usual, f.has = at, true
		}
	}
	return f, nil
}

// corners are the turns of the line of dance at the corners of a room.
func corners(room *floors.Room) (all []int) {
	for _, w := range room.Walls {
		if !slices.Contains(all, w.Eighths) {
			all = append(all, w.Eighths)
		}
	}
	return all
}

// hasWith tells which ways of dancing are known with one more item (-1: none).
func (f *floorOf) hasWith(item int) func(*figures.Variant) bool {
	return func(v *figures.Variant) bool {
		i, isNew := f.item[v]
		return !isNew || i == item
	}
}

// asked is a lap of the known figures with one more item.
func (f *floorOf) asked(item int) search.Asked {
	return search.Asked{Allowed: func(edge int) bool { return f.edges[edge] == -1 || f.edges[edge] == item }}
}

// measure finds what all figures are compared by.
func (f *floorOf) measure(ctx context.Context, model *growth.Model, all *graph.Graph, item int) (m Measures, err error) {
	has := f.hasWith(item)
	m.Bits = model.Rate(has).Bits()
	m.DeadEnds = deadEnds(all, has)
	// More figures never hurt.
	if m.Round = f.round; !m.Round {
		m.Round, err = f.reach.Lap(ctx, f.homes, f.asked(item))
	}
	return m, err
}

// deadEnds are the stances in which a figure ends and none goes on. After a figure that
// is danced at a corner only the next one begins along the next wall.
func deadEnds(g *graph.Graph, has func(*figures.Variant) bool) (all []figures.Stance) {
	leaves, turns := map[figures.Stance]bool{}, map[figures.Stance]bool{}
	for _, e := range g.Edges() {
		if has(e.Variant) {
			leaves[e.From] = true
		}
	}
	for _, c := range g.Corners() {
		turns[c.From] = turns[c.From] || leaves[c.To]
	}
	for _, e := range g.Edges() {
		if has(e.Variant) && !turns[e.To] && (e.Variant.Corner || !leaves[e.To]) && !slices.Contains(all, e.To) {
			all = append(all, e.To)
		}
	}
	slices.SortFunc(all, func(a, b figures.Stance) int { return strings.Compare(a.Short(), b.Short()) })
	return all
}

// Joins are the figures among some ways of dancing after which an item can be danced, and
// those that can follow it, along a wall or round a corner of a room, as far as stances
// go. The item itself is not among them.
func Joins(room *floors.Room, known []*figures.Variant, it Item) (before, after []*figures.Figure) {
	turns := append(corners(room), 0)
	begins, ends := map[figures.Stance]bool{}, map[figures.Stance]bool{}
	for _, v := range it.Variants {
		for _, e := range v.Entries {
			for _, turn := range turns {
				if turn != 0 || !v.Corner {
					ends[v.Exit(e).Turned(turn)] = true
				}
			}
			begins[e.Turned(0)] = true
		}
	}
	add := func(list *[]*figures.Figure, f *figures.Figure) {
		if f != it.Figure && !slices.Contains(*list, f) {
			*list = append(*list, f)
		}
	}
	for _, v := range known {
		for _, e := range v.Entries {
			if ends[e.Turned(0)] {
				add(&after, v.Figure)
			}
			for _, turn := range turns {
				if (turn != 0 || !v.Corner) && begins[v.Exit(e).Turned(turn)] {
					add(&before, v.Figure)
				}
			}
		}
	}
	return before, after
}

// open says what an item opens.
func (gain *Gain) open(f *floorOf, g *graph.Graph, before *Measures, item int) {
	for _, s := range before.DeadEnds {
		if !slices.Contains(gain.After.DeadEnds, s) {
			gain.Released = append(gain.Released, s)
		}
	}
	gain.Opens = OpensChoice
	if len(gain.Released) > 0 {
		gain.Opens = OpensStance
	}
	for _, turn := range [][2]int{{-1, 1}, {1, -1}} {
		if f.leads(g, item, turn) && !f.leads(g, -1, turn) {
			gain.Opens, gain.Turned = OpensTurns, turn
			break
		}
	}
	if gain.After.Round && !before.Round {
		gain.Opens = OpensRound
	}
}

// leads reports whether, along a wall, the known figures with an item lead from a known
// turn to one side to a known turn to the other.
func (f *floorOf) leads(g *graph.Graph, item int, turn [2]int) bool {
	has := f.hasWith(item)
	side := func(v *figures.Variant) int {
		if _, isNew := f.item[v]; isNew {
			return 0
		}
		return Item{Variants: v.Figure.Variants}.Turns()
	}
	seen := map[figures.Stance]bool{}
	var todo []figures.Stance
	come := func(s figures.Stance) {
		if !seen[s] {
			seen[s] = true
			todo = append(todo, s)
		}
	}
	for _, e := range g.Edges() {
		if has(e.Variant) && side(e.Variant) == turn[0] && !e.Variant.Corner {
			come(e.To)
		}
	}
	for len(todo) > 0 {
		s := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		for _, e := range g.From(s) {
			if !has(e.Variant) {
				continue
			}
			if side(e.Variant) == turn[1] {
				return true
			}
			if !e.Variant.Corner {
				come(e.To)
			}
		}
	}
	return false
}

// onFloor finds for the best items what takes the floor.
func (f *floorOf) onFloor(ctx context.Context, g *Gains, gains []Gain, best []int, beyond int) error {
	all := append([]int{-1}, best...)
	of := func(k int) *Measures {
		if all[k] < 0 {
			return &g.Before
		}
		return &gains[all[k]].After
	}
	faults := make([]error, len(all))
	join := func() error {
		for _, err := range faults {
			if err != nil {
				return err
			}
		}
		return nil
	}
	onAllCores(len(all), func(k int) {
		m, asked := of(k), f.asked(all[k])
		m.OnFloor = true
		known := func(edge int) bool { return f.edges[edge] == -1 }
		if m.States, m.Endless, faults[k] = f.reach.Endless(ctx, known, asked.Allowed); faults[k] != nil || !f.has || !m.Round {
			return
		}
		m.Shortest, faults[k] = f.reach.Shortest(ctx, f.usual, mostBars, asked)
	})
	if err := join(); err != nil {
		return err
	}
	shortest := g.Before.Shortest
	for k := range all {
		if m := of(k); shortest == 0 || g.Before.Shortest == 0 && m.Shortest > 0 && m.Shortest < shortest {
			shortest = m.Shortest
		}
	}
	if shortest == 0 {
		return nil
	}
	g.MostBars = shortest + beyond
	onAllCores(len(all), func(k int) {
		m := of(k)
		if m.Shortest == 0 {
			return
		}
		var t search.Tally
		t, faults[k] = f.reach.Laps(ctx, f.usual, g.MostBars, f.asked(all[k]))
		m.Laps, m.LapsOver = t.Laps, t.Over
	})
	return join()
}
