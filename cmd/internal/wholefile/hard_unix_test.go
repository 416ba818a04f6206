//go:build unix

package wholefile_test

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"lapwright/cmd/internal/outside"
	"lapwright/cmd/internal/wholefile"
)

// asked is the environment variable by which a test runs this program again, to be
// killed, or with less than it needs.
const asked = "LAPWRIGHT_WHOLEFILE"

// cannot is how the program ends on a machine where it can't be given less.
const cannot = 3

func TestMain(m *testing.M) {
	path := os.Getenv("LAPWRIGHT_WHOLEFILE_PATH")
	switch os.Getenv(asked) {
	case "":
		os.Exit(m.Run())
	case "again and again", "again and again, without links":
		if strings.HasSuffix(os.Getenv(asked), "without links") {
			wholefile.WithoutLinks()
		}
		for i := 0; ; i++ {
			// One by itself, and two together.
			files := []wholefile.File{{Path: path, Data: version(i)}, {Path: path + "-2", Data: version(i)}}
			if i%3 == 2 {
				files = files[:1]
			}
			if err := wholefile.WriteAll(true, files...); err != nil {
				fmt.Println(err)
				os.Exit(1)
			}
			if i == 0 {
				fmt.Println("begun")
			}
		}
	case "with small files only":
		if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: 4096, Max: 4096}); err != nil {
			fmt.Println(err)
			os.Exit(cannot)
		}
	case "as nobody":
		if os.Getuid() == 0 {
			if err := errors.Join(syscall.Setgid(65534), syscall.Setuid(65534)); err != nil {
				fmt.Println(err)
				os.Exit(cannot)
			}
		}
		if _, err := os.Stat(path); err != nil { // a folder further up is not for everybody
			fmt.Println(err)
			os.Exit(cannot)
		}
	}
	err := wholefile.WriteAll(true, wholefile.File{Path: filepath.Join(filepath.Dir(path), "first"), Data: []byte("short")}, wholefile.File{Path: path, Data: version(1)})
	fmt.Println(err)
	os.Exit(0)
}

// version is what a file holds: half a million times the same letter, so that a part of
// it, or a mixture of two, is found out.
func version(i int) []byte { return bytes.Repeat([]byte{byte('a' + i%26)}, 500_000) }

// again runs this program as a test asks for.
func again(t *testing.T, how, path string) *exec.Cmd {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(self)
	cmd.Env = append(os.Environ(), asked+"="+how, "LAPWRIGHT_WHOLEFILE_PATH="+path)
	return cmd
}

// whole is which version a file holds, all of it.
func whole(t *testing.T, path string) byte {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if len(data) != 500_000 || bytes.Count(data, data[:1]) != len(data) {
		t.Fatalf("%s has %d bytes, %d of them alike", filepath.Base(path), len(data), bytes.Count(data, data[:1]))
	}
	return data[0]
}

// TestKilled kills the program in the middle of writing, many times: each file is there
// and whole, and what is left has other names, which begin with a dot. Of two files that
// are written together one may be newer.
func TestKilled(t *testing.T) {
	for _, how := range []string{"again and again", "again and again, without links"} {
		t.Run(how, func(t *testing.T) { killed(t, how) })
	}
}

func killed(t *testing.T, how string) {
	folder := t.TempDir()
	path := filepath.Join(folder, "lap.yaml")
	const kills = 40
	inWriting, differ, left := 0, 0, 0
	for range kills {
		cmd := again(t, how, path)
		begun, err := cmd.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		said := make([]byte, 5)
		if _, err := io.ReadFull(begun, said); err != nil || string(said) != "begun" {
			t.Fatalf("it says %q, %v", said, err)
		}
		time.Sleep(time.Duration(rand.IntN(20_000)) * time.Microsecond)
		if err := cmd.Process.Kill(); err != nil {
			t.Fatal(err)
		}
		cmd.Wait()
		if whole(t, path) != whole(t, path+"-2") {
			differ++
		}
		before := left
		for _, name := range strings.Fields(names(t, folder)) {
			switch {
			case name == "lap.yaml" || name == "lap.yaml-2":
			case strings.HasPrefix(name, ".lap.yaml"):
				left++
				longAgo(t, filepath.Join(folder, name))
			default:
				t.Fatalf("left behind: %s", name)
			}
		}
		if left > before {
			inWriting++
		}
	}
	t.Logf("of %d kills %d left something half done, and %d files of different age", kills, inWriting, differ)
	if inWriting == 0 {
		t.Error("it was never killed with a file half written")
	}
	// The next that writes the files takes away what is left.
	for _, name := range []string{path, path + "-2"} {
		if err := wholefile.Write(name, true, version(3)); err != nil {
			t.Fatal(err)
		}
	}
	if got := names(t, folder); got != "lap.yaml lap.yaml-2" {
		t.Errorf("left behind: %s", got)
	}
}

// longAgo gives what is left of a program that was killed the name that it would have if
// that had been two hours ago.
func longAgo(t *testing.T, path string) {
	t.Helper()
	begin, rest, _ := strings.Cut(path, ".part-")
	_, number, ok := strings.Cut(rest, "-")
	if !ok {
		t.Fatalf("left behind: %s", path)
	}
	then := strconv.FormatInt(time.Now().Add(-2*time.Hour).Unix(), 36)
	if err := os.Rename(path, begin+".part-"+then+"-"+number); err != nil {
		t.Fatal(err)
	}
}

// TestPartsInUse: what another program is writing just now is left alone.
func TestPartsInUse(t *testing.T) {
	folder := t.TempDir()
	name := ".lap.yaml.part-" + strconv.FormatInt(time.Now().Unix(), 36) + "-123"
	other := filepath.Join(folder, name)
	if err := os.WriteFile(other, []byte("half"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := wholefile.Write(filepath.Join(folder, "lap.yaml"), false, []byte("whole")); err != nil {
		t.Fatal(err)
	}
	if got := names(t, folder); got != name+" lap.yaml" {
		t.Errorf("there is %s", got)
	}
}

// refused has a program that lacks something write two files where an older one is: it
// says why it can't, and nothing has changed.
func refused(t *testing.T, how, folder, words string) {
	t.Helper()
	path := filepath.Join(folder, "lap.yaml")
	before := names(t, folder)
	out, err := again(t, how, path).Output()
	var exit *exec.ExitError
	if errors.As(err, &exit) && exit.ExitCode() == cannot {
		t.Skipf("LEFT OUT: the program cannot be run %s here: %s", how, out)
	}
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	if !strings.Contains(string(out), words) || strings.Contains(string(out), ".part-") {
		t.Errorf("it says %q, want %q", out, words)
	}
	if got := content(t, path); got != "old" {
		t.Errorf("the old file holds %.20q", got)
	}
	if got := names(t, folder); got != before {
		t.Errorf("left behind: %s", got)
	}
}

// withOld puts an older file in a folder.
func withOld(t *testing.T, folder string) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(folder, "lap.yaml"), []byte("old"), 0o644); err != nil {
		t.Fatal(err)
	}
}

// TestTooLarge: the system lets no file grow so large.
func TestTooLarge(t *testing.T) {
	folder := t.TempDir()
	withOld(t, folder)
	refused(t, "with small files only", folder, "lap.yaml: it cannot be written: it is larger than files may be here")
}

// TestNotAllowed: the folder belongs to somebody else.
func TestNotAllowed(t *testing.T) {
	folder := t.TempDir()
	withOld(t, folder)
	if err := errors.Join(os.Chmod(filepath.Dir(folder), 0o755), os.Chmod(folder, 0o555)); err != nil {
		t.Fatal(err)
	}
	defer os.Chmod(folder, 0o755)
	refused(t, "as nobody", folder, "first: it cannot be written: you are not allowed to write there")
}

// TestFullDisk: a small disk that is full, and then can only be read.
func TestFullDisk(t *testing.T) {
	disk := outside.SmallDisk(t, "64k")
	folder := disk.Folder
	withOld(t, folder)
	refused(t, "on a small disk", folder, "lap.yaml: it cannot be written: there is no space left on the disk")
	disk.ReadOnly(t)
	refused(t, "on a disk that can only be read", folder, "first: it cannot be written: the disk can only be read")
}
