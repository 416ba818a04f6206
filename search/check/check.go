// Package check dances a routine on a floor and reports every fault where it
// happens. Every answer of the search goes through it before it is shown, so it
// shares no code with the search beyond the figures, the floor's lattice and
// which figure may follow which.
//
// What lives here: the couple's way through the room, figure by figure, with
// exact clearances. What does not: finding laps (package search) and writing
// reports for people (the program).
//
//	report := check.Dance(room, figures.DefaultCouple(), r, check.Limits{})
//	for _, f := range report.Faults() { fmt.Println(f) }
package check

import (
	"fmt"
	"math"

	"lapwright/figures"
	"lapwright/figures/geometry"
	"lapwright/floors"
	"lapwright/graph"
	"lapwright/graph/difficulty"
	"lapwright/search/routine"
)

// Kind is what a fault is about.
type Kind string

// The kinds of faults.
const (
	Alignment Kind = "alignment"
	Foot      Kind = "foot"
	Hold      Kind = "hold"
	Room      Kind = "room"
	Limit     Kind = "limit"
)

// Fault is one thing that is wrong with a routine.
type Fault struct {
	Kind Kind
	// Row is the number of the figure, from 1; 0 for the routine as a whole.
	Row int
	// Bar is the bar in which the figure begins, from 1; 0 as for Row.
	Bar int
	// Line is the figure's line in its file, where it has one.
	Line   int
	Figure string // the name of the figure; empty as for Row
	Words  string // what is wrong, in a teacher's words
	Stance figures.Stance
	// Could names what could be danced there instead, in this room.
	Could []string
}

// String writes the fault in one sentence, with its place.
func (f Fault) String() string {
	if f.Row == 0 {
		return string(f.Kind) + ": " + f.Words
	}
	return fmt.Sprintf("bar %d, %s: %s: %s", f.Bar, f.Figure, f.Kind, f.Words)
}

// Row is one figure of the routine as it was danced.
type Row struct {
	Number   int // from 1
	Bar      int // in which it begins, from 1
	Variant  *figures.Variant
	Scale    float64
	NextWall bool // the next wall was taken before it
	Wall     int  // index of the wall in use
	From, To geometry.Point
	// Entry and Exit are relative to Wall's line of dance. Where a fault had to
	// be danced over, Entry is the stance that the figure needs.
	Entry, Exit figures.Stance
	Danced      *figures.Danced
	// Clear is the least distance in metres from the couple to a wall or an
	// obstacle during the figure; negative where it would touch.
	Clear float64
	// ClearAt is where in the room that is.
	ClearAt geometry.Point
	// Join tells whether it is awkward to dance the figure after the one before
	// it; for the first, where the routine closes, after the last. It is a
	// remark, no fault, and easy where the figure cannot be danced there at all.
	Join graph.Awkwardness
	// JoinDifficulty is how hard it is to dance the figure after the one before it,
	// in points; for the first, where the routine closes, after the last.
	JoinDifficulty difficulty.Parts

	direction float64
}

// Place turns a place in the figure's own frame (metres from the couple's
// centre at its start, along the line of dance and towards the centre) into the
// place in the room.
func (r *Row) Place(p geometry.Point) geometry.Point {
	return r.From.Add(p.Rotate(r.direction))
}

// Angle turns a direction relative to the line of dance into one in the room,
// in radians.
func (r *Row) Angle(t geometry.Turn) float64 { return r.direction + t.Radians() }

// Report is a routine as it was danced.
type Report struct {
	Room   *floors.Room
	Start  routine.Start
	Rows   []Row
	Bars   int
	Beats  float64
	Walked [2]float64 // by each dancer's body, metres
	// Closest is the number of the row with the least clearance, from 1; 0
	// when there are no rows.
	Closest int
	// Corners is how many corners were taken.
	Corners int
	// Laps is how many times the couple has gone right round the room.
	Laps int
	// Closes tells that the couple is back on the first wall after as many times
	// round as were asked for, in the stance and near the place in which it
	// began; Gap is how many metres lie between.
	Closes bool
	Gap    float64
	// Difficulty is that of the whole, in points a bar; where the routine closes,
	// with the join from its end to its beginning.
	Difficulty difficulty.Parts
	faults     []Fault
}

// Faults lists all faults in the order of the dance.
func (r *Report) Faults() []Fault { return r.faults }

// Limits are what a routine must keep to besides the floor.
type Limits struct {
	// Allowed says whether a way of dancing is among those that are known; nil allows
	// all.
	Allowed func(*figures.Variant) bool
	Must    []*figures.Figure
	MinBars int // 0: none
	MaxBars int // 0: none
	Uses    int // of any one figure; 0: no limit
	Apart   int // bars between the beginnings of two uses of a figure; 0: none
	Caps    []Cap
	// Different is the least number of different figures; 0: none.
	Different int
	Orders    []Order
	Fixed     []Fixed
	// Phrase is the number of bars of a phrase of the music, at the end of one of
	// which the routine must end; 0: anywhere.
	Phrase int
	// RightTurns is the most figures in a row that turn to the right in all; 0:
	// no limit. Any other figure is a rest.
	RightTurns int
	// LeaderStep and FollowerStep are the longest steps in metres that the
	// dancers may take; 0: no limit.
	LeaderStep, FollowerStep float64
	// Hardest is the greatest difficulty (package difficulty) of a figure in points
	// a bar, and of a join in points; 0: no limit.
	Hardest float64
	// Lap asks that the routine closes: round the room to the same stance near
	// the same place.
	Lap bool
	// Laps is how many times round the room a routine that closes goes; 0 is 1.
	Laps int
	// Margin is the floor in metres kept free between the couple and walls or
	// obstacles; negative means the room's own.
	Margin float64
	// Library is what Could is chosen from; nil leaves it empty.
	Library []*figures.Variant
	// Follows says which joins the trade lists, so that the others can be told
	// as awkward; nil leaves that to the couple's way.
	Follows *figures.Follows
}

// near is how far in metres the end of a lap may lie from its start.
const near = 0.3

// The shares of the stride at which a figure can be danced at all.
const (
	leastScale = 0.25
	mostScale  = 2.0
)

// hair is what a clearance may fall short by for the last digits of a sum.
const hair = 1e-6

// dancer carries the couple through the routine.
type dancer struct {
	room   *floors.Room
	couple figures.Couple
	limits Limits
	margin float64
	report *Report
	cell   floors.Cell
	wall   int
	stance figures.Stance
	bar    int
	off    bool // the couple has left the floor
}

// Dance dances a routine. Where the start is no place in the room, or a figure is
// missing, that is a fault, and what cannot be danced is left out.
func Dance(room *floors.Room, c figures.Couple, r *routine.Routine, limits Limits) *Report {
	d := dancer{room: room, couple: c, limits: limits, margin: limits.Margin, bar: 1,
		report: &Report{Room: room, Start: r.Start}, wall: r.Start.Wall, stance: r.Start.Stance}
	if why := noPlace(room, r.Start); why != "" {
		d.fail(Fault{Kind: Room, Words: why})
		return d.report
	}
	d.cell = floors.CellAt(*r.Start.At)
	if r.Stride > 0 {
		d.couple.Stride = r.Stride
	}
	if d.margin < 0 {
		d.margin = room.Margin
	}
	d.begin()
	for i, s := range r.Steps {
		if s.Variant == nil {
			d.fail(Fault{Kind: Limit, Row: i + 1, Bar: d.bar, Line: s.Line, Words: fmt.Sprintf("figure %d is missing", i+1)})
			continue
		}
		d.figure(i+1, s)
	}
	d.end(r)
	return d.report
}

// noPlace says why a couple cannot be put where a routine starts; it is empty
// when it can be, if only to find that there is no floor.
func noPlace(room *floors.Room, s routine.Start) string {
	switch {
	case s.Wall < 0 || s.Wall >= len(room.Walls):
		return fmt.Sprintf("the routine starts along wall %d: the walls are numbered from 1 to %d", s.Wall+1, len(room.Walls))
	case s.At == nil:
		return "no place is given where the routine starts"
	case !(math.Abs(s.At.X) <= farthest && math.Abs(s.At.Y) <= farthest):
		return fmt.Sprintf("the routine starts at (%g, %g), which is no place in a room", s.At.X, s.At.Y)
	}
	return ""
}

// farthest is how far in metres from the origin of its frame a routine may
// start at all.
const farthest = 1000

// begin looks at where the routine starts.
func (d *dancer) begin() {
	p := d.cell.Point()
	switch clear := d.room.Clearance(p); {
	case clear < 0:
		d.fail(Fault{Kind: Room, Words: fmt.Sprintf("the start at %s is not on the floor", place(p))})
	case !d.room.InUse(d.wall, p):
		d.fail(Fault{Kind: Room, Words: fmt.Sprintf("at the start, %s, %s is not the wall in use", place(p), d.wallName(d.wall))})
	}
}

func (d *dancer) fail(f Fault) {
	f.Stance = d.stance
	d.report.faults = append(d.report.faults, f)
}

// figure dances one figure from where the couple is.
func (d *dancer) figure(number int, s routine.Step) {
	take := d.takesNext(s)
	fault := func(kind Kind, words string) {
		d.fail(Fault{Kind: kind, Row: number, Bar: d.bar, Line: s.Line, Figure: s.Variant.Name(), Words: words,
			Could: d.could()})
	}
	cornered := true
	if take {
		if cornered = d.room.InCorner(d.wall, d.cell.Point()); !cornered {
			fault(Room, fmt.Sprintf("the next wall cannot be taken here, %s: the corner is not reached", d.where(d.wall)))
		}
		d.stance = d.stance.Turned(d.room.Walls[d.wall].Eighths)
		d.wall = (d.wall + 1) % len(d.room.Walls)
		d.report.Corners++
	}
	if n := len(d.report.Rows); n > 0 && !take && d.report.Rows[n-1].Variant.Corner {
		fault(Room, fmt.Sprintf("%s is danced at a corner, and the next wall was not taken after it", d.report.Rows[n-1].Variant.Name()))
	}
	joined := true
	for _, why := range graph.WhyNot(d.stance, s.Variant) {
		joined = false
		fault(Kind(why.What), why.String())
	}
	if n := len(d.report.Rows); n > 0 && joined {
		before := d.report.Rows[n-1].Variant
		// As figures are when they are read, joins are tried at the usual stride.
		if why, refused := graph.CannotJoin(before, s.Variant, d.couple.WithStride(figures.UsualStride)); refused {
			fault(Foot, fmt.Sprintf("straight after %s it cannot be danced: on %s", before.Name(), why))
		}
	}
	if !(s.Scale >= leastScale && s.Scale <= mostScale) {
		fault(Limit, fmt.Sprintf("it is to be danced at %g of the stride; %g to %g can be danced", s.Scale, leastScale, mostScale))
		s.Scale = 1
	}
	d.known(s.Variant, fault)
	entry := nearest(d.stance, s.Variant)
	row := d.dance(entry, s)
	row.Number, row.NextWall = number, take
	for _, words := range d.overSteps(row.Danced) {
		fault(Limit, words)
	}
	if n := len(d.report.Rows); n > 0 && joined {
		row.Join = graph.Awkward(d.limits.Follows, d.report.Rows[n-1].Variant, s.Variant)
	}
	if n := len(d.report.Rows); n > 0 {
		row.JoinDifficulty = difficulty.Join(d.limits.Follows, d.report.Rows[n-1].Variant, s.Variant)
	}
	d.stance = entry
	switch off := d.room.Clearance(row.From) < 0; {
	case off && d.off:
		// told already
	case off:
		d.off = true
		fault(Room, "from here on the couple is off the floor; what it runs into is not told any more")
	case row.Clear < d.margin-hair:
		fault(Room, d.touches(&row))
	case cornered && !d.room.InUse(d.wall, row.To):
		fault(Room, fmt.Sprintf("it ends at %s, away from %s, and the next wall was not taken", place(row.To), d.wallName(d.wall)))
	}
	d.add(row)
}

// takesNext decides whether the next wall is taken before a figure.
func (d *dancer) takesNext(s routine.Step) bool {
	switch s.Corner {
	case routine.Stay:
		return false
	case routine.Take:
		return true
	}
	if n := len(d.report.Rows); n > 0 && d.report.Rows[n-1].Variant.Corner {
		return true
	}
	if !d.room.InCorner(d.wall, d.cell.Point()) {
		return false
	}
	here := graph.WhyNot(d.stance, s.Variant) == nil
	after := d.stance.Turned(d.room.Walls[d.wall].Eighths)
	there := graph.WhyNot(after, s.Variant) == nil
	if here && there {
		return !d.fits(d.wall, d.stance, s.Variant)
	}
	return there
}

// fits reports whether a variant danced from here in a stance stays on the floor
// along a wall.
func (d *dancer) fits(wall int, stance figures.Stance, v *figures.Variant) bool {
	at := *d
	at.wall = wall
	row := at.dance(stance, routine.Step{Variant: v, Scale: 1})
	return row.Clear >= d.margin-hair && d.room.InUse(wall, row.To)
}

// nearest is the stance itself where the variant can begin in it, or else the
// entry that differs least.
func nearest(s figures.Stance, v *figures.Variant) figures.Stance {
	best, least := v.Entries[0], math.MaxInt
	for _, e := range v.Entries {
		far := 0
		if e.Free != s.Free {
			far += 8
		}
		if e.Hold != s.Hold {
			far += 4
		}
		turn, _ := (e.Facing.Turn() - s.Facing.Turn()).Within().Abs().Eighths()
		if far += turn; far < least {
			best, least = e, far
		}
	}
	return best
}

// dance lays a variant on the floor.
func (d *dancer) dance(entry figures.Stance, s routine.Step) Row {
	w := &d.room.Walls[d.wall]
	danced := s.Variant.Dance(entry, d.couple.WithStride(d.couple.Stride*s.Scale))
	row := Row{Bar: d.bar, Variant: s.Variant, Scale: s.Scale, Wall: d.wall, From: d.cell.Point(),
		Entry: entry, Exit: danced.Exit, Danced: danced, Clear: math.Inf(1), direction: w.Direction}
	row.To = d.cell.Add(w.Shift(danced.Displacement)).Point()
	for _, disc := range danced.Sweep() {
		p := row.Place(disc.Centre)
		if clear := d.room.Clearance(p) - disc.Radius; clear < row.Clear {
			row.Clear, row.ClearAt = clear, p
		}
	}
	return row
}

// add takes a row into the report and carries the couple on.
func (d *dancer) add(row Row) {
	r := d.report
	r.Rows = append(r.Rows, row)
	if r.Closest == 0 || row.Clear < r.Rows[r.Closest-1].Clear {
		r.Closest = row.Number
	}
	walked := row.Danced.Measures().Walked
	r.Walked[figures.Leader] += walked[figures.Leader]
	r.Walked[figures.Follower] += walked[figures.Follower]
	r.Beats += row.Variant.Beats()
	d.bar += row.Variant.Bars()
	r.Bars = d.bar - 1
	d.cell = floors.CellAt(row.To)
	d.stance = row.Exit
}

// end looks at the routine as a whole.
func (d *dancer) end(r *routine.Routine) {
	rep := d.report
	start := floors.CellAt(*r.Start.At).Point()
	rep.Gap = d.cell.Point().Sub(start).Len()
	corners := d.laps() * len(d.room.Walls)
	rep.Laps = rep.Corners / len(d.room.Walls)
	rep.Closes = rep.Corners == corners && d.stance == r.Start.Stance && rep.Gap <= near+hair
	variants := make([]*figures.Variant, len(rep.Rows))
	for i := range rep.Rows {
		variants[i] = rep.Rows[i].Variant
	}
	rep.Difficulty = difficulty.Routine(d.limits.Follows, variants)
	if n := len(rep.Rows); rep.Closes && n > 0 {
		rep.Rows[0].Join = graph.Awkward(d.limits.Follows, variants[n-1], variants[0])
		rep.Rows[0].JoinDifficulty = difficulty.Join(d.limits.Follows, variants[n-1], variants[0])
		rep.Difficulty = difficulty.Round(d.limits.Follows, variants)
	}
	if n := len(rep.Rows); d.limits.Lap && n > 0 {
		if words := d.hardJoin(variants[n-1], variants[0]); words != "" {
			d.fail(Fault{Kind: Limit, Words: "when it begins again, " + words})
		}
	}
	if d.limits.Lap && !rep.Closes {
		switch laps := d.laps(); {
		case rep.Corners != corners && laps > 1:
			d.fail(Fault{Kind: Room, Words: fmt.Sprintf("the routine takes %d corners; %d laps take %d", rep.Corners, laps, corners)})
		case rep.Corners != corners:
			d.fail(Fault{Kind: Room, Words: fmt.Sprintf("the lap takes %d corners of %d", rep.Corners, corners)})
		case d.stance != r.Start.Stance:
			d.fail(Fault{Kind: Alignment, Words: fmt.Sprintf("the lap ends %s, and began %s", d.stance, r.Start.Stance)})
		default:
			d.fail(Fault{Kind: Room, Words: fmt.Sprintf("the lap ends %.2f m from where it began", rep.Gap)})
		}
	}
	if n := len(rep.Rows); d.limits.Lap && n > 0 && rep.Rows[n-1].Variant.Corner && !rep.Rows[0].NextWall {
		d.fail(Fault{Kind: Room, Words: fmt.Sprintf("the lap ends with %s, which is danced at a corner, and no corner is taken when it begins again",
			rep.Rows[n-1].Variant.Name())})
	}
	d.whole()
}
