package repair

// item is a node in an open list.
type item struct {
	cost cost
	done uint16
	node int32
}

// openList is a heap of the nodes of a tier: the cheapest first, of these the one that
// has dealt with most figures, of these the one that was found first.
type openList []item

func (l openList) Len() int { return len(l) }
func (l openList) Less(a, b int) bool {
	switch {
	case l[a].cost != l[b].cost:
		return l[a].cost < l[b].cost
	case l[a].done != l[b].done:
		return l[a].done > l[b].done
	}
	return l[a].node < l[b].node
}
func (l openList) Swap(a, b int) { l[a], l[b] = l[b], l[a] }
func (l *openList) Push(x any)   { *l = append(*l, x.(item)) }
func (l *openList) Pop() any {
	last := (*l)[len(*l)-1]
	*l = (*l)[:len(*l)-1]
	return last
}
