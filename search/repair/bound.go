package repair

import (
	"context"
	"math"

	"lapwright/search"
)

// bound is the fewest changes that are still needed where the floor is left out: from each
// post, with so many figures dealt with and so many corners left. It is exact for the
// stances alone, so that a change of the search lowers it by no more than the change
// costs (a consistent bound).
type bound struct {
	posts, corners int
	// least holds the fewest changes by figures dealt with, corners left and post.
	least []uint16
	// loose tells that corners are not counted, where that would take too much memory.
	loose bool
}

// never is a bound where no changes are enough.
const never = math.MaxUint16

// mostBound is how many numbers a bound holds at most before corners are no longer
// counted.
const mostBound = 8_000_000

// way is what the floor leaves of some options: the post that they lead to.
type way struct {
	post    int
	turns   bool
	mayCome bool
}

func newBound(ctx context.Context, s *repairing) (*bound, error) {
	n := len(s.problem.Routine.Steps)
	b := &bound{posts: s.states.Posts(), corners: s.corners}
	if (n+1)*(b.corners+1)*b.posts > mostBound || b.corners == 0 {
		b.corners, b.loose = 0, true
	}
	b.least = make([]uint16, (n+1)*(b.corners+1)*b.posts)
	for i := range b.least {
		b.least[i] = never
	}
	ways := s.ways()
	for done := n; done >= 0; done-- {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		for left := 0; left <= b.corners; left++ {
			b.fill(s, ways, done, left)
		}
	}
	return b, nil
}

// of is the fewest changes still needed.
func (b *bound) of(done, cornersLeft, post int) int {
	if b.loose {
		cornersLeft = 0
	}
	return int(b.least[b.at(done, cornersLeft, post)])
}

func (b *bound) at(done, left, post int) int { return (done*(b.corners+1)+left)*b.posts + post }

// ways lists by wall and post where options lead, each once.
func (s *repairing) ways() [][][]way {
	all := make([][][]way, len(s.options))
	for wall, byPost := range s.options {
		all[wall] = make([][]way, len(byPost))
		for post, options := range byPost {
			number := map[[2]int]int{}
			for _, o := range options {
				key := [2]int{o.Post, 0}
				if o.Turns {
					key[1] = 1
				}
				k, known := number[key]
				if !known {
					k = len(all[wall][post])
					number[key] = k
					all[wall][post] = append(all[wall][post], way{post: o.Post, turns: o.Turns})
				}
				w := &all[wall][post][k]
				w.mayCome = w.mayCome || s.edges[o.Edge].mayCome
			}
		}
	}
	return all
}

// fill finds the fewest changes for all posts, with so many figures dealt with and
// corners left: first by what deals with a figure or takes a corner, then by what is put
// in without, again and again while that mends anything.
func (b *bound) fill(s *repairing, ways [][][]way, done, left int) {
	walls := []int{s.wallWith(left)}
	if b.loose {
		walls = walls[:0]
		for w := range s.options {
			walls = append(walls, w)
		}
	}
	n := len(s.problem.Routine.Steps)
	here := b.least[b.at(done, left, 0):b.at(done, left, b.posts)]
	lower := func(post int, to uint16, by uint16) {
		if to != never && to+by < here[post] {
			here[post] = to + by
		}
	}
	// after is the least after a way that deals with so many figures.
	after := func(post int, turns bool, more int) uint16 {
		corners := left
		if turns && !b.loose {
			if corners--; corners < 0 {
				return never
			}
		}
		return b.least[b.at(done+more, corners, post)]
	}
	for post := range b.posts {
		if done == n && left == 0 && s.endsIn(post) {
			here[post] = 0
		}
		if done == n {
			continue
		}
		lower(post, b.least[b.at(done+1, left, post)], 1) // left out
		for _, wall := range walls {
			for _, w := range ways[wall][post] {
				if w.mayCome {
					lower(post, after(w.post, w.turns, 1), 1)
				}
			}
			if !s.stays[done] {
				continue
			}
			for _, o := range s.options[wall][post] {
				if s.edges[o.Edge].variant == s.problem.Routine.Steps[done].Variant {
					lower(post, after(o.Post, o.Turns, 1), 0)
				}
			}
		}
	}
	for changed := true; changed; {
		changed = false
		for post := range b.posts {
			was := here[post]
			for _, wall := range walls {
				for _, w := range ways[wall][post] {
					if w.mayCome {
						lower(post, after(w.post, w.turns, 0), 1)
					}
				}
			}
			changed = changed || here[post] < was
		}
	}
}

// wallWith is the index of the wall in use with so many corners left.
func (s *repairing) wallWith(left int) int {
	n := len(s.problem.Room.Walls)
	return ((s.problem.Routine.Start.Wall+s.corners-left)%n + n) % n
}

// endsIn reports whether the routine may end in a post, as far as the stance goes.
func (s *repairing) endsIn(post int) bool {
	return !s.problem.Closes || s.states.Standing(search.State(post)).Stance == s.begins
}
