package page

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"lapwright/floors"
)

// FuzzRequest: whatever is sent, reading it never panics, and what comes of it is a
// command line of that command, with its own flags only, in which no file is named but
// those of the request, and those only where a file belongs.
func FuzzRequest(f *testing.F) {
	for _, seed := range []string{
		`{}`, `{"args": ["r.yaml"], "flags": {"lap": true, "bars": "24-40", "must": ["Whisk", "Wing"]}, "files": {"r.yaml": "figures: [Whisk]"}}`,
		`{"flags": {"room": "studio", "class": "c.yaml"}, "files": {"c.yaml": "x"}}`, `{"flags": {"out": "x"}}`, `{"args": ["--out=x"]}`, `{"args": ["-"], "flags": {"level": "--force"}}`,
		`{"flags": {"bars": 1e400}}`, `{"flags": {"bars": [[]]}}`, `[]`, `{"files": {"../x.yaml": ""}}`, `{"flags": {"week": null}, "out": true, "command": "drill"}`,
		`{"flags": {"room": "c.yaml", "library": ["c.yaml", "c.yaml"]}, "files": {"c.yaml": "x"}}`, `{} }`, `{"flags": {"level": "c.yaml"}, "files": {"c.yaml": "x"}}`,
	} {
		for _, name := range []string{"lap", "check", "rooms", "next", "sheet"} {
			f.Add([]byte(seed), name)
		}
	}
	writes := []string{"out", "svg", "pdf", "html", "midi", "wav", "captions", "export", "dot", "force", "listen", "folder"}
	f.Fuzz(func(t *testing.T, body []byte, name string) {
		c, ok := commands[name]
		if !ok {
			return
		}
		r, err := readRequest(bytes.NewReader(body))
		if err != nil {
			if err.Error() == "" {
				t.Fatal("refused without a word")
			}
			return
		}
		for name := range r.Files {
			if strings.Trim(name, "abcdefghijklmnopqrstuvwxyz0123456789-.") != "" || strings.HasPrefix(name, ".") || strings.HasPrefix(name, "-") || strings.HasPrefix(name, "made") {
				t.Fatalf("a file is called %q", name)
			}
		}
		line, err := c.line(r)
		if err != nil {
			return
		}
		begin := append(slices.Clone(c.name), "--json", "--no-color")
		if len(line) < len(begin) || !slices.Equal(line[:len(begin)], begin) {
			t.Fatalf("another command: %q", line)
		}
		rest := line[len(begin):]
		if end := slices.Index(rest, "--"); end >= 0 { // a flag is never just this
			if got := rest[end+1:]; !slices.Equal(got, r.Args) {
				t.Fatalf("the arguments are %q, and %q was sent", got, r.Args)
			}
			rest = rest[:end]
		} else if len(r.Args) > 0 {
			t.Fatalf("the arguments are lost: %q", line)
		}
		for _, a := range r.Args {
			here(t, r, c.arg, a)
		}
		for _, word := range rest {
			flag, v, tied := strings.Cut(word, "=")
			flag, dashes := strings.CutPrefix(flag, "--")
			kind, known := c.flags[flag]
			if !dashes || !known || slices.Contains(writes, flag) || tied == (kind == toggle) {
				t.Fatalf("%q is no flag of %s: %q", word, name, line)
			}
			if tied {
				here(t, r, kind, v)
			}
		}
	})
}

// here fails where a value names a file that is not one of the request's, or one of those
// where none belongs.
func here(t *testing.T, r *request, kind value, v string) {
	t.Helper()
	_, given := r.Files[v]
	_, builtIn := floors.Named(v) // whatever its capitals
	builtIn = builtIn && !strings.ContainsAny(v, `/\.`) || v == "anywhere"
	if strings.ContainsRune(v, 0) || kind == file && !given || kind == room && !given && !builtIn || kind == words && given {
		t.Fatalf("%q is let through", v)
	}
}
