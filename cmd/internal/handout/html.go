package handout

import (
	"bytes"
	"embed"
	"fmt"
	"html/template"

	"lapwright/cmd/internal/sheet"
	"lapwright/cmd/internal/wording"
)

//go:embed templates/*.html templates/*.css
var templates embed.FS

// pages are the sheets for a browser.
var pages = template.Must(template.New("").Funcs(template.FuncMap{
	"bars": func(bars []int) string { return barsWords(bars) }, "sentence": wording.Sentence,
}).ParseFS(templates, "templates/*.html"))

// style is how the sheets look, on a screen and printed.
func style() template.CSS {
	data, err := templates.ReadFile("templates/sheet.css")
	if err != nil {
		panic(err) // it is part of the program
	}
	return template.CSS(data)
}

// screen is the paper for which a drawing is lettered that is looked at in a browser,
// where a long room may lie across.
var screen = Paper{Width: 300, Height: 297}

// drawn is a drawing with what stands over it.
type drawn struct {
	Words string
	SVG   template.HTML
}

// HTML sets the handout for a browser: one file with everything in it, which prints on
// the paper.
func (h *Handout) HTML(paper Paper) ([]byte, error) {
	var floors []drawn
	for i, d := range h.parts(screen, sheet.Plan{Key: true}) {
		words := ""
		if i > 0 || d.To < h.Danced {
			words = h.partWords(&d)
		}
		// The drawing escapes what it writes.
		floors = append(floors, drawn{words, template.HTML(d.picture.Inline(fmt.Sprintf("floor%d-", i+1)))})
	}
	return set("handout.html", struct {
		*Handout
		Style  template.CSS
		Paper  Paper
		Floors []drawn
		Short  string
	}{h, style(), paper, floors, Shortened})
}

// HTML sets the cards for a browser.
func (c *Cards) HTML(paper Paper) ([]byte, error) {
	return set("cards.html", struct {
		*Cards
		Style template.CSS
		Paper Paper
	}{c, style(), paper})
}

// set fills in a page.
func set(name string, what any) ([]byte, error) {
	var out bytes.Buffer
	if err := pages.ExecuteTemplate(&out, name, what); err != nil {
		return nil, fmt.Errorf("the sheet cannot be set: %w", err)
	}
	return out.Bytes(), nil
}
