package future

import "lapwright/search"

// living finds out, state by state and only where it is asked, whether dancing can go on
// for ever. [Alive] knows it of all states at once, and looks at all of them for that.
type living struct {
	states *search.States
	known  []fate // by state
}

type fate uint8

const (
	unknown fate = iota
	onTheWay
	lives
	ends
)

func newLiving(states *search.States) living {
	return living{states: states, known: make([]fate, states.Count())}
}

// has looks for a way that comes back to a state on it, or reaches one that is known to
// live (depth-first search): then all states on the way live. A state all of whose ways
// end does not, and is not looked at again.
func (l *living) has(at search.State) bool {
	if l.known[at] != unknown {
		return l.known[at] == lives
	}
	type look struct {
		at   search.State
		next int
	}
	l.known[at] = onTheWay
	way := []look{{at: at}}
	for len(way) > 0 {
		last := &way[len(way)-1]
		if last.next == l.states.Choices(last.at) {
			l.known[last.at] = ends
			way = way[:len(way)-1]
			continue
		}
		to, _, ok := l.states.Leads(last.at, last.next)
		last.next++
		switch {
		case !ok || l.known[to] == ends:
		case l.known[to] == unknown:
			l.known[to] = onTheWay
			way = append(way, look{at: to})
		default:
			for i := range way {
				l.known[way[i].at] = lives
			}
			return true
		}
	}
	return false
}
