// Package document reads the small YAML files that people edit – figures,
// rooms, routines – so that every fault can be told with its file, line and
// field.
//
// It reads strictly: a field that is not known, given twice or of the wrong
// kind is an error, never a guess. It knows YAML only; what the fields mean is
// the business of the package that asks for them.
//
//	doc, err := document.Parse("room.yaml", data)
//	top, err := doc.Fields("name", "outline", "margin")
//	name, err := top.Text("name")
package document

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"
)

// MaxBytes is the size in bytes above which a file is refused unread: the
// library and rooms of a lifetime are smaller.
const MaxBytes = 1 << 20

// Error is one fault in a file that somebody wrote.
type Error struct {
	File  string // as it was named by the user
	Line  int    // counted from 1; 0 when the fault has no line
	Field string // where in the file, such as "steps[2].foot"; may be empty
	// Problem says in one sentence what is wrong, what was expected and what
	// to do.
	Problem string
}

// Error writes file, line, field and problem in one line.
func (e *Error) Error() string {
	var b strings.Builder
	b.WriteString(e.File)
	if e.Line > 0 {
		fmt.Fprintf(&b, ":%d", e.Line)
	}
	if e.Field != "" {
		b.WriteString(": " + e.Field)
	}
	b.WriteString(": " + e.Problem)
	return b.String()
}

// Node is one value of a document with its place in the file.
type Node struct {
	file string
	yaml *yaml.Node
	// Where it is: a field of a mapping, or a place in a list, counted from 1. The
	// path is put together when a fault is told; most files have none.
	in    *Node
	name  string
	place int
}

// Parse reads one YAML document. It refuses empty files, files over
// [MaxBytes], text that is not UTF-8, more than one document, and anchors and
// aliases (which no file here needs).
func Parse(file string, data []byte) (*Node, error) {
	fail := func(line int, format string, args ...any) error {
		return &Error{File: file, Line: line, Problem: fmt.Sprintf(format, args...)}
	}
	if len(data) > MaxBytes {
		return nil, fail(0, "the file is larger than %d kB; a file of this kind is far smaller", MaxBytes>>10)
	}
	if !utf8.Valid(data) {
		return nil, fail(0, "the file is not UTF-8 text")
	}
	if len(bytes.TrimSpace(data)) == 0 {
		return nil, fail(0, "the file is empty")
	}
	var doc yaml.Node
	dec := yaml.NewDecoder(bytes.NewReader(data))
	if err := dec.Decode(&doc); err != nil {
		if errors.Is(err, io.EOF) {
			return nil, fail(0, "the file holds only comments")
		}
		line, problem := yamlProblem(err)
		return nil, fail(line, "this is not YAML: %s", problem)
	}
	var more yaml.Node
	if err := dec.Decode(&more); !errors.Is(err, io.EOF) {
		return nil, fail(more.Line, "only one document is expected in a file; remove what follows the line ---")
	}
	if doc.Kind != yaml.DocumentNode || len(doc.Content) != 1 {
		return nil, fail(0, "the file is empty")
	}
	if n := refused(doc.Content[0]); n != nil {
		return nil, fail(n.Line, "anchors and aliases (& and *) are not used in these files; write the value out")
	}
	return &Node{file: file, yaml: doc.Content[0]}, nil
}

func refused(n *yaml.Node) *yaml.Node {
	if n.Kind == yaml.AliasNode || n.Anchor != "" {
		return n
	}
	for _, c := range n.Content {
		if bad := refused(c); bad != nil {
			return bad
		}
	}
	return nil
}

// yamlProblem splits the YAML reader's message into its line and its words.
func yamlProblem(err error) (int, string) {
	msg := strings.TrimPrefix(err.Error(), "yaml: ")
	msg = strings.ReplaceAll(msg, "\n", " ")
	if rest, ok := strings.CutPrefix(msg, "line "); ok {
		if num, words, ok := strings.Cut(rest, ": "); ok {
			if line, err := strconv.Atoi(num); err == nil {
				return line, words
			}
		}
	}
	return 0, msg
}

// Line is the line of the file on which the value stands, from 1.
func (n *Node) Line() int { return n.yaml.Line }

// Field is the path of the value in the document, such as "steps[2].foot".
func (n *Node) Field() string {
	if n.in == nil {
		return ""
	}
	path := n.in.Field()
	switch {
	case n.place > 0:
		return fmt.Sprintf("%s[%d]", path, n.place)
	case path == "":
		return n.name
	}
	return path + "." + n.name
}

// File is the name under which the document was read.
func (n *Node) File() string { return n.file }

// Fail is an error at this value.
func (n *Node) Fail(format string, args ...any) error {
	return &Error{File: n.file, Line: n.yaml.Line, Field: n.Field(), Problem: fmt.Sprintf(format, args...)}
}

func (n *Node) kind() string {
	switch n.yaml.Kind {
	case yaml.MappingNode:
		return "fields"
	case yaml.SequenceNode:
		return "a list"
	case yaml.ScalarNode:
		if n.yaml.Tag == "!!null" {
			return "nothing"
		}
		return strconv.Quote(n.yaml.Value)
	}
	return "something else"
}

// IsList reports whether the value is a list.
func (n *Node) IsList() bool { return n.yaml.Kind == yaml.SequenceNode }

// IsFields reports whether the value is a mapping of fields.
func (n *Node) IsFields() bool { return n.yaml.Kind == yaml.MappingNode }

// Items returns the values of a list.
func (n *Node) Items() ([]*Node, error) {
	if n.yaml.Kind != yaml.SequenceNode {
		return nil, n.Fail("a list is expected here, not %s", n.kind())
	}
	items := make([]*Node, len(n.yaml.Content))
	for i, c := range n.yaml.Content {
		items[i] = &Node{file: n.file, yaml: c, in: n, place: i + 1}
	}
	return items, nil
}

// Text returns a text of one line that is not empty. Numbers and other plain
// words count as text as they are written.
func (n *Node) Text() (string, error) {
	if n.yaml.Kind != yaml.ScalarNode || n.yaml.Tag == "!!null" {
		return "", n.Fail("a word or text is expected here, not %s", n.kind())
	}
	s := strings.TrimSpace(n.yaml.Value)
	if s == "" {
		return "", n.Fail("a word or text is expected here, not an empty one")
	}
	for _, r := range s {
		if r < ' ' || r == 0x7f {
			return "", n.Fail("the text holds a control character; write it in one line")
		}
	}
	return s, nil
}

// Texts returns a list of texts; a single text counts as a list of one.
func (n *Node) Texts() ([]string, error) {
	if n.yaml.Kind == yaml.ScalarNode {
		s, err := n.Text()
		return []string{s}, err
	}
	items, err := n.Items()
	if err != nil {
		return nil, err
	}
	texts := make([]string, len(items))
	for i, it := range items {
		if texts[i], err = it.Text(); err != nil {
			return nil, err
		}
	}
	return texts, nil
}

// Number returns a finite number from min to max.
func (n *Node) Number(min, max float64) (float64, error) {
	v, err := strconv.ParseFloat(n.yaml.Value, 64)
	if n.yaml.Kind != yaml.ScalarNode || err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, n.Fail("a number from %g to %g is expected here, not %s", min, max, n.kind())
	}
	if v < min || v > max {
		return 0, n.Fail("%g is out of range: a number from %g to %g is expected", v, min, max)
	}
	return v, nil
}

// Whole returns a whole number from min to max.
func (n *Node) Whole(min, max int) (int, error) {
	v, err := n.Number(float64(min), float64(max))
	if err != nil {
		return 0, err
	}
	if v != math.Trunc(v) {
		return 0, n.Fail("%g is not a whole number", v)
	}
	return int(v), nil
}

// YesNo returns a yes or a no.
func (n *Node) YesNo() (bool, error) {
	if n.yaml.Kind == yaml.ScalarNode {
		switch strings.ToLower(n.yaml.Value) {
		case "yes", "true":
			return true, nil
		case "no", "false":
			return false, nil
		}
	}
	return false, n.Fail("yes or no is expected here, not %s", n.kind())
}

// Lookup returns the value of a field, whatever the other fields are, or nil
// where there is no such field or the value is no mapping. It is for telling
// where in a file a fault is; [Node.Fields] is for reading.
func (n *Node) Lookup(name string) *Node {
	if n.yaml.Kind != yaml.MappingNode {
		return nil
	}
	for i := 0; i+1 < len(n.yaml.Content); i += 2 {
		if key := n.yaml.Content[i]; key.Kind == yaml.ScalarNode && key.Value == name {
			return &Node{file: n.file, yaml: n.yaml.Content[i+1], in: n, name: name}
		}
	}
	return nil
}

// Fields reads a mapping whose keys are all among the known ones, each at most
// once. Where some are not it tells each, joined in one error, and still returns
// the fields that it could read, so that a reader may look for more faults.
func (n *Node) Fields(known ...string) (*Fields, error) {
	if n.yaml.Kind != yaml.MappingNode {
		return nil, n.Fail("fields (%s) are expected here, not %s", strings.Join(known, ", "), n.kind())
	}
	f := &Fields{Node: n, values: map[string]*Node{}}
	var faults []error
	for i := 0; i+1 < len(n.yaml.Content); i += 2 {
		key, value := n.yaml.Content[i], n.yaml.Content[i+1]
		name := key.Value
		atKey := func(format string, args ...any) error {
			return &Error{File: n.file, Line: key.Line, Field: n.Field(), Problem: fmt.Sprintf(format, args...)}
		}
		switch {
		case key.Kind != yaml.ScalarNode || !slices.Contains(known, name):
			faults = append(faults, atKey("%q is not a field that is known here; known are: %s", name, strings.Join(known, ", ")))
		case f.values[name] != nil:
			faults = append(faults, atKey("%q is given twice; keep one", name))
		default:
			f.values[name] = &Node{file: n.file, yaml: value, in: n, name: name}
		}
	}
	return f, errors.Join(faults...)
}

// Fields is a mapping with known keys.
type Fields struct {
	*Node
	values map[string]*Node
}

// Get returns the value of a field, or nil where the file does not give it.
func (f *Fields) Get(name string) *Node { return f.values[name] }

// Need returns the value of a field that must be given.
func (f *Fields) Need(name string) (*Node, error) {
	if v := f.values[name]; v != nil {
		return v, nil
	}
	return nil, f.Fail("%q is missing here; add it", name)
}

// Text returns the text of a field that must be given.
func (f *Fields) Text(name string) (string, error) {
	v, err := f.Need(name)
	if err != nil {
		return "", err
	}
	return v.Text()
}
