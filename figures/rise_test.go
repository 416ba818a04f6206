package figures

import (
	"strings"
	"testing"
)

func TestRiseAt(t *testing.T) {
	for _, row := range []struct {
		rise Rise
		step int
		want string
	}{
		{CommenceToRiseAtEnd, 1, "commence to rise at the end of 1"},
		{CommenceNoFootRise, 4, "commence to rise at the end of 4 (no foot rise)"},
		{ContinueToRise, 2, "continue to rise"},
		{ContinueToRiseLower, 6, "continue to rise and lower at the end of 6"},
		{UpLower, 3, "up and lower at the end of 3"},
		{NoRise, 4, "no rise"},
		{"", 1, ""},
	} {
		if got := row.rise.At(row.step); got != row.want {
			t.Errorf("%q on step %d reads %q, want %q", row.rise, row.step, got, row.want)
		}
	}
}

// TestSharedPartsCountTheirOwnSteps dances one part as steps 4 to 6 of one
// variant and 1 to 3 of another.
func TestSharedPartsCountTheirOwnSteps(t *testing.T) {
	for _, row := range []struct {
		variant string
		dancer  Dancer
		step    int
		want    string
	}{
		{"Natural Spin Turn", Leader, 5, "rise at the end of 5"},
		{"Natural Spin Turn (4-6)", Leader, 2, "rise at the end of 2"},
		{"Natural Turn", Leader, 4, "commence to rise at the end of 4 (no foot rise)"},
		{"Natural Turn (4-6)", Leader, 1, "commence to rise at the end of 1 (no foot rise)"},
		{"Natural Turn (4-6)", Follower, 1, "commence to rise at the end of 1"},
	} {
		v := variant(t, row.variant)
		if got := v.Steps[row.step-1].Actions[row.dancer].Rise.At(row.step); got != row.want {
			t.Errorf("%s, %s, step %d: %q, want %q", row.variant, row.dancer, row.step, got, row.want)
		}
	}
}

// TestReadRise reads the rise of the first step of a small library.
func TestReadRise(t *testing.T) {
	for _, row := range []struct {
		rise   string
		want   [2]Rise
		refuse string // words of the fault
	}{
		{"no rise", [2]Rise{NoRise, NoRise}, ""},
		{"Up", [2]Rise{Up, Up}, ""},
		{"[up, no rise]", [2]Rise{Up, NoRise}, ""},
		{"[commence to rise at the end, commence to rise at the end (no foot rise)]", [2]Rise{CommenceToRiseAtEnd, CommenceNoFootRise}, ""},
		{"[up, up, up]", [2]Rise{}, "one entry is expected, or two, the leader's and the follower's, not 3"},
		{"[]", [2]Rise{}, "not 0"},
		{"lower at the end of 3", [2]Rise{}, "without the number of the step"},
		{"[up, fly]", [2]Rise{}, `"fly" is not rise and fall`},
	} {
		t.Run(row.rise, func(t *testing.T) {
			data := `dance: waltz
beats: 3
figures:
  - name: Try
    levels: [bronze]
    family: change
    from: LOD
    hold: closed
    parts:
      - part: all
        facing: LOD
        steps:
          - {beats: 3, foot: RF, travel: 1 LOD, rise: ` + row.rise + `}
    variants:
      - {parts: all}
`
			l, err := Load("try.yaml", []byte(data), DefaultCouple())
			if row.refuse != "" {
				if err == nil || !strings.Contains(err.Error(), row.refuse) || !strings.Contains(err.Error(), "try.yaml:13") {
					t.Fatalf("the fault is %v, want one on line 13 with %q", err, row.refuse)
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			a := l.Variants()[0].Steps[0].Actions
			if got := [2]Rise{a[Leader].Rise, a[Follower].Rise}; got != row.want {
				t.Errorf("got %q, want %q", got, row.want)
			}
		})
	}
}

// TestCBMPFollowsTheHold: the same first step is in contra body movement position
// when it is taken outside partner, and not from closed hold.
func TestCBMPFollowsTheHold(t *testing.T) {
	for _, row := range []struct {
		variant, entry string
		want           bool
	}{
		{"Natural Turn", "DW, RF", false},
		{"Natural Turn", "DW, RF, outside partner", true},
		{"Reverse Turn", "DC, LF, outside partner left", true},
		{"Closed Impetus", "ALOD, LF, partner outside", true},
		{"Chassé from Promenade", "DW, RF, promenade", true},
		{"Whisk", "DW, LF, outside partner", false}, // the outside foot
	} {
		d := variant(t, row.variant).Dance(stance(t, row.entry), DefaultCouple())
		for who := Leader; who <= Follower; who++ {
			if got := d.CBMP(0, who); got != row.want {
				t.Errorf("%s from %s: CBMP of the %s on 1 is %t, want %t", row.variant, row.entry, who, got, row.want)
			}
		}
	}
}
