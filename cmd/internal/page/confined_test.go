package page_test

import (
	"bytes"
	"encoding/json"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// secretFile is a file that is none of a page's business: a room, a routine, a class and a
// library in one, so that whatever reads it would say so.
func secretFile(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "secret.yaml")
	if err := os.WriteFile(path, []byte("name: Tresor\noutline: [[0, 0], [14, 0], [14, 9], [0, 9]]\nfigures: [Whisk]\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// TestConfined: a command reads no file but those of its request, whatever names it.
func TestConfined(t *testing.T) {
	secret := secretFile(t)
	at := server(t, nil)
	up := strings.Repeat("../", 20) + secret[1:]
	const routine, class = `"r.yaml": "room: SECRET\nfigures: [Natural Turn]"`, `"c.yaml": "name: C\nroom: SECRET\nweeks: [[Natural Turn]]"`
	for _, where := range []string{secret, up, "/etc/hostname", "x/../../secret.yaml"} {
		for _, c := range []struct{ command, body string }{
			{"check", `{"args": ["r.yaml"], "files": {` + routine + `}}`},
			{"vary", `{"args": ["r.yaml"], "flags": {"whole": true}, "files": {` + routine + `}}`},
			{"next", `{"flags": {"after": "r.yaml"}, "files": {` + routine + `}}`},
			{"ways-out", `{"flags": {"after": "r.yaml"}, "files": {` + routine + `}}`},
			{"drill", `{"flags": {"after": "r.yaml"}, "files": {` + routine + `}}`},
			{"lap", `{"flags": {"class": "c.yaml"}, "files": {` + class + `}}`},
			{"drill", `{"flags": {"class": "c.yaml"}, "files": {` + class + `}}`},
			{"teach", `{"flags": {"class": "c.yaml"}, "files": {` + class + `}}`},
		} {
			got := ask(t, at, c.command, strings.ReplaceAll(c.body, "SECRET", where))
			if !strings.Contains(got.Error, "only files that are given may be read here") || got.Answer != nil || strings.Contains(got.Error, "Tresor") {
				t.Errorf("%s with %s: %q %.100s", c.command, where, got.Error, got.Answer)
			}
		}
	}
}

// TestConfinedFlags: no flag and no argument names a file elsewhere; that is refused before
// the command runs.
func TestConfinedFlags(t *testing.T) {
	secret := secretFile(t)
	at := server(t, nil)
	for _, c := range []struct{ command, flag string }{
		{"lap", "room"}, {"lap", "class"}, {"lap", "library"}, {"check", "room"}, {"next", "after"}, {"next", "room"}, {"ways-out", "after"},
		{"drill", "after"}, {"drill", "class"}, {"teach", "class"}, {"teach", "room"}, {"figures", "class"}, {"figures", "library"}, {"vary", "room"},
	} {
		args := ""
		if c.command == "check" || c.command == "vary" {
			args = `"args": ["r.yaml"], `
		}
		for _, where := range []string{secret, "../secret.yaml", "./r.yaml", "r.yaml/.", "R.yaml"} {
			reply := post(t, at.URL+"/do/"+c.command, `{`+args+`"flags": {"`+c.flag+`": "`+where+`"}, "files": {"r.yaml": "figures: [Whisk]"}}`)
			if reply.StatusCode != http.StatusBadRequest {
				t.Errorf("%s --%s %s: %s", c.command, c.flag, where, reply.Status)
			}
		}
	}
	for _, path := range []string{"/do/check", "/do/vary", "/do/rooms", "/make/pdf", "/make/wav"} {
		if reply := post(t, at.URL+path, `{"args": ["`+secret+`"]}`); reply.StatusCode != http.StatusBadRequest {
			t.Errorf("%s: %s", path, reply.Status)
		}
	}
	// A name that is taken for a figure's is not opened either.
	if got := ask(t, at, "figures", `{"args": ["`+secret+`"]}`); got.Error == "" || strings.Contains(got.Error, "Tresor") {
		t.Errorf("%+v", got)
	}
}

// TestConfinedLinks: the program itself, when it may read here only, follows no link that
// leads elsewhere, and still reads what is here.
func TestConfinedLinks(t *testing.T) {
	secret := secretFile(t)
	folder := t.TempDir()
	if err := os.Symlink(secret, filepath.Join(folder, "link.yaml")); err != nil {
		t.Skipf("LEFT OUT: no links can be made here: %v", err)
	}
	if err := os.Symlink(filepath.Dir(secret), filepath.Join(folder, "there")); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(folder, "here.yaml"), []byte("name: Here\noutline: [[0, 0], [14, 0], [14, 9], [0, 9]]\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	run := func(confined string, args ...string) string {
		cmd := exec.Command(program, args...)
		cmd.Dir, cmd.Env = folder, append(os.Environ(), "LAPWRIGHT_ONLY_HERE="+confined)
		out, _ := cmd.CombinedOutput()
		return string(out)
	}
	if out := run("", "check", "link.yaml"); !strings.Contains(out, "link.yaml:") || strings.Contains(out, "cannot be read") {
		t.Fatalf("unconfined it does not follow the link: %s", out)
	}
	for _, name := range []string{"link.yaml", "there/secret.yaml"} {
		for _, args := range [][]string{
			{"check", name}, {"rooms", name}, {"lap", "--room", name}, {"lap", "--class", name}, {"lap", "--library", name}, {"next", "--after", name},
		} {
			if out := run("1", args...); !strings.Contains(out, "cannot be read") || strings.Contains(out, "Tresor") {
				t.Errorf("%v: %s", args, out)
			}
		}
	}
	out := run("1", "rooms", "here.yaml", "--json")
	if !json.Valid([]byte(out)) || !bytes.Contains([]byte(out), []byte(`"Here"`)) {
		t.Errorf("what is here is not read: %s", out)
	}
}
