//go:build unix

package main

import (
	"bufio"
	"errors"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// TestPage opens the page: it says where it is, answers there, and ends with Ctrl-C.
func TestPage(t *testing.T) {
	program, err := exec.LookPath("lapwright")
	if err != nil {
		t.Fatal(err)
	}
	folder := filepath.Join(t.TempDir(), "kept")
	cmd := exec.Command(program, "page", "--no-browser", "--folder", folder)
	said, err := cmd.StderrPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	defer cmd.Process.Kill()
	lines := bufio.NewReader(said)
	first, err := lines.ReadString('\n')
	if err != nil {
		t.Fatal(err)
	}
	address := strings.TrimSpace(strings.TrimPrefix(first, "Lapwright is at "))
	reply, err := http.Get(address)
	if err != nil {
		t.Fatalf("it says %q: %v", first, err)
	}
	data, _ := io.ReadAll(reply.Body)
	reply.Body.Close()
	if !strings.Contains(string(data), "<title>Lapwright") {
		t.Errorf("the page is %.200s", data)
	}
	reply, err = http.Post(address+"do/rooms", "application/json", strings.NewReader(`{}`))
	if err != nil {
		t.Fatal(err)
	}
	data, _ = io.ReadAll(reply.Body)
	reply.Body.Close()
	if !strings.Contains(string(data), `"full_name":"Upper Merle Village Hall"`) {
		t.Errorf("the rooms are %.300s", data)
	}
	if err := cmd.Process.Signal(os.Interrupt); err != nil {
		t.Fatal(err)
	}
	ended := make(chan string, 1)
	go func() {
		rest, _ := io.ReadAll(lines)
		ended <- string(rest)
	}()
	select {
	case rest := <-ended:
		var exit *exec.ExitError
		if err := cmd.Wait(); errors.As(err, &exit) && exit.ExitCode() != exitStopped || !strings.Contains(rest, folder) || !strings.Contains(rest, "Lapwright is closed.") {
			t.Errorf("it ends with %v and says %q", err, rest)
		}
	case <-time.After(20 * time.Second):
		t.Fatal("it does not end")
	}
}
