package figures

import (
	"os"
	"path/filepath"
	"testing"
)

// wholeLibrary lists the variants of the built-in library and of the library
// files beside it that are not built in.
func wholeLibrary(t testing.TB) []*Variant {
	t.Helper()
	all := BuiltIn().Variants()
	for _, f := range further {
		file := filepath.Join("library", f.name+".yaml")
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		l, err := BuiltIn().Extend(file, data, DefaultCouple())
		if err != nil {
			t.Fatal(err)
		}
		for _, v := range l.Variants() {
			if _, known := BuiltIn().Figure(v.Figure.Name); !known {
				all = append(all, v)
			}
		}
	}
	return all
}

// eachHold calls visit with one entry of the variant for each hold in which it
// can begin: from other alignments it is the same, but turned.
func eachHold(v *Variant, visit func(Stance)) {
	seen := map[Hold]bool{}
	for _, e := range v.Entries {
		if !seen[e.Hold] {
			seen[e.Hold] = true
			visit(e)
		}
	}
}

// strides are those for which the whole library is measured.
var strides = []float64{CrowdedStride, SocialStride, UsualStride, 0.75}
