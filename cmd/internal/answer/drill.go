package answer

import (
	"fmt"

	"lapwright/figures"
	"lapwright/search/routine"
)

// Drills is the answer to drills that were drawn.
type Drills struct {
	Room     RoomName `json:"room"`     // empty for anywhere
	Anywhere bool     `json:"anywhere"` // along an endless wall
	Class    *Class   `json:"class"`    // that has been taught the figures; null where none is named
	Bars     int      `json:"bars"`
	Tempo    Number   `json:"tempo"`
	Seconds  Number   `json:"seconds"`
	Stride   Number   `json:"stride"`
	Seed     uint64   `json:"seed"`
	// Focus is what was to come more often, as it was written, and Weight how many times
	// as likely it makes a drill; 1 where there is none.
	Focus   []string `json:"focus"`
	Weight  uint64   `json:"weight"`
	Target  Number   `json:"target_difficulty"` // points a bar; 0: none
	Hardest Number   `json:"hardest"`           // points; 0: no limit
	Start   Place    `json:"start"`
	Drills  []Drill  `json:"drills"` // in the order in which they were drawn
	// Cover is what a routine has in it that was made to have every join or every figure;
	// null for drills that were drawn.
	Cover *Cover `json:"cover"`
	// Easiest and Hardest are the least and the greatest difficulty of the drills.
	EasiestDrill Number `json:"easiest_drill"`
	HardestDrill Number `json:"hardest_drill"`
}

// Drill is one of them.
type Drill struct {
	Number     int        `json:"number"` // from 1
	Seed       uint64     `json:"seed"`   // which draws it alone
	Difficulty Difficulty `json:"difficulty"`
	Calls      []Call     `json:"calls"`
	Routine    *Routine   `json:"routine"` // as danced in the room; null for anywhere
}

// Call is a figure as it is called.
type Call struct {
	Bar           int    `json:"bar"`
	Name          string `json:"name"`
	Bars          int    `json:"bars"`
	Counts        string `json:"counts"`
	TakesNextWall bool   `json:"takes_next_wall"`
	From          Stance `json:"from"`
	To            Stance `json:"to"`

	// FromShort and ToShort are the stances as tables write them.
	FromShort string `json:"-"`
	ToShort   string `json:"-"`
}

// NewCalls are the calls of a routine that begins in a stance; turns are the eighths
// that the corner at the end of each wall adds to the heading, those of the first wall
// first.
func NewCalls(at figures.Stance, steps []routine.Step, turns []int) []Call {
	all := []Call{}
	bar, wall := 1, 0
	for i, s := range steps {
		if s.Corner == routine.Take {
			at = at.Turned(turns[wall%len(turns)])
			wall++
		}
		to := s.Variant.Exit(at)
		begin, end := wayIn(s.Variant, at, 0), wayIn(s.Variant, at, -1)
		if i+1 < len(steps) {
			end = wayIn(steps[i+1].Variant, to, 0)
		}
		all = append(all, Call{Bar: bar, Name: s.Variant.Name(), Bars: s.Variant.Bars(), Counts: figures.CountWords(s.Variant.Steps, s.Variant.Figure.Beats),
			TakesNextWall: s.Corner == routine.Take, From: stance(at, begin), To: stance(to, end), FromShort: short(at, begin), ToShort: short(to, end)})
		at, bar = to, bar+s.Variant.Bars()
	}
	return all
}

// wayIn tells whether the leader faces or backs in a step of a figure, -1 for the last.
func wayIn(v *figures.Variant, from figures.Stance, step int) figures.Way {
	d := v.Dance(from, figures.DefaultCouple())
	if step < 0 {
		step += len(d.Steps)
	}
	return wayOf(d, step)
}

// short is a stance as tables write it; that the leader faces goes without saying.
func short(s figures.Stance, way figures.Way) string {
	if way != figures.Backing {
		return s.Short()
	}
	return fmt.Sprintf("%s %s %s", aligned(s.Facing, way).Short(), s.Free.Short(), s.Hold)
}

// Spread finds the easiest and the hardest of the drills.
func (d *Drills) Spread() {
	for i := range d.Drills {
		total := d.Drills[i].Difficulty.Total
		if i == 0 || total < d.EasiestDrill {
			d.EasiestDrill = total
		}
		d.HardestDrill = max(d.HardestDrill, total)
	}
}

// Cover is what a routine has in it that was made to have every join or every figure.
type Cover struct {
	What string `json:"what"` // "joins" or "figures"
	// Bars is how many the routine has, Bound how many at least any with as much has.
	Bars   int  `json:"bars"`
	Bound  int  `json:"bound"`
	Proven bool `json:"proven"` // none can be shorter
	// GapPercent is by how much of the bound the routine may be too long.
	GapPercent Number `json:"gap_percent"`
	// Covered are in it, in the order in which they first come; a join has > between its
	// figures.
	Covered []string `json:"covered"`
	// Apart join by their stances and feet, but cannot be danced where the drill is, so
	// that dancing can go on; Left can be, but are not in the routine. Both by name.
	Apart []string `json:"apart"`
	Left  []string `json:"left"`
}
