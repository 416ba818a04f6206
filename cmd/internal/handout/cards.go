package handout

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"lapwright/cmd/internal/answer"
	"lapwright/cmd/internal/wording"
	"lapwright/figures"
)

// Cards are drills, each on a card of its own.
type Cards struct {
	Title    string
	List     []Card
	Cautions string
	Made     string
	Date     time.Time
}

// Card is one drill.
type Card struct {
	Name   string
	Facts  string // bars, time, difficulty, seed
	Begins string // the stance
	Calls  []CardCall
	// Fault is the first fault, in words; empty where there is none.
	Fault string
}

// CardCall is a figure on a card.
type CardCall struct {
	Bar       int
	Figure    string
	Variation string
	Counts    string
	Ends      string // the stance in which it ends, as tables write it
	NextWall  bool
}

// NewCard is the card of a routine that was danced in a room.
func NewCard(h *Handout) Card {
	t := &h.Routine.Totals
	c := Card{Name: h.Title, Begins: h.Report.Start.Stance.String(), Facts: fmt.Sprintf("%s; %s, %s at %g bars a minute; difficulty %.2f points a bar", h.Report.Room.Name,
		wording.Many(t.Bars, "bar"), wording.Clock(float64(t.Seconds)), float64(t.Tempo), float64(t.Difficulty.Total))}
	for i := range h.Danced {
		f := &h.Routine.Figures[i]
		figure, way := wording.Call(h.Report.Rows[i].Variant)
		c.Calls = append(c.Calls, CardCall{f.Bar, figure, way, f.Counts, h.Report.Rows[i].Exit.Short(), f.TakesNextWall})
	}
	if h.Fault != nil {
		c.Fault = fmt.Sprintf("Fault in bar %d, %s: %s", h.Fault.Bar, h.Fault.Figure, h.Fault.Words[0])
	} else if len(h.Whole) > 0 {
		c.Fault = "Fault: " + h.Whole[0]
	}
	return c
}

// NewDrillCard is the card of a drill that was drawn.
func NewDrillCard(a *answer.Drills, d *answer.Drill) Card {
	where := a.Room.Name
	if a.Anywhere {
		where = "Anywhere"
	}
	c := Card{Name: fmt.Sprintf("Drill %d", d.Number), Facts: fmt.Sprintf("%s; %s, %s at %g bars a minute; difficulty %.2f points a bar; seed %d", where,
		wording.Many(a.Bars, "bar"), wording.Clock(float64(a.Seconds)), float64(a.Tempo), float64(d.Difficulty.Total), d.Seed)}
	for i := range d.Calls {
		call := &d.Calls[i]
		if i == 0 {
			c.Begins = stance(call.From.Alignment, call.From.FreeFoot, call.From.Hold)
		}
		figure, way := call.Name, ""
		if v, ok := figures.BuiltIn().Variant(call.Name); ok {
			figure, way = wording.Call(v)
		}
		c.Calls = append(c.Calls, CardCall{call.Bar, figure, way, call.Counts, call.ToShort, call.TakesNextWall})
	}
	return c
}

// corners tells whether the next wall is taken before any of the figures.
func (c *Card) corners() bool {
	return slices.ContainsFunc(c.Calls, func(call CardCall) bool { return call.NextWall })
}

// Legend spells out the short forms on the card.
func (c *Card) Legend() string {
	var words []string
	for heading := figures.Heading(0); heading < figures.Headings; heading++ {
		if slices.ContainsFunc(c.Calls, func(call CardCall) bool { return slices.Contains(strings.Fields(call.Ends), heading.Short()) }) {
			words = append(words, heading.Short()+" "+heading.String())
		}
	}
	for _, foot := range []figures.Foot{figures.LeftFoot, figures.RightFoot} {
		words = append(words, foot.Short()+" "+foot.String()+" free")
	}
	return strings.Join(words, ", ") + "."
}

// Sizes of type on cards, in points.
const (
	mostCard  = 14.0
	leastHalf = 9.0 // smaller than this, a card has a page to itself
	leastCard = 10.0
)

// PDF sets the cards on paper, two on a page where they fit.
func (c *Cards) PDF(paper Paper) ([]byte, error) {
	p := newPress(paper, c.Title, fmt.Sprintf("%s. %s", wording.Many(len(c.List), "drill"), c.Cautions), c.Date)
	p.page()
	half := p.cardRoom()/2 - 4
	size := mostCard
	for i := range c.List {
		size = math.Min(size, p.cardSize(&c.List[i], c, half))
	}
	beside := size >= leastHalf
	if !beside {
		size = mostCard
		for i := range c.List {
			size = math.Min(size, p.cardSize(&c.List[i], c, p.cardRoom()))
		}
		size = math.Max(size, leastCard)
	}
	for i := range c.List {
		switch {
		case i == 0:
		case beside && i%2 == 1:
			p.y = margin + half + 4
			p.ink(rule, "", 0.2)
			p.pdf.SetDashPattern([]float64{2, 1.5}, 0)
			p.pdf.Line(margin, p.y, p.paper.Width-margin, p.y)
			p.pdf.SetDashPattern([]float64{}, 0)
			p.y += 4
		default:
			p.page()
			p.y = margin
		}
		p.card(&c.List[i], c, size)
	}
	p.y++
	p.text(margin, p.inner(), 7.5, plain, grey, "Made by: "+c.Made)
	p.explainMissing()
	return p.done()
}

// cardRoom is the height of a card that has a page to itself.
func (p *press) cardRoom() float64 { return p.paper.Height - 2*margin - footRoom + 6 }

// cardSize is the greatest size of type in which a card has a height.
func (p *press) cardSize(card *Card, c *Cards, high float64) float64 {
	for size := mostCard; size > leastHalf-1; size -= 0.5 {
		if p.cardHigh(card, c, size) <= high {
			return size
		}
	}
	return leastHalf - 1
}

// cardHigh is the height of a card.
func (p *press) cardHigh(card *Card, c *Cards, size float64) float64 {
	high := 8.5 + 5*point*9.5 + float64(len(p.lines(c.Cautions, 7.5, plain, p.inner()))+len(p.lines(card.Legend(), 7.5, plain, p.inner())))*7.5*point*leading
	columns := p.columns(card, size)
	for i := range card.Calls {
		high += p.callHigh(&card.Calls[i], columns, size)
	}
	if card.Fault != "" {
		high += float64(len(p.lines(card.Fault, 9.5, bold, p.inner()))) * 9.5 * point * leading
	}
	return high + 4
}

// callHigh is the height of a call.
func (p *press) callHigh(call *CardCall, c columns, size float64) float64 {
	high := size*point*leading + 0.6
	if call.Variation != "" && !p.beside(call, c, size) {
		high += 0.75 * size * point * leading
	}
	return high
}

// cardBar is the width of the column of bars, in sizes of its type.
const cardBar = 3.4

// columns are those of a card at a size of type.
type columns struct {
	name, counts, ends float64 // the widths
}

func (p *press) columns(card *Card, size float64) (c columns) {
	for i := range card.Calls {
		c.counts = math.Max(c.counts, p.width(card.Calls[i].Counts, 0.85*size, plain))
		c.ends = math.Max(c.ends, p.width("→ "+card.Calls[i].Ends, 0.85*size, plain))
	}
	c.name = p.inner() - cardBar*size*point - c.counts - c.ends - 2*size*point
	return c
}

// beside tells whether the way of dancing goes beside the figure's name.
func (p *press) beside(call *CardCall, c columns, size float64) bool {
	return p.width(call.Figure, size, bold)+2+p.width("("+call.Variation+")", 0.75*size, plain) <= c.name
}

// card sets a card at the place for the next thing.
func (p *press) card(card *Card, c *Cards, size float64) {
	p.filled(margin, p.y, p.inner(), 7.6, band)
	p.put(margin+2, p.y+5.6, 14, bold, dark, p.cut(card.Name, 14, bold, p.inner()-4))
	p.y += 8.5
	p.line(margin, 9.5, plain, grey, p.cut(card.Facts, 9.5, plain, p.inner()))
	begin := "Begin " + card.Begins
	if card.corners() {
		begin += ". > takes the next wall's line of dance at the corner"
	}
	p.line(margin, 9.5, plain, grey, p.cut(begin, 9.5, plain, p.inner()))
	p.y++
	long := p.cardHigh(card, c, size) > p.cardRoom()
	if long { // what is to be minded is read first
		p.text(margin, p.inner(), 7.5, plain, grey, card.Legend()+" "+c.Cautions)
		p.y += 2
	}
	em, columns := size*point, p.columns(card, size)
	for i := range card.Calls {
		call := &card.Calls[i]
		if p.need(p.callHigh(call, columns, size)) {
			p.line(margin, 12, bold, dark, p.cut(card.Name+", continued", 12, bold, p.inner()))
		}
		base := p.y + em
		bar := fmt.Sprint(call.Bar)
		if call.NextWall {
			bar = "> " + bar
		}
		p.put(margin+(cardBar-0.6)*em-p.width(bar, size, bold), base, size, bold, dark, bar)
		x := margin + cardBar*em
		name := p.cut(call.Figure, size, bold, columns.name)
		p.put(x, base, size, bold, dark, name)
		way := "(" + call.Variation + ")"
		beside := call.Variation != "" && p.beside(call, columns, size)
		if beside {
			p.put(x+p.width(name, size, bold)+2, base, 0.75*size, plain, grey, way)
		}
		right := p.paper.Width - margin - columns.ends
		p.put(right-em-columns.counts, base, 0.85*size, plain, dark, call.Counts)
		p.put(right, base, 0.85*size, plain, dark, "→ "+call.Ends)
		p.y += em * leading
		if call.Variation != "" && !beside {
			p.line(x, 0.75*size, plain, grey, p.cut(way, 0.75*size, plain, p.inner()-cardBar*em))
		}
		p.y += 0.3
		p.ruled(margin, p.y, p.paper.Width-margin)
		p.y += 0.3
	}
	if card.Fault != "" {
		p.text(margin, p.inner(), 9.5, bold, dark, "× "+card.Fault)
	}
	if !long {
		p.y++
		p.text(margin, p.inner(), 7.5, plain, grey, card.Legend())
		p.text(margin, p.inner(), 7.5, plain, grey, c.Cautions)
	}
}
