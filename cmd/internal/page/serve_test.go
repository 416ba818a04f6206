package page_test

import (
	"context"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"

	"lapwright/cmd/internal/page"
)

// TestServe: a server that is to end lets a search show the best so far, and ends.
func TestServe(t *testing.T) {
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	t.Setenv(actAs, "slow")
	s, err := page.New(page.Options{Program: self, Folder: t.TempDir()})
	if err != nil {
		t.Fatal(err)
	}
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- s.Serve(ctx, listener) }()
	reply := post(t, "http://"+listener.Addr().String()+"/do/lap", `{}`)
	last := follow(t, reply.Body, func(l line) {
		if l.Progress != nil {
			cancel()
		}
	})
	if !last.Stopped || last.Answer == nil {
		t.Errorf("%+v", last)
	}
	select {
	case err := <-ended:
		if err != nil {
			t.Error(err)
		}
	case <-time.After(20 * time.Second):
		t.Fatal("it does not end")
	}
	if n := len(left(t)); n > 0 {
		t.Errorf("%d folders are left", n)
	}
}

// open is how many files this process has open; -1 where that cannot be seen.
func open() int {
	entries, err := os.ReadDir("/proc/self/fd")
	if err != nil {
		return -1
	}
	return len(entries)
}

// TestManyClients: 200 browsers at once, each with pages, rooms, a search and a file to
// save, have no error, and leave nothing behind: no memory, no open files, no folders.
func TestManyClients(t *testing.T) {
	clients, rounds := 200, 2
	if testing.Short() {
		clients = 20
	}
	at := server(t, func(o *page.Options) { o.Waiting = clients })
	client := &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: clients}}
	do := func(method, path, body, kind string, headers ...string) error {
		r, err := http.NewRequest(method, at.URL+path, strings.NewReader(body))
		if err != nil {
			return err
		}
		if kind != "" {
			r.Header.Set("Content-Type", kind)
		}
		for i := 0; i+1 < len(headers); i += 2 {
			r.Header.Set(headers[i], headers[i+1])
		}
		reply, err := client.Do(r)
		if err != nil {
			return err
		}
		defer reply.Body.Close()
		data, err := io.ReadAll(reply.Body)
		if err != nil || reply.StatusCode >= 300 || strings.Contains(string(data), `{"error"`) {
			return fmt.Errorf("%s %s: %v, %s, %.200s", method, path, err, reply.Status, data)
		}
		return nil
	}
	wave := func(round int) {
		var all sync.WaitGroup
		for i := range clients {
			all.Go(func() {
				for _, err := range []error{
					do("GET", "/", "", ""),
					do("POST", "/do/rooms", `{}`, "application/json"),
					do("PUT", fmt.Sprintf("/saved/rooms/Hall %d %d", round, i), "name: Hall", "application/yaml", "If-None-Match", "*"),
					do("GET", "/saved/", "", ""),
				} {
					if err != nil {
						t.Error(err)
					}
				}
				if i%10 == 0 {
					if err := do("POST", "/do/lap", `{"flags": {"room": "studio"}}`, "application/json"); err != nil {
						t.Error(err)
					}
				}
			})
		}
		all.Wait()
		client.CloseIdleConnections()
	}
	measure := func() (heap uint64, goroutines, files int) {
		soon(t, "connections are closed", func() bool { return runtime.NumGoroutine() < 50 })
		runtime.GC()
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return m.HeapAlloc, runtime.NumGoroutine(), open()
	}
	wave(0)
	heap, goroutines, files := measure()
	for round := range rounds {
		wave(round + 1)
	}
	laterHeap, laterGoroutines, laterFiles := measure()
	t.Logf("%d clients: %d kB, %d goroutines and %d open files after one wave, %d kB, %d and %d after %d more",
		clients, heap>>10, goroutines, files, laterHeap>>10, laterGoroutines, laterFiles, rounds)
	if laterHeap > heap+4<<20 || laterGoroutines > goroutines+10 || laterFiles > files+10 {
		t.Error("something is left behind")
	}
	if n := len(left(t)); n > 0 {
		t.Errorf("%d folders are left", n)
	}
}

// TestSlowClient: a browser that is slow to say what it wants holds nobody up.
func TestSlowClient(t *testing.T) {
	at := server(t, nil)
	for range 20 {
		c, err := net.Dial("tcp", at.Listener.Addr().String())
		if err != nil {
			t.Fatal(err)
		}
		defer c.Close()
		fmt.Fprint(c, "POST /do/rooms HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nContent-Length: 100\r\n\r\n{")
	}
	if got := ask(t, at, "rooms", `{}`); got.Error != "" {
		t.Error(got.Error)
	}
}

// TestAssetsAreSmall: all files of the page together.
func TestAssetsAreSmall(t *testing.T) {
	sum := int64(0)
	err := filepath.Walk("assets", func(_ string, info os.FileInfo, err error) error {
		if err == nil && !info.IsDir() {
			sum += info.Size()
		}
		return err
	})
	if err != nil || sum > 500_000 || sum < 1000 {
		t.Errorf("%v: the page's files have %d bytes; 500,000 are the most", err, sum)
	}
}
