package search

import (
	"container/heap"
	"testing"

	"pgregory.net/rapid"
)

// plainQueue is a priority queue by container/heap: the least priority first,
// the last put in first among equals.
type plainQueue []queued

type queued struct {
	priority int32
	id       uint32
	g        int32
	order    int
}

func (q plainQueue) Len() int { return len(q) }
func (q plainQueue) Less(i, j int) bool {
	if q[i].priority != q[j].priority {
		return q[i].priority < q[j].priority
	}
	return q[i].order > q[j].order
}
func (q plainQueue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *plainQueue) Push(x any)   { *q = append(*q, x.(queued)) }
func (q *plainQueue) Pop() any {
	last := (*q)[len(*q)-1]
	*q = (*q)[:len(*q)-1]
	return last
}

func TestOpenList(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		open, plain := newOpenList(), &plainQueue{}
		base, order := int32(0), 0
		t.Repeat(map[string]func(*rapid.T){
			"push": func(t *rapid.T) {
				// Mostly a little above what was popped last, as in a search.
				priority := rapid.OneOf(
					rapid.Int32Range(base, base+300),
					rapid.Int32Range(0, 5000),
				).Draw(t, "priority")
				order++
				e := queued{priority, rapid.Uint32().Draw(t, "id"), rapid.Int32().Draw(t, "g"), order}
				open.push(e.priority, e.id, e.g)
				heap.Push(plain, e)
			},
			"pop": func(t *rapid.T) {
				priority, id, g, ok := open.pop()
				if ok != (plain.Len() > 0) {
					t.Fatalf("popped %t of %d entries", ok, plain.Len())
				}
				if !ok {
					return
				}
				want := heap.Pop(plain).(queued)
				if priority != want.priority || id != want.id || g != want.g {
					t.Fatalf("popped %d %d %d, want %d %d %d", priority, id, g, want.priority, want.id, want.g)
				}
				base = priority
			},
			"reset": func(t *rapid.T) {
				if rapid.IntRange(0, 20).Draw(t, "now and then") == 0 {
					open.reset()
					*plain = (*plain)[:0]
				}
			},
		})
	})
}

// TestOpenListGreatPriorities: what counts is how far priorities lie apart, not
// how great they are.
func TestOpenListGreatPriorities(t *testing.T) {
	open := newOpenList()
	const great = 1<<31 - 2
	for i := range int32(100) {
		open.push(great-i, uint32(i), 0)
	}
	if len(open.buckets) > leastBuckets {
		t.Errorf("there are %d buckets for 100 neighbouring priorities", len(open.buckets))
	}
	for i := range int32(100) {
		if priority, id, _, ok := open.pop(); !ok || priority != great-99+i || id != uint32(99-i) {
			t.Fatalf("pop %d is %d (state %d)", i, priority, id)
		}
	}
	if _, _, _, ok := open.pop(); ok {
		t.Error("an empty queue gives something")
	}
}
