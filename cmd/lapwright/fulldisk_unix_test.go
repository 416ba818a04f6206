//go:build unix

package main

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"lapwright/cmd/internal/outside"
)

// TestFullDisk has the program write to a disk that is full: one sentence, exit code 2,
// and what was there is there.
func TestFullDisk(t *testing.T) {
	program, err := exec.LookPath("lapwright")
	if err != nil {
		t.Fatal(err)
	}
	folder := outside.SmallDisk(t, "40k").Folder
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
		cannotWrite(t, exec.Command(program, args...), there, "there is no space left on the disk")
	}
}

// cannotWrite runs the program where it can't write: it says so in one sentence, with exit
// code 2, and the only file of the folder holds what it held.
func cannotWrite(t *testing.T, cmd *exec.Cmd, there, words string) {
	t.Helper()
	out, err := cmd.CombinedOutput()
	var exit *exec.ExitError
	if !errors.As(err, &exit) || exit.ExitCode() != exitBad {
		t.Fatalf("%s: it ends with %v: %s", cmd, err, out)
	}
	if said := strings.TrimSpace(string(out)); !strings.HasSuffix(said, ": it cannot be written: "+words) || strings.Count(said, "\n") > 0 || strings.Contains(said, ".part-") {
		t.Errorf("%s: it says %q", cmd, said)
	}
	if data, err := os.ReadFile(there); err != nil || string(data) != "old" {
		t.Errorf("%s: there is %.20q, %v", cmd, data, err)
	}
	if left, err := os.ReadDir(filepath.Dir(there)); err != nil || len(left) != 1 {
		t.Errorf("%s: left behind: %v, %v", cmd, left, err)
	}
}

// TestNoFiles runs the program under a limit that lets no file grow: whoever runs the
// tests can set that.
func TestNoFiles(t *testing.T) {
	program, shell := programs(t)
	there := filepath.Join(t.TempDir(), "evening.yaml")
	if err := os.WriteFile(there, []byte("old"), 0o644); err != nil {
		t.Fatal(err)
	}
	beside := func(name string) string { return filepath.Join(filepath.Dir(there), name) }
	const routine = "../../testdata/routines/tuesday-class.yaml"
	for _, args := range [][]string{
		{"track", routine, "--captions", beside("evening.vtt"), "--midi", beside("evening.mid"), "--wav", beside("evening.wav")},
		{"track", routine, "--wav", there, "--force"},
		{"lap", "--room", "studio", "--out", beside("lap.yaml"), "--svg", beside("lap.svg")},
		{"lap", "--room", "studio", "--out", there, "--force"},
	} {
		limited := append([]string{"-c", `ulimit -f 0 && exec "$@"`, shell, program}, args...)
		cannotWrite(t, exec.Command(shell, limited...), there, "it is larger than files may be here")
	}
}

// TestKilledTrack kills the program at any moment while it writes over a sound file: the
// file is whole, the old one or the new.
func TestKilledTrack(t *testing.T) {
	program, _ := programs(t)
	const routine = "../../testdata/routines/tuesday-class.yaml"
	folder := t.TempDir()
	wav := filepath.Join(folder, "evening.wav")
	make := func(tempo string) *exec.Cmd {
		return exec.Command(program, "track", routine, "--wav", wav, "--tempo", tempo, "--force")
	}
	var whole [2][]byte
	var took time.Duration
	for i, tempo := range []string{"20", "24"} {
		began := time.Now()
		out, err := make(tempo).CombinedOutput()
		if err != nil {
			t.Fatalf("%v: %s", err, out)
		}
		took = max(took, time.Since(began))
		if whole[i], err = os.ReadFile(wav); err != nil {
			t.Fatal(err)
		}
	}
	seen := [2]int{}
	for i := range 12 {
		cmd := make([]string{"20", "24"}[i%2])
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(took * time.Duration(5+i) / 12) // it writes at its end
		cmd.Process.Kill()                         // it may have ended
		cmd.Wait()
		data, err := os.ReadFile(wav)
		if err != nil {
			t.Fatal(err)
		}
		which := slices.IndexFunc(whole[:], func(w []byte) bool { return bytes.Equal(w, data) })
		if which < 0 {
			t.Fatalf("killed after %v it left %d bytes, neither the old file nor the new", took*time.Duration(5+i)/12, len(data))
		}
		seen[which]++
	}
	t.Logf("old and new: %v", seen)
	left, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range left {
		if name := e.Name(); name != "evening.wav" && !strings.HasPrefix(name, ".evening.wav.part-") {
			t.Errorf("left behind: %s", name)
		}
	}
}

// programs are the program and a shell to run it from.
func programs(t *testing.T) (program, shell string) {
	t.Helper()
	program, err := exec.LookPath("lapwright")
	if err != nil {
		t.Fatal(err)
	}
	if shell, err = exec.LookPath("sh"); err != nil {
		t.Fatal(err)
	}
	return program, shell
}
