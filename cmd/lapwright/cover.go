package main

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"

	"lapwright/cmd/internal/answer"
	"lapwright/cmd/internal/wording"
	"lapwright/search/drill"
)

// covers reads what a routine is to have in it.
func (c *drillCommand) covers() (string, error) {
	what := strings.ToLower(strings.TrimSpace(c.Cover))
	switch {
	case c.Cover == "":
		return "", nil
	case what != "joins" && what != "figures":
		return "", fmt.Errorf("--cover takes joins or figures, not %q", c.Cover)
	case c.Bars != "" || c.Minutes != "":
		return "", errors.New("--cover finds how many bars are needed; leave out --bars and --minutes")
	case c.Cards != "" || c.Difficulty != "":
		return "", errors.New("--cover makes one routine, however hard it is; leave out --cards and --difficulty, or limit how hard it may be with --hardest")
	case len(c.Focus) > 0:
		return "", errors.New("--cover has everything in it that is known; leave out --focus, or name with --known what is to be practised")
	}
	return what, nil
}

// covering makes a routine that has everything in it.
func (q *drillQuestion) covering(ctx context.Context, source *drill.Source) ([]drill.Drill, *answer.Cover, error) {
	c, err := source.Cover(ctx, q.cover == "joins", q.seed)
	if err != nil {
		return nil, nil, err
	}
	if len(c.Covered) == 0 {
		return nil, nil, fmt.Errorf("there are no %s to practise: nothing that is known can be danced there", q.cover)
	}
	q.bars = c.Bars
	a := &answer.Cover{What: q.cover, Bars: c.Bars, Bound: c.Bound, Proven: c.Proven(), Covered: itemNames(c.Covered), Apart: itemNames(c.Apart), Left: itemNames(c.Left)}
	if c.Bound > 0 {
		a.GapPercent = answer.Number(math.Max(0, 100*float64(c.Bars-c.Bound)/float64(c.Bound)))
	}
	return []drill.Drill{{Seed: q.seed, Start: c.Start, Steps: c.Steps}}, a, nil
}

func itemNames(items []drill.Item) []string {
	names := []string{}
	for _, i := range items {
		names = append(names, i.Name())
	}
	return names
}

// cover prints a routine that has everything in it.
func (s *session) cover(q *drillQuestion, a *answer.Drills, written []string) error {
	c, d := a.Cover, &a.Drills[0]
	where := "in " + q.room.Name
	if a.Anywhere {
		where = "for anywhere"
	}
	one := strings.TrimSuffix(c.What, "s")
	fmt.Fprintf(s.out, "%s (%s)\n%s, %s at %g bars a minute: %s\n\n", s.paint.bold(fmt.Sprintf("Routine with every %s %s", one, where)), q.heading(),
		wording.Many(a.Bars, "bar"), wording.Clock(float64(a.Seconds)), float64(a.Tempo), coverWords(c))
	if err := s.calls(q, a, d); err != nil {
		return err
	}
	fmt.Fprintf(s.out, "Difficulty: %s\n\n", difficultyWords(d.Difficulty))
	fmt.Fprint(s.out, "Order: as danced. A figure counts in any way of dancing it, but not for a part of it\nsuch as steps 1 to 3, nor the part for the whole.\n")
	for _, call := range d.Calls {
		if call.TakesNextWall {
			fmt.Fprintln(s.out, "> the next wall's line of dance is taken before this figure, at the corner")
			break
		}
	}
	there := "in this room from there, with dancing to go on"
	if a.Anywhere {
		there = "along one wall from there, with dancing to go on"
	}
	if len(c.Apart) > 0 {
		fmt.Fprintf(s.out, "%s cannot be danced %s (by name): %s.\n", wording.Many(len(c.Apart), one), there, strings.Join(c.Apart, "; "))
	}
	if len(c.Left) > 0 {
		fmt.Fprintf(s.out, "%s can be danced there, but found no place in this routine (by name): %s.\n", wording.Many(len(c.Left), one), strings.Join(c.Left, "; "))
	}
	if a.Anywhere {
		fmt.Fprintln(s.out, "Along one endless wall, without corners: whether it fits a room, the room decides.")
	}
	s.afterLaps(written)
	return nil
}

// coverWords say what is in a routine, and how short it is.
func coverWords(c *answer.Cover) string {
	words := wording.Many(len(c.Covered), strings.TrimSuffix(c.What, "s")) + ", each at least once; "
	switch {
	case len(c.Left) > 0:
		return words + fmt.Sprintf("with all of them it takes at least %s", wording.Many(c.Bound, "bar"))
	case c.Proven:
		return words + "proven shortest"
	}
	return words + fmt.Sprintf("at least %s are needed, so it is within %.0f %% of the bound", wording.Many(c.Bound, "bar"), math.Ceil(float64(c.GapPercent)))
}
