package answer

import (
	"lapwright/figures"
	"lapwright/graph/difficulty"
	"lapwright/search/teach"
	"math"
)

// Smallest is the answer to which figures are enough to get right round a room.
type Smallest struct {
	Room     RoomName `json:"room"`
	Stride   Number   `json:"stride"`
	Dance    string   `json:"dance"`
	Levels   []string `json:"levels"`
	Style    string   `json:"style"`
	LookedAt int      `json:"figures_looked_at"`
	Lists    []Sets   `json:"lists"`
}

// Sets are all the sets of at most so many figures of which nothing can be left out.
type Sets struct {
	// BothWays tells that the couple turns to the right and to the left.
	BothWays bool `json:"both_ways"`
	// TurnsAndLink tells that only sets of one right turn, one left turn and at most one
	// link are listed.
	TurnsAndLink bool   `json:"right_left_and_link"`
	Most         int    `json:"most_figures"`
	Tried        int    `json:"tried_on_the_floor"` // the others follow from these or from the stances
	Order        string `json:"order"`
	Sets         []Set  `json:"sets"`
}

// Set is a set of figures that gets a couple right round.
type Set struct {
	Figures []string `json:"figures"` // those that turn right, those that turn left, links
	Right   []string `json:"right_turns"`
	Left    []string `json:"left_turns"`
	Links   []string `json:"links"` // figures that do not turn, as they usually are danced
	Hardest Number   `json:"hardest"`
	Sum     Number   `json:"difficulty_sum"`
}

// NewSet sorts figures by how they turn as they usually are danced. Their difficulty, in
// points a bar, is that of the usual way too.
func NewSet(all []*figures.Figure) Set {
	s := Set{Figures: []string{}, Right: []string{}, Left: []string{}, Links: []string{}}
	for _, f := range all {
		v := f.Variants[0]
		switch {
		case v.TurnsRight():
			s.Right = append(s.Right, f.Name)
		case v.TurnsLeft():
			s.Left = append(s.Left, f.Name)
		default:
			s.Links = append(s.Links, f.Name)
		}
		points := Number(difficulty.Figure(v).Total())
		s.Hardest = max(s.Hardest, points)
		s.Sum += points
	}
	s.Figures = append(append(append(s.Figures, s.Right...), s.Left...), s.Links...)
	return s
}

// TeachNext is the answer to which figure to teach next.
type TeachNext struct {
	Room    RoomName `json:"room"`
	Class   *Class   `json:"class"`
	Stride  Number   `json:"stride"`
	Stretch bool     `json:"stretch"`
	Dance   string   `json:"dance"`
	Known   []string `json:"known"`
	Levels  []string `json:"levels"` // of what may be taught
	Style   string   `json:"style"`
	Order   string   `json:"order"`
	// CountedBars is the most bars of the laps that are counted; 0: none are.
	CountedBars int      `json:"counted_bars"`
	Before      ClassCan `json:"before"`
	// BeforeStretched tells that the class does not get round at the usual stride, but
	// does reaching or holding back.
	BeforeStretched bool        `json:"gets_round_stretched"`
	Figures         []TeachGain `json:"figures"`
	// Apart are the figures that join nothing that is known, before or after.
	Apart []string `json:"join_nothing_known"`
}

// ClassCan is what a class can do with what it knows.
type ClassCan struct {
	GetsRound bool `json:"gets_round"`
	// Rate is the growth rate of the number of routines in doublings a bar; null where
	// no routine goes on for ever.
	Rate     *Number  `json:"growth_rate"`
	DeadEnds []Stance `json:"dead_ends"`
	// OnFloor tells that what follows was found; it is for the first figures only.
	OnFloor bool `json:"on_floor"`
	// Endless is the share of the places and stances in which the figures known before
	// end from which dancing can go on for ever.
	Endless  Number `json:"endless_share"`
	Shortest int    `json:"shortest_lap_bars"` // 0: none
	Laps     uint64 `json:"laps"`
	LapsOver bool   `json:"laps_too_many"`

	// Ends are the dead ends as tables write them.
	Ends []string `json:"-"`
}

// TeachGain is what a figure opens.
type TeachGain struct {
	Figure     string     `json:"figure"`
	Difficulty Difficulty `json:"difficulty"` // of its usual way
	Opens      string     `json:"opens"`      // round, turns, stance or choice
	Words      string     `json:"words"`
	After      ClassCan   `json:"after"`
	Follows    []string   `json:"after_known"`  // known figures after which it can be danced
	Leads      []string   `json:"before_known"` // known figures that can follow it
}

// NewClassCan are the measures of a class.
func NewClassCan(m *teach.Measures) ClassCan {
	c := ClassCan{GetsRound: m.Round, DeadEnds: stances(m.DeadEnds), OnFloor: m.OnFloor, Shortest: m.Shortest, Laps: m.Laps, LapsOver: m.LapsOver}
	if !math.IsInf(m.Bits, 0) {
		bits := Number(m.Bits)
		c.Rate = &bits
	}
	if m.States > 0 {
		c.Endless = Number(float64(m.Endless) / float64(m.States))
	}
	for _, s := range m.DeadEnds {
		c.Ends = append(c.Ends, s.Short())
	}
	return c
}

// NewTeachGain is what a figure opens, in the words that say it.
func NewTeachGain(g *teach.Gain, words string) TeachGain {
	return TeachGain{Figure: g.Item.Figure.Name, Difficulty: NewDifficulty(difficulty.Figure(g.Item.Variants[0])),
		Opens: [...]string{"round", "turns", "stance", "choice"}[g.Opens], Words: words, After: NewClassCan(&g.After),
		Follows: Names(g.Follows), Leads: Names(g.Leads)}
}

// Course is the answer to what to teach week by week.
type Course struct {
	Room    RoomName     `json:"room"`
	Class   *Class       `json:"class"`
	Stride  Number       `json:"stride"`
	Dance   string       `json:"dance"`
	Known   []string     `json:"known"` // before the course
	Levels  []string     `json:"levels"`
	Style   string       `json:"style"`
	Asked   int          `json:"weeks_asked"`
	PerWeek int          `json:"figures_a_week"`
	Order   string       `json:"order"`
	Weeks   []CourseWeek `json:"weeks"`
}

// CourseWeek is one week of a course.
type CourseWeek struct {
	Week  int            `json:"week"` // from 1
	Teach []CourseFigure `json:"teach"`
	// Rate is the growth rate of the routines of all that is known then, in doublings a
	// bar.
	Rate Number `json:"growth_rate"`
	// Lap is the practice lap: it dances every figure of the week.
	Lap Routine `json:"practice_lap"`
}

// CourseFigure is a figure that is taught, with what it joins of what is known then.
type CourseFigure struct {
	Figure     string     `json:"figure"`
	Difficulty Difficulty `json:"difficulty"`
	Follows    []string   `json:"after"`
	Leads      []string   `json:"before"`
}

// NewCourseFigure is a figure with what is danced before and after it.
func NewCourseFigure(it teach.Item, follows, leads []*figures.Figure) CourseFigure {
	return CourseFigure{it.Figure.Name, NewDifficulty(difficulty.Figure(it.Figure.Variants[0])), Names(follows), Names(leads)}
}
