package answer

// Sheets is the answer to sheets that were made.
type Sheets struct {
	Paper    string   `json:"paper"`
	Cards    bool     `json:"cards"` // a card for each routine, not a handout
	Routines []Sheet  `json:"routines"`
	Written  []string `json:"written"`
}

// Sheet is a routine on a sheet.
type Sheet struct {
	File    string `json:"file"`
	Title   string `json:"title"`
	Bars    int    `json:"bars"`
	Figures int    `json:"figures"`
	// Drawn is how many figures are drawn: all, or those before the first fault.
	Drawn  int     `json:"drawn"`
	Faults []Fault `json:"faults"`
}

// Faulty tells whether any of the routines has a fault.
func (s *Sheets) Faulty() bool {
	for i := range s.Routines {
		if len(s.Routines[i].Faults) > 0 {
			return true
		}
	}
	return false
}
