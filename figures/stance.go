package figures

import (
	"fmt"
	"strings"
)

// Dancer is one of the two.
type Dancer int8

// The two dancers of a couple: a handbook's man and lady.
const (
	Leader Dancer = iota
	Follower
)

// String is the dancer as a word.
func (d Dancer) String() string { return [...]string{"leader", "follower"}[d] }

// Other is the dancer's partner.
func (d Dancer) Other() Dancer { return 1 - d }

// Foot is a foot, or none.
type Foot int8

// The feet.
const (
	NoFoot Foot = iota
	LeftFoot
	RightFoot
)

// String is the foot in full words: "left foot".
func (f Foot) String() string { return [...]string{"no foot", "left foot", "right foot"}[f] }

// Short is the foot as tables write it: LF, RF.
func (f Foot) Short() string { return [...]string{"none", "LF", "RF"}[f] }

// Other is the other foot of the same dancer.
func (f Foot) Other() Foot {
	switch f {
	case LeftFoot:
		return RightFoot
	case RightFoot:
		return LeftFoot
	}
	return NoFoot
}

// side is +1 on a dancer's left and −1 on the right.
func (f Foot) side() float64 {
	switch f {
	case LeftFoot:
		return 1
	case RightFoot:
		return -1
	}
	return 0
}

// ParseFoot reads LF, RF, left foot, right foot, or none for no foot; case does
// not matter.
func ParseFoot(s string) (Foot, error) {
	w := strings.TrimSpace(s)
	for f := NoFoot; f <= RightFoot; f++ {
		if strings.EqualFold(w, f.Short()) || strings.EqualFold(w, f.String()) {
			return f, nil
		}
	}
	return NoFoot, fmt.Errorf("%q is not a foot: write LF or RF", s)
}

// Stance is how a couple stands between two figures: where the leader's body
// faces relative to the line of dance, which of the leader's feet is free to
// step, and the hold. The follower's is the other foot. A stance is the vertex
// of the graph of figures.
type Stance struct {
	Facing Heading
	Free   Foot
	Hold   Hold
}

// String writes the stance in words: "facing diagonal to wall, right foot
// free, closed hold".
func (s Stance) String() string {
	return fmt.Sprintf("facing %s, %s free, %s", s.Facing, s.Free, s.Hold.Words())
}

// Short writes the stance as tables do: "DW RF closed".
func (s Stance) Short() string {
	return fmt.Sprintf("%s %s %s", s.Facing.Short(), s.Free.Short(), s.Hold)
}

// Turned returns the stance as it reads when the line of dance is taken from
// another wall, which adds n eighths to the heading.
func (s Stance) Turned(n int) Stance {
	s.Facing = s.Facing.Add(n)
	return s
}

// ParseStance reads an alignment, a free foot and a hold, separated by commas:
// "facing DW, right foot free, closed hold", "backing LOD, LF, closed". The hold
// may be left out: it is closed then.
func ParseStance(s string) (Stance, error) {
	fields := strings.Split(s, ",")
	bad := func(err error) (Stance, error) {
		return Stance{}, fmt.Errorf("%q is not a stance (alignment, free foot, hold, such as DW, RF, closed): %w", s, err)
	}
	if len(fields) < 2 || len(fields) > 3 {
		return bad(fmt.Errorf("two or three parts are expected, not %d", len(fields)))
	}
	a, err := ParseAlignment(fields[0])
	if err != nil {
		return bad(err)
	}
	st := Stance{Facing: a.Front(), Hold: Closed}
	words := strings.TrimSpace(fields[1])
	foot := strings.TrimSuffix(strings.ToLower(words), " free")
	if st.Free, err = ParseFoot(foot); err != nil || st.Free == NoFoot {
		return bad(fmt.Errorf("%q is not a foot: write LF or RF", words))
	}
	if len(fields) == 3 {
		if st.Hold, err = ParseHold(fields[2]); err != nil {
			return bad(err)
		}
	}
	return st, nil
}
