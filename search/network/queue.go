package network

// Queue is an open list of numbered things by a whole-number key, for searches in
// which no key is ever less than the last one taken (a bucket queue: Dial 1969).
// Of equal keys the last one put in comes out first. The zero value is empty.
type Queue struct {
	heads   []int32 // by key, round and round: first entry + 1
	entries []entry
	free    int32 // first entry no longer in use + 1
	at      int32 // least key that may still come
	count   int
}

type entry struct{ item, key, next int32 }

// Reset empties the queue; keys from now on are at least the one given.
func (q *Queue) Reset(least int32) {
	clear(q.heads)
	q.entries, q.free, q.at, q.count = q.entries[:0], 0, least, 0
}

// Len is how many things are in the queue.
func (q *Queue) Len() int { return q.count }

// Push puts a thing into the queue. A key below the last one taken counts as that.
func (q *Queue) Push(item, key int32) {
	key = max(key, q.at)
	if int(key-q.at) >= len(q.heads) {
		q.grow(int(key - q.at))
	}
	e := q.free - 1
	if e >= 0 {
		q.free = q.entries[e].next
	} else {
		e = int32(len(q.entries))
		q.entries = append(q.entries, entry{})
	}
	head := &q.heads[int(uint32(key))&(len(q.heads)-1)]
	q.entries[e] = entry{item, key, *head}
	*head = e + 1
	q.count++
}

// Pop takes out the thing with the least key, and is false when there is none.
func (q *Queue) Pop() (item, key int32, ok bool) {
	if q.count == 0 {
		return 0, 0, false
	}
	for {
		head := &q.heads[int(uint32(q.at))&(len(q.heads)-1)]
		if *head == 0 {
			q.at++
			continue
		}
		e := *head - 1
		at := &q.entries[e]
		*head, item, key = at.next, at.item, at.key
		at.next, q.free = q.free, e+1
		q.count--
		return item, key, true
	}
}

// grow makes room for keys that lie so far apart.
func (q *Queue) grow(span int) {
	size := max(1024, len(q.heads))
	for size <= span {
		size *= 2
	}
	heads := make([]int32, size)
	// Each chain keeps its order: it is turned round twice.
	for _, head := range q.heads {
		turned := int32(0)
		for head != 0 {
			e := &q.entries[head-1]
			head, e.next, turned = e.next, turned, head
		}
		for turned != 0 {
			e := &q.entries[turned-1]
			to := &heads[int(uint32(e.key))&(size-1)]
			turned, e.next, *to = e.next, *to, turned
		}
	}
	q.heads = heads
}
