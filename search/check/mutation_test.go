package check_test

import (
	"context"
	"slices"
	"sync"
	"testing"

	"lapwright/figures"
	"lapwright/figures/geometry"
	"lapwright/floors"
	"lapwright/search"
	"lapwright/search/check"
	"lapwright/search/routine"

	"pgregory.net/rapid"
)

// laps are good laps of the bronze syllabus, one in each room that comes with
// the program.
var laps = sync.OnceValues(func() (all []*routine.Routine, rooms []*floors.Room) {
	var bronze []*figures.Variant
	for _, f := range figures.BuiltIn().Figures() {
		if f.At(figures.International, figures.Bronze) {
			bronze = append(bronze, f.Variants...)
		}
	}
	for _, room := range floors.BuiltIn() {
		res, err := search.Find(context.Background(), &search.Problem{Room: room, Variants: bronze,
			Couple: figures.DefaultCouple(), Weights: search.DefaultWeights(), Margin: -1}, nil)
		if err == nil && res.Lap != nil {
			all = append(all, &routine.Routine{Start: res.Lap.Start, Steps: res.Lap.Steps})
			rooms = append(rooms, room)
		}
	}
	return all, rooms
})

// TestMutations: a good lap has no faults; with one thing changed it has.
func TestMutations(t *testing.T) {
	all, rooms := laps()
	if len(all) < 3 {
		t.Fatalf("there are laps in %d rooms", len(all))
	}
	library := figures.BuiltIn().Variants()
	rapid.Check(t, func(t *rapid.T) {
		which := rapid.IntRange(0, len(all)-1).Draw(t, "lap")
		room, good := rooms[which], all[which]
		dance := func(r *routine.Routine) *check.Report {
			return check.Dance(room, figures.DefaultCouple(), r, check.Limits{Lap: true, Margin: -1})
		}
		report := dance(good)
		if report.Faults() != nil || !report.Closes {
			t.Fatalf("%s: the lap is not good: %v", room.Name, report.Faults())
		}
		bad := *good
		bad.Steps = slices.Clone(good.Steps)
		i := rapid.IntRange(0, len(bad.Steps)-1).Draw(t, "figure")
		row := &report.Rows[i]
		what := rapid.SampledFrom([]string{"drop", "twice", "replace", "wall", "along", "stance", "corner", "scale"}).Draw(t, "change")
		switch what {
		case "drop":
			bad.Steps = slices.Delete(bad.Steps, i, i+1)
		case "twice":
			bad.Steps = slices.Insert(bad.Steps, i, bad.Steps[i])
		case "replace":
			v := rapid.SampledFrom(library).Draw(t, "by")
			if v.Exit(row.Entry) == row.Exit && slices.Contains(v.Entries, row.Entry) {
				return // it may do as well
			}
			bad.Steps[i].Variant = v
		case "wall":
			// A metre towards the wall: there is a place on every lap that is
			// nearer to the wall than that.
			w := &room.Walls[bad.Start.Wall]
			along, across := w.Locate(*bad.Start.At)
			to := w.Place(along, across-1)
			bad.Start.At = &to
		case "along":
			w := &room.Walls[bad.Start.Wall]
			to := bad.Start.At.Add(geometry.Unit(w.Direction).Scale(rapid.SampledFrom([]float64{-1, 1}).Draw(t, "metre")))
			bad.Start.At = &to
			if dance(&bad).Faults() == nil {
				return // a lap in a large room can be danced a metre further on
			}
		case "stance":
			bad.Start.Stance.Facing = bad.Start.Stance.Facing.Add(rapid.IntRange(1, 7).Draw(t, "eighths"))
		case "corner":
			if bad.Steps[i].Corner == routine.Take {
				bad.Steps[i].Corner = routine.Stay
			} else {
				bad.Steps[i].Corner = routine.Take
			}
		case "scale":
			bad.Steps[i].Scale = rapid.SampledFrom([]float64{0, -1, 3}).Draw(t, "scale")
		}
		if faults := dance(&bad).Faults(); faults == nil {
			t.Errorf("%s: the checker finds no fault after %q at figure %d, %s", room.Name, what, i+1, row.Variant.Name())
		}
	})
}

// TestShiftedLaps: of the laps shifted by a metre in each direction along and
// across the first wall at least one way runs into something, and then the
// checker says what.
func TestShiftedLaps(t *testing.T) {
	all, rooms := laps()
	for i, good := range all {
		faulty := 0
		for k := range 4 {
			moved := *good
			to := good.Start.At.Add(geometry.Unit(float64(k) * 1.5707963267948966))
			moved.Start.At = &to
			for _, f := range check.Dance(rooms[i], figures.DefaultCouple(), &moved, check.Limits{Lap: true, Margin: -1}).Faults() {
				if f.Kind != check.Room || f.Words == "" {
					t.Errorf("%s: %s", rooms[i].Name, f)
				}
				faulty++
			}
		}
		if faulty == 0 {
			t.Errorf("%s: a lap can be moved a metre in every direction", rooms[i].Name)
		}
	}
}
