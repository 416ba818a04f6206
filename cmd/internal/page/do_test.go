package page_test

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"lapwright/cmd/internal/page"
)

// TestDo: what a command answers here is what it prints with --json.
func TestDo(t *testing.T) {
	at := server(t, nil)
	for _, c := range []struct {
		command, body string
		args          []string
		code          int
	}{
		{"rooms", `{"args": ["studio"]}`, []string{"rooms", "studio"}, 0},
		{"figures", `{"args": ["Natural Turn"]}`, []string{"figures", "Natural Turn"}, 0},
		{"lap", `{"flags": {"room": "studio", "bars": "10-16"}}`, []string{"lap", "--room", "studio", "--bars", "10-16"}, 0},
		{"lap", `{"flags": {"known": ["Whisk"]}}`, []string{"lap", "--known", "Whisk"}, 1},
		{"drill", `{"flags": {"bars": 8, "level": "social", "seed": "4"}}`, []string{"drill", "--bars", "8", "--level", "social", "--seed", "4"}, 0},
		{"next", `{"flags": {"room": "studio"}}`, []string{"next", "--room", "studio"}, 0},
	} {
		got := ask(t, at, c.command, c.body)
		if got.Error != "" || got.Code != c.code {
			t.Errorf("%s: code %d, %s", c.command, got.Code, got.Error)
			continue
		}
		want, _ := exec.Command(program, append(c.args, "--json")...).Output()
		var a, b bytes.Buffer
		if json.Compact(&a, got.Answer) != nil || json.Compact(&b, want) != nil || a.String() != b.String() {
			t.Errorf("%s answers otherwise than the program:\n%.300s\n%.300s", c.command, a.String(), b.String())
		}
	}
}

// TestFilesOfRequest: a routine, a room and a class of a request are read, and what --out
// writes comes back.
func TestFilesOfRequest(t *testing.T) {
	at := server(t, nil)
	got := ask(t, at, "check", `{"args": ["r.yaml"], "out": true, "flags": {"level": "social"}, "files": {"r.yaml": "room: shed.yaml\nfigures: [Natural Turn, Reverse Turn, Left Foot Closed Change]", "shed.yaml": "name: Shed\noutline: [[0, 0], [14, 0], [14, 9], [0, 9]]"}}`)
	if got.Error != "" || got.Code != 1 || !bytes.Contains(got.Answer, []byte(`"Shed"`)) || !strings.Contains(got.Files["made.yaml"], "figures:") {
		t.Errorf("%+v", got)
	}
	got = ask(t, at, "lap", `{"flags": {"class": "c.yaml", "week": "1", "room": "studio"}, "files": {"c.yaml": "name: Mondays\ndance: waltz\nweeks:\n  - [Natural Turn]\n"}}`)
	if got.Error != "" || !bytes.Contains(got.Answer, []byte(`"Mondays"`)) {
		t.Errorf("%+v", got)
	}
}

// TestProgress: a better lap is told while the search goes on, as a routine with its file.
func TestProgress(t *testing.T) {
	at := server(t, nil)
	var laps, places int
	reply := post(t, at.URL+"/do/lap", `{"flags": {"room": "studio"}}`)
	last := follow(t, reply.Body, func(l line) {
		if l.Queued != nil {
			places++
		}
		var news struct {
			Words   string
			Best    float64
			Least   float64
			Routine json.RawMessage
			File    string
		}
		if l.Progress != nil {
			if err := json.Unmarshal(l.Progress, &news); err != nil || news.Words == "" || news.Best > 0 && news.Least > news.Best {
				t.Errorf("%v: %s", err, l.Progress)
			}
			if strings.Contains(news.File, "figures:") && len(news.Routine) > 100 {
				laps++
			}
		}
	})
	if laps == 0 || places == 0 || last.Answer == nil {
		t.Errorf("%d laps, %d places, last %+v", laps, places, last)
	}
}

// TestConfined: a command reads no file but those of its request, whatever names it.
func TestConfined(t *testing.T) {
	secret := filepath.Join(t.TempDir(), "secret.yaml")
	if err := os.WriteFile(secret, []byte("name: Secret\noutline: [[0, 0], [14, 0], [14, 9], [0, 9]]\nfigures: [Whisk]\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	at := server(t, nil)
	for _, c := range []struct{ command, body string }{
		{"check", `{"args": ["r.yaml"], "files": {"r.yaml": "room: SECRET\nfigures: [Natural Turn]"}}`},
		{"check", `{"args": ["r.yaml"], "files": {"r.yaml": "room: ../../../../../../../../..SECRET\nfigures: [Natural Turn]"}}`},
		{"lap", `{"flags": {"class": "c.yaml"}, "files": {"c.yaml": "name: C\nroom: SECRET\nweeks: [[Natural Turn]]"}}`},
		{"next", `{"flags": {"after": "r.yaml"}, "files": {"r.yaml": "room: SECRET\nfigures: [Natural Turn]"}}`},
	} {
		got := ask(t, at, c.command, strings.ReplaceAll(c.body, "SECRET", secret))
		if got.Error == "" || strings.Contains(got.Error, "outline") || bytes.Contains(got.Answer, []byte("Secret")) || !strings.Contains(got.Error, "only files that are given may be read here") {
			t.Errorf("%s: %q %.100s", c.command, got.Error, got.Answer)
		}
	}
	for _, flag := range []string{"room", "class", "library", "after"} {
		for _, command := range []string{"lap", "next"} {
			if command == "lap" && flag == "after" {
				continue
			}
			reply := post(t, at.URL+"/do/"+command, `{"flags": {"`+flag+`": "`+secret+`"}}`)
			if reply.StatusCode != http.StatusBadRequest {
				t.Errorf("%s --%s: %s", command, flag, reply.Status)
			}
		}
	}
}

// TestStop asks a search for the best so far.
func TestStop(t *testing.T) {
	at := acting(t, "slow", nil)
	reply := post(t, at.URL+"/do/lap", `{}`)
	var id string
	last := follow(t, reply.Body, func(l line) {
		if l.ID != "" {
			id = l.ID
		}
		if l.Progress != nil {
			if r := post(t, at.URL+"/stop/"+id, `{}`); r.StatusCode != http.StatusNoContent {
				t.Errorf("it is not stopped: %s", r.Status)
			}
		}
	})
	if !last.Stopped || last.Code != 0 || string(last.Answer) != `{"found":true}` {
		t.Errorf("%+v", last)
	}
	if r := post(t, at.URL+"/stop/"+id, `{}`); r.StatusCode != http.StatusNotFound {
		t.Errorf("stopped twice: %s", r.Status)
	}
}

// TestGone: when the browser goes away the command ends, and its folder with it.
func TestGone(t *testing.T) {
	for _, how := range []string{"slow", "deaf"} {
		t.Run(how, func(t *testing.T) {
			at := acting(t, how, func(o *page.Options) { o.AtOnce = 1 })
			ctx, cancel := context.WithCancel(context.Background())
			r, _ := http.NewRequestWithContext(ctx, http.MethodPost, at.URL+"/do/lap", strings.NewReader(`{}`))
			r.Header.Set("Content-Type", "application/json")
			reply, err := http.DefaultClient.Do(r)
			if err != nil {
				t.Fatal(err)
			}
			soon(t, "it runs", func() bool { return len(left(t)) == 1 })
			cancel()
			io.Copy(io.Discard, reply.Body)
			reply.Body.Close()
			soon(t, "its folder is gone", func() bool { return len(left(t)) == 0 })
		})
	}
}

// TestLimits: time and memory that are not enough, and answers that are none, end in a
// sentence.
func TestLimits(t *testing.T) {
	for _, c := range []struct {
		how, words string
		change     func(*page.Options)
	}{
		{"deaf", "Nothing was found within 1 s", func(o *page.Options) { o.Time = time.Second }},
		{"loud", "larger than a page can show", nil},
		{"crash", "a fault", nil},
		{"silent", "broke off without a word", nil},
	} {
		t.Run(c.how, func(t *testing.T) {
			if got := ask(t, acting(t, c.how, c.change), "lap", `{}`); !strings.Contains(got.Error, c.words) || got.Code != 2 {
				t.Errorf("%+v", got)
			}
			if n := len(left(t)); n > 0 {
				t.Errorf("%d folders are left", n)
			}
		})
	}
	if got := ask(t, acting(t, "slow", func(o *page.Options) { o.Time = time.Second }), "lap", `{}`); !got.Stopped || got.Answer == nil {
		t.Errorf("when its time is over it shows no best: %+v", got)
	}
}

// TestMemory: a command that takes more memory than it may ends.
func TestMemory(t *testing.T) {
	at := server(t, func(o *page.Options) { o.Memory = 60 })
	got := ask(t, at, "lap", `{"flags": {"room": "ballroom", "level": "all", "style": "all"}}`)
	if !strings.Contains(got.Error, "more than 60 MB of memory") {
		t.Errorf("%+v", got)
	}
}

// TestQueue: commands begin in the order in which they came; those that wait know their
// place; when too many wait, more are refused.
func TestQueue(t *testing.T) {
	at := acting(t, "slow", func(o *page.Options) { o.AtOnce, o.Waiting = 1, 2 })
	ids := make(chan string, 3)
	done := make(chan int, 3)
	places := make([][]int, 3)
	for i := range 3 {
		entered := make(chan bool)
		reply := post(t, at.URL+"/do/lap", `{}`)
		go func() {
			follow(t, reply.Body, func(l line) {
				if l.ID != "" {
					ids <- l.ID
					close(entered)
				}
				if l.Queued != nil {
					places[i] = append(places[i], *l.Queued)
				}
			})
			done <- i
		}()
		<-entered
	}
	if got := follow(t, post(t, at.URL+"/do/lap", `{}`).Body, nil); !strings.Contains(got.Error, "too many searches are waiting") {
		t.Errorf("a fourth: %+v", got)
	}
	soon(t, "the first runs", func() bool { return len(left(t)) == 1 })
	for want := range 3 {
		time.Sleep(100 * time.Millisecond) // the command listens to Ctrl-C
		post(t, at.URL+"/stop/"+<-ids, `{}`)
		if got := <-done; got != want {
			t.Fatalf("number %d ends, want %d", got, want)
		}
	}
	for i, want := range []string{"[0]", "[1 0]", "[2 1 0]"} {
		if got := strings.ReplaceAll(strings.Trim(strings.Join(strings.Fields(jsonOf(places[i])), ""), "\""), ",", " "); got != want {
			t.Errorf("number %d had the places %s, want %s", i, got, want)
		}
	}
}

func jsonOf(v any) string {
	data, _ := json.Marshal(v)
	return string(data)
}

// TestMake: files to take away are what they say.
func TestMake(t *testing.T) {
	at := server(t, nil)
	const routine = `{"args": ["r.yaml"], "files": {"r.yaml": "name: Evening\nfigures: [Natural Turn, Right Foot Closed Change]"}}`
	for _, c := range []struct{ kind, body, media, begins string }{
		{"pdf", routine, "application/pdf", "%PDF-"},
		{"html", routine, "text/html; charset=utf-8", "<!doctype html>"},
		{"svg", routine, "image/svg+xml", "<?xml"},
		{"midi", routine, "audio/midi", "MThd"},
		{"wav", routine, "audio/wav", "RIFF"},
		{"captions", routine, "text/vtt; charset=utf-8", "WEBVTT"},
		{"pdf", `{"command": "drill", "flags": {"cards": "2", "bars": 4, "level": "social"}}`, "application/pdf", "%PDF-"},
		{"yaml", `{"command": "drill", "flags": {"bars": 4, "level": "social"}}`, "application/yaml; charset=utf-8", "name: Drill"},
		{"yaml", `{"command": "lap", "flags": {"room": "studio"}}`, "application/yaml; charset=utf-8", "name: Lap"},
		// With a fault it is made as well, up to the fault.
		{"pdf", `{"args": ["r.yaml"], "files": {"r.yaml": "figures: [Natural Turn, Reverse Turn]"}}`, "application/pdf", "%PDF-"},
	} {
		reply := post(t, at.URL+"/make/"+c.kind, c.body)
		data, err := io.ReadAll(reply.Body)
		if err != nil || reply.StatusCode != http.StatusOK || reply.Header.Get("Content-Type") != c.media || !bytes.HasPrefix(data, []byte(c.begins)) ||
			!strings.HasPrefix(reply.Header.Get("Content-Disposition"), "attachment") {
			t.Errorf("%s: %v, %s, %s, %.80s", c.kind, err, reply.Status, reply.Header.Get("Content-Type"), data)
		}
	}
	for _, c := range []struct {
		kind, body, words string
		status            int
	}{
		{"exe", routine, "That cannot be made here", http.StatusNotFound},
		{"svg", `{"command": "drill"}`, "cannot be made of this command", http.StatusBadRequest},
		{"pdf", `{"args": ["none.yaml"]}`, "not among those that are given", http.StatusBadRequest},
		{"pdf", `{"args": ["r.yaml"], "files": {"r.yaml": "figures: [Wisk]"}}`, "r.yaml:1", http.StatusUnprocessableEntity},
	} {
		reply := post(t, at.URL+"/make/"+c.kind, c.body)
		data, _ := io.ReadAll(reply.Body)
		if reply.StatusCode != c.status || !strings.Contains(string(data), c.words) {
			t.Errorf("%s: %s: %s", c.kind, reply.Status, data)
		}
	}
	if n := len(left(t)); n > 0 {
		t.Errorf("%d folders are left", n)
	}
}
