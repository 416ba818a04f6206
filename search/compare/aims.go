package compare

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// aim is how many times as fast as another solver ours was meant to be.
type aim struct {
	times   float64
	limited bool // on the rows with limits, or on those without
	against string
	other   func(*Row) Time
	ours    func(*Row) Time
}

// aims are the targets that were set, each against what it can be held against.
var aims = []aim{
	{50, false, "gonum's A* with a lane bound, against all of ours", func(r *Row) Time { return r.Lane }, (*Row).all},
	{50, false, "gonum's A* with our bound and the making of that, against all of ours", (*Row).made, (*Row).all},
	{50, false, "gonum's A* with our bound, against ours after the bound", func(r *Row) Time { return r.Ahead }, (*Row).searched},
	{50, true, "gonum's A* with a lane bound on the graph that we have cut down, against ours on that", func(r *Row) Time { return r.Lane }, (*Row).all},
	{50, true, "gonum's A* with our bound on the graph that we have cut down, against ours on that", func(r *Row) Time { return r.Ahead }, (*Row).searched},
	{1000, false, "clingo on the graph that we have cut down, against all of ours", func(r *Row) Time { return r.ToProof }, func(r *Row) Time { return r.Ours }},
	{1000, false, "clingo on the graph that we have cut down, against ours on that", func(r *Row) Time { return r.ToProof }, func(r *Row) Time { return r.OnCut }},
	{100, true, "clingo on the graph that we have cut down, against all of ours", func(r *Row) Time { return r.ToProof }, func(r *Row) Time { return r.Ours }},
	{100, true, "clingo on the graph that we have cut down, against ours on that", func(r *Row) Time { return r.ToProof }, func(r *Row) Time { return r.OnCut }},
}

// Aims says on how many rows solvers that nobody here wrote agree with ours, and how what
// was measured stands to what was aimed at, as a table in Markdown.
func Aims(rows []Row) string {
	var b strings.Builder
	agreed, of := map[bool]int{}, map[bool]int{}
	for i := range rows {
		of[rows[i].Limited]++
		if rows[i].Agreed {
			agreed[rows[i].Limited]++
		}
	}
	fmt.Fprintf(&b, "On %d of %d instances without limits and %d of %d with them another solver was done and agrees\nwith ours on the least cost; none that was done says otherwise.\n\n",
		agreed[false], of[false], agreed[true], of[true])
	b.WriteString("| aim: times as fast as | limits | the aim is | reached | missed | not known | least | in the middle | most |\n| --- | --- | --- | ---: | ---: | ---: | ---: | ---: | ---: |\n")
	for i := range aims {
		b.WriteString(aims[i].line(rows))
	}
	return b.String()
}

// line is the row of an aim. Where both were stopped, or the other before it had taken as
// many times as long as was aimed at, it is not known whether the aim is reached.
func (a *aim) line(rows []Row) string {
	type measured struct {
		times float64
		mark  string
	}
	var all []measured
	reached, missed, unknown := 0, 0, 0
	for i := range rows {
		r := &rows[i]
		if r.Limited != a.limited {
			continue
		}
		times, mark, ok := ratio(a.other(r), a.ours(r))
		if ok {
			all = append(all, measured{times, mark})
		}
		switch {
		case !ok, times >= a.times && mark == "< ", times < a.times && mark == "> ":
			unknown++
		case times >= a.times:
			reached++
		default:
			missed++
		}
	}
	slices.SortFunc(all, func(x, y measured) int { return cmp.Compare(x.times, y.times) })
	limits, verdict, spread := "none", "reached", []string{"–", "–", "–"}
	if a.limited {
		limits = "some"
	}
	switch {
	case missed > 0 && reached > 0:
		verdict = "missed on some"
	case missed > 0:
		verdict = "**missed**"
	case reached == 0:
		verdict = "not known"
	case unknown > 0:
		verdict = "reached where known"
	}
	if n := len(all); n > 0 {
		for i, m := range []measured{all[0], all[n/2], all[n-1]} {
			spread[i] = m.mark + fold(m.times)
		}
	}
	return fmt.Sprintf("| %s × %s | %s | %s | %d | %d | %d | %s |\n", thousands(int(a.times)), a.against, limits, verdict, reached, missed, unknown, strings.Join(spread, " | "))
}
