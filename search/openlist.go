package search

// openList is a bucket queue: entries ordered by a whole-number priority, the
// last one put in first among equals (Dial 1969, "Algorithm 360"). A bucket is a
// chain of blocks that goes back to the others when it is empty, so that the
// queue takes the memory of what is in it at most, and pushing allocates nothing
// once it has grown. Buckets lie in a ring, so that what counts is how far the
// priorities in the queue lie apart, not how great they are.
//
// Priority 1,003 in a ring of 256 buckets is in bucket 235.
type openList struct {
	buckets []*block // by priority modulo the length, a power of two
	free    *block
	// No entry has a priority below least or above most. Meaningless while
	// count is 0.
	least, most int32
	count       int
}

type openEntry struct {
	id uint32
	g  int32
}

// block is a run of entries of one bucket; the ones before them are in next.
// Only an empty bucket has no block, and no block of a bucket is empty.
type block struct {
	count   int
	next    *block
	entries [126]openEntry
}

// leastBuckets is how many buckets a queue begins with; a power of two.
const leastBuckets = 256

func newOpenList() *openList { return &openList{buckets: make([]*block, leastBuckets)} }

// reset empties the queue and keeps its memory.
func (o *openList) reset() {
	for i, b := range o.buckets {
		for b != nil {
			b = o.drop(b)
		}
		o.buckets[i] = nil
	}
	o.count = 0
}

// drop sets a block free and returns the one behind it.
func (o *openList) drop(b *block) *block {
	next := b.next
	b.count, b.next = 0, o.free
	o.free = b
	return next
}

// bucket is the number of the bucket of a priority.
func (o *openList) bucket(priority int32) int { return int(priority) & (len(o.buckets) - 1) }

// push adds a state with its cost so far. Priorities are not negative.
func (o *openList) push(priority int32, id uint32, g int32) {
	if o.count == 0 {
		o.least, o.most = priority, priority
	} else if priority < o.least || priority > o.most {
		o.widen(priority)
	}
	head := &o.buckets[o.bucket(priority)]
	b := *head
	if b == nil || b.count == len(b.entries) {
		b = o.block()
		b.next, *head = *head, b
	}
	b.entries[b.count] = openEntry{id, g}
	b.count++
	o.count++
}

// block is an empty block.
func (o *openList) block() *block {
	b := o.free
	if b == nil {
		return new(block)
	}
	o.free, b.next = b.next, nil
	return b
}

// widen makes room for one more priority.
func (o *openList) widen(priority int32) {
	least, most := min(o.least, priority), max(o.most, priority)
	if span := int(most-least) + 1; span > len(o.buckets) {
		size := len(o.buckets)
		for size < span {
			size *= 2
		}
		old := *o
		o.buckets = make([]*block, size)
		for p := old.least; p <= old.most && p >= old.least; p++ {
			o.buckets[o.bucket(p)] = old.buckets[old.bucket(p)]
		}
	}
	o.least, o.most = least, most
}

// pop removes an entry of the least priority.
func (o *openList) pop() (priority int32, id uint32, g int32, ok bool) {
	if o.count == 0 {
		return 0, 0, 0, false
	}
	head := &o.buckets[o.bucket(o.least)]
	for *head == nil {
		o.least++
		head = &o.buckets[o.bucket(o.least)]
	}
	b := *head
	b.count--
	e := b.entries[b.count]
	if b.count == 0 {
		*head = o.drop(b)
	}
	o.count--
	return o.least, e.id, e.g, true
}
