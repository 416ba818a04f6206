package answer

import (
	"lapwright/search"
	"lapwright/search/check"
	"lapwright/search/routine"
)

// NumberedLap is one of several laps that differ.
type NumberedLap struct {
	Number int `json:"number"` // from 1, the best
	// OverBest is by how many per cent it costs more than the best.
	OverBest Number `json:"over_best_percent"`
	// FromFirst is in how many figures it differs from lap 1.
	FromFirst Number `json:"from_first"`
	// Nearest is the number of the lap that is most like it, 0 where there is no
	// other, and ToNearest in how many figures the two differ.
	Nearest   int     `json:"nearest"`
	ToNearest Number  `json:"to_nearest"`
	Routine   Routine `json:"routine"`
	Cost      *Cost   `json:"cost"`
}

// Spread is how much several laps differ. Distances are counted in figures.
type Spread struct {
	Least        Number `json:"least"` // of any two laps
	Mean         Number `json:"mean"`  // of each two laps
	LeastPercent Number `json:"least_percent"`
	MeanPercent  Number `json:"mean_percent"`
	// Whole tells that the laps were chosen from all there are.
	Whole      bool   `json:"whole"`
	Candidates int    `json:"candidates"` // laps that they were chosen from
	Within     Number `json:"within_percent"`
	// Stopped tells that the search ended before other laps were found.
	Stopped bool `json:"stopped"`
	// Distances holds the distance of each two laps, lap 1 first.
	Distances [][]Number `json:"distances"`
}

// NewSpread is a search's spread.
func NewSpread(s *search.Spread) *Spread {
	out := &Spread{Number(s.Least), Number(s.Mean), Number(100 * s.LeastShare), Number(100 * s.MeanShare),
		s.Whole, s.Candidates, Number(100 * s.Within), s.Stopped, [][]Number{}}
	for _, row := range s.Distances {
		numbers := []Number{}
		for _, d := range row {
			numbers = append(numbers, Number(d))
		}
		out.Distances = append(out.Distances, numbers)
	}
	return out
}

// NewNumberedLap is the lap of a number, from 1, of those that a search found.
func NewNumberedLap(r *search.Result, number int, report *check.Report, danced *routine.Routine) NumberedLap {
	lap, best := r.Laps[number-1], r.Laps[0].Costs.Total()
	out := NumberedLap{Number: number, Routine: NewRoutine(report, danced), Cost: NewCost(lap)}
	if best > 0 {
		out.OverBest = Number(100 * (lap.Costs.Total() - best) / best)
	}
	row := r.Spread.Distances[number-1]
	out.FromFirst = Number(row[0])
	for i, d := range row {
		if i != number-1 && (out.Nearest == 0 || Number(d) < out.ToNearest) {
			out.Nearest, out.ToNearest = i+1, Number(d)
		}
	}
	return out
}
