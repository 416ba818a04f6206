package wayout_test

import (
	"math"
	"testing"

	"lapwright/figures"
	"lapwright/figures/geometry"
	"lapwright/floors"
	"lapwright/search"
	"lapwright/search/future"
	"lapwright/search/routine"
	"lapwright/search/wayout"
)

// finderIn is a finder for all figures at the usual stride.
func finderIn(t testing.TB, room *floors.Room) (*wayout.Finder, *search.States) {
	t.Helper()
	states, err := search.NewStates(&search.Problem{Room: room, Variants: figures.BuiltIn().Variants(), Couple: figures.DefaultCouple(), Margin: -1, Scales: []search.Scale{{Share: 1}}})
	if err != nil {
		t.Fatal(err)
	}
	return wayout.New(future.New(states), figures.DefaultCouple()), states
}

// What is left free is measured straight across, with a ruler on the plan of the hall: it
// is 20 × 12 m, with a pillar whose near side is 2.8 m from the first wall, and the line
// of dance of a wall is in use as far as its reach.
func TestFree(t *testing.T) {
	room, err := floors.Load("hall.yaml", []byte("name: hall\noutline: [[0, 0], [20, 0], [20, 12], [0, 12]]\nobstacles:\n  - {name: pillar, outline: [[12, 3.8], [12.5, 3.8], [12.5, 4.3], [12, 4.3]]}\n"))
	if err != nil {
		t.Fatal(err)
	}
	finder, states := finderIn(t, room)
	reach := room.Walls[0].Reach
	for _, c := range []struct {
		name         string
		x, y         float64
		floor        wayout.Floor
		wall, centre float64
		passes       [2]bool // on the wall side, on the centre side
	}{
		{"in the lane", 6, 1.5, wayout.Floor{Back: 0.6, Ahead: 0.8, Wall: 0.7, Centre: 0.6}, 0.8, reach - 2.1, [2]bool{false, true}},
		{"well off the wall", 6, 2.5, wayout.Floor{Back: 0.6, Ahead: 0.6, Wall: 0.6, Centre: 0.6}, 1.9, reach - 3.1, [2]bool{true, false}},
		{"beside the pillar", 12, 2, wayout.Floor{Back: 0.6, Ahead: 0.6, Wall: 0.6, Centre: 0.7}, 1.4, 1.1, [2]bool{false, false}},
		{"the pillar is just behind", 13.2, 2, wayout.Floor{Back: 0.6, Ahead: 0.6, Wall: 0.6, Centre: 0.7}, 1.4, reach - 2.7, [2]bool{false, false}},
	} {
		t.Run(c.name, func(t *testing.T) {
			at, err := states.Start(routine.Start{At: &geometry.Point{X: c.x, Y: c.y}, Stance: figures.Stance{Facing: figures.DiagonalToWall, Free: figures.RightFoot}})
			if err != nil {
				t.Fatal(err)
			}
			free := finder.Free(at, c.floor)
			// It is measured in steps of the lattice and never tells too much.
			if short := c.wall - free.Wall; short < -1e-6 || short > floors.Step+1e-6 {
				t.Errorf("%.3f m free on the wall side, want %.3f", free.Wall, c.wall)
			}
			if short := c.centre - free.Centre; short < -1e-6 || short > floors.Step+1e-6 {
				t.Errorf("%.3f m free on the centre side, want %.3f", free.Centre, c.centre)
			}
			if got := [2]bool{free.PassesWall(room.Margin), free.PassesCentre(room.Margin)}; got != c.passes {
				t.Errorf("passes %v, want %v (%.2f m are needed and the margin of %.2f)", got, c.passes, wayout.Passing(), room.Margin)
			}
		})
	}
}

// A hesitation on the spot takes the floor of the frame of the arms and of one step.
// Common practice, no source: it is the way to wait that takes least.
func TestHesitationTakesLeast(t *testing.T) {
	room, _ := floors.Named("village hall")
	finder, states := finderIn(t, room)
	at, err := states.Start(search.DefaultStart(room, 0))
	if err != nil {
		t.Fatal(err)
	}
	ways := finder.Wait(at, wayout.UsualNear, 1)
	if len(ways) == 0 {
		t.Fatal("there is no way of waiting for a bar")
	}
	w := ways[0]
	if name := w.Moves[0].Variant.Figure.Name; name != "Hesitation" {
		t.Errorf("%s takes least", name)
	}
	most := 2*figures.FrameRadius() + figures.DefaultCouple().Stride
	if w.Floor.Along() > most || w.Floor.Across() > most || math.Min(w.Floor.Along(), w.Floor.Across()) < figures.FrameRadius() {
		t.Errorf("it takes %.2f × %.2f m", w.Floor.Along(), w.Floor.Across())
	}
}

// A couple in the lane that faces along it stands well; one that faces against the line of
// dance, or is too far out, does not.
func TestGood(t *testing.T) {
	room, _ := floors.Named("village hall")
	finder, states := finderIn(t, room)
	for _, c := range []struct {
		name   string
		off    float64
		facing figures.Heading
		good   bool
	}{
		{"in the lane, diagonal to wall", 0, figures.DiagonalToWall, true},
		{"in the lane, along it", 0, figures.LineOfDance, true},
		{"0.5 m off it", 0.5, figures.DiagonalToWall, true},
		{"0.55 m off it", 0.55, figures.DiagonalToWall, false},
		{"0.55 m off it, towards the wall", -0.55, figures.DiagonalToWall, false},
		{"against the line of dance", 0, figures.DiagonalToCentreAgainst, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := &room.Walls[0]
			p := w.Place(w.Length/2, w.Lane+c.off)
			at, err := states.Start(routine.Start{At: &p, Stance: figures.Stance{Facing: c.facing, Free: figures.RightFoot}})
			if err != nil {
				t.Fatal(err)
			}
			if got := finder.Good(at, 0.5); got != c.good {
				t.Errorf("good: %v", got)
			}
			for _, w := range finder.Back(at, 0.5, 4) {
				if !finder.Good(w.To, 0.5) {
					t.Errorf("a way back ends %+v", w.Ends)
				}
			}
		})
	}
}

func BenchmarkWaysOut(b *testing.B) {
	for _, name := range []string{"village hall", "ballroom"} {
		room, _ := floors.Named(name)
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				finder, states := finderIn(b, room)
				at, err := states.Start(search.DefaultStart(room, 0))
				if err != nil {
					b.Fatal(err)
				}
				if len(finder.Back(at, wayout.UsualNear, 8)) == 0 || len(finder.Wait(at, wayout.UsualNear, 4)) == 0 {
					b.Fatal("there is no way out")
				}
			}
		})
	}
}
