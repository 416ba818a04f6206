package figures

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// examine reads a file without refusing it.
func examine(t testing.TB, base *Library, text string) *Examination {
	t.Helper()
	x, err := base.Examine("own.yaml", []byte(text), DefaultCouple())
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// TestExamineTellsWhatLoadDoes compares the two on every bad file and on the
// libraries: a file that loads has no trouble, and one that is refused has as many
// as faults are told.
func TestExamineTellsWhatLoadDoes(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("testdata", "bad", "*.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	libraries, err := filepath.Glob(filepath.Join("library", "*.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range append(files, libraries...) {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		loaded, loadErr := Load(file, data, DefaultCouple())
		x, err := Empty().Examine(file, data, DefaultCouple())
		if err != nil {
			if loadErr == nil || loadErr.Error() != err.Error() {
				t.Errorf("%s: %v, loading says %v", file, err, loadErr)
			}
			continue
		}
		told, danceable := len(x.Unread), true
		for _, f := range x.Figures {
			told += len(f.Unread) + len(f.Undanced)
			danceable = danceable && f.Danceable()
			for _, trouble := range append(f.Unread, f.Undanced...) {
				if trouble.Line < f.Line || trouble.Reason == "" {
					t.Errorf("%s: %s, line %d, has %+v", file, f.Name, f.Line, trouble)
				}
			}
		}
		faults := 0
		if loadErr != nil {
			eachFault(loadErr, func(error) { faults++ })
		}
		for _, f := range x.Figures {
			if f.Figure == nil {
				continue
			}
			// Names that are taken twice are found once.
			if found, ok := x.Danceable.Figure(f.Name); ok && found == f.Figure && !f.Danceable() {
				t.Errorf("%s: %s is among the danceable", file, f.Name)
			}
		}
		if told != faults || (x.Library != nil) != (loadErr == nil) {
			t.Errorf("%s: %d troubles, library %v; loading tells %d faults", file, told, x.Library != nil, faults)
		}
		if loaded != nil && (len(x.Figures) != len(loaded.Figures()) || len(x.Library.Variants()) != len(loaded.Variants()) || !danceable) {
			t.Errorf("%s: %d figures, %d variants; loading gives %d and %d", file, len(x.Figures), len(x.Library.Variants()), len(loaded.Figures()), len(loaded.Variants()))
		}
	}
}

// TestExamine puts each trouble with its figure.
func TestExamine(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("testdata", "bad", "several-faults.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	x := examine(t, BuiltIn(), string(data))
	var got []string
	for _, f := range x.Figures {
		got = append(got, f.Name)
		for _, trouble := range f.Unread {
			got = append(got, "  unread: "+trouble.Field+": "+trouble.Reason)
		}
		for _, trouble := range f.Undanced {
			got = append(got, "  undanced: "+trouble.Variant.Name()+", "+Fault{trouble.Step, trouble.Reason}.String())
		}
	}
	golden(t, filepath.Join("testdata", "examined.golden"), strings.Join(got, "\n")+"\n")
	if x.Library != nil {
		t.Error("a library with faults is returned")
	}
}

// TestExamineNamesWhatIsReplaced tells whose place a figure takes.
func TestExamineNamesWhatIsReplaced(t *testing.T) {
	const text = `dance: waltz
beats: 3
figures:
  - name: whisk
    levels: [social]
    family: promenade
    from: DW
    hold: closed
    parts: []
    variants: [{parts: Natural Turn/first half}]
  - name: Weir Turn
    levels: [social]
    family: natural
    from: DW
    hold: closed
    parts: []
    variants: [{parts: Natural Turn/first half}]
`
	x := examine(t, BuiltIn(), text)
	whisk, _ := BuiltIn().Figure("Whisk")
	if x.Figures[0].Replaces != whisk || x.Figures[1].Replaces != nil || !x.Figures[0].Danceable() || !x.Figures[1].Danceable() {
		t.Errorf("%+v", x.Figures)
	}
	now, _ := x.Library.Figure("Whisk")
	if now != x.Figures[0].Figure || len(x.Library.Figures()) != len(BuiltIn().Figures())+1 {
		t.Errorf("the library has %d figures, and the whisk of line %d", len(x.Library.Figures()), now.Line)
	}
	again := examine(t, x.Library, text)
	if again.Figures[1].Replaces != x.Figures[1].Figure || again.Library == nil {
		t.Errorf("the second time, it does not take the place of the first: %+v", again.Figures)
	}
}
