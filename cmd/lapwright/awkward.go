package main

import (
	"fmt"
	"strings"

	"lapwright/cmd/internal/answer"
)

// awkwardJoins are the joins of a routine that are awkward, and why: a remark, no
// fault. The figures of one join may be far apart in the table, so both are named.
func awkwardJoins(r *answer.Routine) []fact {
	if len(r.Figures) < 2 {
		return nil
	}
	if r.Totals.AwkwardJoins == 0 {
		return []fact{{"Awkward joins", "none"}}
	}
	var remarks []string
	for i, f := range r.Figures {
		if f.AwkwardJoin == "" {
			continue
		}
		before := r.Figures[(i+len(r.Figures)-1)%len(r.Figures)]
		remarks = append(remarks, fmt.Sprintf("bar %d, %s after %s (%s)", f.Bar, f.Name, before.Name, f.AwkwardJoin))
	}
	facts := []fact{{"Awkward joins", fmt.Sprintf("%d: %s", r.Totals.AwkwardJoins, remarks[0])}}
	indent := strings.Repeat(" ", len(fmt.Sprint(r.Totals.AwkwardJoins))+2)
	for _, more := range remarks[1:] {
		facts = append(facts, fact{"", indent + more})
	}
	return facts
}
