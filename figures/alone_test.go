package figures

import (
	"testing"

	"lapwright/figures/geometry"
)

// aloneLibrary is a file of figures in which dancers turn alone: a whole turn to
// the right under the arm, and partners who turn their backs to each other. From
// memory.
const aloneLibrary = `
dance: waltz
beats: 3
figures:
  - name: Under the Arm
    levels: [social]
    family: underarm
    source: from memory
    from: [LOD, DC, W]
    hold: closed
    parts:
      - part: turn
        facing: LOD
        steps:
          - {foot: LF, travel: 0.5 LOD, hold: open, alone: {follower: 1/4 right}}
          - {foot: RF, travel: 0.5 W, alone: {follower: 3/8 right}}
          - {foot: LF, travel: 0.5 LOD, hold: closed, alone: {follower: 3/8 right}}
    variants:
      - {parts: turn}
  - name: Back to Back
    levels: [social]
    family: change
    source: from memory
    from: LOD
    hold: promenade
    parts:
      - part: away and back
        facing: LOD
        steps:
          - {foot: RF, travel: 0.8 LOD, hold: side by side, alone: {leader: 1/8 left, follower: 1/8 right}}
          - {foot: LF, travel: 0.8 LOD, alone: {leader: 1/8 left, follower: 1/8 right}}
          - {foot: RF, travel: 0.8 LOD, alone: {leader: 1/4 right, follower: 1/4 left}}
    variants:
      - {parts: away and back}
`

func aloneVariant(t *testing.T, name string) *Variant {
	t.Helper()
	l, err := Load("alone.yaml", []byte(aloneLibrary), DefaultCouple())
	if err != nil {
		t.Fatal(err)
	}
	v, ok := l.Variant(name)
	if !ok {
		t.Fatalf("there is no %s", name)
	}
	return v
}

// TestTurningAlone: the body and its feet turn alone, the partner does not, and
// the couple leaves in the stance that the hold and the couple's turn give.
func TestTurningAlone(t *testing.T) {
	for _, row := range []struct {
		variant string
		fronts  [][2]string // the leader's and the follower's after each step
		exit    Stance
	}{
		{"Under the Arm", [][2]string{{"LOD", "C"}, {"LOD", "DW"}, {"LOD", "ALOD"}}, Stance{LineOfDance, RightFoot, Closed}},
		{"Back to Back", [][2]string{{"DC", "DW"}, {"C", "W"}, {"LOD", "LOD"}}, Stance{LineOfDance, LeftFoot, SideBySide}},
	} {
		v := aloneVariant(t, row.variant)
		d := v.Dance(v.Entries[0], DefaultCouple())
		for i, want := range row.fronts {
			for who := Leader; who <= Follower; who++ {
				body := d.Steps[i].Placed.Bodies[who].Front
				if h, _ := HeadingOf(body); h.Short() != want[who] {
					t.Errorf("%s, step %d: the %v faces %v, want %s", row.variant, i+1, who, h, want[who])
				}
				if foot := d.Steps[i].Placed.Foot(who, d.Steps[i].Falls[who].Foot); foot.Front != body {
					t.Errorf("%s, step %d: the %v's foot points %v, the body faces %v", row.variant, i+1, who, foot.Front, body)
				}
			}
		}
		if d.Exit != row.exit {
			t.Errorf("%s ends %v, want %v", row.variant, d.Exit, row.exit)
		}
		if m := d.Measures(); m.Stretch > 1e-9 {
			t.Errorf("%s: who turns alone has left the place that the hold gives by %.2f m", row.variant, m.Stretch)
		}
	}
}

// TestTurningAloneIsSmooth: between the steps the body turns the way that is
// written, from where it was.
func TestTurningAloneIsSmooth(t *testing.T) {
	for _, name := range []string{"Under the Arm", "Back to Back"} {
		v := aloneVariant(t, name)
		for _, e := range v.Entries {
			d := v.Dance(e, DefaultCouple())
			last := d.Start.pose()
			for i := range d.Steps {
				for k, p := range d.Poses(i, 40) {
					for who := Leader; who <= Follower; who++ {
						by := p.Fronts[who] - last.Fronts[who]
						if alone := d.Steps[i].Step.Actions[who].Alone; by*alone.Radians() < -1e-9 {
							t.Fatalf("%s, step %d, instant %d: the %v turns back by %.3f", name, i+1, k, who, by)
						}
						if by > 0.15 || by < -0.15 {
							t.Fatalf("%s, step %d, instant %d: the %v turns %.2f at once", name, i+1, k, who, by)
						}
					}
					last = p
				}
			}
		}
	}
}

// TestSweepOfJoinedHands: where only hands are joined the floor that is taken is
// that round the two bodies, wherever they are.
func TestSweepOfJoinedHands(t *testing.T) {
	const body = 0.3 // metres round the middle of a dancer
	for _, name := range []string{"Under the Arm", "Back to Back"} {
		v := aloneVariant(t, name)
		d := v.Dance(v.Entries[0], DefaultCouple())
		discs := d.Sweep()
		for i := range d.Steps {
			m := &d.Steps[i].Placed
			if !m.Hold.Shape().HandsOnly {
				continue
			}
			for who := Leader; who <= Follower; who++ {
				held := false
				for _, disc := range discs {
					held = held || disc.Centre.Sub(m.Bodies[who].At).Len()+body <= disc.Radius
				}
				if !held {
					t.Errorf("%s, step %d: the sweep does not hold the %v at %v", name, i+1, who, m.Bodies[who].At)
				}
			}
		}
	}
}

// TestReplacedWeightIsInPlace: a rock back and a step on the foot that stayed,
// at any stride.
func TestReplacedWeightIsInPlace(t *testing.T) {
	rock := func(f Foot, toward geometry.Turn) Step {
		return Step{Beats: 1, Strides: 0.15, Toward: toward, KeepsHold: true, Actions: [2]Action{{Foot: f}, {Foot: f.Other()}}}
	}
	v := &Variant{Figure: &Figure{Name: "Rock", Beats: 3}, Entries: []Stance{{LineOfDance, LeftFoot, Closed}},
		Steps: []Step{rock(LeftFoot, 0), rock(RightFoot, 8), rock(LeftFoot, 0)}}
	for stride := LeastStride; stride <= MostStride; stride += 0.05 {
		d := v.Dance(v.Entries[0], DefaultCouple().WithStride(stride))
		for who := Leader; who <= Follower; who++ {
			stood := d.Start.Foot(who, d.Steps[1].Falls[who].Foot)
			if fall := d.Steps[1].Falls[who]; fall.Word != "in place" {
				t.Errorf("stride %.2f: the %v's second step is %q", stride, who, fall.Word)
			}
			if again := d.Steps[1].Placed.Foot(who, d.Steps[1].Falls[who].Foot); again.At != stood.At {
				t.Errorf("stride %.2f: the %v's foot stood at %v and comes to %v", stride, who, stood.At, again.At)
			}
		}
	}
}
