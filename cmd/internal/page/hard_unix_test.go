//go:build unix

package page_test

import (
	"bytes"
	"io"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"lapwright/cmd/internal/page"
)

// TestKilledInSave: a server that is killed while it saves, again and again, loses nothing:
// the room is whole, as it was or as it is to be, and the next server goes on from there.
func TestKilledInSave(t *testing.T) {
	if folder := os.Getenv(saveIn); folder != "" {
		saveForEver(t, folder)
		return
	}
	folder := filepath.Join(t.TempDir(), "saved")
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(folder, "rooms", "Hall.yaml")
	halves := 0
	for range 30 {
		cmd := exec.Command(self, "-test.run", "^TestKilledInSave$")
		cmd.Env = append(os.Environ(), saveIn+"="+folder)
		told, err := cmd.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		saved := make([]byte, 1)
		if _, err := io.ReadFull(told, saved); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(rand.IntN(15_000)) * time.Microsecond)
		if err := cmd.Process.Kill(); err != nil {
			t.Fatal(err)
		}
		more, err := io.ReadAll(told)
		if err != nil {
			t.Fatal(err)
		}
		cmd.Wait()
		data, err := os.ReadFile(path)
		if err != nil || len(data) != 200_000 || bytes.Count(data, data[:1]) != len(data) {
			t.Fatalf("%v: %d bytes", err, len(data))
		}
		// It is the last of which the browser was told that it is saved, or the one after.
		last := append(saved, more...)[len(more)]
		if next := 'a' + (last-'a'+1)%26; data[0] != last && data[0] != next {
			t.Fatalf("%c was saved last, and there is %c", last, data[0])
		}
		parts, _ := filepath.Glob(filepath.Join(folder, "rooms", ".Hall.yaml.part-*"))
		halves += len(parts)
		for _, p := range parts {
			os.Remove(p) // so that each is counted once; TestKilled of wholefile has them taken away
		}
	}
	t.Logf("it was killed with a file half written %d times of 30", halves)
	at := server(t, func(o *page.Options) { o.Folder = folder })
	_, text, version := kept(t, at, "GET", "/saved/rooms/Hall", "")
	if status, _, _ := kept(t, at, "PUT", "/saved/rooms/Hall", "new", "If-Match", version); status != 204 || len(text) != 200_000 {
		t.Errorf("it does not go on: %d", status)
	}
	if _, list, _ := kept(t, at, "GET", "/saved/", ""); strings.Count(list, `"name"`) != 1 {
		t.Errorf("what is left behind is listed: %s", list)
	}
}

// saveForEver saves one version after the other by a server, until it is killed.
func saveForEver(t *testing.T, folder string) {
	s, err := page.New(page.Options{Program: "none", Folder: folder})
	if err != nil {
		t.Fatal(err)
	}
	at := httptest.NewServer(s)
	for i := 0; ; i++ {
		_, _, version := kept(t, at, "GET", "/saved/rooms/Hall", "")
		header, value := "If-Match", version
		if version == "" {
			header, value = "If-None-Match", "*"
		}
		status, text, _ := kept(t, at, "PUT", "/saved/rooms/Hall", strings.Repeat(string(rune('a'+i%26)), 200_000), header, value)
		if status != http.StatusNoContent {
			os.Stderr.WriteString(text)
			os.Exit(1)
		}
		os.Stdout.WriteString(string(rune('a' + i%26)))
	}
}
