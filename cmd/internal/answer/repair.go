package answer

import (
	"lapwright/search/check"
	"lapwright/search/repair"
	"lapwright/search/routine"
)

// Repair is how a routine can be mended.
type Repair struct {
	// Changes is how many changes there are at the least: figures put in, put in place
	// of others, and left out. Found tells that so many are enough; else no repair was
	// found, and Why says more.
	Changes int    `json:"changes"`
	Found   bool   `json:"found"`
	Why     string `json:"why"`
	// Nearest is the nearest place where the routine could begin, where it is its start
	// that has to be mended first; null elsewhere.
	Nearest *Point `json:"nearest_start"`
	ComesIn string `json:"comes_in"` // which figures may
	// Order says how the ways are ordered. All tells that no way with as few changes was
	// passed over that would come before one of them, or that would be among them if more
	// were asked for than there are.
	Order string   `json:"order"`
	All   bool     `json:"all"`
	Ways  []Mended `json:"ways"`
}

// Mended is one repair of a routine.
type Mended struct {
	Number     int `json:"number"` // from 1
	PutIn      int `json:"put_in"` // figures
	PutInPlace int `json:"put_in_place"`
	LeftOut    int `json:"left_out"`
	// Adjusted is how often a figure that stays is danced at another share of the stride
	// or along another wall than its file says.
	Adjusted int           `json:"adjusted"`
	Beside   []MendedEntry `json:"beside"` // in the order of the dance
	// Remaining are the faults that are left: limits that are not mended.
	Remaining []Fault `json:"remaining"`
	Routine   Routine `json:"routine"`
}

// MendedEntry is a figure before and after.
type MendedEntry struct {
	WasBar int    `json:"was_bar"` // from 1; 0 where a figure was put in
	Was    string `json:"was"`     // empty as for WasBar
	Line   int    `json:"line"`    // in the file; 0 as for WasBar
	NowBar int    `json:"now_bar"` // 0 where a figure was left out
	Now    string `json:"now"`
	Done   string `json:"done"` // stays, put in, put in place, left out
	// WasScale and NowScale are shares of the stride; 0 as for WasBar and NowBar.
	WasScale Number `json:"was_scale"`
	NowScale Number `json:"now_scale"`
	NowWall  bool   `json:"takes_next_wall"`
	// WallChanged tells that the figure stays and is danced along another wall than its
	// file says, or than it was where its file says nothing.
	WallChanged bool `json:"wall_changed"`
}

// done are the words for what is done with a figure.
var done = map[repair.What]string{repair.Stays: "stays", repair.PutIn: "put in", repair.PutInPlace: "put in place", repair.LeftOut: "left out"}

// NewMended is a repair as the checker danced it, beside the routine as it was.
func NewMended(number int, was *Routine, lines []routine.Step, w *repair.Way, rep *check.Report, r *routine.Routine) Mended {
	m := Mended{Number: number, Adjusted: w.Adjusted, Beside: []MendedEntry{}, Remaining: NewFaults(rep), Routine: NewRoutine(rep, r)}
	for _, c := range w.Changes {
		e := MendedEntry{Done: done[c.What]}
		if c.Was >= 0 {
			f := &was.Figures[c.Was]
			e.WasBar, e.Was, e.WasScale, e.Line = f.Bar, f.Name, f.Scale, lines[c.Was].Line
		}
		if c.Now >= 0 {
			f := &m.Routine.Figures[c.Now]
			e.NowBar, e.Now, e.NowScale, e.NowWall = f.Bar, f.Name, f.Scale, f.TakesNextWall
		}
		if c.What == repair.Stays {
			e.WallChanged = c.Corner || was.Figures[c.Was].TakesNextWall != e.NowWall
		}
		switch c.What {
		case repair.PutIn:
			m.PutIn++
		case repair.PutInPlace:
			m.PutInPlace++
		case repair.LeftOut:
			m.LeftOut++
		}
		m.Beside = append(m.Beside, e)
	}
	return m
}
