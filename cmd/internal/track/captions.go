package track

import (
	"fmt"
	"strings"
)

// Captions is the track as captions (W3C, WebVTT: The Web Video Text Tracks Format): the
// bars that are counted in, then each figure from a bar before it begins until the next
// one is called.
func (p *Plan) Captions() []byte {
	var b strings.Builder
	b.WriteString("WEBVTT\n")
	if title := plainText(p.Title); title != "" {
		fmt.Fprintf(&b, "\nNOTE\n%s\n", title)
	}
	cue := 0
	write := func(from, to int, words string) {
		if from < to {
			cue++
			fmt.Fprintf(&b, "\n%d\n%s --> %s\n%s\n", cue, clock(p.Second(from)), clock(p.Second(to)), plainText(words))
		}
	}
	write(0, p.called(p.Calls[0]), "Count in")
	for i, c := range p.Calls {
		end := p.Bars * p.Beats
		if i+1 < len(p.Calls) {
			end = p.called(p.Calls[i+1])
		}
		write(p.called(c), end, fmt.Sprintf("Bar %d: %s", c.Bar, c.words()))
	}
	return []byte(b.String())
}

// clock is a time as captions write it, to the millisecond.
func clock(seconds float64) string {
	ms := whole(seconds * 1000)
	return fmt.Sprintf("%02d:%02d:%02d.%03d", ms/3600000, ms/60000%60, ms/1000%60, ms%1000)
}

// plainText keeps words from being taken for marks: no line breaks, no tags, no arrows.
func plainText(words string) string {
	words = strings.Join(strings.FieldsFunc(words, func(r rune) bool { return r == '\n' || r == '\r' || r == 0 }), " ")
	return strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;").Replace(words)
}
