package document

import (
	"errors"
	"fmt"
	"strings"
	"testing"
)

func parse(t *testing.T, text string) *Node {
	t.Helper()
	n, err := Parse("file.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func TestFilesThatAreRefused(t *testing.T) {
	for _, row := range []struct{ name, text, want string }{
		{"empty", "", "file.yaml: the file is empty"},
		{"blank", " \n\t\n", "file.yaml: the file is empty"},
		{"comments", "# one\n# two\n", "file.yaml: the file holds only comments"},
		{"not UTF-8", "name: \xff", "file.yaml: the file is not UTF-8 text"},
		{"huge", strings.Repeat("x", MaxBytes+1), "file.yaml: the file is larger than 1024 kB; a file of this kind is far smaller"},
		{"two documents", "a: 1\n---\nb: 2\n", "file.yaml:2: only one document is expected in a file; remove what follows the line ---"},
		{"broken second document", "a: 1\n---\nb: [\n", "file.yaml: only one document is expected in a file; remove what follows the line ---"},
		{"anchor", "a: &x 1\n", "file.yaml:1: anchors and aliases (& and *) are not used in these files; write the value out"},
		{"alias", "a: 1\nb: &x [1]\nc: *x\n", "file.yaml:2: anchors and aliases (& and *) are not used in these files; write the value out"},
		{"anchor on a key", "&k a: 1\n", "file.yaml:1: anchors and aliases (& and *) are not used in these files; write the value out"},
		{"loop", "a: &x [*x]\n", "file.yaml:1: anchors and aliases (& and *) are not used in these files; write the value out"},
	} {
		t.Run(row.name, func(t *testing.T) {
			n, err := Parse("file.yaml", []byte(row.text))
			if n != nil || err == nil || err.Error() != row.want {
				t.Errorf("got %v, want %s", err, row.want)
			}
			var fault *Error
			if !errors.As(err, &fault) {
				t.Errorf("%T is no *Error", err)
			}
		})
	}
	for _, text := range []string{"a: [", "a: \"b", "\ta: 1", "a: b: c", "*x", "%YAML 9\n---\n", "a: !!int x\n- b"} {
		_, err := Parse("file.yaml", []byte(text))
		var fault *Error
		if !errors.As(err, &fault) || !strings.HasPrefix(fault.Problem, "this is not YAML: ") {
			t.Errorf("%q gives %v", text, err)
		}
	}
}

// TestValues reads the field "v" of small documents in every way.
func TestValues(t *testing.T) {
	text := func(n *Node) (any, error) { return n.Text() }
	texts := func(n *Node) (any, error) { return n.Texts() }
	number := func(n *Node) (any, error) { return n.Number(-10, 10) }
	whole := func(n *Node) (any, error) { return n.Whole(0, 10) }
	yesNo := func(n *Node) (any, error) { return n.YesNo() }
	items := func(n *Node) (any, error) { l, err := n.Items(); return len(l), err }
	for _, row := range []struct {
		text string
		read func(*Node) (any, error)
		want string // or the problem, after "!"
	}{
		{"v: waltz", text, "waltz"}, {"v: '  waltz  '", text, "waltz"}, {"v: 3", text, "3"}, {"v: 1/8 left", text, "1/8 left"},
		{"v: true", text, "true"}, {"v: >-\n  two\n  lines", text, "two lines"},
		{"v:", text, "!a word or text is expected here, not nothing"}, {"v: ~", text, "!a word or text is expected here, not nothing"},
		{"v: ''", text, "!a word or text is expected here, not an empty one"},
		{"v: [a]", text, "!a word or text is expected here, not a list"}, {"v: {a: 1}", text, "!a word or text is expected here, not fields"},
		{"v: \"a\\nb\"", text, "!the text holds a control character; write it in one line"},
		{"v: one", texts, "[one]"}, {"v: [one, 2]", texts, "[one 2]"}, {"v: []", texts, "[]"},
		{"v: [one, [two]]", texts, "!a word or text is expected here, not a list"}, {"v: {}", texts, "!a list is expected here, not fields"},
		{"v: 2.5", number, "2.5"}, {"v: -1e1", number, "-10"}, {"v: '3'", number, "3"},
		{"v: 11", number, "!11 is out of range: a number from -10 to 10 is expected"},
		{"v: .nan", number, `!a number from -10 to 10 is expected here, not ".nan"`}, {"v: NaN", number, `!a number from -10 to 10 is expected here, not "NaN"`},
		{"v: -.inf", number, `!a number from -10 to 10 is expected here, not "-.inf"`}, {"v: Inf", number, `!a number from -10 to 10 is expected here, not "Inf"`},
		{"v: 1e999", number, `!a number from -10 to 10 is expected here, not "1e999"`}, {"v:", number, "!a number from -10 to 10 is expected here, not nothing"},
		{"v: [1]", number, "!a number from -10 to 10 is expected here, not a list"}, {"v: three", number, `!a number from -10 to 10 is expected here, not "three"`},
		{"v: 3", whole, "3"}, {"v: 3.0", whole, "3"}, {"v: 2.5", whole, "!2.5 is not a whole number"},
		{"v: -1", whole, "!-1 is out of range: a number from 0 to 10 is expected"},
		{"v: yes", yesNo, "true"}, {"v: False", yesNo, "false"}, {"v: maybe", yesNo, `!yes or no is expected here, not "maybe"`},
		{"v: [yes]", yesNo, "!yes or no is expected here, not a list"},
		{"v: [1, 2, 3]", items, "3"}, {"v: word", items, `!a list is expected here, not "word"`},
	} {
		top, err := parse(t, row.text).Fields("v")
		if err != nil {
			t.Fatal(err)
		}
		got, err := row.read(top.Get("v"))
		told := fmt.Sprint(got)
		if err != nil {
			var fault *Error
			if !errors.As(err, &fault) || fault.Line < 1 || fault.File != "file.yaml" || !strings.HasPrefix(fault.Field, "v") {
				t.Errorf("%q: %v does not tell its place", row.text, err)
				continue
			}
			told = "!" + fault.Problem
		}
		if told != row.want {
			t.Errorf("%q: got %s, want %s", row.text, told, row.want)
		}
	}
}

func TestFields(t *testing.T) {
	doc := parse(t, "name: Hall\nsize: [8, 12]\nname: Other\nscent: pine\ndoor:\n  wide: 2\n")
	f, err := doc.Fields("name", "size", "door", "margin")
	if err == nil || err.Error() != "file.yaml:3: \"name\" is given twice; keep one\n"+
		"file.yaml:4: \"scent\" is not a field that is known here; known are: name, size, door, margin" {
		t.Errorf("got %v", err)
	}
	if name, err := f.Text("name"); name != "Hall" || err != nil {
		t.Errorf("the name is %q, %v", name, err)
	}
	if f.Get("margin") != nil || f.Get("scent") != nil {
		t.Error("fields are found that are not there")
	}
	if _, err := f.Need("margin"); err == nil || err.Error() != `file.yaml:1: "margin" is missing here; add it` {
		t.Errorf("got %v", err)
	}
	if _, err := f.Text("margin"); err == nil {
		t.Error("the text of a missing field is read")
	}
	size := f.Get("size")
	items, err := size.Items()
	if err != nil || len(items) != 2 || items[1].Field() != "size[2]" || items[1].Line() != 2 || items[1].File() != "file.yaml" {
		t.Errorf("got %v, %v", items, err)
	}
	door, err := f.Get("door").Fields("wide")
	if err != nil {
		t.Fatal(err)
	}
	if got := door.Get("wide").Field(); got != "door.wide" || door.Get("wide").Line() != 6 {
		t.Errorf("the door's width is at %s, line %d", got, door.Get("wide").Line())
	}
	if f, err := size.Fields("a"); f != nil || err == nil || err.Error() != "file.yaml:2: size: fields (a) are expected here, not a list" {
		t.Errorf("got %v, %v", f, err)
	}
	merged, err := parse(t, "<<: {a: 1}\n? [b]\n: 2\n").Fields("a")
	if err == nil || merged.Get("a") != nil {
		t.Error("a merge key or a list as a key is taken")
	}
}

func TestErrorWords(t *testing.T) {
	for _, row := range []struct {
		err  Error
		want string
	}{
		{Error{File: "a.yaml", Line: 3, Field: "steps[2].foot", Problem: "no"}, "a.yaml:3: steps[2].foot: no"},
		{Error{File: "a.yaml", Field: "steps", Problem: "no"}, "a.yaml: steps: no"},
		{Error{File: "a.yaml", Problem: "no"}, "a.yaml: no"},
	} {
		if got := row.err.Error(); got != row.want {
			t.Errorf("got %q, want %q", got, row.want)
		}
	}
}

// FuzzParse reads any text in every way: nothing panics, and every error is an
// *Error with the file's name, or several of them joined.
func FuzzParse(f *testing.F) {
	for _, s := range []string{"name: Hall\nsize: [8, 12.5]\n", "a: &x [*x]", "? [a]\n: b", "<<: {name: x}", "--- \n...\n", "name: |\n  two\n  lines\n",
		"size: {name: {name: [name]}}", "\ufeffname: x", "name: !!binary aGk=", "- - - a", "{}", "name: 0x1p-2", "? \n: \n"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		sound := func(err error) {
			if err == nil {
				return
			}
			all := []error{err}
			if joined, ok := err.(interface{ Unwrap() []error }); ok {
				all = joined.Unwrap()
			}
			for _, e := range all {
				var fault *Error
				if !errors.As(e, &fault) || fault.File != "fuzz.yaml" || fault.Problem == "" {
					t.Errorf("%T: %v", e, e)
				}
			}
		}
		doc, err := Parse("fuzz.yaml", data)
		sound(err)
		if err != nil {
			return
		}
		var walk func(n *Node)
		walk = func(n *Node) {
			_, err := n.Text()
			sound(err)
			_, err = n.Texts()
			sound(err)
			_, err = n.Number(-1, 1)
			sound(err)
			_, err = n.Whole(-1, 1)
			sound(err)
			_, err = n.YesNo()
			sound(err)
			fields, err := n.Fields("name", "size")
			sound(err)
			if fields != nil {
				for _, name := range []string{"name", "size"} {
					if v := fields.Get(name); v != nil {
						walk(v)
					}
				}
			}
			items, err := n.Items()
			sound(err)
			for _, it := range items {
				walk(it)
			}
		}
		walk(doc)
	})
}
