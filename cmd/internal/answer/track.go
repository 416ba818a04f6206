package answer

// Track is the answer to a practice track that was made.
type Track struct {
	File    string   `json:"file"`
	Title   string   `json:"title"`
	Tempo   Number   `json:"tempo"`    // bars a minute
	CountIn int      `json:"count_in"` // bars that are counted before the first figure
	Bars    int      `json:"bars"`     // with those
	Seconds Number   `json:"seconds"`
	Spoken  bool     `json:"spoken"` // the sound file calls the figures
	Faults  []Fault  `json:"faults"` // of the routine
	Written []string `json:"written"`
}
