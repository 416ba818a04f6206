package wholefile

import (
	"errors"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

// onBoth runs a test on a disk that knows links and on one that does not.
func onBoth(t *testing.T, test func(t *testing.T)) {
	t.Run("links", test)
	t.Run("no links", func(t *testing.T) {
		defer WithoutLinks()()
		test(t)
	})
}

// staged is a file that is to replace "old" in an empty folder.
func staged(t *testing.T) *stagedFile {
	t.Helper()
	path := filepath.Join(t.TempDir(), "lap.yaml")
	if err := os.WriteFile(path, []byte("old"), 0o600); err != nil {
		t.Fatal(err)
	}
	long := time.Now().Add(-100 * 24 * time.Hour)
	if err := os.Chtimes(path, long, long); err != nil {
		t.Fatal(err)
	}
	s, err := stage(File{path, []byte("new")})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// holds tells what is in a file, and with how many others it shares its folder.
func holds(t *testing.T, path, want string, others int) {
	t.Helper()
	if data, err := os.ReadFile(path); err != nil || string(data) != want {
		t.Errorf("there is %q, %v; want %q", data, err, want)
	}
	left, err := os.ReadDir(filepath.Dir(path))
	if err != nil || len(left) != 1+others {
		t.Errorf("in the folder: %v, %v; want %d others", left, err, others)
	}
	for _, e := range left {
		if name := e.Name(); name != filepath.Base(path) && !strings.HasPrefix(name, ".lap.yaml.part-") {
			t.Errorf("in the folder: %s", name)
		}
	}
}

// TestTakenBack: a file that has taken the place of another is taken back when a later
// one cannot be written.
func TestTakenBack(t *testing.T) {
	onBoth(t, func(t *testing.T) {
		for failed, want := range map[bool]string{true: "old", false: "new"} {
			s := staged(t)
			if err := s.place(true, true); err != nil {
				t.Fatal(err)
			}
			s.settle(failed)
			holds(t, s.path, want, 0)
			if info, err := os.Stat(s.path); err != nil || info.Mode().Perm() != 0o600 {
				t.Errorf("who may read the file has changed: %v, %v", info.Mode(), err)
			}
		}
	})
}

// TestNotPlaced: a file that can't take its place leaves what was there, and nothing
// beside it.
func TestNotPlaced(t *testing.T) {
	onBoth(t, func(t *testing.T) {
		s := staged(t)
		if err := os.Remove(s.temp); err != nil { // somebody tidies up
			t.Fatal(err)
		}
		if err := s.place(true, true); err == nil {
			t.Error("a file that is gone has taken its place")
		}
		if s.old == "" {
			t.Error("what was there has not been kept")
		}
		s.settle(true)
		holds(t, s.path, "old", 0)
	})
}

// TestKilledBetween stops after each step of the way: the old file is there, whole, and
// then the new one, and what is beside it has a hidden name. Another program that writes
// the file meanwhile takes none of it away, however old the old file is.
func TestKilledBetween(t *testing.T) {
	onBoth(t, func(t *testing.T) {
		s := staged(t)
		sweep(s.path)
		holds(t, s.path, "old", 1)
		info, err := os.Stat(s.path)
		if err != nil {
			t.Fatal(err)
		}
		kept, err := beside(s.path, info)
		if err != nil {
			t.Fatal(err)
		}
		sweep(s.path)
		holds(t, s.path, "old", 2)
		if data, err := os.ReadFile(kept); err != nil || string(data) != "old" {
			t.Errorf("kept: %q, %v", data, err)
		}
		if err := place(s.temp, s.path, true); err != nil {
			t.Fatal(err)
		}
		sweep(s.path)
		holds(t, s.path, "new", 1)
		if err := os.Rename(kept, s.path); err != nil {
			t.Fatal(err)
		}
		holds(t, s.path, "old", 0)
	})
}

// TestUnforced: without force a file that has appeared meanwhile stays.
func TestUnforced(t *testing.T) {
	onBoth(t, func(t *testing.T) {
		s := staged(t)
		if err := s.place(false, false); !errors.Is(err, ErrExists) {
			t.Errorf("over another file: %v", err)
		}
		s.settle(true)
		holds(t, s.path, "old", 0)

		if err := os.Remove(s.path); err != nil {
			t.Fatal(err)
		}
		if err := Write(s.path, false, []byte("new")); err != nil {
			t.Fatal(err)
		}
		holds(t, s.path, "new", 0)
	})
}

// TestPartBegun tells which names are those of parts, and when they were given.
func TestPartBegun(t *testing.T) {
	now := time.Unix(1_800_000_000, 0)
	name := filepath.Base(partOf(filepath.Join("folder", "lap.yaml"), now))
	for name, want := range map[string]bool{
		name + "1234":            true,
		name + "k3x":             true,
		name:                     false,
		name + "of mine":         false,
		name + "12.old":          false,
		".lap.yaml.part-123":     false,
		".lap.yaml.part--123":    false,
		".lap.yaml.part-tuesday": false,
		".lap.yaml.part":         false,
		"lap.yaml":               false,
		".other.yaml.part-a-1":   false,
		"x" + name + "1234":      false,
	} {
		begun, ok := partBegun(filepath.Join("elsewhere", "lap.yaml"), name)
		if ok != want {
			t.Errorf("%q is one: %v, want %v", name, ok, want)
		}
		if ok && !begun.Equal(now) {
			t.Errorf("%q was begun %v, want %v", name, begun, now)
		}
	}
}

// TestSweep takes away what is old by its name and leaves all else.
func TestSweep(t *testing.T) {
	path := filepath.Join(t.TempDir(), "lap.yaml")
	ago := func(d time.Duration) string { return partOf(path, time.Now().Add(-d)) + "1" }
	folder := partOf(path, time.Now().Add(-3*time.Hour)) + "2"
	if err := os.Mkdir(folder, 0o755); err != nil {
		t.Fatal(err)
	}
	stays := map[string]bool{ago(2 * time.Hour): false, ago(50 * time.Minute): true, ago(-2 * time.Hour): true,
		filepath.Join(filepath.Dir(path), ".lap.yaml.part-"+strconv.Itoa(7)): true, folder: true}
	for name := range stays {
		if name == folder {
			continue
		}
		if err := os.WriteFile(name, []byte("part"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	sweep(path)
	for name, want := range stays {
		if _, err := os.Lstat(name); err == nil != want {
			t.Errorf("%s is there: %v, want %v", filepath.Base(name), err == nil, want)
		}
	}
}
