package answer

import (
	"strconv"
	"strings"

	"lapwright/figures"
	"lapwright/figures/geometry"
	"lapwright/floors"
	"lapwright/graph"
	"lapwright/graph/difficulty"
	"lapwright/search/check"
	"lapwright/search/routine"
)

// Place is where and how the couple stands at the beginning or the end of a
// figure. "backing X" is the same as facing the opposite of X: it is said where
// the leader goes backward next.
type Place struct {
	X         Number `json:"x"`
	Y         Number `json:"y"`
	Wall      int    `json:"wall"` // number of the wall in use, from 1
	Alignment string `json:"alignment"`
	FreeFoot  string `json:"free_foot"`
	Hold      string `json:"hold"`

	// Short is the alignment as tables write it.
	Short string `json:"-"`
	// Foot is the free foot as tables write it.
	Foot string `json:"-"`
}

func newPlace(at geometry.Point, wall int, s figures.Stance, way figures.Way) Place {
	in := stance(s, way)
	return Place{Number(at.X), Number(at.Y), wall + 1, in.Alignment, in.FreeFoot, in.Hold,
		aligned(s.Facing, way).Short(), s.Free.Short()}
}

// Routine is a routine as it was danced on a floor.
type Routine struct {
	Start Place `json:"start"`
	// Feet are all four feet as they stand before the first step.
	Feet    []Standing `json:"feet"`
	Figures []Figure   `json:"figures"`
	Totals  Totals     `json:"totals"`
}

// Standing is a foot that stands on the floor.
type Standing struct {
	Dancer string `json:"dancer"`
	Foot   string `json:"foot"`
	X      Number `json:"x"` // the middle of the sole in the room
	Y      Number `json:"y"`
	Toe    Number `json:"toe"` // direction in the room, degrees to the left of its x axis
}

// Figure is one figure of a routine as it was danced.
type Figure struct {
	Number    int    `json:"number"` // from 1
	Bar       int    `json:"bar"`    // in which it begins, from 1
	Name      string `json:"name"`   // with its way of dancing: "Natural Turn (1-3)"
	Figure    string `json:"figure"` // without
	Variation string `json:"variation"`
	Family    string `json:"family"`
	Counts    string `json:"counts"`
	Bars      int    `json:"bars"`
	Beats     Number `json:"beats"`
	Scale     Number `json:"scale"` // share of the stride
	// TakesNextWall tells that the next wall's line of dance was taken before
	// the figure.
	TakesNextWall bool `json:"takes_next_wall"`
	// AwkwardJoin says why it is awkward to dance the figure after the one
	// before it (the first, after the last, where the routine closes); it is
	// empty where it is not.
	AwkwardJoin string `json:"awkward_join"`
	// Difficulty is the figure's in points a bar, JoinDifficulty that of the join
	// to the figure before it (of the first to the last, where the routine closes)
	// in points.
	Difficulty     Difficulty `json:"difficulty"`
	JoinDifficulty Difficulty `json:"join_difficulty"`
	From           Place      `json:"from"`
	To             Place      `json:"to"`
	Clearance      Number     `json:"clearance"`  // least, to a wall or an obstacle
	NearestTo      string     `json:"nearest_to"` // what that is
	NearestAt      Point      `json:"nearest_at"`
	Steps          []Step     `json:"steps"`
}

// Step is one step of a figure as it was danced.
type Step struct {
	Count    string  `json:"count"`
	Beat     Number  `json:"beat"` // at which it begins, from the start of the routine, from 0
	Beats    Number  `json:"beats"`
	Leader   *Footed `json:"leader"` // null when that dancer stands
	Follower *Footed `json:"follower"`
	Couple   Couple  `json:"couple"` // after it
}

// Couple is where the couple's centre is in the room, and which way it faces:
// degrees to the left of the room's x axis.
type Couple struct {
	X      Number `json:"x"`
	Y      Number `json:"y"`
	Facing Number `json:"facing"`
}

// Footed is one dancer's part of a step.
type Footed struct {
	Foot      string `json:"foot"`
	Direction string `json:"direction"` // forward, back, side, closes …
	Alignment string `json:"alignment"`
	Turn      string `json:"turn"`
	Length    Number `json:"length"` // from the standing foot
	X         Number `json:"x"`      // the middle of the sole in the room
	Y         Number `json:"y"`
	Toe       Number `json:"toe"` // direction in the room, degrees to the left of its x axis
}

// Totals are a routine's sums.
type Totals struct {
	Figures int     `json:"figures"`
	Bars    int     `json:"bars"`
	Beats   Number  `json:"beats"`
	Tempo   Number  `json:"tempo"`   // bars a minute
	Seconds Number  `json:"seconds"` // at that tempo
	Walked  Walked  `json:"walked"`
	Closest Closest `json:"closest"`
	Corners int     `json:"corners"`
	Laps    int     `json:"laps"` // how many times the couple has gone right round
	// Closes tells that the couple is back where it began, in the same stance,
	// after as many times round as were asked for; Gap is how far from there it
	// ends.
	Closes bool   `json:"closes"`
	Gap    Number `json:"gap"`
	// AwkwardJoins is how many joins are awkward; that is a remark, no fault.
	AwkwardJoins int `json:"awkward_joins"`
	// Difficulty is that of the whole in points a bar, its joins in it.
	Difficulty Difficulty `json:"difficulty"`
}

// Walked is how far each dancer's body travels.
type Walked struct {
	Leader   Number `json:"leader"`
	Follower Number `json:"follower"`
}

// Closest is where the couple comes nearest to a wall or an obstacle.
type Closest struct {
	Figure    int    `json:"figure"` // its number; 0 when nothing was danced
	Bar       int    `json:"bar"`
	Clearance Number `json:"clearance"`
	To        string `json:"to"`
	X         Number `json:"x"`
	Y         Number `json:"y"`
}

// NewRoutine is a routine as a checker's report has it. The tempo is that of the
// routine.
func NewRoutine(rep *check.Report, r *routine.Routine) Routine {
	out := Routine{Feet: feet(rep), Figures: []Figure{}}
	beat := 0.0
	for i := range rep.Rows {
		row := &rep.Rows[i]
		out.Figures = append(out.Figures, newFigure(rep, i, beat))
		beat += row.Variant.Beats()
	}
	way := figures.Facing
	if len(rep.Rows) > 0 {
		way = begins(&rep.Rows[0])
	}
	out.Start = newPlace(*rep.Start.At, rep.Start.Wall, rep.Start.Stance, way)
	out.Totals = totals(rep, r)
	return out
}

func newFigure(rep *check.Report, i int, beat float64) Figure {
	row := &rep.Rows[i]
	v := row.Variant
	f := Figure{
		Number: row.Number, Bar: row.Bar, Name: v.Name(), Figure: v.Figure.Name, Variation: v.Label, Family: v.Figure.Family,
		Counts: figures.CountWords(v.Steps, v.Figure.Beats), Bars: v.Bars(), Beats: Number(v.Beats()), Scale: Number(row.Scale),
		TakesNextWall: row.NextWall, AwkwardJoin: row.Join.String(),
		Difficulty: NewDifficulty(difficulty.Figure(v)), JoinDifficulty: NewDifficulty(row.JoinDifficulty),
		From:      newPlace(row.From, row.Wall, row.Entry, begins(row)),
		To:        newPlace(row.To, row.Wall, row.Exit, leaves(rep, i)),
		Clearance: Number(row.Clear), NearestTo: Nearest(rep.Room, row.ClearAt), NearestAt: point(row.ClearAt),
		Steps: make([]Step, len(row.Danced.Steps)),
	}
	counts := strings.Fields(f.Counts)
	for k := range row.Danced.Steps {
		t := &row.Danced.Steps[k]
		f.Steps[k] = Step{Count: counts[k], Beat: Number(beat), Beats: Number(t.Step.Beats),
			Leader: footed(row, t, figures.Leader), Follower: footed(row, t, figures.Follower), Couple: couple(row, &t.After)}
		beat += t.Step.Beats
	}
	return f
}

// feet are the feet before the first step; none where nothing is danced.
func feet(rep *check.Report) []Standing {
	all := []Standing{}
	if len(rep.Rows) == 0 {
		return all
	}
	row := &rep.Rows[0]
	for who := figures.Leader; who <= figures.Follower; who++ {
		for foot := figures.LeftFoot; foot <= figures.RightFoot; foot++ {
			print := row.Danced.Start.Foot(who, foot)
			at := row.Place(print.At)
			all = append(all, Standing{who.String(), foot.String(), Number(at.X), Number(at.Y), Number(Degrees(row.Angle(print.Front)))})
		}
	}
	return all
}

// couple is where the couple is at a moment of a figure.
func couple(row *check.Row, m *figures.Moment) Couple {
	at := row.Place(m.Centre)
	return Couple{Number(at.X), Number(at.Y), Number(Degrees(row.Angle(m.Front)))}
}

// footed is a dancer's part of a step in the room.
func footed(row *check.Row, t *figures.Taken, d figures.Dancer) *Footed {
	fall := t.Falls[d]
	if fall.Foot == figures.NoFoot {
		return nil
	}
	print := t.Placed.Foot(d, fall.Foot)
	at := row.Place(print.At)
	return &Footed{Foot: fall.Foot.String(), Direction: fall.Word, Alignment: fall.Alignment.String(), Turn: fall.Turn.String(),
		Length: Number(fall.Length), X: Number(at.X), Y: Number(at.Y), Toe: Number(Degrees(row.Angle(print.Front)))}
}

// begins tells whether the leader faces or backs as a figure begins.
func begins(row *check.Row) figures.Way {
	return wayOf(row.Danced, 0)
}

// leaves tells whether the leader faces or backs as a figure ends: as the next
// one begins, or, at the end, as in the last step.
func leaves(rep *check.Report, i int) figures.Way {
	switch {
	case i+1 < len(rep.Rows):
		return begins(&rep.Rows[i+1])
	case rep.Closes:
		return begins(&rep.Rows[0])
	}
	return wayOf(rep.Rows[i].Danced, len(rep.Rows[i].Danced.Steps)-1)
}

// wayOf tells whether the leader backs in a step.
func wayOf(d *figures.Danced, step int) figures.Way {
	if fall := d.Steps[step].Falls[figures.Leader]; fall.Foot != figures.NoFoot && fall.Alignment.Way == figures.Backing {
		return figures.Backing
	}
	return figures.Facing
}

func totals(rep *check.Report, r *routine.Routine) Totals {
	t := Totals{Figures: len(rep.Rows), Bars: rep.Bars, Beats: Number(rep.Beats), Tempo: Number(r.Tempo),
		Walked:  Walked{Number(rep.Walked[figures.Leader]), Number(rep.Walked[figures.Follower])},
		Corners: rep.Corners, Laps: rep.Laps, Closes: rep.Closes, Gap: Number(rep.Gap), Difficulty: NewDifficulty(rep.Difficulty)}
	for i := range rep.Rows {
		if rep.Rows[i].Join != graph.Easy {
			t.AwkwardJoins++
		}
	}
	if r.Tempo > 0 && len(rep.Rows) > 0 {
		t.Seconds = Number(rep.Beats / float64(rep.Rows[0].Variant.Figure.Beats) / r.Tempo * 60)
	}
	if rep.Closest > 0 {
		row := &rep.Rows[rep.Closest-1]
		t.Closest = Closest{row.Number, row.Bar, Number(row.Clear), Nearest(rep.Room, row.ClearAt), Number(row.ClearAt.X), Number(row.ClearAt.Y)}
	}
	return t
}

// Nearest names what is nearest to a place in a room: an obstacle, or a wall.
func Nearest(room *floors.Room, p geometry.Point) string {
	clear := room.Clearance(p)
	for i := range room.Obstacles {
		if room.Obstacles[i].Gap(p) <= clear+1e-6 {
			return ObstacleName(room, i)
		}
	}
	best, name := 0.0, "the wall"
	for i := range room.Walls {
		w := &room.Walls[i]
		if gap := geometry.PointGap(p, w.From, w.To); i == 0 || gap < best {
			best, name = gap, w.Name
		}
	}
	return name
}

// ObstacleName is an obstacle's name, or its number where it has none.
func ObstacleName(room *floors.Room, i int) string {
	if name := room.Obstacles[i].Name; name != "" {
		return name
	}
	return "obstacle " + strconv.Itoa(i+1)
}
