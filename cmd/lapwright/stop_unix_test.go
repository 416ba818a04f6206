//go:build unix

package main

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"
	"time"
)

// TestInterrupt stops the program by the signal that Ctrl-C sends, while it waits
// for a file. It ends within a moment, with its own exit code and no file.
func TestInterrupt(t *testing.T) {
	folder := t.TempDir()
	pipe := filepath.Join(folder, "room.yaml")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Fatal(err)
	}
	program, err := exec.LookPath("lapwright")
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(program, "lap", "--room", pipe, "--out", filepath.Join(folder, "lap.yaml"))
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	// The pipe opens when the program reads from it, and so is under way.
	hold, err := os.OpenFile(pipe, os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer hold.Close()
	if err := cmd.Process.Signal(os.Interrupt); err != nil {
		t.Fatal(err)
	}
	ended := make(chan error, 1)
	go func() { ended <- cmd.Wait() }()
	select {
	case err := <-ended:
		var exit *exec.ExitError
		if !errors.As(err, &exit) || exit.ExitCode() != exitStopped {
			t.Errorf("it ends with %v", err)
		}
	case <-time.After(20 * time.Second):
		cmd.Process.Kill()
		t.Fatal("it does not end")
	}
	if left, _ := os.ReadDir(folder); len(left) != 1 {
		t.Errorf("left behind: %v", left)
	}
}
