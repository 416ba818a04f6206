package search

import (
	"context"
	"math/bits"

	"lapwright/figures"
	"lapwright/floors"
)

// Sheets are the states of a room laid out post by post: along each wall and for each
// post a sheet, with a bit or a number for each place. What all states of a sheet have
// in common – which figures follow, and how far each goes – is then looked up once for
// all of them, and many states are answered by one word.
//
// Of the states only those count from which dancing can go on for ever, and of the moves
// only those between such states. It does not change after it is made and may be used by
// several goroutines at once.
type Sheets struct {
	*States
	layers []sheet
	alive  [][]grid // by layer and post; nil: none
	// live is, by 2 × layer, one more where the next wall is taken before it, and by edge,
	// from where the figure leads to a state that counts.
	live   [][]grid
	groups []sheetGroup
}

// sheetGroup is the posts of one stance, with what can be danced from any of them.
type sheetGroup struct {
	posts []int32
	moves [][]sharedMove // by kind
}

// sharedMove is a figure that can be danced from some posts of a group.
type sharedMove struct {
	edge, to int32
	from     []int32 // posts, by their numbers in the group
	marked   []bool  // by from
}

// NewSheets lays the states out and finds those from which dancing can go on for ever:
// from all states those with no way on are removed, again and again, until every one that
// is left leads to another that is left (the greatest fixed point; Tarski 1955). The
// error is that of ctx.
func NewSheets(ctx context.Context, s *States) (*Sheets, error) {
	f := &Sheets{States: s}
	for i := range s.walls {
		l := &s.plan.ground.layers[i]
		f.layers = append(f.layers, sheet{l.low, int(l.cols), int(l.rows), (int(l.cols) + 63) / 64})
	}
	f.group()
	can := newRoomy(s.plan).grids(f.layers)
	for i := range f.layers {
		usable := make(grid, f.layers[i].size())
		for place, use := range s.plan.ground.layers[i].usable {
			if use != 0 {
				word, bit := f.layers[i].bit(place)
				usable[word] |= bit
			}
		}
		f.alive = append(f.alive, make([]grid, s.posts))
		for post := range f.alive[i] {
			if s.entered[post] {
				f.alive[i][post] = usable
			}
		}
	}
	f.live = make([][]grid, len(can))
	for i := range f.live {
		f.live[i] = make([]grid, s.Edges())
	}
	fresh := make([][]bool, s.walls) // by layer and post: what lives there has changed
	for i := range fresh {
		fresh[i] = make([]bool, s.posts)
		for post := range fresh[i] {
			fresh[i][post] = true
		}
	}
	for again, first := true, true; again; first = false {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		// First the figures that lead to what has changed, then the posts that they leave.
		changed := make([][]bool, len(can))
		onAllCores(len(can), func(which int) {
			changed[which] = make([]bool, s.Edges())
			layer, to := which/2, (which/2+which%2)%s.walls
			for edge, post := range s.plan.leads {
				if !fresh[to][post] {
					continue
				}
				changed[which][edge] = true
				shift := s.plan.edges[edge].shapes[s.plan.ground.layers[to].wall].shift
				f.live[which][edge] = pull(&f.layers[layer], &f.layers[to], f.alive[to][post], can[which][edge], shift)
			}
		})
		again = false
		next := make([][]bool, s.walls)
		onAllCores(s.walls, func(layer int) {
			next[layer] = make([]bool, s.posts)
			for post, before := range f.alive[layer] {
				if before != nil && (first || f.leadsTo(layer, post, changed)) {
					next[layer][post] = f.remove(layer, post)
				}
			}
		})
		fresh = next
		for _, layer := range fresh {
			for _, yes := range layer {
				again = again || yes
			}
		}
	}
	return f, nil
}

// leadsTo reports whether one of the figures that can follow in a post is among some.
func (f *Sheets) leadsTo(layer, post int, some [][]bool) bool {
	for turns, kind := range []int{0, f.plan.kindOf[layer]} {
		for _, m := range f.plan.moves[kind][post] {
			if some[2*layer+turns][m.edge] {
				return true
			}
		}
	}
	return false
}

// remove takes out of a post what has no way on, and reports whether that was anything.
func (f *Sheets) remove(layer, post int) (changed bool) {
	before := f.alive[layer][post]
	after := make(grid, len(before))
	for turns, kind := range []int{0, f.plan.kindOf[layer]} {
		for _, m := range f.plan.moves[kind][post] {
			for i, word := range f.live[2*layer+turns][m.edge] {
				after[i] |= word
			}
		}
	}
	any := uint64(0)
	for i := range after {
		after[i] &= before[i]
		changed = changed || after[i] != before[i]
		any |= after[i]
	}
	if any == 0 {
		after = nil
	}
	if changed {
		f.alive[layer][post] = after
	}
	return changed
}

// pull finds the places of a sheet from which a figure can be danced that leads to one of
// some places; nil where there are none.
func pull(from, into *sheet, ahead, can grid, by floors.Cell) grid {
	if ahead == nil {
		return nil
	}
	right, down := from.low.X+by.X-into.low.X, from.low.Y+by.Y-into.low.Y
	var out grid
	for y := max(0, -down); y < min(from.rows, into.rows-down); y++ {
		row := ahead[(y+down)*into.words : (y+down+1)*into.words]
		for w := range from.words {
			word := can[y*from.words+w]
			if word == 0 {
				continue
			}
			if word &= bitsAt(row, 64*w+right); word == 0 {
				continue
			}
			if out == nil {
				out = make(grid, len(can))
			}
			out[y*from.words+w] = word
		}
	}
	return out
}

// bitsAt are 64 bits of a row from a column on, which may be left of the row or right.
func bitsAt(row grid, x int) (word uint64) {
	at, shift := x>>6, uint(x&63)
	if at >= 0 && at < len(row) {
		word = row[at] >> shift
	}
	if at++; shift > 0 && at >= 0 && at < len(row) {
		word |= row[at] << (64 - shift)
	}
	return word
}

// group puts the posts of each stance together.
func (f *Sheets) group() {
	number := map[figures.Stance]int{}
	for post := range f.plan.posts {
		stance := f.plan.posts[post].stance
		g, known := number[stance]
		if !known {
			g = len(f.groups)
			number[stance] = g
			f.groups = append(f.groups, sheetGroup{moves: make([][]sharedMove, len(f.plan.kinds))})
		}
		group := &f.groups[g]
		mine := int32(len(group.posts))
		group.posts = append(group.posts, int32(post))
		for kind := range f.plan.kinds {
			for i, m := range f.plan.moves[kind][post] {
				marked := f.plan.marks != nil && f.plan.marks[kind][post][i]
				at := -1
				for k := range group.moves[kind] {
					if group.moves[kind][k].edge == m.edge {
						at = k
					}
				}
				if at < 0 {
					at = len(group.moves[kind])
					group.moves[kind] = append(group.moves[kind], sharedMove{edge: m.edge, to: m.to})
				}
				shared := &group.moves[kind][at]
				shared.from, shared.marked = append(shared.from, mine), append(shared.marked, marked)
			}
		}
	}
}

// Alive reports whether dancing can go on for ever from a state that a couple can be in
// after a figure.
func (f *Sheets) Alive(at State) bool {
	layer, place, post := f.unpack(at)
	return f.layers[layer].has(f.alive[layer][post], place)
}

// has reports whether a place has its bit in a grid.
func (s *sheet) has(g grid, place int) bool {
	if g == nil {
		return false
	}
	word, bit := s.bit(place)
	return g[word]&bit != 0
}

// Living is how many states there are from which dancing can go on for ever.
func (f *Sheets) Living() (n int) {
	for _, layer := range f.alive {
		for _, g := range layer {
			for _, word := range g {
				n += bits.OnesCount64(word)
			}
		}
	}
	return n
}

// Set is a set of states.
type Set struct {
	sheets *Sheets
	at     [][]grid // by layer and post; nil: none
}

func (f *Sheets) newSet() *Set {
	s := &Set{f, make([][]grid, len(f.layers))}
	for i := range s.at {
		s.at[i] = make([]grid, f.posts)
	}
	return s
}

// Has reports whether a state is in the set.
func (s *Set) Has(at State) bool {
	layer, place, post := s.sheets.unpack(at)
	return s.sheets.layers[layer].has(s.at[layer][post], place)
}

// Empty reports whether no state is in the set.
func (s *Set) Empty() bool {
	for _, layer := range s.at {
		for _, g := range layer {
			if g != nil {
				return false
			}
		}
	}
	return true
}

// After finds, for each number of bars up to one, the states in which a couple can be
// after exactly so many. It looks at them in that order and ends where next, which hears
// of each, says so. The error is that of ctx.
func (f *Sheets) After(ctx context.Context, from State, bars int) ([]*Set, error) {
	all := make([]*Set, bars+1)
	for i := range all {
		all[i] = f.newSet()
	}
	layer, place, post := f.unpack(from)
	all[0].at[layer][post] = make(grid, f.layers[layer].size())
	word, bit := f.layers[layer].bit(place)
	all[0].at[layer][post][word] |= bit
	for now := range all {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		// What is reached along one wall does not hang on another.
		onAllCores(len(f.layers), func(to int) {
			for turns := range 2 {
				layer := (to + turns*(len(f.layers)-1)) % len(f.layers)
				f.follow(all, now, layer, to, turns)
			}
		})
	}
	return all, nil
}

// follow dances on from the states after so many bars, from one layer to another.
func (f *Sheets) follow(all []*Set, now, layer, to, turns int) {
	kind := turns * f.plan.kindOf[layer]
	for post, places := range all[now].at[layer] {
		if places == nil {
			continue
		}
		for _, m := range f.plan.moves[kind][post] {
			e := &f.plan.edges[m.edge]
			then := now + int(e.bars)
			if then >= len(all) || f.live[2*layer+turns][m.edge] == nil {
				continue
			}
			into := &all[then].at[to][m.to]
			push(&f.layers[layer], &f.layers[to], places, f.live[2*layer+turns][m.edge], e.shapes[f.plan.ground.layers[to].wall].shift, into)
		}
	}
}

// push adds to a grid the places that a figure leads to from some places.
func push(from, into *sheet, places, can grid, by floors.Cell, out *grid) {
	right, down := from.low.X+by.X-into.low.X, from.low.Y+by.Y-into.low.Y
	for y := range from.rows {
		for w := range from.words {
			word := places[y*from.words+w] & can[y*from.words+w]
			if word == 0 {
				continue
			}
			if *out == nil {
				*out = make(grid, into.size())
			}
			x, row := 64*w+right, (*out)[(y+down)*into.words:(y+down+1)*into.words]
			if x < 0 {
				word, x = word>>uint(-x), 0
			}
			if word == 0 {
				continue
			}
			row[x/64] |= word << (x % 64)
			if high := word >> (64 - x%64); x%64 > 0 && high != 0 {
				row[x/64+1] |= high
			}
		}
	}
}
