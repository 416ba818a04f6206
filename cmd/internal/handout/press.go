package handout

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"lapwright/cmd/internal/sheet"
)

// press sets pages. Lengths are in millimetres, sizes of type in points.
type press struct {
	pdf   *fpdf.Fpdf
	paper Paper
	y     float64 // where the next thing goes
	title string  // over every page but the first
	// lacking tells that a letter was missing.
	lacking bool
}

// Measures of a page.
const (
	margin   = 14.0
	footRoom = 12.0 // above the lower edge
	point    = 25.4 / 72
	leading  = 1.28 // from line to line, in sizes of type
)

// The inks of a page; grey is dark enough to be read when printed in black.
const (
	dark = sheet.Ink
	grey = "#44535b"
	rule = "#8b949a"
	band = "#e9e4d8"
)

// weight is that of the letters.
type weight string

const (
	plain weight = ""
	bold  weight = "B"
)

// newPress begins a document. Its title, subject and maker stand in the file.
func newPress(paper Paper, title, subject string, date time.Time) *press {
	pdf := fpdf.NewCustom(&fpdf.InitType{OrientationStr: "P", UnitStr: "mm", Size: fpdf.SizeType{Wd: paper.Width, Ht: paper.Height}})
	pdf.SetCatalogSort(true)
	pdf.SetCreationDate(date)
	pdf.SetModificationDate(date)
	pdf.SetTitle(title, true)
	pdf.SetSubject(subject, true)
	pdf.SetCreator("Lapwright", true)
	pdf.SetLang("en")
	pdf.SetMargins(margin, margin, margin)
	pdf.SetAutoPageBreak(false, 0)
	pdf.AddUTF8FontFromBytes("sheet", "", goregular.TTF)
	pdf.AddUTF8FontFromBytes("sheet", "B", gobold.TTF)
	pdf.AliasNbPages(pagesSign)
	return &press{pdf: pdf, paper: paper, title: title}
}

// pagesSign stands for the number of pages until all are set.
const pagesSign = "{n}"

// done is the file.
func (p *press) done() ([]byte, error) {
	var out bytes.Buffer
	if err := p.pdf.Output(&out); err != nil {
		return nil, fmt.Errorf("the sheet cannot be set: %w", err)
	}
	return out.Bytes(), nil
}

// page begins a page.
func (p *press) page() {
	p.pdf.AddPage()
	number := p.pdf.PageNo()
	p.y = margin
	if number > 1 {
		p.line(margin, 8.5, plain, grey, p.cut(p.title, 8.5, plain, p.paper.Width-2*margin))
		p.y += 2
	}
	y := p.paper.Height - 7.5
	p.ruled(margin, y-3.6, p.paper.Width-margin)
	pages := fmt.Sprintf("page %d of %s", number, pagesSign)
	p.put(margin, y, 7.5, plain, grey, "Made with Lapwright")
	p.put(p.paper.Width-margin-p.width("page 00 of 00", 7.5, plain), y, 7.5, plain, grey, pages)
}

// room is what is left on the page.
func (p *press) room() float64 { return p.paper.Height - margin - footRoom - p.y + 8 }

// whole is the room of a page on which nothing is set.
func (p *press) whole() float64 {
	return p.paper.Height - 2*margin - footRoom + 8 - 8.5*point*leading - 2
}

// need begins a new page unless there is so much room.
func (p *press) need(height float64) bool {
	if p.room() >= height {
		return false
	}
	p.page()
	return true
}

// inner is the width between the margins.
func (p *press) inner() float64 { return p.paper.Width - 2*margin }

func (p *press) font(size float64, w weight, ink string) {
	p.pdf.SetFont("sheet", string(w), size)
	r, g, b := rgb(ink)
	p.pdf.SetTextColor(r, g, b)
}

// put writes words on a base line.
func (p *press) put(x, y, size float64, w weight, ink, words string) {
	words, lacking := printable(words)
	p.lacking = p.lacking || lacking
	if words == "" {
		return
	}
	p.font(size, w, ink)
	p.pdf.Text(x, y, words)
}

// line writes words at the place for the next thing, and goes on below.
func (p *press) line(x, size float64, w weight, ink, words string) {
	p.put(x, p.y+size*point, size, w, ink, words)
	p.y += size * point * leading
}

// text writes words in as many lines as a width asks for.
func (p *press) text(x, width, size float64, w weight, ink, words string) {
	for _, line := range p.lines(words, size, w, width) {
		p.need(size * point * leading)
		p.line(x, size, w, ink, line)
	}
}

// width is that of words, in millimetres.
func (p *press) width(words string, size float64, w weight) float64 {
	words, _ = printable(words)
	p.pdf.SetFont("sheet", string(w), size)
	return p.pdf.GetStringWidth(words)
}

// lines breaks words into lines of a width; a word that is wider is broken as well.
func (p *press) lines(words string, size float64, w weight, width float64) (all []string) {
	line := ""
	for _, word := range strings.Fields(words) {
		if line != "" && p.width(line+" "+word, size, w) <= width {
			line += " " + word
			continue
		}
		if line != "" {
			all = append(all, line)
		}
		for p.width(word, size, w) > width && len([]rune(word)) > 1 {
			head := p.fits(word, size, w, width)
			all = append(all, head)
			word = word[len(head):]
		}
		line = word
	}
	return append(all, line)
}

// fits is as much of a word as a width holds, at least a letter.
func (p *press) fits(word string, size float64, w weight, width float64) string {
	letters := []rune(word)
	low, high := 1, len(letters)
	for low < high {
		mid := (low + high + 1) / 2
		if p.width(string(letters[:mid]), size, w) <= width {
			low = mid
		} else {
			high = mid - 1
		}
	}
	return string(letters[:low])
}

// cut shortens words to a width; what is left out is marked.
func (p *press) cut(words string, size float64, w weight, width float64) string {
	if p.width(words, size, w) <= width {
		return words
	}
	return p.fits(words, size, w, width-p.width("…", size, w)) + "…"
}

// ruled draws a thin line across.
func (p *press) ruled(from, y, to float64) {
	p.ink(rule, "", 0.2)
	p.pdf.SetDashPattern([]float64{}, 0)
	p.pdf.Line(from, y, to, y)
}

// filled draws a band behind words.
func (p *press) filled(x, y, width, height float64, colour string) {
	p.ink("", colour, 0)
	p.pdf.Rect(x, y, width, height, "F")
}

// ink takes colours for lines and for areas.
func (p *press) ink(stroke, fill string, width float64) {
	if stroke != "" {
		r, g, b := rgb(stroke)
		p.pdf.SetDrawColor(r, g, b)
		p.pdf.SetLineWidth(width)
	}
	if fill != "" {
		r, g, b := rgb(fill)
		p.pdf.SetFillColor(r, g, b)
	}
}

// rgb reads #rrggbb.
func rgb(colour string) (r, g, b int) {
	n, err := strconv.ParseUint(strings.TrimPrefix(colour, "#"), 16, 32)
	if err != nil {
		return 0, 0, 0
	}
	return int(n >> 16), int(n >> 8 & 255), int(n & 255)
}
