package answer

import "strconv"

// Varied is the answer to a routine of which variations were asked for.
type Varied struct {
	File       string     `json:"file"`
	Room       RoomName   `json:"room"`
	Class      *Class     `json:"class"` // that has been taught what may come in; null where none is named
	Kept       []Span     `json:"kept"`
	Changes    []Span     `json:"may_change"`
	Tolerance  Number     `json:"tolerance"`
	BarsOff    int        `json:"bars_off"` // how many bars more or fewer a piece may take
	Sort       string     `json:"sort"`     // novelty, difficulty or travel
	Why        string     `json:"why"`      // why there are fewer than were asked for; may be empty
	Was        Routine    `json:"was"`
	Difficulty Number     `json:"difficulty"` // of the routine as it was, in points a bar
	Travel     Number     `json:"travel"`     // of the routine as it was, metres along the line of dance
	Variations []OtherWay `json:"variations"`
}

// Span is bars of a routine, from 1.
type Span struct {
	First int `json:"first"`
	Last  int `json:"last"`
}

// OtherWay is one variation.
type OtherWay struct {
	Novelty    Number        `json:"novelty"`    // share of figures that have changed
	Difficulty Number        `json:"difficulty"` // points a bar
	Travel     Number        `json:"travel"`     // metres along the line of dance
	Off        Number        `json:"off"`        // metres from the end as it was
	Beside     []BesideEntry `json:"beside"`
	Routine    Routine       `json:"routine"`
}

// BesideEntry is what was danced from a bar on, and what is danced now; empty where
// no figure begins in that bar.
type BesideEntry struct {
	Bar     int    `json:"bar"`
	Was     string `json:"was"`
	Now     string `json:"now"`
	Changed bool   `json:"changed"`
}

// Beside puts two routines side by side, bar by bar.
func Beside(was, now *Routine) []BesideEntry {
	all := []BesideEntry{}
	for i, j := 0, 0; i < len(was.Figures) || j < len(now.Figures); {
		b := BesideEntry{}
		left := i < len(was.Figures) && (j == len(now.Figures) || was.Figures[i].Bar <= now.Figures[j].Bar)
		right := j < len(now.Figures) && (i == len(was.Figures) || now.Figures[j].Bar <= was.Figures[i].Bar)
		if left {
			b.Bar, b.Was = was.Figures[i].Bar, scaled(&was.Figures[i])
			i++
		}
		if right {
			b.Bar, b.Now = now.Figures[j].Bar, scaled(&now.Figures[j])
			j++
		}
		b.Changed = b.Was != b.Now
		all = append(all, b)
	}
	return all
}

// scaled is a figure's name, with its scale where that is not 1.
func scaled(f *Figure) string {
	if f.Scale == 1 {
		return f.Name
	}
	return f.Name + " ×" + strconv.FormatFloat(float64(f.Scale), 'f', -1, 64)
}
