package future_test

import (
	"slices"
	"testing"

	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search"
	"lapwright/search/future"
	"lapwright/search/routine"
)

// repertory is the figures of some levels of a style; without levels, all of them.
func repertory(style figures.Style, levels ...figures.Level) []*figures.Variant {
	var all []*figures.Variant
	for _, v := range figures.BuiltIn().Variants() {
		if v.Figure.At(style, levels...) {
			all = append(all, v)
		}
	}
	return all
}

// hall is the future in the village hall with some figures.
func hall(t *testing.T, variants []*figures.Variant) *future.Future {
	t.Helper()
	room, _ := floors.Named("village hall")
	states, err := search.NewStates(&search.Problem{Room: room, Variants: variants, Couple: figures.DefaultCouple(), Margin: -1, Scales: []search.Scale{{Share: 1}}})
	if err != nil {
		t.Fatal(err)
	}
	return future.New(states)
}

// halfWay is where a couple stands half-way along a wall, so many metres off the middle
// of its lane, towards the centre.
func halfWay(t *testing.T, f *future.Future, wall int, off float64, facing figures.Heading, free figures.Foot) search.State {
	t.Helper()
	w := &f.States.Room().Walls[wall]
	p := w.Place(w.Length/2, w.Lane+off)
	at, err := f.States.Start(routine.Start{Wall: wall, At: &p, Stance: figures.Stance{Facing: facing, Free: free}})
	if err != nil {
		t.Fatal(err)
	}
	return at
}

// option finds a figure among those that can follow.
func option(t *testing.T, f *future.Future, at search.State, name string) *future.Option {
	t.Helper()
	options := f.Next(at, 4)
	i := slices.IndexFunc(options, func(o future.Option) bool { return o.Variant.Name() == name && !o.Turns })
	if i < 0 {
		t.Fatalf("%s cannot follow", name)
	}
	return &options[i]
}

// A reverse turn that begins on the wall side of the lane ends facing the wall with the
// left foot free, where a couple of bronze level has a closed change and then no room for
// a natural turn. Common practice, no source: begin it with room on the wall side. It is
// so along the short wall in front of the stage and along the long wall alike: what
// decides is the room on the wall side, and how near the corner is.
func TestReverseTurnNeedsRoomOnTheWallSide(t *testing.T) {
	f := hall(t, repertory(figures.International, figures.Bronze))
	const longWall, stageEnd = 0, 1
	for _, c := range []struct {
		name string
		wall int
		off  float64
		trap bool
	}{
		{"before the stage, on the wall side of the lane", stageEnd, -0.5, true},
		{"before the stage, on the centre side", stageEnd, 0.5, false},
		{"along the long wall, on the wall side of the lane", longWall, -0.5, true},
		{"along the long wall, on the centre side", longWall, 0.5, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			at := halfWay(t, f, c.wall, c.off, figures.DiagonalToCentre, figures.LeftFoot)
			o := option(t, f, at, "Reverse Turn")
			if o.Trap() != c.trap {
				t.Errorf("a trap: %v, want %v", o.Trap(), c.trap)
			}
			if c.trap && !o.End.Wall {
				t.Errorf("it ends %+v, want for lack of room", o.End)
			}
		})
	}
}

// A box and a hesitation keep a couple where it is, so that it can go on after them from
// wherever it could go on before. Common practice, no source.
func TestBoxAndHesitationAreNoTraps(t *testing.T) {
	f := hall(t, repertory(figures.AnyStyle, figures.Bronze, figures.Social))
	for wall := range f.States.Room().Walls {
		for _, off := range []float64{-0.5, 0, 0.5} {
			at := halfWay(t, f, wall, off, figures.DiagonalToCentre, figures.LeftFoot)
			for _, name := range []string{"Left Box (without turn)", "Hesitation (forward and back)"} {
				o := option(t, f, at, name)
				if o.Trap() || !o.Round || o.To != at && f.States.Standing(o.To).Cell != f.States.Standing(at).Cell {
					t.Errorf("%s, %+.1f m off the lane of %s: %+v", name, off, f.States.Room().Walls[wall].Name, o)
				}
			}
		}
	}
}

// From diagonal to wall with the right foot free the couple turns to the right, or goes
// straight on: a turn to the left begins with the left foot. Common practice, no source;
// of the figures of bronze and social level.
func TestRightFootFreeTurnsRight(t *testing.T) {
	f := hall(t, repertory(figures.AnyStyle, figures.Bronze, figures.Social))
	for wall := range f.States.Room().Walls {
		options := f.Next(halfWay(t, f, wall, 0, figures.DiagonalToWall, figures.RightFoot), 1)
		right := 0
		for _, o := range options {
			if o.Variant.TurnsLeft() {
				t.Errorf("%s turns to the left", o.Variant.Name())
			}
			if o.Variant.TurnsRight() {
				right++
			}
		}
		if right == 0 {
			t.Errorf("nothing of %d figures turns to the right", len(options))
		}
	}
}
