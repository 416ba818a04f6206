package handout

import (
	"strings"
	"sync"
	"unicode"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
)

// missing stands for a letter that the type does not have, so that it is seen to be
// missing.
const missing = '□'

// missingWords explains it.
const missingWords = missingSign + " stands for a letter that this sheet's type does not have; the sheet for a browser (HTML) shows it."

const missingSign = string(missing)

// typeface is what knows which letters there are.
var typeface = sync.OnceValue(func() (faces [2]*sfnt.Font) {
	for i, data := range [][]byte{goregular.TTF, gobold.TTF} {
		f, err := sfnt.Parse(data)
		if err != nil {
			panic("handout: the type that comes with the program cannot be read: " + err.Error())
		}
		faces[i] = f
	}
	return faces
})

// printable is a text in letters that the type has, on one line; changed tells that a
// letter is missing.
func printable(s string) (out string, changed bool) {
	var b strings.Builder
	var buffer sfnt.Buffer
	for _, r := range s {
		switch {
		case r < 0x7f && r >= ' ':
			b.WriteRune(r)
			continue
		case unicode.IsSpace(r) || unicode.IsControl(r):
			b.WriteByte(' ')
			continue
		case unicode.Is(unicode.Cf, r): // marks of direction and the like are not seen
			continue
		}
		has := true
		for _, face := range typeface() {
			i, err := face.GlyphIndex(&buffer, r)
			has = has && err == nil && i != 0
		}
		if !has {
			r, changed = missing, true
		}
		b.WriteRune(r)
	}
	return b.String(), changed
}
