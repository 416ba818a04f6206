package graph

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"lapwright/figures"
)

// Reason is one thing that keeps a couple from dancing a figure now.
type Reason struct {
	// What fails: "alignment", "foot" or "hold".
	What string
	// Has and Needs are what the couple has and what the figure begins with,
	// such as "facing diagonal to wall" and "facing diagonal to centre", "left
	// foot free" and "right foot free", "promenade" and "closed hold or
	// outside partner"; or "facing line of dance or diagonal to centre". Needs is empty for a figure that begins nowhere.
	Has, Needs string
	// Figure is the name of the figure that cannot be danced.
	Figure string
}

// What a reason may be about.
const (
	Alignment = "alignment"
	Foot      = "foot"
	Hold      = "hold"
)

// String is the reason in a teacher's words: "the couple faces diagonal to
// wall; Reverse Turn begins facing diagonal to centre".
func (r Reason) String() string {
	figure := r.Figure
	if figure == "" {
		figure = "the figure"
	}
	if r.Needs == "" {
		return fmt.Sprintf("%s begins in no stance at all", figure)
	}
	switch r.What {
	case Alignment:
		way, direction, _ := strings.Cut(r.Has, " ")
		verb := "faces"
		if way == figures.Backing.String() {
			verb = "backs"
		}
		return fmt.Sprintf("the couple %s %s; %s begins %s", verb, direction, figure, r.Needs)
	case Foot:
		return fmt.Sprintf("the leader has the %s; %s begins with the %s", r.Has, figure, r.Needs)
	}
	return fmt.Sprintf("the couple is %s; %s begins %s", within(r.Has), figure, within(r.Needs))
}

// within puts the word before a hold that the trade puts there: "in closed
// hold", but "outside partner".
func within(hold string) string {
	switch {
	case strings.HasPrefix(hold, "outside"):
		return hold
	case strings.HasPrefix(hold, "partner"):
		return "with " + hold
	}
	return "in " + hold
}

// WhyNot tells why a variant cannot be danced from a stance, and is nil when it
// can. The reasons are those against the entry that is nearest: the one that
// differs in the fewest of alignment, foot and hold, of those the one with the
// least turn between the two alignments, of those the one that the library
// gives first.
//
// What a reason needs lists all that would do if the rest were as in that
// entry: all alignments in which the variant begins with that foot in that
// hold, and so on. A figure that starts backward is said to begin backing, as
// the trade does.
func WhyNot(s figures.Stance, v *figures.Variant) []Reason {
	s = tidy(s)
	begins := entries(v)
	if len(begins) == 0 {
		return []Reason{{What: Alignment, Has: figures.Alignment{Heading: s.Facing}.String(), Figure: name(v)}}
	}
	near := slices.MinFunc(begins, func(a, b figures.Stance) int {
		return cmp.Or(cmp.Compare(differences(s, a), differences(s, b)), cmp.Compare(apart(s, a), apart(s, b)))
	})
	var reasons []Reason
	add := func(what, has string, same func(e figures.Stance) bool, word func(e figures.Stance) string) {
		var all []string
		for _, e := range slices.SortedFunc(slices.Values(begins), compareStances) {
			if same(e) {
				all = append(all, word(e))
			}
		}
		reasons = append(reasons, Reason{what, has, listed(all), name(v)})
	}
	if near.Facing != s.Facing {
		way := beginning(v, near)
		has := figures.Alignment{Heading: s.Facing}
		if way == figures.Backing && against(s.Facing) {
			has = aligned(way, s.Facing)
		}
		add(Alignment, has.String(),
			func(e figures.Stance) bool { return e.Free == near.Free && e.Hold == near.Hold },
			func(e figures.Stance) string { return aligned(way, e.Facing).Heading.String() })
		needs := &reasons[len(reasons)-1].Needs
		*needs = way.String() + " " + *needs
	}
	if near.Free != s.Free {
		add(Foot, freeWords(s.Free),
			func(e figures.Stance) bool { return e.Facing == near.Facing && e.Hold == near.Hold },
			func(e figures.Stance) string { return freeWords(e.Free) })
	}
	if near.Hold != s.Hold {
		add(Hold, holdWords(s.Hold),
			func(e figures.Stance) bool { return e.Facing == near.Facing && e.Free == near.Free },
			func(e figures.Stance) string { return holdWords(e.Hold) })
	}
	return reasons
}

// differences counts in how many of alignment, foot and hold two stances differ.
func differences(a, b figures.Stance) int {
	n := 0
	for _, differ := range []bool{a.Facing != b.Facing, a.Free != b.Free, a.Hold != b.Hold} {
		if differ {
			n++
		}
	}
	return n
}

// apart is the turn between the alignments of two stances, in eighths.
func apart(a, b figures.Stance) int {
	n, _ := (a.Facing.Turn() - b.Facing.Turn()).Within().Abs().Eighths()
	return n
}

// beginning tells whether the leader starts the variant backing or facing.
func beginning(v *figures.Variant, entry figures.Stance) figures.Way {
	for _, taken := range v.Dance(entry, figures.DefaultCouple()).Steps {
		if fall := taken.Falls[figures.Leader]; fall.Foot != figures.NoFoot {
			if fall.Alignment.Way == figures.Backing {
				return figures.Backing
			}
			break
		}
	}
	return figures.Facing
}

// against reports whether a heading is against the line of dance, where the
// trade says what a dancer backs rather than faces.
func against(h figures.Heading) bool {
	return h >= figures.DiagonalToCentreAgainst && h <= figures.DiagonalToWallAgainst
}

// aligned words a body's heading as faced or as backed.
func aligned(way figures.Way, front figures.Heading) figures.Alignment {
	if way == figures.Backing {
		front = front.Add(figures.Headings / 2)
	}
	return figures.Alignment{Way: way, Heading: front}
}

func freeWords(f figures.Foot) string {
	if f != figures.LeftFoot && f != figures.RightFoot {
		f = figures.NoFoot
	}
	return f.String() + " free"
}

func holdWords(h figures.Hold) string {
	if h < 0 || int(h) >= figures.Holds {
		return "no hold"
	}
	return h.Words()
}

// listed joins words as a sentence does: "line of dance, diagonal to centre or
// centre".
func listed(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " or " + words[last]
}
