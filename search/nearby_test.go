package search

import (
	"context"
	"testing"

	"lapwright/figures"
	"lapwright/figures/geometry"
	"lapwright/floors"
	"lapwright/search/routine"

	"pgregory.net/rapid"
)

// usual draws a repertory that people have: a level's figures.
func usual(t *rapid.T) []*figures.Variant {
	return atLevel(rapid.SampledFrom([]figures.Level{figures.Bronze, figures.Social, figures.Silver}).Draw(t, "level"))
}

// TestNearbyStarts: where there is a lap from a place there is one from the
// places a few centimetres from it that are as far from the walls. A place
// nearer to a wall can be too near for any figure; of those, most have a lap.
func TestNearbyStarts(t *testing.T) {
	var laps, nearer share
	draws(t, 0.12, func(t *rapid.T) {
		p := problem(room(t, 5), usual(t))
		wall := rapid.IntRange(0, len(p.Room.Walls)-1).Draw(t, "wall")
		p.Start = &routine.Start{Wall: wall, Stance: stance(t, rapid.SampledFrom([]string{"DW, RF", "DC, LF"}).Draw(t, "stance"))}
		from := *DefaultStart(p.Room, wall).At
		p.Start.At = &from
		res := find(t, p)
		laps.add(res.Lap != nil)
		if res.Lap == nil {
			return
		}
		by := geometry.Point{X: metres(t, "x", -0.1, 0.1), Y: metres(t, "y", -0.1, 0.1)}
		to := from.Add(by)
		if !p.Room.InUse(wall, floors.CellAt(to).Point()) {
			return
		}
		p.Start.At = &to
		moved, err := Find(context.Background(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		if p.Room.Clearance(to) < p.Room.Clearance(from) {
			nearer.add(moved.Lap != nil)
			return
		}
		if moved.Lap == nil {
			t.Errorf("from %v there is a lap of %d bars; from %v none: %s", from, res.Lap.Bars, to, moved.Why)
		}
	})
	laps.report(t, 0.8)
	nearer.report(t, 0.8)
}

// TestNearbyWalls: where there is a lap in a room there is one in a room whose
// sides are a few centimetres shorter or longer.
func TestNearbyWalls(t *testing.T) {
	var laps share
	draws(t, 0.12, func(t *rapid.T) {
		w, h := metres(t, "width", 5.5, 10), metres(t, "depth", 5.5, 10)
		rectangle := func(w, h float64) *floors.Room {
			room, err := floors.Load("room.yaml", []byte("name: Room\n"+outline(geometry.Point{}, geometry.Point{X: w}, geometry.Point{X: w, Y: h}, geometry.Point{Y: h})))
			if err != nil {
				t.Fatal(err)
			}
			return room
		}
		p := problem(rectangle(w, h), usual(t))
		res := find(t, p)
		laps.add(res.Lap != nil)
		if res.Lap == nil {
			return
		}
		w2, h2 := w+metres(t, "wider", -0.07, 0.07), h+metres(t, "deeper", -0.07, 0.07)
		p.Room = rectangle(w2, h2)
		if moved := find(t, p); moved.Lap == nil {
			t.Errorf("in a room of %g × %g m there is a lap of %d bars; of %g × %g m none: %s", w, h, res.Lap.Bars, w2, h2, moved.Why)
		}
	})
	laps.report(t, 0.8)
}
