package handout

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"lapwright/cmd/internal/answer"
	"lapwright/cmd/internal/wording"
	"lapwright/figures"
	"lapwright/graph"
	"lapwright/search/check"
)

// Remark is something to mind.
type Remark struct {
	Head  string // where: bars, or a figure
	Words string
}

// Limits of what is worth a remark: a clearance in metres, and a share of the stride.
const (
	tight  = 0.25
	strong = 0.1
)

// remarks collects what to mind: the joins that change something, what is tight or
// stretched, and the library's notes.
func (h *Handout) remarks() {
	var joins mentions // the two figures, a line's end, and what is said of them
	for i := range h.Danced {
		before := h.before(i)
		if before == nil {
			continue
		}
		row := &h.Report.Rows[i]
		words := joinWords(before, row, &h.Routine.Figures[i])
		if words == "" {
			continue
		}
		head := before.Variant.Figure.Name + ", then " + row.Variant.Figure.Name
		joins = joins.with(head+"\n"+words, row.Bar)
	}
	for _, m := range joins {
		head, words, _ := strings.Cut(m.words, "\n")
		h.Remarks = append(h.Remarks, Remark{head + " (" + barsWords(m.bars) + ")", words})
	}
	h.places()
	h.notes()
}

// before is what is danced before a row: where the routine closes, the last row comes
// before the first.
func (h *Handout) before(i int) *check.Row {
	switch {
	case i > 0:
		return &h.Report.Rows[i-1]
	case h.Report.Closes && h.Fault == nil && len(h.Report.Rows) > 1:
		return &h.Report.Rows[len(h.Report.Rows)-1]
	}
	return nil
}

// joinWords says what changes at a join; it is empty where there is nothing to mind.
func joinWords(before, row *check.Row, danced *answer.Figure) string {
	var words []string
	if row.NextWall {
		words = append(words, fmt.Sprintf("take the next wall's line of dance at the corner; the couple is then %s", danced.From.Alignment))
	}
	switch hold := row.Entry.Hold; hold {
	case figures.Closed:
	case figures.OutsidePartner, figures.OutsidePartnerLeft:
		words = append(words, "the leader begins "+hold.Words())
	case figures.PartnerOutside:
		words = append(words, "the follower steps outside the leader")
	default:
		words = append(words, "begin in "+hold.Words())
	}
	if row.Join != graph.Easy {
		words = append(words, "awkward, try it out slowly: "+row.Join.String())
	}
	return wording.Sentence(strings.Join(words, "; "))
}

// places are where the floor is tight and where strides are not the usual ones.
func (h *Handout) places() {
	for i := range h.Danced {
		f, row := &h.Routine.Figures[i], &h.Report.Rows[i]
		if row.Clear < tight {
			h.Remarks = append(h.Remarks, Remark{"Bar " + strconv.Itoa(f.Bar) + ", " + f.Figure, fmt.Sprintf("Only %.2f m from %s: keep the frame compact.", row.Clear, wording.The(f.NearestTo))})
		}
	}
	strides := map[float64][]int{}
	for i := range h.Danced {
		if row := &h.Report.Rows[i]; math.Abs(row.Scale-1) > strong/2 {
			strides[row.Scale] = append(strides[row.Scale], row.Bar)
		}
	}
	var words []string
	for _, scale := range slices.Sorted(maps.Keys(strides)) {
		words = append(words, fmt.Sprintf("%.0f %% of the usual in %s", 100*scale, barsWords(strides[scale])))
	}
	if len(words) > 0 {
		h.Remarks = append(h.Remarks, Remark{"Strides", wording.Sentence(strings.Join(words, "; ") + ": so the lap fits the room")})
	}
}

// notes are the library's teaching notes for the figures.
func (h *Handout) notes() {
	said := map[string]bool{}
	for i := range h.Danced {
		f := h.Report.Rows[i].Variant.Figure
		if f.Note != "" && !said[f.Name] {
			said[f.Name] = true
			h.Remarks = append(h.Remarks, Remark{f.Name, wording.Sentence(f.Note)})
		}
	}
}

// barsWords names bars: "bar 3", "bars 3, 7 and 12".
func barsWords(bars []int) string {
	if len(bars) == 1 {
		return "bar " + strconv.Itoa(bars[0])
	}
	words := make([]string, len(bars))
	for i, bar := range bars {
		words[i] = strconv.Itoa(bar)
	}
	return "bars " + strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}
