package main

import (
	"fmt"
	"strconv"
	"strings"

	"lapwright/cmd/internal/answer"
)

// varied prints variations of a routine, each beside what was danced before.
func (s *session) varied(q *varyQuestion, a *answer.Varied, written []string) error {
	head := fmt.Sprintf("Variations of %s", q.checked.title())
	if !strings.Contains(head, q.checked.room.Room.Name) {
		head += " in " + q.checked.room.Room.Name
	}
	fmt.Fprintf(s.out, "%s (%s)\n\n", s.paint.bold(head), q.checked.heading())
	facts := []fact{{"Kept", spanWords(a.Kept)}, {"May change", spanWords(a.Changes)},
		{"Comes in", q.repertory.words()},
		{"Was", fmt.Sprintf("difficulty %.2f points a bar, %.1f m along the line of dance", float64(a.Difficulty), float64(a.Travel))}}
	printFacts(s.out, facts)
	for i := range a.Variations {
		v := &a.Variations[i]
		fmt.Fprintf(s.out, "\n%s\n", s.paint.bold(fmt.Sprintf("Variation %d: %.0f %% of the figures changed, difficulty %.2f points a bar, %.1f m along the line of dance, ends %.2f m from where it did",
			i+1, 100*float64(v.Novelty), float64(v.Difficulty), float64(v.Travel), float64(v.Off))))
		fmt.Fprintln(s.out)
		var rows [][]string
		for _, b := range v.Beside {
			sign := ""
			if b.Changed {
				sign = "*"
			}
			rows = append(rows, []string{strconv.Itoa(b.Bar), b.Was, sign, b.Now})
		}
		if err := table(s.out, []column{{"Bar", true}, {"Was", false}, {"", false}, {"Now", false}}, rows); err != nil {
			return err
		}
	}
	if len(a.Variations) > 0 {
		fmt.Fprintf(s.out, "\n* danced otherwise than before; ×0.9 at that share of the stride\n")
	}
	if a.Why != "" {
		fmt.Fprintf(s.out, "\n%s.\n", a.Why)
	}
	if len(a.Variations) > 0 {
		fmt.Fprintf(s.out, "\n%s", cautions)
	}
	for _, path := range written {
		fmt.Fprintf(s.out, "\nWritten: %s", path)
	}
	if len(written) > 0 {
		fmt.Fprintln(s.out)
	}
	return nil
}

// spanWords are bars in words: "bars 1-8, 17-24".
func spanWords(spans []answer.Span) string {
	if len(spans) == 0 {
		return "nothing"
	}
	var all []string
	for _, b := range spans {
		if b.First == b.Last {
			all = append(all, strconv.Itoa(b.First))
		} else {
			all = append(all, fmt.Sprintf("%d-%d", b.First, b.Last))
		}
	}
	if len(all) == 1 && spans[0].First == spans[0].Last {
		return "bar " + all[0]
	}
	return "bars " + strings.Join(all, ", ")
}
