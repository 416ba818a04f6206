package figures

import (
	_ "embed"
	"fmt"
	"strings"

	"lapwright/figures/document"
	"lapwright/figures/geometry"
)

// Hold is how the partners hold each other and where each is to the other.
type Hold int8

// The holds. In outside partner it is the leader who steps forward outside the
// follower; in partner outside the leader goes back and the follower steps
// forward outside. Both are on the right side unless the name says left. In the
// open hold and side by side only hands are joined.
const (
	Closed Hold = iota
	Promenade
	CounterPromenade
	OutsidePartner
	OutsidePartnerLeft
	PartnerOutside
	Fallaway
	OpenHold
	SideBySide
	holdCount
)

// Holds is the number of holds.
const Holds = int(holdCount)

var holdName = [holdCount]string{
	"closed", "promenade", "counter promenade", "outside partner", "outside partner left",
	"partner outside", "fallaway", "open", "side by side",
}

// String is the hold's name as files write it: "closed", "promenade" …
func (h Hold) String() string { return holdName[h] }

// Words is the hold as a sentence uses it: "closed hold", "promenade".
func (h Hold) Words() string {
	switch h {
	case Closed:
		return "closed hold"
	case OpenHold:
		return "open hold"
	case OutsidePartnerLeft:
		return "outside partner on the left side"
	}
	return holdName[h]
}

// ParseHold reads a hold's name; "closed hold" is "closed" and "open hold" "open".
func ParseHold(s string) (Hold, error) {
	w := strings.ToLower(strings.TrimSpace(s))
	for h := Closed; h < holdCount; h++ {
		if w == holdName[h] || w == h.Words() {
			return h, nil
		}
	}
	return 0, fmt.Errorf("%q is not a hold: write one of %s", s, strings.Join(holdName[:], ", "))
}

// HoldShape is the geometry of a hold: where the follower's body is and faces
// as seen from the leader's.
type HoldShape struct {
	// Follower is the follower's body as seen from the leader's, in metres:
	// X ahead, Y to the left.
	Follower geometry.Point
	// Turned is the follower's heading less the leader's.
	Turned geometry.Turn
	// Tolerance is how far, in metres, the follower's body may be from that
	// place before the hold is torn.
	Tolerance float64
	// HandsOnly tells that hands are joined but no bodies, so that a dancer may
	// face another way than the hold gives: see [Action.Alone].
	HandsOnly bool
	// Source says where the numbers come from.
	Source string
}

// leader is the leader's body as seen from the couple's centre, which lies
// halfway between the two bodies.
func (s HoldShape) leader() geometry.Point { return s.Follower.Scale(-0.5) }

//go:embed library/holds.yaml
var holdsFile []byte

var holdShapes = mustHolds()

// Shape returns the geometry of the hold, from library/holds.yaml.
func (h Hold) Shape() HoldShape { return holdShapes[h] }

func mustHolds() [holdCount]HoldShape {
	shapes, err := loadHolds("holds.yaml", holdsFile)
	if err != nil {
		panic("figures: the built-in holds do not load: " + err.Error())
	}
	return shapes
}

func loadHolds(file string, data []byte) (shapes [holdCount]HoldShape, err error) {
	doc, err := document.Parse(file, data)
	if err != nil {
		return shapes, err
	}
	fields, err := doc.Fields(holdName[:]...)
	if err != nil {
		return shapes, err
	}
	for h := Closed; h < holdCount; h++ {
		at, err := fields.Need(h.String())
		if err != nil {
			return shapes, err
		}
		if shapes[h], err = loadHold(at); err != nil {
			return shapes, err
		}
	}
	return shapes, nil
}

func loadHold(at *document.Node) (s HoldShape, err error) {
	f, err := at.Fields("ahead", "left", "turned", "tolerance", "hands only", "source")
	if err != nil {
		return s, err
	}
	for _, of := range []struct {
		name  string
		least float64
		to    *float64
	}{{"ahead", -1, &s.Follower.X}, {"left", -1, &s.Follower.Y}, {"tolerance", 0, &s.Tolerance}} {
		v, err := f.Need(of.name)
		if err != nil {
			return s, err
		}
		if *of.to, err = v.Number(of.least, 1); err != nil {
			return s, err
		}
	}
	v, err := f.Need("turned")
	if err != nil {
		return s, err
	}
	words, err := v.Text()
	if err != nil {
		return s, err
	}
	if s.Turned, err = geometry.ParseTurn(words); err != nil {
		return s, v.Fail("%v", err)
	}
	if at := f.Get("hands only"); at != nil {
		if s.HandsOnly, err = at.YesNo(); err != nil {
			return s, err
		}
	}
	s.Source, err = f.Text("source")
	return s, err
}
