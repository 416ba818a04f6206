package figures

import (
	"fmt"
	"reflect"
	"strings"
	"testing"
)

// own reads a file on top of the built-in library.
func own(t *testing.T, l *Library, text string) *Library {
	t.Helper()
	l, err := l.Extend("own.yaml", []byte(text), DefaultCouple())
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func variantOf(t *testing.T, l *Library, name string) *Variant {
	t.Helper()
	v, ok := l.Variant(name)
	if !ok {
		t.Fatalf("the library has no %s", name)
	}
	return v
}

// ownFigure is a figure of a teacher's own, in the family natural.
const ownFigure = `dance: waltz
beats: 3
figures:
  - name: Long Natural
    levels: [social]
    family: natural
    from: DW
    hold: closed
    parts: []
    variants:
      - {parts: [Natural Turn/first half, Natural Turn/second half]}
      - {label: first half, parts: Natural Turn/first half}
`

// TestFollowsOf looks joins up in the rows of the built-in library and of a
// teacher's own file.
func TestFollowsOf(t *testing.T) {
	without := own(t, BuiltIn(), ownFigure)
	rows := own(t, BuiltIn(), ownFigure+`follows:
  - {figure: Long Natural, after: [any reverse figure, Right Foot Closed Change], then: [Whisk, Long Natural (first half), any promenade figure]}
  - {figure: Back Whisk, then: [Long Natural (usual)]}
`)
	// Rows keep to the name when another figure takes it, and may come later.
	replaced := own(t, own(t, BuiltIn(), `dance: waltz
follows:
  - {figure: Whisk, then: [Left Foot Closed Change]}
`), strings.Replace(ownFigure, "name: Long Natural", "name: Whisk", 1))
	for _, c := range []struct {
		what        string
		l           *Library
		first, next string
		want        Told
	}{
		// Published: Wikipedia, Change step; Whisk; Impetus.
		{"published", BuiltIn(), "Natural Turn", "Right Foot Closed Change", Listed},
		{"published", BuiltIn(), "Whisk", "Chassé from Promenade", Listed},
		{"a class: natural figures from a closed change, from memory", BuiltIn(), "Left Foot Closed Change", "Hesitation Change", Listed},
		{"in no list", BuiltIn(), "Closed Impetus", "Natural Turn", Unlisted},
		{"a class that begins forward", BuiltIn(), "Left Foot Closed Change", "Turning Lock to Right", Unlisted},

		{"no rows of its own, before", without, "Long Natural", "Right Foot Closed Change", Listed}, // "after any natural figure"
		{"no rows of its own, before", without, "Long Natural", "Contra Check", Untold},
		{"no rows of its own, after", without, "Reverse Turn", "Long Natural", Untold},
		{"own rows", rows, "Right Foot Closed Change", "Long Natural", Listed},
		{"own rows, a class before", rows, "Double Reverse Spin", "Long Natural", Listed},
		{"own rows, a way of dancing", rows, "Long Natural", "Long Natural (first half)", Listed},
		{"own rows, another way of dancing", rows, "Long Natural", "Long Natural", Unlisted},
		{"own rows, promenade after", rows, "Long Natural", "Wing", Listed},
		{"own rows, in no list", rows, "Whisk", "Long Natural", Unlisted},
		{"the first way of dancing", rows, "Back Whisk", "Long Natural", Listed},
		{"not the first way of dancing", rows, "Back Whisk", "Long Natural (first half)", Unlisted},

		{"a figure in the place of another", replaced, "Whisk", "Left Foot Closed Change", Listed},
		{"the built-in rows of its name", replaced, "Whisk", "Chassé from Promenade", Listed},
	} {
		t.Run(fmt.Sprintf("%s: %s, %s", c.what, c.first, c.next), func(t *testing.T) {
			if got := c.l.Follows().Of(variantOf(t, c.l, c.first), variantOf(t, c.l, c.next)); got != c.want {
				t.Errorf("got %d, want %d", got, c.want)
			}
		})
	}
}

// TestFollowsOfNothing: no rows say nothing, and neither do figures of another
// library.
func TestFollowsOfNothing(t *testing.T) {
	var none *Follows
	whisk := variantOf(t, BuiltIn(), "Whisk")
	if none.Of(whisk, whisk) != Untold || none.Rows() != nil || none.Pairs() != nil {
		t.Error("what is nil has rows")
	}
	strange := &Variant{Figure: whisk.Figure}
	for _, f := range []*Follows{BuiltIn().Follows(), Empty().Follows()} {
		if f.Of(strange, whisk) != Untold || f.Of(whisk, strange) != Untold || f.Of(nil, whisk) != Untold {
			t.Error("a strange variant is told of")
		}
	}
}

// TestFollowsAreKept: the rows of a library stay as they are when it is extended,
// and are all in the library that comes of it, in order.
func TestFollowsAreKept(t *testing.T) {
	before := len(BuiltIn().Follows().Rows())
	l := own(t, BuiltIn(), `dance: waltz
follows:
  - figure: [Whisk, Back Whisk]
    then: [Wing]
    source: from memory
    reason: for the test
`)
	rows := l.Follows().Rows()
	if len(BuiltIn().Follows().Rows()) != before || len(rows) != before+1 {
		t.Fatalf("%d rows have become %d, and those of the new library are %d", before, len(BuiltIn().Follows().Rows()), len(rows))
	}
	last := rows[before]
	want := FollowsRow{Figures: []string{"Whisk", "Back Whisk"}, Then: []string{"Wing"}, Source: "from memory", Reason: "for the test", File: "own.yaml", Line: 3}
	if !reflect.DeepEqual(last, want) {
		t.Errorf("the row reads %+v", last)
	}
	if n := len(l.Follows().Pairs()) - len(BuiltIn().Follows().Pairs()); n != 2 {
		t.Errorf("the row names %d joins, want 2", n)
	}
}

// TestFollowsOfTheLibraryHaveSources: no row goes without.
func TestFollowsOfTheLibraryHaveSources(t *testing.T) {
	for _, row := range BuiltIn().Follows().Rows() {
		if row.Source == "" {
			t.Errorf("%s:%d: %v has no source", row.File, row.Line, row.Figures)
		}
	}
	for _, f := range BuiltIn().Figures() {
		if rows := BuiltIn().Follows(); !rows.hasThen[f] || !rows.hasAfter[f] {
			t.Errorf("%s: the rows don't say what comes before and after it", f.Name)
		}
	}
}
