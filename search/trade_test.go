package search

import (
	"math/big"
	"testing"

	"lapwright/figures"
	"lapwright/graph"
	"lapwright/search/check"
	"lapwright/search/routine"
)

// The facts of the trade in this file are common practice, no source.

// TestNaturalTurnsGoRound: right turns can be danced one after the other all the
// way round a room, corners included.
func TestNaturalTurnsGoRound(t *testing.T) {
	for _, name := range []string{"village hall", "ballroom", "studio"} {
		p := problem(named(t, name), of(t, "Natural Turn"))
		res := find(t, p)
		if res.Lap == nil {
			t.Errorf("natural turns do not go round %s: %s", p.Room.Name, res.Why)
			continue
		}
		judge(t, p, res.Lap)
		easy(t, danced(p, res.Lap))
	}
}

// easy fails where a join is awkward that the trade dances.
func easy(t *testing.T, rep *check.Report) {
	t.Helper()
	for _, row := range rep.Rows {
		if row.Join != graph.Easy {
			t.Errorf("figure %d, %s, is awkward to join: %s", row.Number, row.Variant.Name(), row.Join)
		}
	}
}

// TestReverseTurnOnAShortWall: a reverse turn straight out of the corner of a
// short wall leaves room to work; half-way down it, far fewer ways to go on stay
// inside the room. The ways are counted one by one: four more figures of the
// bronze syllabus at the couple's usual stride, from every place across the lane
// where a couple may come out of the corner.
func TestReverseTurnOnAShortWall(t *testing.T) {
	hall := named(t, "village hall")
	const door = 3 // the short wall without the stage
	wall := &hall.Walls[door]
	if wall.Long || wall.Length != 11 {
		t.Fatalf("%s is %g m long", wall, wall.Length)
	}
	turn := variant(t, "Reverse Turn")
	p := problem(hall, atLevel(figures.Bronze))
	p.Scales = []Scale{{1, 0}}
	ways := func(along float64) *big.Int {
		sum := new(big.Int)
		for across := wall.Lane; across < wall.Lane+1; across += 0.1 {
			from := wall.Place(along, across)
			rep := check.Dance(hall, p.Couple, &routine.Routine{
				Start: routine.Start{Wall: door, At: &from, Stance: stance(t, "DC, LF")},
				Steps: []routine.Step{{Variant: turn, Scale: 1}},
			}, check.Limits{Margin: -1})
			if faults := rep.Faults(); faults != nil {
				continue
			}
			n, err := p.Continuations(routine.Start{Wall: door, At: &rep.Rows[0].To, Stance: rep.Rows[0].Exit}, 4)
			if err != nil {
				t.Fatal(err)
			}
			sum.Add(sum, n)
		}
		return sum
	}
	corner, middle := ways(wall.Lane), ways(wall.Length/2)
	t.Logf("straight out of the corner %s ways to go on for four figures, half-way down the wall %s", corner, middle)
	if twice := new(big.Int).Lsh(middle, 1); corner.Cmp(twice) < 0 {
		t.Errorf("straight out of the corner there are %s ways to go on, half-way down the wall %s; far fewer are expected", corner, middle)
	}
}

// TestHalfLeftBoxTurnsTheCorner: a half left box in a corner turns the couple
// onto the new wall: facing its line of dance, with the right foot free.
func TestHalfLeftBoxTurnsTheCorner(t *testing.T) {
	hall := named(t, "village hall")
	meet := hall.Walls[1].Meet
	rep := check.Dance(hall, figures.DefaultCouple(), &routine.Routine{
		Start: routine.Start{Wall: 1, At: &meet, Stance: stance(t, "LOD, LF")},
		Steps: []routine.Step{
			{Variant: variant(t, "Left Box (half box)"), Scale: 1},
			{Variant: variant(t, "Right Foot Closed Change"), Scale: 1},
		},
	}, check.Limits{Margin: -1, Follows: figures.BuiltIn().Follows()})
	for _, f := range rep.Faults() {
		t.Error(f)
	}
	easy(t, rep)
	if row := &rep.Rows[1]; !row.NextWall || row.Wall != 2 || row.Entry != stance(t, "LOD, RF") {
		t.Errorf("after the half box the couple is along wall %d, %s; it takes the next wall: %t", row.Wall+1, row.Entry, row.NextWall)
	}
	// A lap is made of it too.
	p := problem(drawn(t, "Square", 1, pictures[1].picture), atLevel(figures.Social))
	p.Limits.Must = []*figures.Figure{figure(t, "Left Box")}
	res := find(t, p)
	if res.Lap == nil {
		t.Fatal(res.Why)
	}
	judge(t, p, res.Lap)
}
