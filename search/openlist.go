package search

// openList is a bucket queue: entries ordered by a whole-number priority, the
// last one put in first among equals (Dial 1969, "Algorithm 360"). Each bucket is
// a stack that keeps its memory, so that pushing allocates nothing once the queue
// has grown; buckets lie in a ring, so that what counts is how far the priorities
// in the queue lie apart, not how great they are.
//
// Priority 1,003 in a ring of 256 buckets is in bucket 235.
type openList struct {
	buckets [][]openEntry // by priority modulo the length, a power of two
	// No entry has a priority below least or above most. Meaningless while
	// count is 0.
	least, most int32
	count       int
}

type openEntry struct {
	id uint32
	g  int32
}

// leastBuckets is how many buckets a queue begins with; a power of two.
const leastBuckets = 256

func newOpenList() *openList { return &openList{buckets: make([][]openEntry, leastBuckets)} }

// reset empties the queue and keeps its memory.
func (o *openList) reset() {
	for i := range o.buckets {
		o.buckets[i] = o.buckets[i][:0]
	}
	o.count = 0
}

// bucket is the number of the bucket of a priority.
func (o *openList) bucket(priority int32) int { return int(priority) & (len(o.buckets) - 1) }

// push adds a state with its cost so far. Priorities are not negative.
func (o *openList) push(priority int32, id uint32, g int32) {
	if o.count == 0 {
		o.least, o.most = priority, priority
	} else if priority < o.least || priority > o.most {
		least, most := min(o.least, priority), max(o.most, priority)
		if int(most-least) >= len(o.buckets) {
			o.grow(int(most-least) + 1)
		}
		o.least, o.most = least, most
	}
	b := &o.buckets[o.bucket(priority)]
	*b = append(*b, openEntry{id, g})
	o.count++
}

// grow makes room for priorities that lie up to span apart.
func (o *openList) grow(span int) {
	size := len(o.buckets)
	for size < span {
		size *= 2
	}
	old := *o
	o.buckets = make([][]openEntry, size)
	for p := old.least; ; p++ {
		o.buckets[o.bucket(p)] = old.buckets[old.bucket(p)]
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
	for len(o.buckets[o.bucket(o.least)]) == 0 {
		o.least++
	}
	b := &o.buckets[o.bucket(o.least)]
	e := (*b)[len(*b)-1]
	*b = (*b)[:len(*b)-1]
	o.count--
	return o.least, e.id, e.g, true
}
