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
		return "> " + digits(t.Took)
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
	// AStar and Dijkstra are gonum's; A* is given our bound. Without limits they search
	// the whole graph, with limits the graph that the solver is given.
	AStar, Dijkstra Time
	// ToBest and ToProof are the other solver's.
	ToBest, ToProof Time
}

// ratio is how many times as long as ours another took.
func ratio(other, ours Time) string {
	if ours.None || ours.Over || other.None || ours.Took <= 0 {
		return "–"
	}
	over := ""
	if other.Over {
		over = "> "
	}
	times := float64(other.Took) / float64(ours.Took)
	if times < 9.95 {
		return fmt.Sprintf("%s%.1f", over, times)
	}
	return over + thousands(int(math.Round(times)))
}

// Table is the table of a comparison in Markdown.
func Table(rows []Row) string {
	var b strings.Builder
	heads := []string{"room", "figures", "limits", "best, bars", "states", "expansions", "ours", "after the bound", "gonum A*", "gonum Dijkstra",
		"A* / ours", "Dijkstra / ours", "cut down to nodes, arcs", "ours on that", "clingo, to the best", "clingo, to the proof", "clingo / ours",
		"clingo / ours on that"}
	b.WriteString("| " + strings.Join(heads, " | ") + " |\n|" + strings.Repeat(" --- |", 3) + strings.Repeat(" ---: |", len(heads)-3) + "\n")
	for i := range rows {
		r := &rows[i]
		best := fmt.Sprintf("%.2f", float64(r.Cost)/100)
		if r.Cost < 0 {
			best = fmt.Sprintf("> %.2f", float64(r.Cutoff)/100)
		}
		// A* is held against what searches the same graph with a bound that is known,
		// Dijkstra's algorithm against what has to find one.
		like, all := r.Search, r.Ours
		if like.None {
			like, all = r.OnCut, r.OnCut
		}
		cells := []string{r.Room, r.Figures, r.Limits, best, thousands(int(r.States)), thousands(r.Expansions), r.Ours.String(), r.Search.String(), r.AStar.String(),
			r.Dijkstra.String(), ratio(r.AStar, like), ratio(r.Dijkstra, all), thousands(r.Cut.Nodes) + ", " + thousands(r.Cut.Arcs), r.OnCut.String(),
			r.ToBest.String(), r.ToProof.String(), ratio(r.ToProof, r.Ours), ratio(r.ToProof, r.OnCut)}
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
