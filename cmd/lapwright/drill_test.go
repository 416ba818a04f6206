package main

import (
	"strings"
	"testing"

	"lapwright/figures"
)

// allFigures is every figure there is.
func allFigures(t testing.TB) *repertory {
	t.Helper()
	r, err := (&repertoryFlags{Dance: "waltz"}).choose("all")
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// What is to be practised: a figure in all its ways, one way of it, or a join.
func TestFocus(t *testing.T) {
	r := allFigures(t)
	for _, c := range []struct {
		words, before, figure, fault string
	}{
		{"Whisk", "", "Whisk", ""},
		{" natural turn (1-3) ", "", "Natural Turn (1-3)", ""},
		{"Natural Turn > Right Foot Closed Change", "Natural Turn", "Right Foot Closed Change", ""},
		{"whisk>chasse from promenade", "Whisk", "Chassé from Promenade", ""},
		{"Wisk", "", "", "Whisk"},
		{"Whisk >", "", "", "names no figure"},
		{"> Whisk", "", "", "names no figure"},
		{"", "", "", "names no figure"},
		{"Whisk > Whisk > Whisk", "", "", "more than two figures"},
	} {
		all, err := focus(r, []string{c.words})
		if c.fault != "" {
			if err == nil || !strings.Contains(err.Error(), c.fault) {
				t.Errorf("%q: %v, want %q", c.words, err, c.fault)
			}
			continue
		}
		if err != nil || len(all) != 1 {
			t.Errorf("%q: %d, %v", c.words, len(all), err)
			continue
		}
		if name := firstName(all[0].Before); name != c.before {
			t.Errorf("%q: after %q, want %q", c.words, name, c.before)
		}
		if name := firstName(all[0].Figure); name != c.figure {
			t.Errorf("%q: %q, want %q", c.words, name, c.figure)
		}
	}
}

func firstName(list []*figures.Variant) string {
	if len(list) == 0 {
		return ""
	}
	return list[0].Name()
}

// Whatever is written for --focus is read, or refused in one sentence.
func FuzzFocus(f *testing.F) {
	for _, words := range []string{"Whisk", "Natural Turn > Reverse Turn", ">", ">>", "Natural Turn (1-3)>Whisk", "Wísk", "\x00", strings.Repeat(">", 99)} {
		f.Add(words)
	}
	r := allFigures(f)
	f.Fuzz(func(t *testing.T, words string) {
		all, err := focus(r, []string{words})
		switch {
		case err != nil && (!strings.HasPrefix(err.Error(), "--focus: ") && !strings.HasPrefix(err.Error(), "--focus names no figure")):
			t.Errorf("%q: %v", words, err)
		case err == nil && (len(all) != 1 || len(all[0].Figure) == 0 || strings.Contains(words, ">") != (len(all[0].Before) > 0)):
			t.Errorf("%q: %+v", words, all)
		}
	})
}
