package page

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"regexp"
	"slices"
	"strings"

	"lapwright/floors"
)

// request is what a page asks.
type request struct {
	Args  []string        `json:"args"`
	Flags map[string]any  `json:"flags"`
	Files map[string]text `json:"files"`
	// Out asks for the files that --out writes.
	Out bool `json:"out"`
	// Command is the command of which /make makes something: sheet if nothing is said.
	Command string `json:"command"`
}

type text = string

// value says what a flag takes.
type value uint8

const (
	words value = iota
	toggle
	file // one of the request's files
	room // a built-in room, or one of the request's files
)

// command is a command that a page may ask for.
type command struct {
	name  []string // as the program is called
	flags map[string]value
	// arg is what an argument is: file for a routine, room for a room, words for a name.
	arg         value
	least, most int    // arguments
	out         string // the ending of what --out writes; empty where it writes nothing
}

func flagSet(sets ...map[string]value) map[string]value {
	all := map[string]value{}
	for _, s := range sets {
		for name, v := range s {
			all[name] = v
		}
	}
	return all
}

func wordFlags(names string) map[string]value {
	all := map[string]value{}
	for _, name := range strings.Fields(names) {
		all[name] = words
	}
	return all
}

// The flags that several commands have.
var (
	repertory = flagSet(wordFlags("dance week level style known without"), map[string]value{"class": file, "library": file, "only-library": toggle})
	limits    = wordFlags("must bars laps uses apart cap different order fix phrase right-turns leader-step follower-step hardest")
	floor     = flagSet(wordFlags("stride margin"), map[string]value{"room": room})
	stand     = flagSet(wordFlags("from bar"), map[string]value{"after": file, "stretch": toggle})
)

// commands are what a page may ask for. What writes files, or names them, is not among
// their flags.
var commands = map[string]command{
	"lap":      {[]string{"lap"}, flagSet(repertory, limits, floor, wordFlags("tempo start weight time seed count within")), words, 0, 0, "yaml"},
	"check":    {[]string{"check"}, flagSet(repertory, limits, floor, wordFlags("tempo repairs repair"), map[string]value{"lap": toggle, "difficulty": toggle}), file, 1, 1, "yaml"},
	"vary":     {[]string{"vary"}, flagSet(repertory, floor, wordFlags("replace keep keep-figure begin-with tolerance bars-off count sort seed tempo"), map[string]value{"whole": toggle}), file, 1, 1, "yaml"},
	"next":     {[]string{"next"}, flagSet(repertory, floor, stand, wordFlags("hardest bars")), words, 0, 0, ""},
	"ways-out": {[]string{"ways-out"}, flagSet(repertory, floor, stand, wordFlags("hardest near bars wait count")), words, 0, 0, ""},
	"drill":    {[]string{"drill"}, flagSet(repertory, floor, stand, wordFlags("bars minutes tempo seed focus weight cards difficulty cover hardest paper")), words, 0, 0, "yaml"},
	"teach":    {[]string{"teach"}, flagSet(repertory, floor, wordFlags("most weeks per-week"), map[string]value{"all": toggle, "both-ways": toggle, "stretch": toggle}), words, 0, 0, "yaml"},
	"figures":  {[]string{"figures", "show"}, flagSet(repertory, wordFlags("from stride sort")), words, 0, 1, ""},
	"rooms":    {[]string{"rooms"}, nil, room, 0, 1, ""},
	"sheet":    {[]string{"sheet"}, flagSet(repertory, wordFlags("paper"), map[string]value{"room": room, "cards": toggle}), file, 1, 100, ""},
	"track":    {[]string{"track"}, flagSet(repertory, wordFlags("tempo count-in"), map[string]value{"room": room, "music": toggle, "speak": toggle}), file, 1, 1, ""},
}

// Bounds of a request.
const (
	mostFiles  = 110
	mostValues = 400
	mostWords  = 4000 // letters of a value
)

var fileName = regexp.MustCompile(`^[a-z0-9][a-z0-9-]{0,59}\.yaml$`)

// What is wrong with a body as a whole.
var (
	errLarge  = errors.New("that is more than 1 MB")
	errBroken = errors.New("what was sent broke off, or came too slowly")
)

// readBody reads what is sent.
func readBody(body io.Reader) ([]byte, error) {
	data, err := io.ReadAll(body)
	var large *http.MaxBytesError
	switch {
	case errors.As(err, &large):
		return nil, errLarge
	case err != nil:
		return nil, errBroken
	}
	return data, nil
}

// readRequest reads a request; an error says in one sentence what is wrong with it.
func readRequest(body io.Reader) (*request, error) {
	data, err := readBody(body)
	if err != nil {
		return nil, err
	}
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.DisallowUnknownFields()
	dec.UseNumber() // a seed has more digits than a float keeps
	var r request
	if err := dec.Decode(&r); err != nil {
		return nil, errors.New("the request is not what it should be: args, flags and files")
	}
	if _, err := dec.Token(); err != io.EOF {
		return nil, errors.New("there is more in the request than one question")
	}
	if len(r.Files) > mostFiles {
		return nil, fmt.Errorf("%d files are too many; %d are the most", len(r.Files), mostFiles)
	}
	for name := range r.Files {
		if !fileName.MatchString(name) {
			return nil, fmt.Errorf("%.80q is no name for a file here: small letters, digits and hyphens, with .yaml at the end", name)
		}
		if strings.HasPrefix(name, outName) {
			return nil, fmt.Errorf("%.80q is what files are called that come back: give yours another name", name)
		}
	}
	return &r, nil
}

// line is the command line for a request, without the program's name. Whatever it has in
// it is an argument or the value of a flag, and no file but those of the request is named.
func (c *command) line(r *request) ([]string, error) {
	line := slices.Clone(c.name)
	line = append(line, "--json", "--no-color")
	names := make([]string, 0, len(r.Flags))
	for name := range r.Flags {
		names = append(names, name)
	}
	slices.Sort(names)
	n := 0
	for _, name := range names {
		kind, ok := c.flags[name]
		if !ok {
			return nil, fmt.Errorf("%s has no %.60q that can be asked for here", c.name[0], name)
		}
		if kind == toggle {
			switch r.Flags[name] {
			case true:
				line = append(line, "--"+name)
			case false:
			default:
				return nil, fmt.Errorf("%s is either true or false", name)
			}
			continue
		}
		values, err := valuesOf(name, r.Flags[name])
		if err != nil {
			return nil, err
		}
		for _, v := range values {
			if n++; n > mostValues {
				return nil, fmt.Errorf("more than %d values are given", mostValues)
			}
			if err := r.allows(kind, name, v); err != nil {
				return nil, err
			}
			if strings.TrimSpace(v) != "" {
				line = append(line, "--"+name+"="+v)
			}
		}
	}
	if len(r.Args) < c.least || len(r.Args) > c.most {
		return nil, fmt.Errorf("%s takes %s, and %d are given", c.name[0], span(c.least, c.most), len(r.Args))
	}
	if len(r.Args) > 0 {
		line = append(line, "--")
	}
	for _, a := range r.Args {
		if err := r.allows(c.arg, c.name[0], a); err != nil {
			return nil, err
		}
		line = append(line, a)
	}
	return line, nil
}

func span(least, most int) string {
	switch {
	case most == 0:
		return "no names"
	case least == most:
		return fmt.Sprintf("%d name", least)
	}
	return fmt.Sprintf("%d to %d names", least, most)
}

// valuesOf are the values of a flag: a text, a number, or a list of texts.
func valuesOf(name string, v any) ([]string, error) {
	switch v := v.(type) {
	case nil:
		return nil, nil
	case string:
		return []string{v}, nil
	case json.Number:
		return []string{v.String()}, nil
	case []any:
		var all []string
		for _, one := range v {
			s, ok := one.(string)
			if !ok {
				return nil, fmt.Errorf("%s takes texts", name)
			}
			all = append(all, s)
		}
		return all, nil
	}
	return nil, fmt.Errorf("%s takes a text, a number or a list of texts", name)
}

// allows tells whether a value may be given.
func (r *request) allows(kind value, name, v string) error {
	if len([]rune(v)) > mostWords || strings.ContainsRune(v, 0) {
		return fmt.Errorf("what is given for %s is too long, or no text", name)
	}
	_, given := r.Files[v]
	switch kind {
	case file:
		if !given {
			return fmt.Errorf("%s names the file %.60q, which is not among those that are given", name, v)
		}
	case room:
		if _, known := floors.Named(v); !given && !known && v != "anywhere" {
			return fmt.Errorf("there is no room %.60q, and no file of that name is given", v)
		}
	case words:
		if given { // a name is never taken for a file
			return fmt.Errorf("%s takes words, not the file %.60q", name, v)
		}
	}
	return nil
}
