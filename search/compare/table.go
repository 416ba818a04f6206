package compare

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"strings"
	"time"
)

// Time is how long a solver took.
type Time struct {
	Took time.Duration
	// Over tells that it was stopped before it was done.
	Over bool
	// None tells that it was not tried, or has nothing to tell.
	None bool
}

// String writes a time with two digits that count, or more where it is in whole units.
func (t Time) String() string {
	switch {
	case t.None:
		return "–"
	case t.Over:
		return "over " + digits(t.Took)
	}
	return digits(t.Took)
}

func digits(d time.Duration) string {
	for _, unit := range []struct {
		size time.Duration
		name string
	}{{time.Second, "s"}, {time.Millisecond, "ms"}, {time.Microsecond, "µs"}} {
		switch n := float64(d) / float64(unit.size); {
		case n >= 9.95:
			return fmt.Sprintf("%.0f %s", n, unit.name)
		case n >= 0.995:
			return fmt.Sprintf("%.1f %s", n, unit.name)
		}
	}
	return "< 1 µs"
}

// Row is an instance and how the solvers did.
type Row struct {
	Room, Figures, Limits string
	// Limited tells that a limit asks about the past.
	Limited bool
	// Agreed tells that a solver that nobody here wrote was done, and agrees with ours.
	Agreed bool
	// Cost is the least cost of a lap in hundredths of a bar; -1: no lap costs as little
	// as Cutoff.
	Cost, Cutoff int
	States       uint64 // places and stances of the whole graph
	Cut          Size   // of what the solver was given
	// Expansions are of our own search.
	Expansions int
	// Ours is all of our own search's time from the compiled problem on, Search what is
	// left of it when the bound is known.
	Ours, Search Time
	// OnCut is our own search's time on the graph that the solver is given.
	OnCut Time
	// Ahead is gonum's A* with our bound, Lane its A* with a simple bound of its own.
	// Without limits they and Dijkstra's algorithm search the whole graph from all starts,
	// with limits the graph that the solver is given.
	Ahead, Lane, Dijkstra Time
	// Making is how long our bound for gonum took to make, which is not in Ahead.
	Making Time
	// ToBest and ToProof are the other solver's.
	ToBest, ToProof Time
}

// ratio is how many times as long as ours another took; the mark says that it is more than
// that ("> "), or less ("< "), where one was stopped. Where both were, nothing can be said.
func ratio(other, ours Time) (times float64, mark string, ok bool) {
	if ours.None || other.None || ours.Over && other.Over || ours.Took <= 0 {
		return 0, "", false
	}
	switch {
	case other.Over:
		mark = "> "
	case ours.Over:
		mark = "< "
	}
	return float64(other.Took) / float64(ours.Took), mark, true
}

// rated writes a ratio.
func rated(other, ours Time) string {
	times, mark, ok := ratio(other, ours)
	if !ok {
		return "–"
	}
	return mark + fold(times)
}

// fold writes a number of times.
func fold(times float64) string {
	switch {
	case times < 0.0095:
		return fmt.Sprintf("%.3f", times)
	case times < 0.095:
		return fmt.Sprintf("%.2f", times)
	case times < 9.95:
		return fmt.Sprintf("%.1f", times)
	}
	return thousands(int(math.Round(times)))
}

// searched is our own time on what A* with our bound is given: after the bound, or with
// limits on the graph that is cut down.
func (r *Row) searched() Time {
	if r.Limited {
		return r.OnCut
	}
	return r.Search
}

// all is our own time on what gonum is given without our bound: the whole of it, or with
// limits that on the graph that is cut down.
func (r *Row) all() Time {
	if r.Limited {
		return r.OnCut
	}
	return r.Ours
}

// made is the time of A* with our bound and of the making of that.
func (r *Row) made() Time {
	t := r.Ahead
	t.Took += r.Making.Took
	return t
}

// Table is the table of a comparison in Markdown.
func Table(rows []Row) string {
	var b strings.Builder
	heads := []string{"room", "figures", "limits", "best, bars", "states", "expansions", "ours", "after the bound", "making our bound", "A*, our bound", "A*, lane bound", "Dijkstra",
		"A*, our bound / ours", "A*, lane bound / ours", "Dijkstra / ours", "cut down to nodes, arcs", "ours on that", "clingo, to the best", "clingo, to the proof",
		"clingo / ours", "clingo / ours on that"}
	b.WriteString("| " + strings.Join(heads, " | ") + " |\n|" + strings.Repeat(" --- |", 3) + strings.Repeat(" ---: |", len(heads)-3) + "\n")
	for i := range rows {
		r := &rows[i]
		best := fmt.Sprintf("%.2f", float64(r.Cost)/100)
		if r.Cost < 0 {
			best = fmt.Sprintf("> %.2f", float64(r.Cutoff)/100)
		}
		cells := []string{r.Room, r.Figures, r.Limits, best, thousands(int(r.States)), thousands(r.Expansions), r.Ours.String(), r.Search.String(),
			r.Making.String(), r.Ahead.String(), r.Lane.String(), r.Dijkstra.String(), rated(r.Ahead, r.searched()), rated(r.Lane, r.all()), rated(r.Dijkstra, r.all()),
			thousands(r.Cut.Nodes) + ", " + thousands(r.Cut.Arcs), r.OnCut.String(), r.ToBest.String(), r.ToProof.String(),
			rated(r.ToProof, r.Ours), rated(r.ToProof, r.OnCut)}
		b.WriteString("| " + strings.Join(cells, " | ") + " |\n")
	}
	return b.String()
}

// thousands writes a number with a comma before each three digits.
func thousands(n int) string {
	s := fmt.Sprint(n)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}

// The lines in a Markdown file between which the comparison stands.
const (
	begins = "<!-- The comparison with other solvers begins; a test writes it. -->\n"
	finish = "<!-- The comparison ends. -->\n"
)

// Replace puts text in the place of the comparison in a Markdown file.
func Replace(file []byte, text string) ([]byte, error) {
	before, rest, ok := bytes.Cut(file, []byte(begins))
	_, after, closed := bytes.Cut(rest, []byte(finish))
	if !ok || !closed {
		return nil, errors.New("compare: the file has no place for the comparison: it stands between the lines\n" + begins + finish)
	}
	return bytes.Join([][]byte{before, []byte(begins), []byte(text), []byte(finish), after}, nil), nil
}
