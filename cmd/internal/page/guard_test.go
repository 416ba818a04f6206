package page_test

import (
	"fmt"
	"io"
	"net/http"
	"strings"
	"testing"

	"lapwright/cmd/internal/page"
)

// TestRefused: what does not come from the page itself, or makes no sense, is refused with
// a sentence. (Foreign hosts: DNS rebinding; Origin and Sec-Fetch-Site: the Fetch standard
// and Fetch Metadata of the W3C.)
func TestRefused(t *testing.T) {
	at := server(t, func(o *page.Options) { o.Hosts = []string{"hall.example"} })
	big := `{"files": {"r.yaml": "` + strings.Repeat("x", 1<<20) + `"}}`
	for _, c := range []struct {
		name, method, path, body string
		headers                  map[string]string
		status                   int
		words                    string
	}{
		{"a foreign host", "GET", "/", "", map[string]string{"Host": "evil.example"}, 403, "under a name that is not its own"},
		{"a host that looks alike", "GET", "/", "", map[string]string{"Host": "localhost.evil.example:80"}, 403, "not its own"},
		{"another address", "GET", "/", "", map[string]string{"Host": "192.0.2.7"}, 403, "not its own"},
		{"localhost", "GET", "/", "", map[string]string{"Host": "LOCALHOST:1"}, 200, ""},
		{"the loopback of IPv6", "GET", "/", "", map[string]string{"Host": "[::1]:99"}, 200, ""},
		{"a name that it was given", "GET", "/", "", map[string]string{"Host": "hall.example"}, 200, ""},
		{"a foreign origin", "POST", "/do/lap", "{}", map[string]string{"Origin": "http://evil.example"}, 403, "Another page asks"},
		{"no origin at all", "POST", "/do/lap", "{}", map[string]string{"Origin": "null"}, 403, "Another page asks"},
		{"another port", "POST", "/do/lap", "{}", map[string]string{"Origin": "http://127.0.0.1:1"}, 403, "Another page asks"},
		{"from another site", "POST", "/do/lap", "{}", map[string]string{"Sec-Fetch-Site": "cross-site"}, 403, "Another page asks"},
		{"what another site loads", "GET", "/saved/", "", map[string]string{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "no-cors"}, 403, "Another page asks"},
		{"a link on another site", "GET", "/", "", map[string]string{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "navigate"}, 200, ""},
		{"a form", "POST", "/do/lap", "{}", map[string]string{"Content-Type": "application/x-www-form-urlencoded"}, 415, "has to be application/json"},
		{"plain text", "POST", "/do/lap", "{}", map[string]string{"Content-Type": "text/plain"}, 415, "application/json"},
		{"no type", "PUT", "/saved/rooms/A", "x", map[string]string{"Content-Type": ""}, 415, "application/yaml"},
		{"too much", "POST", "/do/lap", big, nil, 413, "more than 1 MB"},
		{"a method that is not known", "DELETE", "/do/lap", "", nil, 405, "cannot be done here"},
		{"another", "PATCH", "/saved/rooms/A", "", nil, 405, "cannot be done here"},
		{"a file of what comes back", "POST", "/do/drill", `{"files": {"made-1.yaml": ""}}`, nil, 400, "give yours another name"},
		{"a capital in a file's name", "POST", "/do/drill", `{"files": {"R.yaml": ""}}`, nil, 400, "no name for a file"},
		{"a file that is hidden", "POST", "/do/drill", `{"files": {".yaml": ""}}`, nil, 400, "no name for a file"},
		{"too many files", "POST", "/do/lap", `{"files": {` + many(111, func(i int) string { return fmt.Sprintf(`"f%d.yaml": ""`, i) }) + `}}`, nil, 400, "are too many; 110"},
		{"too many values", "POST", "/do/lap", `{"flags": {"must": [` + many(401, func(int) string { return `"x"` }) + `]}}`, nil, 400, "more than 400 values"},
		{"a long value", "POST", "/do/lap", `{"flags": {"must": "` + strings.Repeat("x", 4001) + `"}}`, nil, 400, "too long"},
		{"a file for a name", "POST", "/do/lap", `{"flags": {"level": "r.yaml"}, "files": {"r.yaml": ""}}`, nil, 400, "takes words, not the file"},
		{"a class elsewhere", "POST", "/do/lap", `{"flags": {"class": "../c.yaml"}}`, nil, 400, "not among those that are given"},
		{"a library elsewhere", "POST", "/do/lap", `{"flags": {"library": ["a.yaml", "/etc/hosts"]}, "files": {"a.yaml": ""}}`, nil, 400, "not among those that are given"},
		{"a routine elsewhere", "POST", "/do/drill", `{"flags": {"after": "/dev/stdin"}}`, nil, 400, "not among those that are given"},
		{"a brace too many", "POST", "/do/lap", "{} }", nil, 400, "more in the request than one"},
		{"no argument", "POST", "/do/check", "{}", nil, 400, "check takes 1 name, and 0 are given"},
		{"nothing", "POST", "/do/lap", "", nil, 400, "not what it should be"},
		{"an unknown flag of another command", "POST", "/do/rooms", `{"flags": {"level": "bronze"}}`, nil, 400, "rooms has no"},
		{"from the same site", "POST", "/do/lap", "{}", map[string]string{"Sec-Fetch-Site": "same-site"}, 403, "Another page asks"},
		{"a form of another site", "POST", "/do/lap", "{}", map[string]string{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "navigate"}, 403, "Another page asks"},
		{"its own origin by another protocol", "POST", "/do/lap", "{}", map[string]string{"Host": "localhost", "Origin": "https://localhost"}, 403, "Another page asks"},
		{"its own origin", "POST", "/do/rooms", "{}", map[string]string{"Host": "localhost", "Origin": "http://localhost", "Sec-Fetch-Site": "same-origin"}, 200, "answer"},
		{"an address bar", "GET", "/saved/", "", map[string]string{"Sec-Fetch-Site": "none", "Sec-Fetch-Mode": "navigate"}, 200, "rooms"},
		{"a part of the page under another name", "GET", "/x/assets/index.html", "", nil, 404, "no such page"},
		{"no such page", "GET", "/secret", "", nil, 404, "no such page"},
		{"a way out", "GET", "/../../etc/passwd", "", nil, 404, ""},
		{"no such command", "POST", "/do/graph", "{}", nil, 404, "no such command"},
		{"a command that writes", "POST", "/do/track", "{}", nil, 404, "no such command"},
		{"no such search", "POST", "/stop/abc", "{}", nil, 404, "no such search"},
		{"no JSON", "POST", "/do/lap", "bars", nil, 400, "not what it should be"},
		{"two questions", "POST", "/do/lap", "{} {}", nil, 400, "more in the request than one"},
		{"a field that is not known", "POST", "/do/lap", `{"shell": "ls"}`, nil, 400, "not what it should be"},
		{"a flag that writes", "POST", "/do/lap", `{"flags": {"out": "x.yaml"}}`, nil, 400, `"out"`},
		{"a flag that draws", "POST", "/do/lap", `{"flags": {"svg": "x.svg"}}`, nil, 400, `"svg"`},
		{"a flag that is not known", "POST", "/do/lap", `{"flags": {"no-such": "x"}}`, nil, 400, `"no-such"`},
		{"a flag in a flag", "POST", "/do/lap", `{"flags": {"bars=1 --out": "x"}}`, nil, 400, "bars=1"},
		{"a list of no texts", "POST", "/do/lap", `{"flags": {"must": [1]}}`, nil, 400, "takes texts"},
		{"an object", "POST", "/do/lap", `{"flags": {"must": {}}}`, nil, 400, "takes a text"},
		{"a toggle that is none", "POST", "/do/check", `{"args": ["r.yaml"], "files": {"r.yaml": "x"}, "flags": {"lap": "yes"}}`, nil, 400, "either true or false"},
		{"a file that is not given", "POST", "/do/check", `{"args": ["r.yaml"]}`, nil, 400, "not among those that are given"},
		{"a file elsewhere", "POST", "/do/rooms", `{"args": ["/etc/passwd"]}`, nil, 400, "there is no room"},
		{"a file's name with a way", "POST", "/do/check", `{"args": ["../r.yaml"], "files": {"../r.yaml": "x"}}`, nil, 400, "no name for a file"},
		{"an argument too many", "POST", "/do/lap", `{"args": ["x"]}`, nil, 400, "takes no names"},
		{"a nought", "POST", "/do/figures", `{"args": ["a\u0000b"]}`, nil, 400, "no text"},
		{"nothing to write", "POST", "/do/next", `{"out": true}`, nil, 400, "writes no files"},
	} {
		t.Run(c.name, func(t *testing.T) {
			r, err := http.NewRequest(c.method, at.URL+c.path, strings.NewReader(c.body))
			if err != nil {
				t.Fatal(err)
			}
			if c.method == "POST" {
				r.Header.Set("Content-Type", "application/json")
			}
			for name, value := range c.headers {
				r.Header.Set(name, value)
				if name == "Host" {
					r.Host = value
				}
			}
			reply, err := http.DefaultClient.Do(r)
			if err != nil {
				t.Fatal(err)
			}
			defer reply.Body.Close()
			data, _ := io.ReadAll(reply.Body)
			if reply.StatusCode != c.status || !strings.Contains(string(data), strings.ReplaceAll(c.words, `"`, `\"`)) {
				t.Errorf("%s: %.200s", reply.Status, data)
			}
			for name, want := range map[string]string{"Content-Security-Policy": "default-src 'self'", "X-Content-Type-Options": "nosniff", "Referrer-Policy": "no-referrer"} {
				if got := reply.Header.Get(name); !strings.Contains(got, want) {
					t.Errorf("%s is %q", name, got)
				}
			}
		})
	}
}

// many are n pieces of JSON with commas between.
func many(n int, piece func(i int) string) string {
	var all []string
	for i := range n {
		all = append(all, piece(i))
	}
	return strings.Join(all, ", ")
}

// TestTooMuchInPieces: a body that does not say beforehand how large it is.
func TestTooMuchInPieces(t *testing.T) {
	at := server(t, nil)
	for _, path := range []string{"/do/lap", "/make/pdf", "/saved/rooms/A"} {
		method, kind := "POST", "application/json"
		if strings.HasPrefix(path, "/saved") {
			method, kind = "PUT", "application/yaml"
		}
		r, err := http.NewRequest(method, at.URL+path, io.MultiReader(strings.NewReader(strings.Repeat(" ", 1<<20)), strings.NewReader("{}")))
		if err != nil {
			t.Fatal(err)
		}
		r.Header.Set("Content-Type", kind)
		reply, err := http.DefaultClient.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		data, _ := io.ReadAll(reply.Body)
		reply.Body.Close()
		if reply.StatusCode != http.StatusRequestEntityTooLarge || !strings.Contains(string(data), "more than 1 MB") {
			t.Errorf("%s: %s: %s", path, reply.Status, data)
		}
	}
}

// TestAssets: the page's files have types and versions.
func TestAssets(t *testing.T) {
	at := server(t, nil)
	first, err := http.Get(at.URL + "/")
	if err != nil {
		t.Fatal(err)
	}
	first.Body.Close()
	if first.StatusCode != 200 || !strings.HasPrefix(first.Header.Get("Content-Type"), "text/html") || first.Header.Get("ETag") == "" {
		t.Fatalf("%s %v", first.Status, first.Header)
	}
	r, _ := http.NewRequest("GET", at.URL+"/", nil)
	r.Header.Set("If-None-Match", first.Header.Get("ETag"))
	again, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	again.Body.Close()
	if again.StatusCode != http.StatusNotModified {
		t.Errorf("the same again: %s", again.Status)
	}
}

// TestNew refuses options that make no sense.
func TestNew(t *testing.T) {
	for _, o := range []page.Options{{}, {Program: "x"}, {Folder: "x"}, {Program: "x", Folder: "y", Memory: 1}, {Program: "x", Folder: "y", AtOnce: -1}} {
		if _, err := page.New(o); err == nil {
			t.Errorf("%+v is taken", o)
		}
	}
}
