package geometry

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestTurnsReadAsWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		turn := Turn(rapid.IntRange(-64, 64).Draw(t, "sixteenths"))
		got, err := ParseTurn(turn.String())
		if err != nil || got != turn {
			t.Fatalf("%q reads as %v, %v", turn.String(), got, err)
		}
	})
}

func TestTurnWords(t *testing.T) {
	for _, row := range []struct {
		turn Turn
		want string
	}{
		{0, "no turn"}, {1, "1/16 left"}, {-1, "1/16 right"}, {2, "1/8 left"}, {-6, "3/8 right"}, {4, "1/4 left"},
		{8, "1/2 left"}, {-10, "5/8 right"}, {-12, "3/4 right"}, {16, "1 left"}, {-20, "5/4 right"}, {32, "2 left"},
	} {
		if got := row.turn.String(); got != row.want {
			t.Errorf("%d sixteenths are %q, want %q", row.turn, got, row.want)
		}
	}
	if got := Turn(-6).Amount(); got != "3/8" {
		t.Errorf("the amount of 3/8 right is %q", got)
	}
}

func TestParseTurn(t *testing.T) {
	for _, row := range []struct {
		text string
		want Turn
		bad  bool
	}{
		{text: "0"}, {text: "no turn"}, {text: " 3/8 right ", want: -6}, {text: "2/8 left", want: 4}, {text: "1 left", want: 16},
		{text: "10/8 right", want: -20}, {text: "3/8  left", want: 6}, {text: "0/8 left", want: 0},
		{text: "", bad: true}, {text: "3/8", bad: true}, {text: "right", bad: true}, {text: "3/7 right", bad: true},
		{text: "1/32 left", bad: true}, {text: "-1/8 left", bad: true}, {text: "1/0 left", bad: true}, {text: "1/-8 left", bad: true},
		{text: "0.375 right", bad: true}, {text: "3/8 rightwards", bad: true}, {text: "99999999999999999999 left", bad: true},
		{text: "65 left", bad: true}, {text: "3/8/2 left", bad: true}, {text: "/8 left", bad: true}, {text: "3/ left", bad: true},
	} {
		got, err := ParseTurn(row.text)
		if (err != nil) != row.bad || got != row.want {
			t.Errorf("%q reads as %v, %v", row.text, got, err)
		}
	}
}

func TestTurnsAsDirections(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		turn := Turn(rapid.IntRange(-1000, 1000).Draw(t, "sixteenths"))
		within, direction := turn.Within(), turn.Direction()
		if within <= -Full/2 || within > Full/2 || direction < 0 || direction >= Full {
			t.Fatalf("%v is within %v and points to %v", turn, within, direction)
		}
		for _, same := range []Turn{within, direction} {
			if math.Abs(math.Remainder((same-turn).Radians(), 2*math.Pi)) > 1e-9 {
				t.Fatalf("%v is not the direction of %v", same, turn)
			}
		}
		if n, exact := turn.Eighths(); exact && Turn(n)*Eighth != turn {
			t.Fatalf("%v is %d eighths", turn, n)
		}
		if turn.Abs() < 0 || turn.Abs() != (-turn).Abs() {
			t.Fatalf("the amount of %v is %v", turn, turn.Abs())
		}
	})
}

// FuzzParseTurn reads any text: what is read can be written and read again.
func FuzzParseTurn(f *testing.F) {
	for _, s := range []string{"3/8 right", "no turn", "1 left", "0", "64/1 left", "+1/8 left"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		turn, err := ParseTurn(s)
		if err != nil {
			if turn != 0 {
				t.Errorf("%q gives %v with an error", s, turn)
			}
			return
		}
		if turn.Abs() <= 64 {
			if again, err := ParseTurn(turn.String()); err != nil || again != turn {
				t.Errorf("%q reads as %v, which reads as %v, %v", s, turn, again, err)
			}
		}
	})
}
