package page_test

import (
	"bytes"
	"encoding/json"
	"io"
	"net/http"
	"os/exec"
	"strings"
	"testing"
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
		// How it was made is told without what the server itself puts in.
		for _, own := range []string{"--json", "--no-color", "made.yaml", "made.html"} {
			if bytes.Contains(data, []byte(own)) {
				t.Errorf("%s has %q in it", c.kind, own)
			}
		}
		if c.kind == "yaml" && !bytes.Contains(data, []byte(`made by: "lapwright `)) {
			t.Errorf("it is not told how it was made: %s", data)
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
