//go:build unix

package main

import (
	"bufio"
	"io"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// pageAt runs lapwright page; said is what it says until it can be used.
func pageAt(t *testing.T, args ...string) (cmd *exec.Cmd, address, said string, rest chan string) {
	t.Helper()
	program, err := exec.LookPath("lapwright")
	if err != nil {
		t.Fatal(err)
	}
	cmd = exec.Command(program, append([]string{"page", "--no-browser"}, args...)...)
	cmd.Env = append(os.Environ(), "TMPDIR="+t.TempDir())
	errors, err := cmd.StderrPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { cmd.Process.Kill() })
	lines := bufio.NewReader(errors)
	for !strings.HasSuffix(said, "Ctrl-C ends it.\n") {
		line, err := lines.ReadString('\n')
		if said += line; err != nil {
			t.Fatalf("it says %q, and then nothing: %v", said, err)
		}
		if at, ok := strings.CutPrefix(line, "Lapwright is at "); ok {
			address = strings.TrimSpace(at)
		}
	}
	rest = make(chan string, 1)
	go func() {
		data, _ := io.ReadAll(lines)
		rest <- string(data)
	}()
	return cmd, address, said, rest
}

// ends waits for the end of the page: it has done its work, and says so.
func ends(t *testing.T, cmd *exec.Cmd, rest chan string) {
	t.Helper()
	select {
	case words := <-rest:
		if err := cmd.Wait(); err != nil || words != "Lapwright is closed.\n" {
			t.Errorf("it ends with %v and says %q", err, words)
		}
	case <-time.After(30 * time.Second):
		t.Fatal("it does not end")
	}
	for _, e := range cmd.Env {
		if folder, ok := strings.CutPrefix(e, "TMPDIR="); ok {
			if left, _ := filepath.Glob(filepath.Join(folder, "lapwright-page-*")); len(left) > 0 {
				t.Errorf("left behind: %v", left)
			}
		}
	}
}

// asks sends the page a question.
func asks(t *testing.T, address, command, body string) *http.Response {
	t.Helper()
	reply, err := http.Post(address+"do/"+command, "application/json", strings.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { reply.Body.Close() })
	return reply
}

// TestPage opens the page: it says where it is, answers there, and ends with Ctrl-C.
func TestPage(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "kept")
	cmd, address, said, rest := pageAt(t, "--folder", folder)
	if !strings.HasPrefix(address, "http://127.0.0.1:") || !strings.Contains(said, "What you save is in "+folder+"\n") || strings.Contains(said, "note:") {
		t.Errorf("it says %q", said)
	}
	reply, err := http.Get(address)
	if err != nil {
		t.Fatal(err)
	}
	data, _ := io.ReadAll(reply.Body)
	reply.Body.Close()
	if !strings.Contains(string(data), "<title>Lapwright") {
		t.Errorf("the page is %.200s", data)
	}
	data, _ = io.ReadAll(asks(t, address, "rooms", `{}`).Body)
	if !strings.Contains(string(data), `"full_name":"Upper Merle Village Hall"`) {
		t.Errorf("the rooms are %.300s", data)
	}
	if err := cmd.Process.Signal(os.Interrupt); err != nil {
		t.Fatal(err)
	}
	ends(t, cmd, rest)
	if _, err := os.Stat(folder); err == nil {
		t.Error("a folder is made although nothing is saved")
	}
}

// TestPageEnds: a page that is ended in the middle of a search ends cleanly all the same,
// by Ctrl-C as by the signal with which a system closes programs.
func TestPageEnds(t *testing.T) {
	for _, sign := range []os.Signal{os.Interrupt, syscall.SIGTERM} {
		cmd, address, _, rest := pageAt(t, "--folder", t.TempDir())
		lines := bufio.NewScanner(asks(t, address, "lap", `{"flags": {"room": "ballroom", "level": "all", "style": "all"}}`).Body)
		lines.Buffer(nil, 16<<20)
		last := ""
		for asked := false; lines.Scan(); last = lines.Text() {
			if !asked && strings.HasPrefix(lines.Text(), `{"progress"`) {
				asked = true
				if err := cmd.Process.Signal(sign); err != nil {
					t.Fatal(err)
				}
			}
		}
		if !strings.HasPrefix(last, `{"error":"It was stopped before anything was found."`) && !strings.HasPrefix(last, `{"answer"`) {
			t.Errorf("%v: the search ends with %.200s", sign, last)
		}
		ends(t, cmd, rest)
	}
}

// TestPageKilled: a search does not outlive a page that is killed.
func TestPageKilled(t *testing.T) {
	if _, err := os.Stat("/proc/self/cwd"); err != nil {
		t.Skip("LEFT OUT: this system does not tell where its processes run")
	}
	cmd, address, _, _ := pageAt(t, "--folder", t.TempDir())
	folder := cmd.Env[len(cmd.Env)-1][len("TMPDIR="):]
	searches := func() (n int) {
		links, _ := filepath.Glob("/proc/[0-9]*/cwd")
		for _, link := range links {
			if to, err := os.Readlink(link); err == nil && strings.HasPrefix(to, folder) {
				n++
			}
		}
		return n
	}
	// It says nothing while it looks for repairs, and looks for many seconds.
	asks(t, address, "check", `{"args": ["r.yaml"], "files": {"r.yaml": "figures: [Natural Turn`+strings.Repeat(", Whisk", 790)+`]"}}`)
	soon := func(what string, so func() bool) {
		t.Helper()
		for end := time.Now().Add(3 * time.Second); !so(); time.Sleep(20 * time.Millisecond) {
			if time.Now().After(end) {
				t.Fatal(what)
			}
		}
	}
	soon("nothing runs", func() bool { return searches() == 1 })
	cmd.Process.Kill()
	cmd.Wait()
	soon("it goes on without the page", func() bool { return searches() == 0 })
}

// TestPageForOthers: where other machines reach the page it says so, and at which address,
// with a warning; it answers to this machine's numbers and to the name that it is given,
// and to no other.
func TestPageForOthers(t *testing.T) {
	cmd, address, said, rest := pageAt(t, "--listen", "0.0.0.0:0", "--host", "Hall.Example", "--folder", t.TempDir())
	for _, words := range []string{"note: everybody who reaches this machine at ", "without a password", "only in a network that you trust", "Lapwright is at http://localhost:"} {
		if !strings.Contains(said, words) {
			t.Errorf("it does not say %q: %q", words, said)
		}
	}
	_, port, err := net.SplitHostPort(strings.TrimSuffix(strings.TrimPrefix(address, "http://"), "/"))
	if err != nil {
		t.Fatal(err)
	}
	for host, want := range map[string]int{"hall.example": 200, "192.0.2.7": 200, "localhost": 200, "evil.example": 403} {
		r, err := http.NewRequest(http.MethodGet, "http://127.0.0.1:"+port+"/", nil)
		if err != nil {
			t.Fatal(err)
		}
		r.Host = host + ":" + port
		reply, err := http.DefaultClient.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		reply.Body.Close()
		if reply.StatusCode != want {
			t.Errorf("asked for as %s: %s", host, reply.Status)
		}
	}
	if err := cmd.Process.Signal(os.Interrupt); err != nil {
		t.Fatal(err)
	}
	ends(t, cmd, rest)
}
