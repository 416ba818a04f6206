package page_test

import (
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"os"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"
)

// open is how many files this process has open; -1 where that cannot be seen.
func open() int {
	entries, err := os.ReadDir("/proc/self/fd")
	if err != nil {
		return -1
	}
	return len(entries)
}

// crowd are browsers that ask all at once.
type crowd struct {
	at     string
	client *http.Client
	full   atomic.Int64 // how often the queue was full
}

// do sends a question, again where the queue is full; an error is an answer that is none.
func (c *crowd) do(method, path, body, kind string, headers ...string) (answer string, version string, err error) {
	for {
		r, err := http.NewRequest(method, c.at+path, strings.NewReader(body))
		if err != nil {
			return "", "", err
		}
		if kind != "" {
			r.Header.Set("Content-Type", kind)
		}
		for i := 0; i+1 < len(headers); i += 2 {
			r.Header.Set(headers[i], headers[i+1])
		}
		reply, err := c.client.Do(r)
		if err != nil {
			return "", "", err
		}
		data, err := io.ReadAll(reply.Body)
		reply.Body.Close()
		switch {
		case err == nil && reply.StatusCode == http.StatusServiceUnavailable && strings.Contains(string(data), "too many searches are waiting"):
			c.full.Add(1)
			time.Sleep(300 * time.Millisecond)
			continue
		case err != nil || reply.StatusCode >= 300:
			return "", "", fmt.Errorf("%s %s: %v, %s, %.200s", method, path, err, reply.Status, data)
		}
		return string(data), reply.Header.Get("ETag"), nil
	}
}

// run runs a command; its last line has to be an answer.
func (c *crowd) run(command, body string) error {
	text, _, err := c.do("POST", "/do/"+command, body, "application/json")
	if err != nil {
		return err
	}
	lines := strings.Split(strings.TrimSpace(text), "\n")
	var last line
	if err := json.Unmarshal([]byte(lines[len(lines)-1]), &last); err != nil || last.Answer == nil {
		return fmt.Errorf("%s: %v, %.200s", command, err, lines[len(lines)-1])
	}
	return nil
}

// visit is what one of them does.
func (c *crowd) visit(number, round int) error {
	for _, path := range []string{"/", "/style.css", "/main.js", "/icon.svg"} {
		if _, _, err := c.do("GET", path, "", ""); err != nil {
			return err
		}
	}
	var err error
	switch {
	case number%40 == 1:
		err = c.run("lap", `{"flags": {"room": "studio"}}`)
	case number%8 == 2:
		err = c.run("next", `{"flags": {"room": "studio", "level": "social"}}`)
	case number%8 == 4:
		err = c.run("figures", `{"args": ["Whisk"]}`)
	case number%4 == 0:
		err = c.run("rooms", `{"args": ["studio"]}`)
	}
	if err != nil {
		return err
	}
	// What is saved, read, changed and deleted again is what was sent.
	path, text := fmt.Sprintf("/saved/rooms/Hall%%20%d", number), fmt.Sprintf("name: Hall %d %d\n", number, round)
	_, version, err := c.do("PUT", path, text, "application/yaml", "If-None-Match", "*")
	if err != nil {
		return err
	}
	if back, _, err := c.do("GET", path, "", ""); err != nil || back != text {
		return fmt.Errorf("%q comes back as %q, %v", text, back, err)
	}
	if _, version, err = c.do("PUT", path, text+text, "application/yaml", "If-Match", version); err != nil {
		return err
	}
	if _, _, err := c.do("GET", "/saved/", "", ""); err != nil {
		return err
	}
	_, _, err = c.do("DELETE", path, "", "", "If-Match", version)
	return err
}

// TestManyClients: 200 browsers at once, each with the page's files, a command, and a room
// to save, have no error but a full queue, and leave nothing behind: no memory, no
// goroutines, no open files, no folders.
func TestManyClients(t *testing.T) {
	clients, rounds := 200, 2
	if testing.Short() {
		clients = 30
	}
	at, end, ended := served(t, "", nil)
	c := &crowd{at: at, client: &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: clients}}}
	idle := runtime.NumGoroutine()
	wave := func(round int) {
		var all sync.WaitGroup
		for i := range clients {
			all.Go(func() {
				if err := c.visit(i, round); err != nil {
					t.Error(err)
				}
			})
		}
		all.Wait()
		c.client.CloseIdleConnections()
	}
	measure := func() (heap uint64, goroutines, files int) {
		soon(t, "connections are closed", func() bool { return runtime.NumGoroutine() <= idle+5 })
		runtime.GC()
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return m.HeapAlloc, runtime.NumGoroutine(), open()
	}
	began := time.Now()
	wave(0)
	heap, goroutines, files := measure()
	for round := range rounds {
		wave(round + 1)
	}
	laterHeap, laterGoroutines, laterFiles := measure()
	t.Logf("%d clients: %d kB, %d goroutines and %d open files after one wave, %d kB, %d and %d after %d more; %v for each; the queue was full %d times",
		clients, heap>>10, goroutines, files, laterHeap>>10, laterGoroutines, laterFiles, rounds, (time.Since(began) / time.Duration(rounds+1)).Round(time.Second/10), c.full.Load())
	if laterHeap > heap+2<<20 || laterGoroutines > goroutines+5 || laterFiles > files+5 {
		t.Error("something is left behind")
	}
	if n := len(left(t)); n > 0 {
		t.Errorf("%d folders are left", n)
	}
	end()
	hasEnded(t, ended)
}
