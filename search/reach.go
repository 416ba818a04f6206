package search

import (
	"context"
	"sync"

	"lapwright/floors"
)

// Reach answers again and again whether a lap can be danced with some of the figures of
// a room's states. Where a couple can be is a bit for each place of the floor; where a
// figure takes it from there is a shift of whole rows of bits. It may be used by several
// goroutines at once.
type Reach struct {
	states *States
	rows   int
	words  int // of a row
	layers []sheet
	// fits are, by layer, turn and edge, the places from which the edge can be danced.
	fits [][]lazyGrid
	// clear are, by millimetres, the places with that much clearance.
	clear sync.Map
}

// grid is a bit for each place of the floor's field, row by row, each row from a new word
// on.
type grid []uint64

// lazyGrid is a grid that is made when it is first wanted.
type lazyGrid struct {
	once sync.Once
	grid grid
}

// sheet is where a couple may be in a layer, and the box of rows and words around that.
type sheet struct {
	usable, inUse, inCorner grid
	firstRow, endRow        int
	firstWord, endWord      int
}

// NewReach prepares the floor of some states.
func NewReach(s *States) *Reach {
	g := s.plan.ground
	r := &Reach{states: s, rows: g.field.Rows, words: (g.field.Columns + 63) / 64}
	for i := range g.layers {
		if i == s.walls {
			r.layers = append(r.layers, r.layers[0])
			break
		}
		r.layers = append(r.layers, r.sheet(&g.layers[i]))
	}
	r.fits = make([][]lazyGrid, 2*s.walls)
	for i := range r.fits {
		r.fits[i] = make([]lazyGrid, s.Edges())
	}
	return r
}

func (r *Reach) newGrid() grid { return make(grid, r.rows*r.words) }

// bit is where a cell's bit is.
func (r *Reach) bit(c floors.Cell) (word int, bit uint64) {
	o := r.states.plan.ground.origin
	x, y := c.X-o.X, c.Y-o.Y
	return y*r.words + x/64, 1 << (x % 64)
}

func (r *Reach) sheet(l *layer) sheet {
	s := sheet{usable: r.newGrid(), inUse: r.newGrid(), inCorner: r.newGrid(), firstRow: r.rows, firstWord: r.words}
	for place, use := range l.usable {
		if use == 0 {
			continue
		}
		word, bit := r.bit(l.cell(place))
		s.usable[word] |= bit
		if use&inUse != 0 {
			s.inUse[word] |= bit
		}
		if use&inCorner != 0 {
			s.inCorner[word] |= bit
		}
		s.firstRow, s.endRow = min(s.firstRow, word/r.words), max(s.endRow, word/r.words+1)
		s.firstWord, s.endWord = min(s.firstWord, word%r.words), max(s.endWord, word%r.words+1)
	}
	return s
}

// cleared are the places of the field with so many millimetres of clearance.
func (r *Reach) cleared(need int32) grid {
	if g, known := r.clear.Load(need); known {
		return g.(grid)
	}
	ground := r.states.plan.ground
	out := r.newGrid()
	for y := range r.rows {
		row := ground.clear[y*ground.field.Columns:][:ground.field.Columns]
		for x, clear := range row {
			if clear >= need {
				out[y*r.words+x/64] |= 1 << (x % 64)
			}
		}
	}
	g, _ := r.clear.LoadOrStore(need, out)
	return g.(grid)
}

// from are the places of a layer from which an edge can be danced there, or round the
// corner at its end: those with room for every disc of its sweep.
func (r *Reach) from(layer, turns, edge int) grid {
	lazy := &r.fits[2*layer+turns][edge]
	lazy.once.Do(func() {
		pl := r.states.plan
		at, to := &r.layers[layer], layer
		out := append(grid(nil), at.inUse...)
		if turns == 1 {
			to = (layer + 1) % r.states.walls
			copy(out, at.inCorner)
		}
		columns := pl.ground.field.Columns
		shape := &pl.edges[edge].shapes[pl.ground.layers[to].wall]
		r.within(at, out, r.layers[to].usable, shape.shift.X, shape.shift.Y)
		for _, p := range shape.probes {
			x, y := int(p.offset)%columns, int(p.offset)/columns
			if x > columns/2 {
				x, y = x-columns, y+1
			} else if x < -columns/2 {
				x, y = x+columns, y-1
			}
			r.within(at, out, r.cleared(p.need), x, y)
		}
		lazy.grid = out
	})
	return lazy.grid
}

// within leaves those bits of a grid for which another has the bit so far aside.
func (r *Reach) within(box *sheet, out, other grid, x, y int) {
	by, bits := floorDiv(x, 64)
	for row := box.firstRow; row < box.endRow; row++ {
		if row+y < 0 || row+y >= r.rows {
			clear(out[row*r.words:][:r.words])
			continue
		}
		from := other[(row+y)*r.words:][:r.words]
		for w := box.firstWord; w < box.endWord; w++ {
			if out[row*r.words+w] == 0 {
				continue
			}
			var word uint64
			if i := w + by; i >= 0 && i < r.words {
				word = from[i] >> bits
			}
			if i := w + by + 1; bits > 0 && i >= 0 && i < r.words {
				word |= from[i] << (64 - bits)
			}
			out[row*r.words+w] &= word
		}
	}
}

// floorDiv divides, rounding down.
func floorDiv(x, by int) (quotient, rest int) {
	quotient, rest = x/by, x%by
	if rest < 0 {
		quotient, rest = quotient-1, rest+by
	}
	return quotient, rest
}

// flood is where a couple can come to from a state: the work of one question.
type flood struct {
	*Reach
	marks int
	at    [][]grid // by layer and post with marks
	fresh [][]grid // the same: what has not been followed yet
	waits [][]int  // by layer: the posts with something fresh
	near  grid     // where the lap closes
	home  int32    // the post in which it closes
	all   int      // the marks that it must have
	done  bool
}

// Lap reports whether a couple can dance from a state round every corner, and back into
// the same post within [Tolerance] of where it began, with the edges that are allowed.
// mark says what each edge counts as, a bit each of marks from 0 to under 4; the lap must
// have danced one of each bit in all. When there is no such lap, all that can be reached
// has been looked at. The error is that of ctx.
func (r *Reach) Lap(ctx context.Context, home State, allowed func(edge int) bool, mark func(edge int) int, all int) (bool, error) {
	layer, place, post := r.states.unpack(home)
	if layer != 0 {
		return false, nil
	}
	s := &flood{Reach: r, home: post, all: all, marks: all + 1, near: r.newGrid()}
	for range r.layers {
		s.at, s.fresh = append(s.at, make([]grid, int(r.states.posts)*s.marks)), append(s.fresh, make([]grid, int(r.states.posts)*s.marks))
		s.waits = append(s.waits, nil)
	}
	l := &r.states.plan.ground.layers[0]
	cell := l.cell(place)
	for y := -toleranceCells; y <= toleranceCells; y++ {
		for x := -toleranceCells; x <= toleranceCells; x++ {
			c := cell.Add(floors.Cell{X: x, Y: y})
			if _, near := r.states.plan.gap(c, cell); near && l.holds(c) && l.usable[l.place(c)] != 0 {
				word, bit := r.bit(c)
				s.near[word] |= bit
			}
		}
	}
	begin := int(post) * s.marks
	s.at[0][begin], s.fresh[0][begin] = r.newGrid(), r.newGrid()
	word, bit := r.bit(cell)
	s.at[0][begin][word], s.fresh[0][begin][word] = bit, bit
	s.waits[0] = []int{begin}
	for n := 0; !s.done; n++ {
		if n%64 == 0 && ctx.Err() != nil {
			return false, ctx.Err()
		}
		// What has come farthest is followed first.
		at := len(s.waits) - 1
		for at >= 0 && len(s.waits[at]) == 0 {
			at--
		}
		if at < 0 {
			return false, nil
		}
		next := s.waits[at][0]
		s.waits[at] = s.waits[at][1:]
		s.follow(at, next, allowed, mark)
	}
	return true, nil
}

// follow dances on from all fresh places of a post with marks.
func (s *flood) follow(layer, which int, allowed func(edge int) bool, mark func(edge int) int) {
	fresh := s.fresh[layer][which]
	s.fresh[layer][which] = nil
	pl := s.states.plan
	post, marks := which/s.marks, which%s.marks
	wall := layer % s.states.walls
	for turns := range 2 {
		kind, to := 0, layer
		if turns == 1 {
			kind, to = pl.kindOf[wall], layer+1
			if to == len(s.layers) {
				return
			}
		}
		for _, m := range pl.moves[kind][post] {
			if edge := int(m.edge); allowed(edge) {
				s.dance(layer, to, fresh, s.from(wall, turns, edge), pl.edges[m.edge].shapes[pl.ground.layers[to].wall].shift,
					m.to, marks|mark(edge)&s.all)
			}
		}
	}
}

// dance notes where an edge leads from some places, those from which it fits.
func (s *flood) dance(layer, to int, places, fits grid, shift floors.Cell, post int32, marks int) {
	which := int(post)*s.marks + marks
	at, fresh, box := s.at[to][which], s.fresh[to][which], &s.layers[layer]
	waits := fresh != nil
	closes := to == len(s.layers)-1 && post == s.home && marks == s.all
	by, bits := floorDiv(shift.X, 64)
	for row := box.firstRow; row < box.endRow; row++ {
		for w := box.firstWord; w < box.endWord; w++ {
			word := places[row*s.words+w] & fits[row*s.words+w]
			if word == 0 {
				continue
			}
			if at == nil {
				at = s.newGrid()
				s.at[to][which] = at
			}
			// Where a figure fits, it ends on the floor, so that no bit is lost.
			i := (row+shift.Y)*s.words + w + by
			for half, news := range [2]uint64{word << bits, word >> (64 - bits)} {
				if half == 1 && bits == 0 || news == 0 {
					continue
				}
				if news &^= at[i+half]; news == 0 {
					continue
				}
				if fresh == nil {
					fresh = s.newGrid()
					s.fresh[to][which] = fresh
				}
				at[i+half] |= news
				fresh[i+half] |= news
				s.done = s.done || closes && news&s.near[i+half] != 0
			}
		}
	}
	if !waits && fresh != nil {
		s.waits[to] = append(s.waits[to], which)
	}
}
