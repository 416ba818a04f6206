package figures

import (
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

func TestExtendRefusesTakenNames(t *testing.T) {
	text := strings.Replace(extension, "name: Long Natural", "name: Spin Turn", 1)
	_, err := BuiltIn().Extend("own.yaml", []byte(text), DefaultCouple())
	if err == nil || !strings.Contains(err.Error(), `own.yaml:4: name: Spin Turn: the name "Spin Turn" is taken by the figure on line`) ||
		!strings.Contains(err.Error(), "of waltz.yaml") {
		t.Errorf("another name of a built-in figure is taken without a word: %v", err)
	}
	text = strings.Replace(extension, "Natural Turn/first half", "Nowhere/first half", 1)
	if _, err = BuiltIn().Extend("own.yaml", []byte(text), DefaultCouple()); err == nil || !strings.Contains(err.Error(), "there is no part") {
		t.Errorf("a part of an unknown figure: %v", err)
	}
}
