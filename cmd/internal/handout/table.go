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

// setting is a table with its cells broken into lines.
type setting struct {
	widths []float64
	head   cells
	rows   []cells
}

// cells are those of a row.
type cells struct {
	lines [][]string
	high  float64
}

// Heights around a table.
const (
	whoHigh = 5.4 // the dancer's name
	rowGap  = 1.4
)

// broken breaks a table's cells into lines.
func (p *press) broken(t *StepTable) setting {
	s := setting{widths: p.columnWidths(t)}
	row := func(words []string, w weight) (c cells) {
		for k, cell := range words {
			lines := p.lines(cell, cellSize, w, s.widths[k]+0.1)
			c.lines = append(c.lines, lines)
			c.high = math.Max(c.high, float64(len(lines))*cellLine)
		}
		return c
	}
	s.head = row(t.Columns, bold)
	for _, words := range t.Rows {
		s.rows = append(s.rows, row(words, plain))
	}
	return s
}

// high is the height of the whole table.
func (s *setting) high() float64 {
	high := whoHigh + s.head.high + rowGap + 2
	for _, r := range s.rows {
		high += r.high + rowGap
	}
	return high
}

// table sets a dancer's steps of a figure; where they go on over pages, each has the head.
func (p *press) table(s *setting, who, figure string) {
	set := func(c cells, w weight) {
		x := margin
		for k, lines := range c.lines {
			for i, line := range lines {
				if strings.TrimSpace(line) != "" {
					p.put(x, p.y+cellSize*point+float64(i)*cellLine, cellSize, w, dark, line)
				}
			}
			x += s.widths[k] + cellGap
		}
		p.y += c.high + rowGap/2
		p.ruled(margin, p.y, p.paper.Width-margin)
		p.y += rowGap / 2
	}
	head := func(words string) {
		p.filled(margin, p.y, p.inner(), 4.6, band)
		p.put(margin+1, p.y+3.4, 9, bold, dark, p.cut(words, 9, bold, p.inner()-2))
		p.y += whoHigh
		set(s.head, bold)
	}
	words := who
	if p.need(math.Min(s.high(), p.whole()-1)) {
		words += ": " + figure
	}
	head(words)
	for i := range s.rows {
		if p.need(s.rows[i].high + rowGap) {
			head(who + ": " + figure + ", continued")
		}
		set(s.rows[i], plain)
	}
	p.y += 2
}
