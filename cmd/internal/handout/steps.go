package handout

import (
	"fmt"
	"strconv"
	"strings"

	"lapwright/cmd/internal/answer"
	"lapwright/cmd/internal/wording"
	"lapwright/figures"
	"lapwright/search/check"
)

// FigureSteps is a figure with both dancers' steps, as it is first danced.
type FigureSteps struct {
	Name   string
	Counts string
	Bars   []int    // in which it begins
	Begins string   // the stance
	Ends   string   // the stance
	Also   []string // from which other alignments it is danced
	// Tables are the leader's steps and the follower's.
	Tables [2]StepTable
}

// StepTable is one dancer's steps. Columns of which nothing is known are left out.
type StepTable struct {
	Who     string
	Columns []string
	Rows    [][]string
}

// figures collects the figures that are danced, each once.
func (h *Handout) figures() {
	at := map[*figures.Variant]int{}
	first := map[*figures.Variant]*check.Row{}
	also := map[int]mentions{}
	for i := range h.Danced {
		row := &h.Report.Rows[i]
		k, known := at[row.Variant]
		if !known {
			k = len(h.Figures)
			at[row.Variant], first[row.Variant] = k, row
			h.Figures = append(h.Figures, figureSteps(row, &h.Routine.Figures[i]))
		}
		f := &h.Figures[k]
		f.Bars = append(f.Bars, row.Bar)
		if words := otherwise(first[row.Variant], row, &h.Routine.Figures[i]); words != "" {
			also[k] = also[k].with(words, row.Bar)
		}
	}
	for k, ways := range also {
		for _, m := range ways {
			h.Figures[k].Also = append(h.Figures[k].Also, barsWords(m.bars)+": "+m.words)
		}
	}
}

// mention is something that is said of bars.
type mention struct {
	words string
	bars  []int
}

// mentions are in the order in which they first came up.
type mentions []mention

// with adds a bar of which these words are said.
func (m mentions) with(words string, bar int) mentions {
	for i := range m {
		if m[i].words == words {
			m[i].bars = append(m[i].bars, bar)
			return m
		}
	}
	return append(m, mention{words, []int{bar}})
}

// otherwise says how a figure is danced from another stance than where it was first
// danced; it is empty where the stance is the same.
func otherwise(first, row *check.Row, danced *answer.Figure) string {
	if row.Entry == first.Entry {
		return ""
	}
	words := "begins " + stood(&danced.From)
	if turn := row.Entry.Facing.Turn() - first.Entry.Facing.Turn(); turn != 0 {
		words += fmt.Sprintf("; all alignments are then %s further to the %s", turn.Within().Abs().Amount(), map[bool]string{true: "left", false: "right"}[turn.Within() > 0])
	}
	return words
}

// stood is how the couple stands at the beginning or the end of a figure.
func stood(p *answer.Place) string { return stance(p.Alignment, p.FreeFoot, p.Hold) }

// stance says how a couple stands.
func stance(alignment, foot, hold string) string {
	return fmt.Sprintf("%s, %s free, %s", alignment, foot, wording.Hold(hold))
}

// about are lines about a figure.
func (f *FigureSteps) about() []string {
	lines := []string{"Begins " + f.Begins + ". Ends " + f.Ends + ".", wording.Sentence("danced in " + barsWords(f.Bars) + ", counted " + f.Counts)}
	for _, also := range f.Also {
		lines = append(lines, wording.Sentence(also))
	}
	return lines
}

// Shortened explains the short forms of the step tables (those of the technique books).
const Shortened = "The steps are numbered from the first that is danced, bars from the beginning of the figure. Footwork: H heel, T toe, W whole foot, IE inside edge, in the order in which they meet the floor. CBM: contra body movement, CBMP: its position."

func figureSteps(row *check.Row, danced *answer.Figure) FigureSteps {
	v := row.Variant
	f := FigureSteps{Name: v.Name(), Counts: figures.CountWords(v.Steps, v.Figure.Beats), Begins: stood(&danced.From), Ends: stood(&danced.To)}
	steps := answer.NewSteps(row.Danced)
	for who := range f.Tables {
		f.Tables[who] = stepTable(figures.Dancer(who), steps, float64(v.Figure.Beats))
	}
	return f
}

// stepTable is the table of one dancer's steps; a bar has so many beats.
func stepTable(who figures.Dancer, steps []answer.StepOfBook, beats float64) StepTable {
	t := StepTable{Who: "Leader", Columns: []string{"Step", "Bar", "Count", "Foot", "Direction", "Alignment", "Turn", "Hold", "Footwork", "Sway", "Rise and fall"}}
	if who == figures.Follower {
		t.Who = "Follower"
	}
	beat, last := 0.0, 0
	for i := range steps {
		s := &steps[i]
		fall, rise := s.Leader, s.Rise.Leader
		if who == figures.Follower {
			fall, rise = s.Follower, s.Rise.Follower
		}
		bar := ""
		if n := int(beat/beats+1e-9) + 1; n != last {
			bar, last = strconv.Itoa(n), n
		}
		beat += float64(s.Beats)
		row := []string{strconv.Itoa(i + 1), bar, s.Count, "", "stands", "", "", s.Hold, "", "", rise}
		if fall != nil {
			row = []string{strconv.Itoa(i + 1), bar, s.Count, footWords(fall), directionWords(fall), fall.Alignment, turnWords(fall), s.Hold, fall.Footwork, fall.Sway, rise}
		}
		t.Rows = append(t.Rows, row)
	}
	t.dropEmpty("Turn", "Footwork", "Sway", "Rise and fall")
	return t
}

func footWords(fall *answer.DancerStep) string {
	switch fall.Foot {
	case figures.LeftFoot.String():
		return "left"
	case figures.RightFoot.String():
		return "right"
	}
	return fall.Foot
}

// directionWords is where the foot goes, with what makes it a step of its own kind.
func directionWords(fall *answer.DancerStep) string {
	words := fall.Direction
	if fall.HeelTurn && !strings.Contains(words, "heel turn") {
		words += ", heel turn"
	}
	if !fall.Weight && !strings.Contains(words, "weight") {
		words += ", without weight"
	}
	if body := fall.BodyMovement(); body != "" {
		words += " (" + body + ")"
	}
	return words
}

func turnWords(fall *answer.DancerStep) string {
	if fall.Alone != "" {
		return fall.Turn + ", alone " + fall.Alone
	}
	return fall.Turn
}

// dropEmpty leaves out columns without a word in them.
func (t *StepTable) dropEmpty(names ...string) {
	for _, name := range names {
		for k := range t.Columns {
			if t.Columns[k] != name {
				continue
			}
			said := false
			for _, row := range t.Rows {
				said = said || row[k] != ""
			}
			if said {
				break
			}
			t.Columns = append(t.Columns[:k:k], t.Columns[k+1:]...)
			for i, row := range t.Rows {
				t.Rows[i] = append(row[:k:k], row[k+1:]...)
			}
			break
		}
	}
}
