package handout

import (
	"fmt"
	"math"
	"strings"

	"lapwright/cmd/internal/sheet"
	"lapwright/cmd/internal/wording"
)

// PDF sets the handout on paper.
func (h *Handout) PDF(paper Paper) ([]byte, error) {
	p := newPress(paper, h.Title, strings.Join(h.Facts(), ". "), h.Date)
	h.floors(p)
	h.callSheet(p)
	h.stepTables(p)
	h.mind(p)
	h.end(p)
	return p.done()
}

// heading begins a part of the handout; it is not left alone at the foot of a page.
func (p *press) heading(words string, with float64) {
	if !p.need(12+with) && p.y > margin+8 {
		p.y += 4
	}
	p.line(margin, 15, bold, dark, words)
	p.y += 1
}

// Floor is the drawing of the floor by itself, as SVG.
func (h *Handout) Floor(title sheet.Title) []byte {
	return sheet.Lap(h.Report, title, sheet.Plan{To: h.Danced, Fault: h.Fault != nil}).SVG()
}

// callSheet sets what is called, large.
func (h *Handout) callSheet(p *press) {
	p.page()
	p.heading("To be called", 0)
	for i := range h.Calls {
		p.calls(&h.Calls[i])
	}
	if h.Fault != nil {
		h.fault(p)
	}
}

// Sizes of the call sheet.
const (
	barRoom  = 16.0
	callSize = 15.0
	moreSize = 10.0
)

// calls sets the figures along a wall.
func (p *press) calls(c *Calls) {
	over := func() {
		p.filled(margin, p.y, p.inner(), 6.2, band)
		p.put(margin+2, p.y+4.4, 10, bold, dark, p.cut("Wall "+c.Wall, 10, bold, p.inner()-4))
		p.y += 7.4
	}
	for i := range c.List {
		call := &c.List[i]
		more := call.From + "  →  " + call.To
		counts := p.width(call.Counts, moreSize, plain)
		room := p.inner() - barRoom - counts - 4
		name := p.cut(call.Figure, callSize, bold, room)
		way, beside := "", 0.0
		if call.Variation != "" {
			way = "(" + call.Variation + ")"
			beside = p.width(name, callSize, bold) + 2
			if beside+p.width(way, moreSize, plain) > room {
				beside = 0
			}
		}
		high := callSize*point*leading + moreSize*point*leading + 2.2
		if way != "" && beside == 0 {
			high += moreSize * point * leading
		}
		first := 0.0 // the wall's name above it
		if i == 0 {
			first = 8
		}
		if p.need(high+first) || i == 0 {
			over()
		}
		base := p.y + callSize*point
		bar := fmt.Sprint(call.Bar)
		p.put(margin+barRoom-4-p.width(bar, callSize, bold), base, callSize, bold, dark, bar)
		p.put(margin+barRoom, base, callSize, bold, dark, name)
		if beside > 0 {
			p.put(margin+barRoom+beside, base, moreSize, plain, grey, way)
		}
		p.put(p.paper.Width-margin-counts, base, moreSize, plain, dark, call.Counts)
		p.y += callSize * point * leading
		if way != "" && beside == 0 {
			p.line(margin+barRoom, moreSize, plain, grey, p.cut(way, moreSize, plain, p.inner()-barRoom))
		}
		p.line(margin+barRoom, moreSize, plain, grey, p.cut(more, moreSize, plain, p.inner()-barRoom))
		p.y += 1.1
		p.ruled(margin, p.y, p.paper.Width-margin)
		p.y += 1.1
	}
	p.y += 2
}

// fault sets where the routine stops, and why.
func (h *Handout) fault(p *press) {
	p.need(30)
	p.line(margin, 12, bold, dark, p.cut(fmt.Sprintf("×  Fault in bar %d: %s", h.Fault.Bar, h.Fault.Figure), 12, bold, p.inner()))
	for _, words := range h.Fault.Words {
		p.text(margin+barRoom, p.inner()-barRoom, 10, plain, dark, wording.Sentence(words))
	}
	if len(h.Fault.CouldGo) > 0 {
		p.text(margin+barRoom, p.inner()-barRoom, 10, plain, grey, "Could go there: "+strings.Join(h.Fault.CouldGo, ", ")+".")
	}
	p.text(margin+barRoom, p.inner()-barRoom, 10, plain, grey, "Not drawn: "+strings.Join(h.Fault.Left, ", ")+".")
	p.y += 3
}

// stepTables sets the steps of each figure: a figure is not parted where it fits a page,
// and a dancer's table is not unless it is longer than a page.
func (h *Handout) stepTables(p *press) {
	if len(h.Figures) == 0 {
		return
	}
	for i := range h.Figures {
		f := &h.Figures[i]
		var tables [2]setting
		for who := range tables {
			tables[who] = p.broken(&f.Tables[who])
		}
		if high := p.figureHigh(f, tables); i > 0 {
			p.need(high)
		} else {
			p.heading("The steps", high+12)
			p.text(margin, p.inner(), 8.5, plain, grey, Shortened)
			p.y += 2
		}
		p.text(margin, p.inner(), 12, bold, dark, f.Name)
		for _, line := range f.about() {
			p.text(margin, p.inner(), 8.5, plain, grey, line)
		}
		p.y++
		for who := range f.Tables {
			p.table(&tables[who], f.Tables[who].Who, f.Name)
		}
		p.y += 3
	}
}

// figureHigh is the height of a figure, or, where that is more than a page, of its head
// with the leader's steps.
func (p *press) figureHigh(f *FigureSteps, tables [2]setting) float64 {
	high := float64(len(p.lines(f.Name, 12, bold, p.inner())))*12*point*leading + 1
	for _, line := range f.about() {
		high += float64(len(p.lines(line, 8.5, plain, p.inner()))) * 8.5 * point * leading
	}
	high += tables[0].high()
	if all := high + tables[1].high(); all < p.whole() {
		return all
	}
	return math.Min(high, p.whole()-1)
}

// mind sets what to mind.
func (h *Handout) mind(p *press) {
	if len(h.Remarks) == 0 {
		return
	}
	p.heading("What to mind", 14)
	for _, r := range h.Remarks {
		p.need(10)
		p.text(margin, p.inner(), 9.5, bold, dark, r.Head)
		p.text(margin+4, p.inner()-4, 9.5, plain, dark, r.Words)
		p.y += 1.2
	}
}

// end sets the cautions, and what made the sheet.
func (h *Handout) end(p *press) {
	p.y += 2
	p.need(18)
	p.ruled(margin, p.y, p.paper.Width-margin)
	p.y += 1.5
	p.text(margin, p.inner(), 9, plain, dark, h.Cautions)
	p.y++
	p.text(margin, p.inner(), 8.5, plain, grey, "Made by: "+h.Made)
	p.explainMissing()
}

// explainMissing explains the sign for letters that the type does not have.
func (p *press) explainMissing() {
	if p.lacking {
		p.text(margin, p.inner(), 8.5, plain, grey, missingWords)
	}
}
