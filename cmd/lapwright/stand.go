package main

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"lapwright/cmd/internal/answer"
	"lapwright/cmd/internal/wording"
	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search"
	"lapwright/search/check"
	"lapwright/search/routine"
)

// standFlags say where a couple stands and what it dances.
type standFlags struct {
	Room           string `placeholder:"NAME|FILE" help:"The room: studio, village hall, ballroom, clubroom, or a room's file (village hall, or that of the routine)."`
	From           string `group:"Where the couple is:" placeholder:"STANCE" help:"Alignment, free foot, hold, and the place and the wall if you like: \"DC, LF, closed at 9,1.5 wall 1\" (diagonal to wall, right foot free, closed, just out of the first corner)."`
	After          string `group:"Where the couple is:" placeholder:"FILE" help:"After some bars of this routine."`
	Bar            string `group:"Where the couple is:" placeholder:"N" help:"After this bar of the routine; 0 is its beginning (its end)."`
	Stretch        bool   `group:"Floor:" help:"Let the couple reach or hold back: 0.8 to 1.1 of the stride."`
	repertoryFlags `embed:"" set:"level_help=Levels of the figures: social, bronze, silver or gold, several with commas between, or all (bronze, or up to the highest of the routine)."`
	Stride         string `group:"Floor:" placeholder:"STRIDE" help:"How far the couple travels in a step: usual (0.65 m), social (0.55), crowded (0.45) or metres."`
	Hardest        string `group:"Figures:" placeholder:"POINTS" help:"No figure harder than so many points a bar, and no join harder than so many points; lapwright figures shows how hard each is."`
	Margin         string `group:"Floor:" placeholder:"METRES" help:"Floor to be kept free between the couple and walls or obstacles (the room's own)."`
}

// stand is where a couple stands, with what it dances there.
type stand struct {
	room      chosenRoom
	repertory *repertory
	problem   search.Problem
	start     routine.Start
	before    *figures.Variant // danced just before; nil at the beginning
	words     string           // where that is, where a routine tells
	routine   *checked         // that is danced; nil where none is named
	danced    int              // figures of it that have been danced
	states    *search.States
	at        search.State
}

// stand finds where the couple stands, with the states of the room.
func (f *standFlags) stand(s *session) (*stand, error) {
	q, err := f.place(s)
	if err != nil {
		return nil, err
	}
	if err = q.offFloor(); err != nil {
		return nil, err
	}
	if q.states, err = search.NewStates(&q.problem); err != nil {
		return nil, err
	}
	q.at, err = q.states.After(q.start, q.before)
	if errors.Is(err, search.ErrNothingBegins) {
		return nil, q.nothingBegins()
	}
	return q, err
}

// place finds where the couple stands.
func (f *standFlags) place(s *session) (*stand, error) {
	var q stand
	var err error
	q.problem = search.Problem{Couple: figures.DefaultCouple(), Margin: -1, Scales: []search.Scale{{Share: 1}}}
	if f.Stretch {
		q.problem.Scales = search.DefaultScales
	}
	usual := string(figures.Bronze)
	switch {
	case f.After == "" && f.Bar != "":
		return nil, errors.New("--bar counts the bars of a routine: name its file with --after")
	case f.After != "" && f.From != "":
		return nil, errors.New("--after and --from contradict each other: give one of them")
	case f.After != "":
		checked, err := f.after(s, &q)
		if err != nil {
			return nil, err
		}
		usual = highest(checked.file.Steps)
	}
	if q.repertory, err = f.repertoryFlags.choose(usual); err != nil {
		return nil, err
	}
	if q.room.Room == nil {
		class := q.repertory.class
		if q.room, err = class.room(f.Room); err != nil {
			return nil, err
		}
		q.problem.Couple.Stride = class.stride(q.problem.Couple.Stride)
		if err = f.from(&q); err != nil {
			return nil, err
		}
	}
	if f.Stride != "" {
		if q.problem.Couple.Stride, err = stride(f.Stride); err != nil {
			return nil, err
		}
	}
	if f.Margin != "" {
		if q.problem.Margin, err = margin(f.Margin); err != nil {
			return nil, err
		}
	}
	q.problem.Room, q.problem.Variants, q.problem.Follows = q.room.Room, q.repertory.variants, q.repertory.library.Follows()
	if f.Hardest != "" {
		if q.problem.Limits.Hardest, err = number("hardest", f.Hardest, "points", leastPoints, mostPoints); err != nil {
			return nil, err
		}
	}
	return &q, nil
}

// from reads the stance and the place that are given.
func (f *standFlags) from(q *stand) error {
	q.start = search.DefaultStart(q.room.Room, 0)
	if f.From == "" {
		return nil
	}
	given, err := startOf("from", f.From, q.room.Room)
	if err != nil {
		return err
	}
	q.start = *given
	if q.start.At == nil {
		q.start.At = search.DefaultStart(q.room.Room, q.start.Wall).At
	}
	return nil
}

// after dances a routine as far as the bar.
func (f *standFlags) after(s *session, q *stand) (*checked, error) {
	read := checkCommand{File: f.After, Room: f.Room, repertoryFlags: f.repertoryFlags}
	read.Level, read.Style, read.Known, read.Without, read.classFlags = "all", "", nil, nil, classFlags{}
	read.Stride, read.Margin = f.Stride, f.Margin
	class, err := f.classOf()
	if err != nil {
		return nil, err
	}
	c, err := read.check(s.ctx, class)
	if err != nil {
		return nil, err
	}
	rows := c.report.Rows
	bar := c.report.Bars
	if f.Bar != "" {
		if bar, err = whole("bar", f.Bar, "bars of the routine", 0, c.report.Bars); err != nil {
			return nil, err
		}
	}
	n := 0 // figures danced
	for n < len(rows) && rows[n].Bar+rows[n].Variant.Bars()-1 <= bar {
		n++
	}
	if n < len(rows) && rows[n].Bar <= bar {
		return nil, fmt.Errorf("--bar %d is in the middle of %s, which begins in bar %d and ends with bar %d: give bar %d or %d",
			bar, rows[n].Variant.Name(), rows[n].Bar, rows[n].Bar+rows[n].Variant.Bars()-1, rows[n].Bar-1, rows[n].Bar+rows[n].Variant.Bars()-1)
	}
	for _, fault := range c.report.Faults() {
		if fault.Row > 0 && fault.Row <= n && fault.Kind != check.Limit {
			return nil, fmt.Errorf("where the couple stands after bar %d of %s is not known, for the routine has a fault before that; lapwright check %s tells them all. The first: %s", bar, f.After, f.After, fault)
		}
	}
	q.routine, q.danced = c, n
	q.room, q.start = c.room, c.file.Start
	q.problem.Couple, q.problem.Margin = q.problem.Couple.WithStride(c.file.Stride), c.file.Margin
	q.words = fmt.Sprintf("at the beginning of %s", c.title())
	if n > 0 {
		last := &rows[n-1]
		to := last.To
		q.start, q.before = routine.Start{Wall: last.Wall, At: &to, Stance: last.Exit}, last.Variant
		q.words = fmt.Sprintf("after bar %d of %s, %s", last.Bar+last.Variant.Bars()-1, c.title(), last.Variant.Name())
	}
	return c, nil
}

// offFloor says why no couple can stand at the place.
func (q *stand) offFloor() error {
	at := floors.CellAt(*q.start.At).Point()
	room, w := q.room.Room, &q.room.Walls[q.start.Wall]
	_, across := w.Locate(at)
	where := fmt.Sprintf("no couple can stand at %.2f, %.2f: ", q.start.At.X, q.start.At.Y)
	clear := room.Clearance(at)
	for i := range room.Obstacles {
		if room.Obstacles[i].Gap(at) <= 0 {
			return errors.New(where + "that is in " + wording.The(answer.ObstacleName(room, i)))
		}
	}
	switch {
	case clear < 0:
		return errors.New(where + "that is outside " + room.Name)
	case clear < search.LeastClear:
		return fmt.Errorf("%sthat is %.2f m from %s, and the bodies alone take %.2f m", where, clear, wording.The(answer.Nearest(room, at)), search.LeastClear)
	case room.InUse(q.start.Wall, at) || room.InCorner(q.start.Wall, at):
		return nil
	case len(room.WallsAt(at)) > 0:
		return fmt.Errorf("a couple at %.2f, %.2f does not dance along %s: the line of dance there is that of %s", at.X, at.Y, wording.The(w.Name), wording.The(room.Walls[room.WallsAt(at)[0]].Name))
	case across > w.Reach:
		return fmt.Errorf("a couple at %.2f, %.2f is %.1f m from %s, in the middle of the room, where no line of dance leads on: that of %s reaches as far as %.1f m",
			at.X, at.Y, across, wording.The(w.Name), wording.The(w.Name), w.Reach)
	}
	return fmt.Errorf("a couple at %.2f, %.2f is where no line of dance leads on", at.X, at.Y)
}

// mostStances is how many stances are named in which figures begin.
const mostStances = 8

// nothingBegins says that none of the figures can be danced from a stance, and from which
// they can: those first that have the same foot free, and among them the same hold.
func (q *stand) nothingBegins() error {
	var begin []figures.Stance
	for _, v := range q.repertory.variants {
		for _, e := range v.Entries {
			if !slices.Contains(begin, e) {
				begin = append(begin, e)
			}
		}
	}
	far := func(e figures.Stance) (n int) {
		if e.Free != q.start.Stance.Free {
			n += 2
		}
		if e.Hold != q.start.Stance.Hold {
			n++
		}
		return n
	}
	slices.SortFunc(begin, func(a, b figures.Stance) int {
		return cmp.Or(cmp.Compare(far(a), far(b)), cmp.Compare(a.Short(), b.Short()))
	})
	var words []string
	for i, e := range begin {
		if i == mostStances {
			words = append(words, fmt.Sprintf("%d more", len(begin)-i))
			break
		}
		words = append(words, e.Short())
	}
	return fmt.Errorf("none of the figures can be danced by a couple %s, along a wall or round a corner; they begin %s", q.start.Stance, and(words))
}

// where says where the couple stands, in a line.
func (q *stand) where() string {
	w := &q.room.Walls[q.start.Wall]
	along, across := w.Locate(*q.start.At)
	words := fmt.Sprintf("%s, at %.2f, %.2f: %.1f m along %s, %.1f m from it", q.start.Stance, q.start.At.X, q.start.At.Y, along, wording.The(w.Name), across)
	if q.words != "" {
		words += " – " + q.words
	}
	return words
}

// heading is what is danced, in a few words.
func (q *stand) heading() string {
	how := "at the usual stride"
	if len(q.problem.Scales) > 1 {
		how = "reaching or holding back"
	}
	return fmt.Sprintf("%s, %s, stride %g m, %s", q.repertory.dance, q.repertory.words(), q.problem.Couple.Stride, how)
}

// answer is where the couple stands, for the answers that begin with it.
func (q *stand) answer() answer.Stand {
	a := answer.Stand{Room: q.room.name, Class: q.repertory.class.answer(), Stands: answer.NewStand(q.start),
		Stride: answer.Number(q.problem.Couple.Stride), Stretch: len(q.problem.Scales) > 1}
	if q.before != nil {
		a.Danced = q.before.Name()
	}
	return a
}
