package figures

import (
	"embed"
	"errors"
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// Library is a set of figures whose names are told apart and which can all be
// danced.
type Library struct {
	figures []*Figure      // in the order of the file
	at      map[string]int // where a figure is, by its own name as NameKey folds it
	byName  map[string]*Figure
	parts   map[partKey]*part // of the figures, for those that are made of them
	follows *Follows
}

func newLibrary(figures []*Figure, parts map[partKey]*part) *Library {
	if parts == nil {
		parts = map[partKey]*part{}
	}
	l := &Library{figures: figures, at: map[string]int{}, byName: map[string]*Figure{}, parts: parts}
	for i, f := range figures {
		key := NameKey(f.Name)
		l.at[key], l.byName[key] = i, f
		for _, name := range f.Also {
			l.byName[NameKey(name)] = f
		}
	}
	return l
}

//go:embed library/waltz.yaml library/international.yaml library/american.yaml library/follows.yaml
var libraryFiles embed.FS

// builtInFiles are the library files that come with the program, in the order
// in which each is read on top of those before it: first the figures of every
// first lesson, then the further international ones, then the American-style
// and country basics, and last what is danced before and after them all.
var builtInFiles = []string{"waltz.yaml", "international.yaml", "american.yaml", "follows.yaml"}

// loadBuiltIn reads the built-in files and checks that the couple can dance
// every figure.
func loadBuiltIn(c Couple) (*Library, error) {
	// The files are read side by side: that is most of the work.
	files := make([]*loader, len(builtInFiles))
	faults := make([]error, len(builtInFiles))
	var reading sync.WaitGroup
	for i, file := range builtInFiles {
		reading.Go(func() {
			data, err := libraryFiles.ReadFile("library/" + file)
			if err == nil {
				files[i], err = read(file, data)
			}
			faults[i] = err
		})
	}
	reading.Wait()
	l, err := Empty(), errors.Join(faults...)
	for _, f := range files {
		if err != nil {
			return nil, err
		}
		l, err = l.extend(f, c)
	}
	return l, err
}

var builtIn = sync.OnceValue(func() *Library {
	l, err := loadBuiltIn(DefaultCouple())
	if err != nil {
		panic("figures: the built-in library does not load: " + err.Error())
	}
	return l
})

// BuiltIn returns the library that comes with the program.
func BuiltIn() *Library { return builtIn() }

// Empty returns a library without figures, for [Library.Extend].
func Empty() *Library { return newLibrary(nil, nil) }

// Figures lists the figures in the order of the library file.
func (l *Library) Figures() []*Figure { return slices.Clone(l.figures) }

// Follows is what the trade dances before and after the figures, as the library
// files list it.
func (l *Library) Follows() *Follows { return l.follows }

// Variants lists all variants of all figures in the order of the library file.
func (l *Library) Variants() []*Variant {
	var all []*Variant
	for _, f := range l.figures {
		all = append(all, f.Variants...)
	}
	return all
}

// Figure finds a figure by its name or another name that the trade uses; case,
// accents and spaces don't matter.
func (l *Library) Figure(name string) (*Figure, bool) {
	f := l.byName[NameKey(name)]
	return f, f != nil
}

// Variant finds a variant by its figure's name and its label in brackets:
// "Natural Turn (1-3)". Without a label it is the first variant, the figure as
// it is usually danced.
func (l *Library) Variant(name string) (*Variant, bool) {
	name, label, labelled := strings.Cut(strings.TrimSpace(name), "(")
	f, ok := l.Figure(name)
	if !ok {
		return nil, false
	}
	if !labelled {
		return f.Variants[0], true
	}
	key := NameKey(strings.TrimSuffix(strings.TrimSpace(label), ")"))
	for _, v := range f.Variants {
		if NameKey(v.Label) == key {
			return v, true
		}
	}
	return nil, false
}

// Nearest lists up to n figure names that are spelt most like a name that the
// library does not have, the nearest first.
func (l *Library) Nearest(name string, n int) []string {
	var names []string
	for _, f := range l.figures {
		names = append(names, f.Name)
	}
	return NearestNames(name, names, n)
}

// NearestNames lists up to n of some names, those spelt most like a name that is
// not among them, the nearest first; none where none is like it.
func NearestNames(name string, names []string, n int) []string {
	type near struct {
		name string
		far  int
	}
	var all []near
	key := NameKey(name)
	most := 2 + len(key)/2
	for _, other := range names {
		folded := NameKey(other)
		// Each letter that one has more is one to put in.
		if more := utf8.RuneCountInString(key) - utf8.RuneCountInString(folded); more > most || -more > most {
			continue
		}
		if far := editDistance(key, folded); far <= most {
			all = append(all, near{other, far})
		}
	}
	slices.SortStableFunc(all, func(a, b near) int { return a.far - b.far })
	var nearest []string
	for _, a := range all[:max(0, min(n, len(all)))] {
		nearest = append(nearest, a.name)
	}
	return nearest
}

// NameKey folds a name so that those who differ only in case, accents, spaces
// or dashes are the same.
func NameKey(name string) string {
	if key, ok := plainKey(name); ok {
		return key
	}
	var b strings.Builder
	for _, r := range strings.ToLower(norm.NFD.String(name)) {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			b.WriteRune(r)
		}
	}
	return b.String()
}

// plainKey is the key of a name without accents, which most are; ok is false
// where a letter has to be looked up.
func plainKey(name string) (key string, ok bool) {
	letters := make([]byte, 0, 64)
	for i := range len(name) {
		switch c := name[i]; {
		case c >= utf8.RuneSelf:
			return "", false
		case c >= 'A' && c <= 'Z':
			letters = append(letters, c+'a'-'A')
		case c >= 'a' && c <= 'z', c >= '0' && c <= '9':
			letters = append(letters, c)
		}
	}
	return string(letters), true
}

// editDistance is the least number of letters to insert, remove or replace
// (Levenshtein 1966).
func editDistance(a, b string) int {
	x, y := []rune(a), []rune(b)
	row := make([]int, len(y)+1)
	for j := range row {
		row[j] = j
	}
	for i := range x {
		diagonal := row[0]
		row[0] = i + 1
		for j := range y {
			cost := diagonal
			if x[i] != y[j] {
				cost++
			}
			diagonal = row[j+1]
			row[j+1] = min(cost, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(y)]
}
