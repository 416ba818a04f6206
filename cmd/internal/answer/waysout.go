package answer

import (
	"lapwright/search"
	"lapwright/search/wayout"
)

// WaysOut is the answer to how a couple gets out of a spot.
type WaysOut struct {
	Stand
	// StandsWell tells that the couple is in the lane in a good stance already.
	StandsWell bool `json:"stands_well"`
	// Near is how far from the middle of the lane a way back may end, and how far from
	// its beginning a way of waiting may.
	Near Number `json:"near"`
	// Passing is how much free floor another couple needs to pass, without the margin
	// to walls and obstacles.
	Passing Number `json:"passing_room"`
	Margin  Number `json:"margin"`
	// Back are ways back to the lane, of BackBars bars at the most, Wait ways of waiting
	// of WaitBars at the most. BackFound and WaitFound are how many there are, of which
	// so many are left out as were not asked for.
	BackBars  int      `json:"back_bars"`
	BackOrder string   `json:"back_order"`
	BackFound int      `json:"back_found"`
	Why       string   `json:"why"` // why there is no way back; empty where there is one
	Back      []WayOut `json:"back"`
	WaitBars  int      `json:"wait_bars"`
	WaitOrder string   `json:"wait_order"`
	WaitFound int      `json:"wait_found"`
	Wait      []WayOut `json:"wait"`
}

// WayOut is a chain of figures out of a spot.
type WayOut struct {
	Figures []OutFigure `json:"figures"`
	Bars    int         `json:"bars"`
	Ends    Place       `json:"ends"`
	// OffLane is how far from the middle of the lane it ends, in metres, positive
	// towards the centre; Off how far from where it began.
	OffLane Number `json:"off_lane"`
	Off     Number `json:"off"`
	// Clearance is the least distance to a wall or an obstacle on the way.
	Clearance Number    `json:"clearance"`
	Floor     FloorUsed `json:"floor"`
	// FreeWall and FreeCentre are how much floor is free straight across on either side,
	// PassesWall and PassesCentre whether another couple can pass there.
	FreeWall     Number `json:"free_wall"`
	FreeCentre   Number `json:"free_centre"`
	PassesWall   bool   `json:"passes_wall"`
	PassesCentre bool   `json:"passes_centre"`
}

// OutFigure is a figure of a way out.
type OutFigure struct {
	Name          string `json:"name"`
	Figure        string `json:"figure"`
	TakesNextWall bool   `json:"takes_next_wall"`
	Bars          int    `json:"bars"`
	Scale         Number `json:"scale"`
}

// FloorUsed is the floor that both dancers take, in metres from where the couple's centre
// was at the beginning, along the wall in use there and across it.
type FloorUsed struct {
	Along  Number `json:"along"`
	Across Number `json:"across"`
	Back   Number `json:"back"`
	Ahead  Number `json:"ahead"`
	Wall   Number `json:"to_wall"`
	Centre Number `json:"to_centre"`
}

// NewWayOut is a way from a state, with the clearance that the checker found.
func NewWayOut(states *search.States, from search.State, w *wayout.Way, free wayout.Free, clearance, margin float64) WayOut {
	wall := &states.Room().Walls[w.Ends.Wall]
	_, across := wall.Locate(w.Ends.At())
	o := WayOut{Bars: w.Bars, Ends: standing(w.Ends, w.Moves[len(w.Moves)-1].Variant), OffLane: Number(across - wall.Lane), Off: Number(w.Ends.At().Sub(states.Standing(from).At()).Len()), Clearance: Number(clearance),
		Floor:    FloorUsed{Number(w.Floor.Along()), Number(w.Floor.Across()), Number(w.Floor.Back), Number(w.Floor.Ahead), Number(w.Floor.Wall), Number(w.Floor.Centre)},
		FreeWall: Number(free.Wall), FreeCentre: Number(free.Centre), PassesWall: free.PassesWall(margin), PassesCentre: free.PassesCentre(margin)}
	for _, m := range w.Moves {
		o.Figures = append(o.Figures, OutFigure{m.Variant.Name(), m.Variant.Figure.Name, m.Turns, m.Bars, Number(m.Scale)})
	}
	return o
}
