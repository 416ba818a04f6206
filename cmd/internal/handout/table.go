package handout

import (
	"math"
	"strings"
)

// Sizes of a table.
const (
	cellSize = 8.5
	cellGap  = 2.6
	cellLine = cellSize * point * 1.2
)

// columnWidths shares the width of a page among the columns: each has what its words
// need, and where that is too much the widest give way.
func (p *press) columnWidths(t *StepTable) []float64 {
	need := make([]float64, len(t.Columns))
	for k, name := range t.Columns {
		need[k] = p.width(name, cellSize, bold)
		for _, row := range t.Rows {
			need[k] = math.Max(need[k], p.width(row[k], cellSize, plain))
		}
	}
	room := p.inner() - cellGap*float64(len(need)-1)
	most := room
	for range 60 {
		sum, widest, next := 0.0, 0.0, 0.0
		for _, n := range need {
			sum += math.Min(n, most)
			if m := math.Min(n, most); m > widest {
				widest, next = m, widest
			} else if m > next {
				next = m
			}
		}
		if sum <= room {
			break
		}
		most = math.Max(next, widest-(sum-room))
		if most >= widest-0.01 { // several are equally wide
			most = widest - math.Max(0.2, (sum-room)/float64(len(need)))
		}
	}
	for k := range need {
		need[k] = math.Min(need[k], most)
	}
	return need
}

// table sets a dancer's steps; it goes on over pages, with its head on each.
func (p *press) table(t *StepTable) {
	widths := p.columnWidths(t)
	cells := func(words []string, w weight) (all [][]string, high float64) {
		for k, cell := range words {
			lines := p.lines(cell, cellSize, w, widths[k]+0.1)
			all = append(all, lines)
			high = math.Max(high, float64(len(lines))*cellLine)
		}
		return all, high
	}
	set := func(all [][]string, w weight, high float64) {
		x := margin
		for k, lines := range all {
			for i, line := range lines {
				if strings.TrimSpace(line) != "" {
					p.put(x, p.y+cellSize*point+float64(i)*cellLine, cellSize, w, dark, line)
				}
			}
			x += widths[k] + cellGap
		}
		p.y += high + 0.7
		p.ruled(margin, p.y, p.wide-margin)
		p.y += 0.7
	}
	names, namesHigh := cells(t.Columns, bold)
	head := func() {
		p.filled(margin, p.y, p.inner(), 4.6, band)
		p.put(margin+1, p.y+3.4, 9, bold, dark, t.Who)
		p.y += 5.4
		set(names, bold, namesHigh)
	}
	for i, row := range t.Rows {
		lines, high := cells(row, plain)
		ask := high + 1.4
		if i == 0 { // the head is not left alone
			ask += 5.4 + namesHigh + 1.4 + cellLine
		}
		if p.need(ask) || i == 0 {
			head()
		}
		set(lines, plain, high)
	}
	p.y += 2
}
