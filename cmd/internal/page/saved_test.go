package page_test

import (
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

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

// TestNames: a name that is taken stays within the folder and comes back as it was; others
// are refused.
func TestSavedNames(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "saved")
	at := server(t, func(o *page.Options) { o.Folder = folder })
	for _, bad := range []string{"", " x", "x ", ".", "..", "a/b", `a\b`, "a.yaml", ".hidden", "a\x00b", "a\nb", "<script>", strings.Repeat("x", 61), "a:b", "a*"} {
		status, text, _ := kept(t, at, "PUT", "/saved/rooms/"+url.PathEscape(bad), "x", "If-None-Match", "*")
		if status < 300 {
			t.Errorf("%q is taken: %d %s", bad, status, text)
		}
	}
	if status, _, _ := kept(t, at, "PUT", "/saved/secrets/x", "x", "If-None-Match", "*"); status != 400 {
		t.Errorf("another kind: %d", status)
	}
	rapid.Check(t, func(rt *rapid.T) {
		name := rapid.StringMatching(`[\p{L}\p{Nd} _'./\\<-]{1,20}`).Draw(rt, "name")
		status, _, version := kept(t, at, "PUT", "/saved/classes/"+url.PathEscape(name), "a class", "If-None-Match", "*")
		if status != 204 {
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
		if !strings.Contains(list, `"classes":[{"name":`) {
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
