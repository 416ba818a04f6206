package figures

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"lapwright/figures/document"
	"lapwright/figures/geometry"
)

// readStep reads one step of a part. Its hold is the one before it where the
// file gives none.
func readStep(at *document.Node, where string, faults *[]error) Step {
	s := Step{Line: at.Line(), Beats: 1, KeepsHold: true}
	f := open(at, where, faults, "beats", "foot", "follower", "travel", "turn", "pivot", "completes", "hold",
		"heel turn", "about", "crosses", "without weight", "points", "shift", "footwork", "sway", "cbm", "cbmp", "rise")
	if f == nil {
		return s
	}
	if beats, ok := optional(f, "beats", quarterBeats); ok {
		s.Beats = beats
	}
	lead, _ := required(f, "foot", word(ParseFoot))
	s.Actions[Leader].Foot, s.Actions[Follower].Foot = lead, lead.Other()
	if foot, ok := optional(f, "follower", word(ParseFoot)); ok {
		s.Actions[Follower].Foot = foot
	}
	travel, _ := optional(f, "travel", word(parseTravel))
	s.Strides, s.Toward = travel.strides, travel.toward
	s.Turn, _ = optional(f, "turn", word(geometry.ParseTurn))
	s.Pivot, _ = optional(f, "pivot", word(geometry.ParseTurn))
	s.Completes, _ = optional(f, "completes", word(geometry.ParseTurn))
	if hold, ok := optional(f, "hold", word(ParseHold)); ok {
		s.Hold, s.KeepsHold = hold, false
	}
	who, _ := optional(f, "heel turn", words(parseDancer))
	for _, d := range who {
		s.Actions[d].HeelTurn = true
	}
	who, _ = optional(f, "without weight", words(parseDancer))
	for _, d := range who {
		s.Actions[d].Weightless = true
	}
	if about, ok := optional(f, "about", word(parseDancer)); ok {
		s.About = &about
	}
	for d, cross := range eachDancer(f, "crosses", word(parseCross)) {
		s.Actions[d].Crosses = cross
	}
	for d, points := range eachDancer(f, "points", word(geometry.ParseTurn)) {
		s.Actions[d].Points = points
	}
	for d, shift := range eachDancer(f, "shift", metres) {
		s.Actions[d].Shift = shift
	}
	if letters, ok := optional(f, "footwork", bothFeet); ok {
		s.Actions[Leader].Footwork, s.Actions[Follower].Footwork = letters[0], letters[1]
	}
	if sway, ok := optional(f, "sway", bothSways); ok {
		s.Actions[Leader].Sway, s.Actions[Follower].Sway = sway[0], sway[1]
	}
	who, _ = optional(f, "cbm", words(parseDancer))
	for _, d := range who {
		s.Actions[d].CBM = true
	}
	who, _ = optional(f, "cbmp", words(parseDancer))
	for _, d := range who {
		s.Actions[d].CBMP = true
	}
	if rise, ok := optional(f, "rise", bothRises); ok {
		s.Actions[Leader].Rise, s.Actions[Follower].Rise = rise[0], rise[1]
	}
	return s
}

// bothRises reads rise and fall: one value for both dancers, or the leader's and
// the follower's.
func bothRises(at *document.Node) (rise [2]Rise, err error) {
	words, err := at.Texts()
	if err != nil {
		return rise, err
	}
	if len(words) != 1 && len(words) != 2 {
		return rise, at.Fail("one entry is expected, or two, the leader's and the follower's, not %d", len(words))
	}
	for d := range rise {
		if rise[d], err = ParseRise(words[min(d, len(words)-1)]); err != nil {
			return rise, at.Fail("%v", err)
		}
	}
	return rise, nil
}

// bothSways reads the leader's and the follower's sway.
func bothSways(at *document.Node) (sway [2]string, err error) {
	both, err := at.Texts()
	if err == nil && len(both) != 2 {
		err = at.Fail("two entries are expected, the leader's and the follower's, not %d", len(both))
	}
	if err != nil {
		return sway, err
	}
	for d, word := range both {
		switch word {
		case "left", "right", "straight":
			sway[d] = word
		default:
			return sway, at.Fail("%q is not a sway: write left, right or straight", word)
		}
	}
	return sway, nil
}

func parseCross(s string) (Cross, error) {
	switch strings.ToLower(s) {
	case "behind":
		return CrossesBehind, nil
	case "in front":
		return CrossesInFront, nil
	}
	return NoCross, fmt.Errorf("%q is not a way to cross: write behind or in front", s)
}

// quarterBeats reads the length of a step in beats.
func quarterBeats(at *document.Node) (float64, error) {
	beats, err := at.Number(0.25, maxBeats)
	if err == nil && beats*4 != math.Trunc(beats*4) {
		err = at.Fail("%g beats is not a whole number of quarter beats", beats)
	}
	return beats, err
}

// travel is how far and which way the couple's centre goes.
type travel struct {
	strides float64
	toward  geometry.Turn
}

// parseTravel reads a distance in strides and a direction: "0.8 LOD-DC".
func parseTravel(s string) (t travel, err error) {
	amount, direction, _ := strings.Cut(s, " ")
	if t.strides, err = strconv.ParseFloat(amount, 64); err != nil || math.IsNaN(t.strides) || strings.TrimSpace(direction) == "" {
		return t, fmt.Errorf("%q is not a travel: write strides and a direction, such as 0.8 LOD", s)
	}
	if t.strides < 0 || t.strides > maxStrides {
		return t, fmt.Errorf("%g strides is out of range: from 0 to %d are expected", t.strides, maxStrides)
	}
	t.toward, err = parseDirection(direction)
	return t, err
}

// eachDancer reads a field that has a value for the leader, the follower or
// both.
func eachDancer[T any](f *form, name string, read func(*document.Node) (T, error)) map[Dancer]T {
	at := f.Get(name)
	if at == nil {
		return nil
	}
	both := open(at, f.where, f.faults, Leader.String(), Follower.String())
	if both == nil {
		return nil
	}
	values := map[Dancer]T{}
	for d := Leader; d <= Follower; d++ {
		if value, ok := optional(both, d.String(), read); ok {
			values[d] = value
		}
	}
	return values
}

// metres reads a displacement of a body: metres ahead and to the left.
func metres(at *document.Node) (p geometry.Point, err error) {
	xy, err := at.Items()
	if err != nil {
		return p, err
	}
	if len(xy) != 2 {
		return p, at.Fail("two numbers are expected, metres ahead and to the left, not %d", len(xy))
	}
	if p.X, err = xy[0].Number(-2, 2); err != nil {
		return p, err
	}
	p.Y, err = xy[1].Number(-2, 2)
	return p, err
}

// bothFeet reads the footwork of the leader and of the follower.
func bothFeet(at *document.Node) ([]string, error) {
	letters, err := at.Texts()
	if err == nil && len(letters) != 2 {
		err = at.Fail("two entries are expected, the leader's and the follower's, not %d", len(letters))
	}
	return letters, err
}

// parseDancer reads leader or follower.
func parseDancer(s string) (Dancer, error) {
	for d := Leader; d <= Follower; d++ {
		if strings.EqualFold(s, d.String()) {
			return d, nil
		}
	}
	return 0, fmt.Errorf("%q is not a dancer: write leader or follower", s)
}
