package page

import (
	"bytes"
	"slices"
	"strings"
	"testing"
)

// FuzzRequest: whatever is sent, reading it never panics, and what comes of it is a
// command line of that command, with its own flags only, in which no file is named but
// those of the request.
func FuzzRequest(f *testing.F) {
	for _, seed := range []string{
		`{}`, `{"args": ["r.yaml"], "flags": {"lap": true, "bars": "24-40", "must": ["Whisk", "Wing"]}, "files": {"r.yaml": "figures: [Whisk]"}}`,
		`{"flags": {"room": "studio", "class": "c.yaml"}, "files": {"c.yaml": "x"}}`, `{"flags": {"out": "x"}}`, `{"args": ["--out=x"]}`, `{"args": ["-"], "flags": {"level": "--force"}}`,
		`{"flags": {"bars": 1e400}}`, `{"flags": {"bars": [[]]}}`, `[]`, `{"files": {"../x.yaml": ""}}`, `{"flags": {"week": null}, "out": true, "command": "drill"}`,
	} {
		f.Add([]byte(seed), "lap")
		f.Add([]byte(seed), "check")
		f.Add([]byte(seed), "rooms")
	}
	writes := []string{"--out", "--svg", "--pdf", "--html", "--midi", "--wav", "--captions", "--export", "--dot", "--force", "--listen", "--folder"}
	f.Fuzz(func(t *testing.T, body []byte, name string) {
		c, ok := commands[name]
		if !ok {
			return
		}
		r, err := readRequest(bytes.NewReader(body))
		if err != nil {
			return
		}
		line, err := c.line(r)
		if err != nil {
			return
		}
		if !slices.Equal(line[:len(c.name)], c.name) {
			t.Fatalf("another command: %q", line)
		}
		args := false
		for _, word := range line[len(c.name):] {
			if args {
				continue
			}
			if word == "--" {
				args = true
				continue
			}
			flag, _, _ := strings.Cut(word, "=")
			if slices.Contains(writes, flag) {
				t.Fatalf("a flag that writes: %q", line)
			}
			if _, known := c.flags[strings.TrimPrefix(flag, "--")]; !known && flag != "--json" && flag != "--no-color" {
				t.Fatalf("%q is no flag of %s: %q", flag, name, line)
			}
		}
		for _, a := range r.Args {
			if strings.ContainsAny(a, `/\`) && c.arg != words {
				t.Fatalf("a file elsewhere: %q", line)
			}
		}
	})
}
