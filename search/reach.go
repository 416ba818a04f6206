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
	layers []strip
	// fits are, by layer, turn and edge, the places from which the edge can be danced.
	fits [][]lazyGrid
	// clear are, by millimetres, the places with that much clearance.
	clear sync.Map
	// floods are kept to be used again.
	floods sync.Pool
}

// grid is a bit for each place of the floor, row by row, each row from a new word
// on.
type grid []uint64

// lazyGrid is a grid that is made when it is first wanted.
type lazyGrid struct {
	once sync.Once
	grid grid
}

// strip is where a couple may be in a layer, and the box of rows and words around that.
type strip struct {
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
		r.layers = append(r.layers, r.strip(&g.layers[i]))
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

func (r *Reach) strip(l *layer) strip {
	s := strip{usable: r.newGrid(), inUse: r.newGrid(), inCorner: r.newGrid(), firstRow: r.rows, firstWord: r.words}
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
func (r *Reach) within(box *strip, out, other grid, x, y int) {
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
	places [][]places // by layer, and by post and marks
	used   []*places  // those that are not empty
	spare  []grid     // empty
	waits  [][]int    // by layer: the posts with something fresh
	near   grid       // where the lap closes
	homes  []bool     // the posts in which it closes
	marks  int        // one more than the marks that it must have
	done   bool
}

// places are where the couple can come to in a post of a layer.
type places struct {
	at    grid // nil: nowhere yet
	fresh grid // what has not been followed yet; nil: nothing
	// The rows from low to under high hold all that is fresh.
	low, high int
}

// Asked is what a lap is to be made of; see [Reach.Lap].
type Asked struct {
	Allowed func(edge int) bool
	// Mark says what an edge counts as: a bit each of up to two marks. The lap must have
	// danced one of each bit in Marks.
	Mark  func(edge int) int
	Marks int
	// Usual looks only at figures danced at the couple's usual stride.
	Usual bool
}

// MostMarks is the greatest value of marks.
const MostMarks = 3

// Lap reports whether a couple can dance from one of some states at one place round every
// corner, and back into the same post within [Tolerance] of where it began. When it
// cannot, all that can be reached has been looked at. The error is that of ctx.
func (r *Reach) Lap(ctx context.Context, homes []State, asked Asked) (bool, error) {
	// From all of them at once it is soon seen that there is none; a lap that begins in
	// one post and ends in another is none either.
	closes, err := r.lap(ctx, homes, asked)
	if !closes || err != nil || len(homes) == 1 {
		return closes, err
	}
	for i := range homes {
		if closes, err := r.lap(ctx, homes[i:i+1], asked); closes || err != nil {
			return closes, err
		}
	}
	return false, nil
}

// lap reports whether a couple can come from one of some states to one of them.
func (r *Reach) lap(ctx context.Context, homes []State, asked Asked) (bool, error) {
	s, _ := r.floods.Get().(*flood)
	if s == nil {
		s = &flood{Reach: r, near: r.newGrid(), homes: make([]bool, r.states.posts), places: make([][]places, len(r.layers)), waits: make([][]int, len(r.layers))}
		for i := range s.places {
			s.places[i] = make([]places, int(r.states.posts)*(MostMarks+1))
		}
	}
	defer func() {
		s.empty()
		r.floods.Put(s)
	}()
	s.marks, s.done = asked.Marks+1, false
	l := &r.states.plan.ground.layers[0]
	for _, home := range homes {
		layer, place, post := r.states.unpack(home)
		if layer != 0 {
			continue
		}
		s.homes[post] = true
		cell := l.cell(place)
		r.addNear(s.near, cell)
		begin := int(post) * s.marks
		word, bit := r.bit(cell)
		p := &s.places[0][begin]
		s.begin(p)
		p.fresh = s.grid()
		p.at[word], p.fresh[word] = bit, bit
		p.low, p.high = word/r.words, word/r.words+1
		s.waits[0] = append(s.waits[0], begin)
	}
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
		s.waits[at] = append(s.waits[at][:0], s.waits[at][1:]...)
		s.follow(at, next, &asked)
	}
	return true, nil
}

// grid is an empty grid.
func (s *flood) grid() grid {
	if n := len(s.spare); n > 0 {
		g := s.spare[n-1]
		s.spare = s.spare[:n-1]
		return g
	}
	return s.newGrid()
}

// begin notes that places are coming into use.
func (s *flood) begin(p *places) {
	p.at = s.grid()
	s.used = append(s.used, p)
}

// empty makes ready for the next question.
func (s *flood) empty() {
	for _, p := range s.used {
		for _, g := range []grid{p.at, p.fresh} {
			if g != nil {
				clear(g)
				s.spare = append(s.spare, g)
			}
		}
		*p = places{}
	}
	s.used = s.used[:0]
	for i := range s.waits {
		s.waits[i] = s.waits[i][:0]
	}
	clear(s.near)
	clear(s.homes)
}

// follow dances on from all fresh places of a post with marks.
func (s *flood) follow(layer, which int, asked *Asked) {
	p := &s.places[layer][which]
	fresh, low, high := p.fresh, p.low, p.high
	p.fresh = nil
	pl := s.states.plan
	post, marks := which/s.marks, which%s.marks
	wall := layer % s.states.walls
	for turns := range 2 {
		kind, to := 0, layer
		if turns == 1 {
			kind, to = pl.kindOf[wall], layer+1
			if to == len(s.layers) {
				break
			}
		}
		for _, m := range pl.moves[kind][post] {
			edge := int(m.edge)
			if !asked.Allowed(edge) || asked.Usual && pl.problem.Scales[pl.edges[edge].scale].Share != 1 {
				continue
			}
			after := marks
			if asked.Marks > 0 {
				after |= asked.Mark(edge) & asked.Marks
			}
			s.dance(layer, to, fresh, low, high, s.from(wall, turns, edge), pl.edges[edge].shapes[pl.ground.layers[to].wall].shift, m.to, after)
		}
	}
	clear(fresh[low*s.words : high*s.words])
	s.spare = append(s.spare, fresh)
}

// dance notes where an edge leads from some places, those from which it fits.
func (s *flood) dance(layer, to int, from grid, low, high int, fits grid, shift floors.Cell, post int32, marks int) {
	which := int(post)*s.marks + marks
	p, box := &s.places[to][which], &s.layers[layer]
	waits := p.fresh != nil
	closes := to == len(s.layers)-1 && s.homes[post] && marks == s.marks-1
	by, bits := floorDiv(shift.X, 64)
	for row := low; row < high; row++ {
		for w := box.firstWord; w < box.endWord; w++ {
			word := from[row*s.words+w] & fits[row*s.words+w]
			if word == 0 {
				continue
			}
			if p.at == nil {
				s.begin(p)
			}
			// Where a figure fits it ends on the floor, so that no bit is lost.
			i := (row+shift.Y)*s.words + w + by
			if news := word << bits; news != 0 {
				s.come(p, i, news, closes)
			}
			if news := word >> (64 - bits); news != 0 {
				s.come(p, i+1, news, closes)
			}
		}
	}
	if !waits && p.fresh != nil {
		s.waits[to] = append(s.waits[to], which)
	}
}

// come notes places of a word that the couple can come to.
func (s *flood) come(p *places, word int, news uint64, closes bool) {
	if news &^= p.at[word]; news == 0 {
		return
	}
	row := word / s.words
	if p.fresh == nil {
		p.fresh = s.grid()
		p.low, p.high = row, row+1
	}
	p.low, p.high = min(p.low, row), max(p.high, row+1)
	p.at[word] |= news
	p.fresh[word] |= news
	s.done = s.done || closes && news&s.near[word] != 0
}
