package figures

import (
	"strconv"
	"strings"
	"testing"
)

const extension = `dance: waltz
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
  - name: Whisk
    levels: [gold]
    family: promenade
    from: DW
    hold: closed
    parts:
      - part: own
        facing: DW
        steps:
          - {foot: LF, travel: 0.9 DW}
          - {foot: RF, travel: 0.6 W-DWA}
          - {foot: LF}
    variants:
      - {parts: own}
`

func TestExtendAddsAndReplaces(t *testing.T) {
	base := BuiltIn()
	figures := len(base.Figures())
	l, err := base.Extend("own.yaml", []byte(extension), DefaultCouple())
	if err != nil {
		t.Fatal(err)
	}
	if got := len(l.Figures()); got != figures+1 {
		t.Errorf("the library has %d figures, want %d: one added, one replaced", got, figures+1)
	}
	if len(base.Figures()) != figures {
		t.Error("the library that was extended has changed")
	}
	whisk, _ := l.Figure("whisk")
	if old, _ := base.Figure("whisk"); whisk == old || whisk.File != "own.yaml" || !whisk.At(AnyStyle, Gold) || whisk.At(AnyStyle, Bronze) {
		t.Errorf("Whisk is still the built-in one: %+v", whisk)
	}
	long, ok := l.Variant("Long Natural")
	if !ok {
		t.Fatal("Long Natural is not found")
	}
	natural, _ := l.Variant("Natural Turn")
	c := DefaultCouple()
	if a, b := long.Dance(long.Entries[0], c).Displacement, natural.Dance(natural.Entries[0], c).Displacement; a != b {
		t.Errorf("made of the same parts, Long Natural ends at %v and Natural Turn at %v", a, b)
	}
	// What was added can be built on in turn.
	further := strings.ReplaceAll(extension, "Long Natural", "Longer Natural")
	further = strings.ReplaceAll(further, "Natural Turn/first half, Natural Turn/second half", "Whisk/own, Natural Turn/first half")
	if _, err := l.Extend("further.yaml", []byte(further), c); err != nil {
		t.Errorf("a second file: %v", err)
	}
}

// TestExtendRefusesTakenNames: names of figures in other files, whatever their
// case and accents.
func TestExtendRefusesTakenNames(t *testing.T) {
	for _, row := range []struct{ old, new, want string }{
		{"name: Long Natural", "name: SPIN-TURN", `own.yaml:4: name: SPIN-TURN: the name "SPIN-TURN" is another name of Natural Spin Turn, on line `},
		{"name: Long Natural", "name: Long Natural\n    also: [Fine, chassé from  PP]", `own.yaml:4: also: Long Natural: the name "chassé from  PP" is that of Chassé from Promenade, on line `},
		{"name: Long Natural", "name: Long Natural\n    also: [natural turn]", `own.yaml:4: also: Long Natural: the name "natural turn" is that of Natural Turn, on line `},
		{"name: Long Natural", "name: Long Natural\n    also: [Long natural]", `own.yaml:4: also: Long Natural: the name "Long natural" is given to it twice`},
		{"name: Long Natural", "name: WHISK", `own.yaml:12: name: Whisk: the name "Whisk" is taken by the figure on line 4; `},
		{"name: Long Natural", "name: Long Natural\n    also: [Whisk]", `own.yaml:13: name: Whisk: the name "Whisk" is taken by the figure on line 4; `},
		{"Natural Turn/first half", "Nowhere/first half", `there is no part "Nowhere/first half"`},
	} {
		_, err := BuiltIn().Extend("own.yaml", []byte(strings.Replace(extension, row.old, row.new, 1)), DefaultCouple())
		if err == nil || !strings.Contains(err.Error(), row.want) {
			t.Errorf("%s: %v", row.new, err)
		}
	}
	// The other names of a figure that is replaced are free.
	text := strings.Replace(extension, "name: Long Natural", "name: natural spin turn", 1)
	text = strings.Replace(text, "name: Whisk", "name: Spin Turn", 1)
	l, err := BuiltIn().Extend("own.yaml", []byte(text), DefaultCouple())
	if err != nil {
		t.Fatal(err)
	}
	if f, _ := l.Figure("spin turn"); f.Name != "Spin Turn" {
		t.Errorf("Spin Turn is %s", f.Name)
	}
}

// TestCirclesAreRefused: figures of a file that take the place of others and are
// made of the parts that thereby go.
func TestCirclesAreRefused(t *testing.T) {
	figure := func(name, parts string) string {
		return "  - name: " + name + "\n    levels: social\n    family: natural\n    from: DW\n    hold: closed\n    parts: []\n    variants:\n      - {parts: [" + parts + "]}\n"
	}
	const head = "dance: waltz\nbeats: 3\nfigures:\n"
	for _, row := range []struct {
		what, file string
		want       []string // each in its order, "" for a file that loads
	}{
		{"parts of a figure that stays", figure("Long Natural", "Natural Turn/first half, Natural Turn/second half"), nil},
		{"its own parts", figure("NATURAL TURN", "Natural Turn/first half, Natural Turn/second half"), []string{
			`own.yaml:11: parts: NATURAL TURN: the part "Natural Turn/first half" goes with the figure on line LINE of waltz.yaml, whose place this one takes: a figure cannot be made of what it replaces; write the steps out here, or give it a name of its own`,
			`the part "Natural Turn/second half" goes with`,
		}},
		{"the parts of one that goes", figure("Natural Turn", "Hesitation Change/hesitation") + figure("Long Natural", "Natural Turn/first half"), []string{
			`Long Natural: the part "Natural Turn/first half" goes with the figure on line LINE of waltz.yaml, whose place Natural Turn takes; give that figure such a part, or write the steps out here`,
		}},
		{"each other's", figure("Natural Turn", "Reverse Turn/first half") + figure("Reverse Turn", "Natural Turn/first half"), []string{
			`these figures go round in a circle, each made of a part of the next that the next has replaced: Natural Turn, Reverse Turn, Natural Turn; write the steps of one of them out`,
			`: Reverse Turn, Natural Turn, Reverse Turn; `,
		}},
		{"round three", figure("Natural Turn", "Reverse Turn/first half") + figure("Reverse Turn", "Whisk/whisk") + figure("Whisk", "Natural Turn/first half"), []string{
			`: Natural Turn, Reverse Turn, Whisk, Natural Turn; `, `: Reverse Turn, Whisk, Natural Turn, Reverse Turn; `, `: Whisk, Natural Turn, Reverse Turn, Whisk; `,
		}},
		{"into a circle", figure("Natural Turn", "Reverse Turn/first half") + figure("Reverse Turn", "Natural Turn/first half") + figure("Whisk", "Natural Turn/first half"), []string{
			`: Natural Turn, Reverse Turn, Natural Turn; `, `: Reverse Turn, Natural Turn, Reverse Turn; `,
			`Whisk: the part "Natural Turn/first half" goes with the figure on line LINE of waltz.yaml, whose place Natural Turn takes; give that figure such a part`,
		}},
	} {
		t.Run(row.what, func(t *testing.T) {
			_, err := BuiltIn().Extend("own.yaml", []byte(head+row.file), DefaultCouple())
			var got []string
			eachFault(err, func(e error) {
				if e != nil {
					got = append(got, e.Error())
				}
			})
			if len(got) != len(row.want) {
				t.Fatalf("%d faults, want %d:\n%v", len(got), len(row.want), err)
			}
			for i, want := range row.want {
				want = strings.ReplaceAll(want, "LINE", strconv.Itoa(variant(t, "Natural Turn").Figure.Line))
				if !strings.Contains(got[i], want) {
					t.Errorf("got %s\nwant %s", got[i], want)
				}
			}
		})
	}
}
