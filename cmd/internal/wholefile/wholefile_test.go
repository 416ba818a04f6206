package wholefile_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"lapwright/cmd/internal/wholefile"
)

func Example() {
	folder, err := os.MkdirTemp("", "example")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(folder)
	path := filepath.Join(folder, "lap.yaml")
	fmt.Println(wholefile.Write(path, false, []byte("figures: [Whisk]\n")))
	fmt.Println(errors.Is(wholefile.Write(path, false, nil), wholefile.ErrExists))
	// Output:
	// <nil>
	// true
}

// names lists what is in a folder.
func names(t *testing.T, folder string) string {
	t.Helper()
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, e := range entries {
		all = append(all, e.Name())
	}
	return strings.Join(all, " ")
}

func content(t *testing.T, path string) string {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func TestWrite(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "lap.yaml")
	if err := wholefile.Write(path, false, []byte("one")); err != nil {
		t.Fatal(err)
	}
	if err := wholefile.Write(path, false, []byte("two")); !errors.Is(err, wholefile.ErrExists) || !strings.Contains(err.Error(), path) {
		t.Errorf("over another file: %v", err)
	}
	if got := content(t, path); got != "one" {
		t.Errorf("the file holds %q", got)
	}
	if err := os.Chmod(path, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := wholefile.Write(path, true, []byte("three")); err != nil {
		t.Fatal(err)
	}
	if got := content(t, path); got != "three" {
		t.Errorf("the file holds %q", got)
	}
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("who may read the file has changed: %v, %v", info.Mode(), err)
	}
	if got := names(t, folder); got != "lap.yaml" {
		t.Errorf("the folder holds %s", got)
	}
}

// TestLink tells that it is the file behind a link that is written.
func TestLink(t *testing.T) {
	folder := t.TempDir()
	real, link := filepath.Join(folder, "real.yaml"), filepath.Join(folder, "link.yaml")
	if err := os.WriteFile(real, []byte("one"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(real, link); err != nil {
		t.Fatal(err)
	}
	if err := wholefile.Write(link, true, []byte("two")); err != nil {
		t.Fatal(err)
	}
	if info, err := os.Lstat(link); err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Errorf("the link is gone: %v, %v", info, err)
	}
	if got := content(t, real); got != "two" {
		t.Errorf("the file holds %q", got)
	}
}

func TestUnwritable(t *testing.T) {
	folder := t.TempDir()
	file := filepath.Join(folder, "file")
	if err := os.WriteFile(file, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	for path, words := range map[string]string{
		folder: "this is a folder",
		filepath.Join(folder, "nowhere", "x.yaml"):      "there is no folder",
		filepath.Join(file, "x.yaml"):                   "x.yaml: ",
		filepath.Join(folder, strings.Repeat("x", 300)): "too long",
		filepath.Join(folder, strings.Repeat("x", 250)): "too long", // with the ending of the temporary file
		filepath.Join(folder, "x\x00.yaml"):             "invalid",
		os.DevNull:                                      "not an ordinary file",
	} {
		for _, force := range []bool{false, true} {
			err := wholefile.Write(path, force, []byte("text"))
			if err == nil || !strings.Contains(err.Error(), words) || strings.Contains(err.Error(), ".part-") {
				t.Errorf("%.60q: %v, want %s", path, err, words)
			}
		}
	}
	if got := names(t, folder); got != "file" {
		t.Errorf("the folder holds %s", got)
	}
}

// TestTogether tells that of many writers one has its way, whole.
func TestTogether(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "lap.yaml")
	var wait sync.WaitGroup
	wrote := make([]error, 8)
	for i := range wrote {
		wait.Go(func() { wrote[i] = wholefile.Write(path, false, []byte(strings.Repeat(fmt.Sprint(i), 1000))) })
	}
	wait.Wait()
	done := 0
	for i, err := range wrote {
		switch {
		case err == nil:
			done++
			if got := content(t, path); got != strings.Repeat(fmt.Sprint(i), 1000) {
				t.Errorf("writer %d is said to have written, and the file holds %.20q", i, got)
			}
		case !errors.Is(err, wholefile.ErrExists):
			t.Errorf("writer %d: %v", i, err)
		}
	}
	if done != 1 || names(t, folder) != "lap.yaml" {
		t.Errorf("%d have written; the folder holds %s", done, names(t, folder))
	}
}
