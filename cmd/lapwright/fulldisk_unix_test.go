//go:build unix

package main

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// TestFullDisk has the program write to a disk that is full: one sentence, exit code 2,
// and what was there is there.
func TestFullDisk(t *testing.T) {
	program, err := exec.LookPath("lapwright")
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	mount, err := exec.LookPath("mount")
	if err != nil || os.Getuid() != 0 {
		t.Skip("LEFT OUT: a small disk can be made only by root, with mount")
	}
	if out, err := exec.Command(mount, "-t", "tmpfs", "-o", "size=40k", "tmpfs", folder).CombinedOutput(); err != nil {
		t.Skipf("LEFT OUT: a small disk cannot be made here: %v: %s", err, out)
	}
	defer exec.Command("umount", folder).Run()
	there := filepath.Join(folder, "evening.pdf")
	if err := os.WriteFile(there, []byte("old"), 0o644); err != nil {
		t.Fatal(err)
	}
	routine, err := filepath.Abs(filepath.Join("..", "..", "testdata", "routines", "tuesday-class.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{
		{"sheet", routine, "--pdf", there, "--html", filepath.Join(folder, "evening.html"), "--force"},
		{"track", routine, "--captions", filepath.Join(folder, "evening.vtt"), "--wav", filepath.Join(folder, "evening.wav")},
		{"drill", "--bars", "4", "--cards", "3", "--out", filepath.Join(folder, "d.yaml"), "--pdf", there, "--force"},
	} {
		out, err := exec.Command(program, args...).CombinedOutput()
		var exit *exec.ExitError
		if !errors.As(err, &exit) || exit.ExitCode() != exitBad {
			t.Fatalf("%s: it ends with %v: %s", args[0], err, out)
		}
		if said := strings.TrimSpace(string(out)); !strings.HasSuffix(said, "it cannot be written: there is no space left on the disk") || strings.Count(said, "\n") > 0 {
			t.Errorf("%s: it says %q", args[0], said)
		}
		if data, err := os.ReadFile(there); err != nil || string(data) != "old" {
			t.Errorf("%s: there is %.20q, %v", args[0], data, err)
		}
		if left, err := os.ReadDir(folder); err != nil || len(left) != 1 {
			t.Errorf("%s: left behind: %v, %v", args[0], left, err)
		}
	}
}
