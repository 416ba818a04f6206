package search

// openList is a bucket queue: entries ordered by a whole-number priority, the
// last one put in first among equals (Dial 1969, "Algorithm 360"). Entries live
// in one arena, so that pushing allocates nothing once it has grown; buckets lie
// in a ring, so that what counts is how far the priorities in the queue lie
// apart, not how great they are.
//
// Priority 1,003 in a ring of 256 buckets is in bucket 235.
type openList struct {
	heads []int32 // by priority modulo the length, a power of two: the newest entry, or -1
	arena []openEntry
	free  int32 // list of entries that were popped, or -1
	// No entry has a priority below least or above most. Meaningless while
	// count is 0.
	least, most int32
	count       int
}

type openEntry struct {
	id   uint32
	g    int32
	next int32
}

// leastBuckets is how many buckets a queue begins with; a power of two.
const leastBuckets = 256

func newOpenList() *openList {
	o := &openList{heads: make([]int32, leastBuckets)}
	o.reset()
	return o
}

// reset empties the queue and keeps its memory.
func (o *openList) reset() {
	for i := range o.heads {
		o.heads[i] = -1
	}
	o.arena, o.free, o.count = o.arena[:0], -1, 0
}

// bucket is the number of the bucket of a priority.
func (o *openList) bucket(priority int32) int { return int(priority) & (len(o.heads) - 1) }

// push adds a state with its cost so far. Priorities are not negative.
func (o *openList) push(priority int32, id uint32, g int32) {
	least, most := priority, priority
	if o.count > 0 {
		least, most = min(o.least, priority), max(o.most, priority)
	}
	if int(most-least) >= len(o.heads) {
		o.grow(int(most-least) + 1)
	}
	o.least, o.most = least, most
	at := o.free
	if at >= 0 {
		o.free = o.arena[at].next
	} else {
		at = int32(len(o.arena))
		o.arena = append(o.arena, openEntry{})
	}
	bucket := o.bucket(priority)
	o.arena[at] = openEntry{id, g, o.heads[bucket]}
	o.heads[bucket] = at
	o.count++
}

// grow makes room for priorities that lie up to span apart.
func (o *openList) grow(span int) {
	size := len(o.heads)
	for size < span {
		size *= 2
	}
	old := *o
	o.heads = make([]int32, size)
	for i := range o.heads {
		o.heads[i] = -1
	}
	if o.count == 0 {
		return
	}
	for p := old.least; ; p++ {
		o.heads[o.bucket(p)] = old.heads[old.bucket(p)]
		if p == old.most {
			return
		}
	}
}

// pop removes an entry of the least priority.
func (o *openList) pop() (priority int32, id uint32, g int32, ok bool) {
	if o.count == 0 {
		return 0, 0, 0, false
	}
	for o.heads[o.bucket(o.least)] < 0 {
		o.least++
	}
	bucket := o.bucket(o.least)
	at := o.heads[bucket]
	e := &o.arena[at]
	id, g = e.id, e.g
	o.heads[bucket] = e.next
	e.next, o.free = o.free, at
	o.count--
	return o.least, id, g, true
}
