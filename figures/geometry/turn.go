package geometry

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Turn is an amount of turn in sixteenths of a full turn; positive is to the
// left. Handbooks give turns in eighths; sixteenths are needed inside a figure
// where a body turns in two halves of an eighth.
type Turn int

// Amounts of turn.
const (
	NoTurn Turn = 0
	Eighth Turn = 2
	Full   Turn = 16
)

// Radians is the turn as an angle, positive to the left.
func (t Turn) Radians() float64 { return float64(t) * math.Pi / 8 }

// Eighths is the turn in eighths of a full turn, positive to the left; exact
// reports whether it is a whole number of them.
func (t Turn) Eighths() (n int, exact bool) { return int(t) / 2, t%2 == 0 }

// Abs is the amount of turn without its side.
func (t Turn) Abs() Turn {
	if t < 0 {
		return -t
	}
	return t
}

// Direction returns the same direction as a turn to the left of less than a full
// one: from 0 to 15 sixteenths.
func (t Turn) Direction() Turn { return ((t % Full) + Full) % Full }

// Within returns the same direction as a turn of at most half a turn either
// way: more than −1/2 and at most +1/2.
func (t Turn) Within() Turn {
	t = t.Direction()
	if t > Full/2 {
		t -= Full
	}
	return t
}

// String writes the turn as the trade does: "3/8 right", "1/4 left", "no turn".
func (t Turn) String() string {
	if t == 0 {
		return "no turn"
	}
	side := "left"
	if t < 0 {
		side = "right"
	}
	return t.Amount() + " " + side
}

// Amount writes the turn without its side: "3/8".
func (t Turn) Amount() string {
	n, d := int(t.Abs()), 16
	for n%2 == 0 && d > 1 {
		n, d = n/2, d/2
	}
	if d == 1 {
		return strconv.Itoa(n)
	}
	return fmt.Sprintf("%d/%d", n, d)
}

// ParseTurn reads what [Turn.String] writes: a fraction of a full turn whose
// parts are halves, quarters, eighths or sixteenths, and a side. "0" and
// "no turn" are no turn.
func ParseTurn(s string) (Turn, error) {
	s = strings.TrimSpace(s)
	if s == "0" || s == "no turn" {
		return 0, nil
	}
	amount, side, _ := strings.Cut(s, " ")
	sign := Turn(0)
	switch strings.TrimSpace(side) {
	case "left":
		sign = 1
	case "right":
		sign = -1
	}
	num, den, fraction := strings.Cut(amount, "/")
	n, err := strconv.Atoi(num)
	d := 1
	if fraction && err == nil {
		d, err = strconv.Atoi(den)
	}
	if err != nil || sign == 0 || n < 0 || n > 64 || d < 1 || d > 16 || 16%d != 0 {
		return 0, fmt.Errorf("%q is not an amount of turn: write a fraction of a full turn and its side, such as 3/8 right", s)
	}
	return sign * Turn(n*16/d), nil
}
