package page_test

import (
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/text/unicode/norm"
	"pgregory.net/rapid"

	"lapwright/cmd/internal/page"
)

// kept sends a request about what is saved.
func kept(t testing.TB, at *httptest.Server, method, path, body string, headers ...string) (status int, text, version string) {
	t.Helper()
	r, err := http.NewRequest(method, at.URL+path, strings.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	if method == "PUT" {
		r.Header.Set("Content-Type", "application/yaml")
	}
	for i := 0; i+1 < len(headers); i += 2 {
		r.Header.Set(headers[i], headers[i+1])
	}
	reply, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer reply.Body.Close()
	data, err := io.ReadAll(reply.Body)
	if err != nil {
		t.Fatal(err)
	}
	return reply.StatusCode, string(data), reply.Header.Get("ETag")
}

// TestTwoWindows: of two windows that have read the same, the second cannot write over
// what the first has saved.
func TestTwoWindows(t *testing.T) {
	at := server(t, nil)
	const lap = "/saved/routines/Evening%20lap"
	steps := []struct {
		method, body, header, value string
		status                      int
		words                       string
	}{
		{"GET", "", "", "", 404, "Nothing is saved"},
		{"PUT", "one", "", "", 428, "which version"},
		{"PUT", "one", "If-None-Match", "*", 204, ""},
		{"PUT", "other", "If-None-Match", "*", 412, "one of that name already"},
		{"GET", "", "", "", 200, "one"},
		{"PUT", "two", "If-Match", "VERSION", 204, ""},
		{"PUT", "three", "If-Match", "OLD", 412, "changed in another window"},
		{"GET", "", "", "", 200, "two"},
		{"DELETE", "", "If-Match", "OLD", 412, "changed in another window"},
		{"DELETE", "", "If-Match", "VERSION", 204, ""},
		{"PUT", "four", "If-Match", "VERSION", 412, "deleted in the meantime"},
		{"GET", "", "", "", 404, "Nothing is saved"},
	}
	version, old := "", ""
	for i, s := range steps {
		value := map[string]string{"VERSION": version, "OLD": old}[s.value]
		if value == "" {
			value = s.value
		}
		var headers []string
		if s.header != "" {
			headers = []string{s.header, value}
		}
		status, text, tag := kept(t, at, s.method, lap, s.body, headers...)
		if status != s.status || !strings.Contains(text, s.words) {
			t.Fatalf("step %d, %s: %d, %s", i+1, s.method, status, text)
		}
		if tag != "" && tag != version {
			old, version = version, tag
		}
	}
}

// TestSavedTogether: many windows save at once; each that is told that it has saved was
// the only one to write over that version.
func TestSavedTogether(t *testing.T) {
	at := server(t, nil)
	const room = "/saved/rooms/Hall"
	_, _, first := kept(t, at, "PUT", room, "zero", "If-None-Match", "*")
	done := make(chan int, 20)
	for i := range 20 {
		go func() {
			status, _, _ := kept(t, at, "PUT", room, strings.Repeat("x", i+1), "If-Match", first)
			done <- status
		}()
	}
	saved := 0
	for range 20 {
		if <-done == 204 {
			saved++
		}
	}
	if saved != 1 {
		t.Errorf("%d windows have saved over the same version", saved)
	}
}

// TestTwoServers: two servers that have the same folder wait for each other, too.
func TestTwoServers(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "saved")
	var at []*httptest.Server
	for range 2 {
		at = append(at, server(t, func(o *page.Options) { o.Folder = folder }))
	}
	const room = "/saved/rooms/Hall"
	_, _, version := kept(t, at[0], "PUT", room, "zero", "If-None-Match", "*")
	for round := range 20 {
		type outcome struct {
			status int
			tag    string
		}
		done, old := make(chan outcome, 8), version
		for i := range 8 {
			go func() {
				status, _, tag := kept(t, at[i%2], "PUT", room, fmt.Sprintf("round %d, window %d", round, i), "If-Match", old)
				done <- outcome{status, tag}
			}()
		}
		saved := 0
		for range 8 {
			if o := <-done; o.status == 204 {
				saved++
				version = o.tag
			} else if o.status != 412 {
				t.Errorf("%d", o.status)
			}
		}
		if _, _, now := kept(t, at[1], "GET", room, ""); saved != 1 || now != version {
			t.Fatalf("round %d: %d windows have saved over the same version", round, saved)
		}
	}
}

// TestFullFolder: a folder of a kind takes 2000 files; those that are there can still be
// changed and deleted.
func TestFullFolder(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "saved")
	if err := os.MkdirAll(filepath.Join(folder, "rooms"), 0o755); err != nil {
		t.Fatal(err)
	}
	for i := range 2000 {
		if err := os.WriteFile(filepath.Join(folder, "rooms", fmt.Sprintf("Hall %d.yaml", i)), []byte("x"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	at := server(t, func(o *page.Options) { o.Folder = folder })
	if status, text, _ := kept(t, at, "PUT", "/saved/rooms/New", "x", "If-None-Match", "*"); status != http.StatusInsufficientStorage || !strings.Contains(text, "There are 2000 already: delete some first.") {
		t.Errorf("one more: %d %s", status, text)
	}
	_, _, version := kept(t, at, "GET", "/saved/rooms/Hall%207", "")
	status, _, version := kept(t, at, "PUT", "/saved/rooms/Hall%207", "y", "If-Match", version)
	if status != 204 {
		t.Errorf("one that is there: %d", status)
	}
	if status, _, _ := kept(t, at, "DELETE", "/saved/rooms/Hall%207", "", "If-Match", version); status != 204 {
		t.Errorf("it cannot be deleted: %d", status)
	}
	if status, text, _ := kept(t, at, "PUT", "/saved/rooms/New", "x", "If-None-Match", "*"); status != 204 {
		t.Errorf("in its place: %d %s", status, text)
	}
	if status, _, _ := kept(t, at, "PUT", "/saved/classes/New", "x", "If-None-Match", "*"); status != 204 {
		t.Errorf("one of another kind: %d", status)
	}
}

// TestListed: what is in the folder besides is not listed, and cannot be read.
func TestListed(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "saved")
	at := server(t, func(o *page.Options) { o.Folder = folder })
	if status, text, _ := kept(t, at, "GET", "/saved/", ""); status != 200 || strings.TrimSpace(text) != `{"classes":[],"rooms":[],"routines":[]}` {
		t.Errorf("nothing is saved: %d %s", status, text)
	}
	_, _, version := kept(t, at, "PUT", "/saved/rooms/Upper%20Merle", "name: Upper Merle", "If-None-Match", "*")
	for _, name := range []string{".Upper Merle.yaml.part-1", "notes.txt", "a.b.yaml"} {
		if err := os.WriteFile(filepath.Join(folder, "rooms", name), []byte("x"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Mkdir(filepath.Join(folder, "rooms", "Folder.yaml"), 0o755); err != nil {
		t.Fatal(err)
	}
	want := `{"classes":[],"rooms":[{"name":"Upper Merle","version":` + strconv.Quote(version) + `}],"routines":[]}`
	if _, text, _ := kept(t, at, "GET", "/saved/", ""); strings.TrimSpace(text) != want {
		t.Errorf("it lists %s, want %s", text, want)
	}
	for _, name := range []string{".lock", "notes.txt", "a.b", "..%2Frooms%2FUpper%20Merle", "..%5Crooms"} {
		if status, text, _ := kept(t, at, "GET", "/saved/rooms/"+name, ""); status == 200 {
			t.Errorf("%s is read: %s", name, text)
		}
	}
	if status, _, _ := kept(t, at, "GET", "/saved/rooms/Folder", ""); status != 500 {
		t.Errorf("a folder is read: %d", status)
	}
	// It cannot be saved where there is no folder to be made.
	if err := os.RemoveAll(folder); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(folder, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	if status, text, _ := kept(t, at, "PUT", "/saved/rooms/A", "x", "If-None-Match", "*"); status != 500 || !strings.Contains(text, `"error"`) {
		t.Errorf("%d %s", status, text)
	}
}

// sentence is what a refusal says; it is one sentence in JSON.
func sentence(t testing.TB, what, text string) string {
	t.Helper()
	var said struct {
		Error string
		Code  int
	}
	if err := json.Unmarshal([]byte(text), &said); err != nil || said.Code != 2 || !strings.HasSuffix(said.Error, ".") || strings.ToUpper(said.Error[:1]) != said.Error[:1] {
		t.Errorf("%s: that is no sentence: %q", what, text)
	}
	return said.Error
}

// TestSavedNames: a name that is taken stays within the folder and comes back as it was; others
// are refused.
func TestSavedNames(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "saved")
	at := server(t, func(o *page.Options) { o.Folder = folder })
	for _, bad := range []string{"", " ", " x", "x ", "\u00a0x", "x\u3000", ".", "..", "...", "a/b", "a//b", `a\b`, "a.yaml", ".hidden", "a\x00b", "a\nb", "<script>", strings.Repeat("x", 61), "a:b", "a*", strings.Repeat("𒀀", 60), "\u202eabc", "a\u200bb", "a\tb", "-", "'x", "%", "a%2fb", "\xff"} {
		for _, method := range []string{"PUT", "GET", "DELETE"} {
			for _, path := range []string{url.PathEscape(bad), strings.ReplaceAll(url.PathEscape(bad), ".", "%2E")} {
				status, text, _ := kept(t, at, method, "/saved/rooms/"+path, "x", "If-None-Match", "*")
				if status < 300 {
					t.Errorf("%s %q is taken: %d %s", method, bad, status, text)
				}
				sentence(t, fmt.Sprintf("%s %q", method, bad), text)
			}
		}
	}
	// Names that Windows keeps for devices: Microsoft, "Naming Files, Paths, and Namespaces".
	for _, bad := range []string{"CON", "con", "Prn", "aux", "nul", "NUL", "com1", "COM9", "LPT1", "lpt9"} {
		status, text, _ := kept(t, at, "PUT", "/saved/rooms/"+bad, "x", "If-None-Match", "*")
		if status != 400 || !strings.Contains(sentence(t, bad, text), "choose another") {
			t.Errorf("%q: %d %s", bad, status, text)
		}
	}
	for _, good := range []string{"Conway hall", "CON hall", "nuls", "com", "lpt12"} {
		status, text, version := kept(t, at, "PUT", "/saved/rooms/"+url.PathEscape(good), "x", "If-None-Match", "*")
		if status != 204 {
			t.Errorf("%q: %d %s", good, status, text)
		}
		kept(t, at, "DELETE", "/saved/rooms/"+url.PathEscape(good), "", "If-Match", version)
	}
	for _, path := range []string{"/saved", "/saved/rooms", "/saved/rooms/", "/saved/rooms/.", "/saved/./rooms/x", "//saved/rooms/x", "/saved//", "/saved/..", "/saved/rooms/x/y", "/saved/secrets/x"} {
		for _, method := range []string{"GET", "PUT", "DELETE", "PATCH", "OPTIONS"} {
			status, text, _ := kept(t, at, method, path, "x", "If-None-Match", "*")
			if status < 400 {
				t.Errorf("%s %s: %d", method, path, status)
			}
			sentence(t, method+" "+path, text)
		}
	}
	if status, _, _ := kept(t, at, "PUT", "/saved/secrets/x", "x", "If-None-Match", "*"); status != 400 {
		t.Errorf("another kind: %d", status)
	}
	rapid.Check(t, func(rt *rapid.T) {
		name := rapid.OneOf(rapid.StringMatching(`[\p{L}\p{Nd}]{1,61}`), rapid.StringMatching(`[\p{L}\p{M}\p{Nd} _'’./\\<-]{1,20}`), rapid.String(),
			rapid.SampledFrom([]string{"Conny", "Zoë’s hall", "Zoe\u0308", "a--b", "Größe_3"})).Draw(rt, "name")
		status, refusal, version := kept(t, at, "PUT", "/saved/classes/"+url.PathEscape(name), "a class", "If-None-Match", "*")
		if status != 204 {
			if status != 400 && status != 404 {
				rt.Errorf("%q is refused with %d: %s", name, status, refusal)
			}
			sentence(t, name, refusal)
			return
		}
		_, text, again := kept(t, at, "GET", "/saved/classes/"+url.PathEscape(name), "")
		if text != "a class" || again != version {
			rt.Errorf("%q comes back as %q", name, text)
		}
		entries, err := os.ReadDir(filepath.Join(folder, "classes"))
		if err != nil || len(entries) != 1 {
			rt.Fatalf("%q is saved as %v, %v", name, entries, err)
		}
		_, list, _ := kept(t, at, "GET", "/saved/", "")
		var listed struct {
			Classes []struct{ Name, Version string }
		}
		if err := json.Unmarshal([]byte(list), &listed); err != nil || len(listed.Classes) != 1 || norm.NFC.String(name) != listed.Classes[0].Name || listed.Classes[0].Version != version {
			rt.Errorf("%q is not listed: %s", name, list)
		}
		if status, _, _ := kept(t, at, "DELETE", "/saved/classes/"+url.PathEscape(name), "", "If-Match", version); status != 204 {
			rt.Errorf("%q is not deleted", name)
		}
	})
	entries, _ := os.ReadDir(folder)
	var names []string
	for _, e := range entries {
		if e.Name() != ".lock" { // by which servers wait for each other
			names = append(names, e.Name())
		}
	}
	if !slices.Equal(names, []string{"classes"}) && !slices.Equal(names, []string{"classes", "rooms"}) {
		t.Errorf("the folder has %v", names)
	}
}

// TestNoText refuses what is no text.
func TestNoText(t *testing.T) {
	at := server(t, nil)
	for _, body := range []string{"", "\xff\xfe"} {
		if status, _, _ := kept(t, at, "PUT", "/saved/rooms/A", body, "If-None-Match", "*"); status != 400 {
			t.Errorf("%q: %d", body, status)
		}
	}
}
