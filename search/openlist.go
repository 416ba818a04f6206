package search

// openList is a bucket queue: entries ordered by a whole-number priority, the
// last one put in first among equals. Entries live in one arena, so that
// pushing allocates nothing once it has grown (Dial 1969, "Algorithm 360").
type openList struct {
	heads []int32 // by priority: the newest entry, or -1
	arena []openEntry
	free  int32 // list of entries that were popped, or -1
	least int32 // no entry has a lower priority
	count int
}

type openEntry struct {
	id   uint32
	g    int32
	next int32
}

func newOpenList() *openList { return &openList{free: -1} }

func (o *openList) reset() {
	for i := range o.heads {
		o.heads[i] = -1
	}
	o.arena, o.free, o.least, o.count = o.arena[:0], -1, 0, 0
}

// push adds a state with its cost so far. Priorities are not negative.
func (o *openList) push(priority int32, id uint32, g int32) {
	for int(priority) >= len(o.heads) {
		o.heads = append(o.heads, -1)
	}
	at := o.free
	if at >= 0 {
		o.free = o.arena[at].next
	} else {
		at = int32(len(o.arena))
		o.arena = append(o.arena, openEntry{})
	}
	o.arena[at] = openEntry{id, g, o.heads[priority]}
	o.heads[priority] = at
	o.least = min(o.least, priority)
	o.count++
}

// pop removes an entry of the least priority.
func (o *openList) pop() (priority int32, id uint32, g int32, ok bool) {
	if o.count == 0 {
		return 0, 0, 0, false
	}
	for o.heads[o.least] < 0 {
		o.least++
	}
	at := o.heads[o.least]
	e := &o.arena[at]
	id, g = e.id, e.g
	o.heads[o.least] = e.next
	e.next, o.free = o.free, at
	o.count--
	return o.least, id, g, true
}
