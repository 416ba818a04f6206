package answer

import (
	"lapwright/figures"
	"lapwright/search"
	"lapwright/search/check"
	"lapwright/search/routine"
)

// Lap is the answer to a lap that was asked for.
type Lap struct {
	Found   bool     `json:"found"`
	Why     []string `json:"why"` // why there is none, in words
	Asked   Asked    `json:"asked"`
	Room    RoomName `json:"room"`
	Routine *Routine `json:"routine"` // null when there is none
	Cost    *Cost    `json:"cost"`    // null when there is none
	// Laps are several laps that differ, the best first; empty where one was asked
	// for. Spread is null then.
	Laps   []NumberedLap `json:"laps"`
	Spread *Spread       `json:"spread"`
	Search Search        `json:"search"`
}

// Asked is what was asked for.
type Asked struct {
	Dance string   `json:"dance"`
	Class *Class   `json:"class"` // whose figures are the known ones; null where none is named
	Level []string `json:"level"` // empty when any level, or the known figures, would do
	// Style is the one of the levels, social apart unless it was asked for; empty
	// when any would do.
	Style   string   `json:"style"`
	Known   []string `json:"known"`
	Must    []string `json:"must"`
	Without []string `json:"without"`
	Limits
	Time Number `json:"time"` // seconds that the search may take; 0: as many as it needs
	// Count is how many laps, and Within by how many per cent the others may cost
	// more than the best.
	Count   int    `json:"count"`
	Within  Number `json:"within_percent"`
	Start   string `json:"start"` // as it was written; empty when it was to be chosen
	Stride  Number `json:"stride"`
	Tempo   Number `json:"tempo"`
	Margin  Number `json:"margin"`
	Seed    uint64 `json:"seed"`
	Weights Parts  `json:"weights"`
}

// RoomName is which room was danced in.
type RoomName struct {
	Name string `json:"name"`
	File string `json:"file"` // empty for a room that comes with the program
}

// Parts are the named parts of a cost, or their weights.
type Parts struct {
	Bars     Number `json:"bars"`
	Lane     Number `json:"lane"`
	Crowding Number `json:"crowding"`
	Awkward  Number `json:"awkward"`
	Repeat   Number `json:"repeat"`
	Stretch  Number `json:"stretch"`
	Gap      Number `json:"gap"`
}

// NewWeights is the weights that were asked for.
func NewWeights(w search.Weights) Parts {
	return Parts{Number(w.Bars), Number(w.Lane), Number(w.Crowding), Number(w.Awkward), Number(w.Repeat), Number(w.Stretch), Number(w.Gap)}
}

// Cost is what a lap costs, in bars, and how good that is.
type Cost struct {
	Total  Number `json:"total"`
	Parts  Parts  `json:"parts"`
	Bound  Number `json:"bound"`  // no lap costs less
	Proven bool   `json:"proven"` // no lap costs less than this one
	// OverBound is by how many per cent the total is above the bound.
	OverBound Number `json:"over_bound_percent"`
}

// Search is what the search took.
type Search struct {
	Starts    int    `json:"starts"`
	States    uint64 `json:"places_and_stances"`
	Expanded  int    `json:"looked_at"`
	Generated int    `json:"considered"`
	Stopped   bool   `json:"stopped"` // before it was through: there may be better
}

// NewSearch is what a search took.
func NewSearch(r *search.Result) Search {
	return Search{r.Starts, r.States, r.Expanded, r.Generated, r.Stopped}
}

// NewCost is a lap's cost.
func NewCost(l *search.Lap) *Cost {
	p := l.Costs
	c := &Cost{Total: Number(p.Total()), Bound: Number(l.Bound), Proven: l.Proven,
		Parts: Parts{Number(p.Bars), Number(p.Lane), Number(p.Crowding), Number(p.Awkward), Number(p.Repeat), Number(p.Stretch), Number(p.Gap)}}
	if l.Bound > 0 && !l.Proven {
		c.OverBound = Number(100 * (p.Total() - l.Bound) / l.Bound)
	}
	return c
}

// Checked is the answer to a routine that was checked.
type Checked struct {
	Clean   bool     `json:"clean"`
	Faults  []Fault  `json:"faults"`
	Name    string   `json:"name"` // the routine's own; may be empty
	File    string   `json:"file"`
	Room    RoomName `json:"room"`
	Class   *Class   `json:"class"` // that has been taught what may be danced; null where none is named
	Stride  Number   `json:"stride"`
	Margin  Number   `json:"margin"`
	Routine Routine  `json:"routine"`
	Repair  *Repair  `json:"repair"` // null where nothing is to be mended, or none was asked for
}

// Fault is one thing that is wrong with a routine.
type Fault struct {
	Kind   string `json:"kind"`   // alignment, foot, hold, room or limit
	Number int    `json:"number"` // of the figure, from 1; 0 for the routine as a whole
	Bar    int    `json:"bar"`
	Line   int    `json:"line"` // in the routine's file
	Figure string `json:"figure"`
	Words  string `json:"words"`
	// Stance is how the couple stands there.
	Stance Stance `json:"stance"`
	// CouldGo names what could be danced there.
	CouldGo []string `json:"could_go"`
}

// NewFaults are a report's faults.
func NewFaults(rep *check.Report) []Fault {
	all := []Fault{}
	for _, f := range rep.Faults() {
		all = append(all, Fault{string(f.Kind), f.Row, f.Bar, f.Line, f.Figure, f.Words, NewStance(f.Stance), list(f.Could)})
	}
	return all
}

// NewChecked is a routine with its faults.
func NewChecked(rep *check.Report, r *routine.Routine) Checked {
	faults := NewFaults(rep)
	return Checked{Clean: len(faults) == 0, Faults: faults, Name: r.Name, Stride: Number(r.Stride), Routine: NewRoutine(rep, r)}
}

// Names are the names of figures.
func Names(fs []*figures.Figure) []string {
	names := []string{}
	for _, f := range fs {
		names = append(names, f.Name)
	}
	return names
}
