package search

import (
	"cmp"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"strings"
	"sync"

	"lapwright/figures"
	"lapwright/figures/geometry"
	"lapwright/graph"
	"lapwright/graph/difficulty"
)

// post is a stance together with what the costs of the next join still depend
// on: figures that cost the same to join to everything that can follow are one
// post.
type post struct {
	stance figures.Stance
	// joins holds the cost in hundredths of a bar of joining each edge that
	// can follow, in the order of plan.ways.
	joins string
	// corner tells that the next wall must be taken now.
	corner bool
}

// edge is a variant danced from one of its entries at one scale.
type edge struct {
	variant *figures.Variant
	entry   figures.Stance
	exit    figures.Stance
	scale   int
	bars    int32
	cost    int32 // hundredths of a bar, without joins, lane and crowding
	figure  int32 // number of the figure, for limits
	shapes  []shape
}

// move is an edge taken from a post: what the search expands.
type move struct {
	edge int32
	to   int32 // post
	cost int32 // the edge's and the join's
}

// plan is a problem compiled to tables of whole numbers.
type plan struct {
	problem *Problem
	ground  *ground
	edges   []edge
	posts   []post
	postOf  map[post]int32
	// moves lists what can be danced, by turn of the line of dance (kinds) and
	// post: kind 0 stays on the wall, the others take the next one.
	moves [][][]move
	kinds []int // eighths added to the heading, kinds[0] is 0
	// kindOf is the kind of the corner at the end of each layer's wall.
	kindOf  []int
	leaving map[figures.Stance][]int32 // edges by entry
	leads   []int32                    // by edge: the post in which it ends
	figures []*figures.Figure
	joins   map[join]byte // what the join costs
	margin  float64
	// marks tells, by kind, post and number of the move, which joins are marked; nil
	// where none can be.
	marks [][][]bool
}

// compile turns a problem into tables.
func compile(p *Problem, g *ground) *plan {
	pl := &plan{problem: p, ground: g, postOf: map[post]int32{}, joins: map[join]byte{}, margin: p.Margin}
	if pl.margin < 0 {
		pl.margin = p.Room.Margin
	}
	pl.kinds = []int{0}
	pl.kindOf = make([]int, len(g.layers))
	for i, l := range g.layers {
		turn := p.Room.Walls[l.wall].Eighths
		k := slices.Index(pl.kinds[1:], turn) + 1
		if k == 0 {
			k = len(pl.kinds)
			pl.kinds = append(pl.kinds, turn)
		}
		pl.kindOf[i] = k
	}
	pl.addEdges()
	pl.addPosts()
	return pl
}

// addEdges lists every variant from each of its entries at each scale, laid
// along every wall. Variants are laid side by side on all cores, each in its own
// place of the list, so that the order never depends on them.
func (pl *plan) addEdges() {
	numbers := map[*figures.Figure]int32{}
	laid := make([][]edge, len(pl.problem.Variants))
	for _, v := range pl.problem.Variants {
		if _, known := numbers[v.Figure]; !known {
			numbers[v.Figure] = int32(len(pl.figures))
			pl.figures = append(pl.figures, v.Figure)
		}
	}
	onAllCores(len(laid), func(i int) {
		v := pl.problem.Variants[i]
		laid[i] = pl.edgesOf(v, numbers[v.Figure])
	})
	for _, edges := range laid {
		pl.edges = append(pl.edges, edges...)
	}
}

// onAllCores does so many pieces of work, which must not depend on each other.
func onAllCores(pieces int, work func(piece int)) {
	var all sync.WaitGroup
	next := make(chan int, pieces)
	for i := range pieces {
		next <- i
	}
	close(next)
	for range runtime.GOMAXPROCS(0) {
		all.Go(func() {
			for i := range next {
				work(i)
			}
		})
	}
	all.Wait()
}

// edgesOf lists the edges of one variant.
func (pl *plan) edgesOf(v *figures.Variant, number int32) (edges []edge) {
	w := pl.problem.Weights
	if difficulty.Figure(v).Beyond(pl.problem.Limits.Hardest) {
		return nil
	}
	for s, scale := range pl.problem.Scales {
		// One dance for a hold and a foot serves all entries, which differ by
		// a rotation.
		c := pl.problem.Couple.WithStride(pl.problem.Couple.Stride * scale.Share)
		swept := map[figures.Stance][]geometry.Disc{}
		for _, entry := range v.Entries {
			first := figures.Stance{Facing: v.Entries[0].Facing, Free: entry.Free, Hold: entry.Hold}
			d := v.Dance(entry, c)
			if l := &pl.problem.Limits; !short(d, figures.Leader, l.LeaderStep) || !short(d, figures.Follower, l.FollowerStep) {
				continue
			}
			if swept[first] == nil {
				swept[first] = v.Dance(first, c).Sweep()
			}
			edges = append(edges, edge{
				variant: v, entry: entry, exit: d.Exit, scale: s, bars: int32(v.Bars()), figure: number,
				cost: hundredths(w.Bars)*int32(v.Bars()) + hundredths(v.Awkward) + pl.stretchCost(s, v.Bars()),
				shapes: pl.lay(d.Displacement, swept[first],
					(entry.Facing.Turn() - first.Facing.Turn()).Radians()),
			})
		}
	}
	return edges
}

// short reports whether a dancer's steps are no longer than so many metres; 0 is no
// limit.
func short(d *figures.Danced, who figures.Dancer, most float64) bool {
	for _, m := range d.Steps {
		if most > 0 && m.Falls[who].Length > most+hair {
			return false
		}
	}
	return true
}

// stretchCost is what it costs to dance so many bars at a scale.
func (pl *plan) stretchCost(scale, bars int) int32 {
	return hundredths(pl.problem.Weights.Stretch * pl.problem.Scales[scale].Cost * float64(bars))
}

func hundredths(bars float64) int32 { return int32(math.Round(bars * 100)) }

// addPosts finds the posts and what can be danced from each.
func (pl *plan) addPosts() {
	pl.leaving = map[figures.Stance][]int32{}
	for i, e := range pl.edges {
		pl.leaving[e.entry] = append(pl.leaving[e.entry], int32(i))
	}
	pl.addJoins()
	pl.leads = make([]int32, len(pl.edges))
	for i, e := range pl.edges {
		pl.leads[i] = pl.addPost(pl.signature(e.variant, e.exit))
	}
	pl.sortPosts()
	pl.addMoves()
}

// signature is the post in which a variant leaves the couple in a stance.
func (pl *plan) signature(v *figures.Variant, s figures.Stance) post {
	var joins []byte
	for _, kind := range pl.ways(s) {
		for _, next := range kind {
			joins = append(joins, pl.joins[join{v, pl.edges[next].variant}])
		}
	}
	return post{s, string(joins), v.Corner}
}

// addPost is the number of a post, which is added unless it is there.
func (pl *plan) addPost(p post) int32 {
	if i, ok := pl.postOf[p]; ok {
		return i
	}
	i := int32(len(pl.posts))
	pl.posts = append(pl.posts, p)
	pl.postOf[p] = i
	return i
}

// addMoves lists what can be danced from each post.
func (pl *plan) addMoves() {
	pl.moves = make([][][]move, len(pl.kinds))
	for k := range pl.kinds {
		pl.moves[k] = make([][]move, len(pl.posts))
	}
	for i, p := range pl.posts {
		at := 0
		for k, kind := range pl.ways(p.stance) {
			list := make([]move, 0, len(kind))
			for _, next := range kind {
				if k == 0 && p.corner || p.joins[at]&joinRefused != 0 {
					at++
					continue
				}
				cost := pl.edges[next].cost + pl.joinCost(p.joins[at])
				list = append(list, move{next, pl.leads[next], cost})
				at++
			}
			if seed := pl.problem.Seed; seed != 0 {
				r := rand.New(rand.NewPCG(seed, uint64(i)))
				r.Shuffle(len(list), func(a, b int) { list[a], list[b] = list[b], list[a] })
			}
			slices.SortStableFunc(list, func(a, b move) int { return cmp.Compare(a.cost, b.cost) })
			pl.moves[k][i] = list
		}
	}
	if pl.problem.marked != nil {
		pl.addMarks()
	}
}

// addMarks tells the moves apart by their joins.
func (pl *plan) addMarks() {
	pl.marks = make([][][]bool, len(pl.kinds))
	for k := range pl.kinds {
		pl.marks[k] = make([][]bool, len(pl.posts))
		for i := range pl.posts {
			for _, m := range pl.moves[k][i] {
				code, _ := pl.step(int32(i), k, m.edge)
				pl.marks[k][i] = append(pl.marks[k][i], code&joinMarked != 0)
			}
		}
	}
}

// sortPosts puts posts from which the same edges can be danced side by side, in
// the order in which the first of them was found.
func (pl *plan) sortPosts() {
	first := map[post]int{}
	for i, p := range pl.posts {
		if g := p.group(); first[g] == 0 {
			first[g] = i + 1
		}
	}
	slices.SortStableFunc(pl.posts, func(p, q post) int {
		return cmp.Compare(first[p.group()], first[q.group()])
	})
	now := make([]int32, len(pl.posts)) // by the number before
	for i, p := range pl.posts {
		now[pl.postOf[p]] = int32(i)
		pl.postOf[p] = int32(i)
	}
	for i, p := range pl.leads {
		pl.leads[i] = now[p]
	}
}

// ways lists, by kind, the edges that can be danced from a stance.
func (pl *plan) ways(s figures.Stance) [][]int32 {
	all := make([][]int32, len(pl.kinds))
	for k, turn := range pl.kinds {
		all[k] = pl.leaving[s.Turned(turn)]
	}
	return all
}

// The costs of a join that a post remembers.
const (
	joinAwkward = 1 << iota
	joinRepeat
	joinRefused // by the feet, or as too hard, though the stances allow it
	joinMarked  // told apart from others, and costs nothing
)

// join is two variants, one after the other.
type join struct{ first, second *figures.Variant }

// addJoins finds what every join costs that can come up.
func (pl *plan) addJoins() {
	var all []join
	for i := range pl.edges {
		e := &pl.edges[i]
		for _, kind := range pl.ways(e.exit) {
			for _, next := range kind {
				j := join{e.variant, pl.edges[next].variant}
				if _, known := pl.joins[j]; !known {
					pl.joins[j] = 0
					all = append(all, j)
				}
			}
		}
	}
	codes := make([]byte, len(all))
	onAllCores(len(all), func(i int) { codes[i] = pl.joinCode(all[i].first, all[i].second) })
	for i, j := range all {
		pl.joins[j] = codes[i]
	}
}

func (pl *plan) joinCode(v, next *figures.Variant) (code byte) {
	if !pl.problem.bare && graph.Awkward(pl.problem.Follows, v, next) != graph.Easy {
		code |= joinAwkward
	}
	if !pl.problem.bare && v.Figure == next.Figure {
		code |= joinRepeat
	}
	// As figures are when they are read, joins are tried at the usual stride.
	if _, refused := graph.CannotJoin(v, next, pl.problem.Couple.WithStride(figures.UsualStride)); refused || difficulty.Join(pl.problem.Follows, v, next).Beyond(pl.problem.Limits.Hardest) {
		code |= joinRefused
	}
	if marked := pl.problem.marked; marked != nil && marked(v, next) {
		code |= joinMarked
	}
	return code
}

// group is what the posts have in common from which the same edges can be danced,
// at costs that differ by the join only.
func (p post) group() post {
	p.joins = p.refused()
	return p
}

// refused tells which of the edges from its stance are refused in a post; it is empty
// where none is.
func (p post) refused() string {
	mark := func(code rune) rune { return code & joinRefused }
	if marks := strings.Map(mark, p.joins); strings.Trim(marks, "\x00") != "" {
		return marks
	}
	return ""
}

func (pl *plan) joinCost(code byte) int32 {
	var cost int32
	if code&joinAwkward != 0 {
		cost += hundredths(pl.problem.Weights.Awkward)
	}
	if code&joinRepeat != 0 {
		cost += hundredths(pl.problem.Weights.Repeat)
	}
	return cost
}
