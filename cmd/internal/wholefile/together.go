package wholefile

import (
	"bytes"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"time"
)

// File is a file to be written.
type File struct {
	Path string
	Data []byte
}

// WriteAll writes several files, all of them or none: each is on the disk under
// another name before the first takes its place, and when one can't take it those that
// have are taken back, and what they replaced is there again. Unless force is set it
// refuses to write over other files.
func WriteAll(force bool, files ...File) (err error) {
	writing.Lock()
	defer writing.Unlock()
	var staged []*stagedFile
	defer func() {
		for _, s := range staged {
			s.settle(err != nil)
		}
	}()
	for _, f := range files {
		if err := Ready(f.Path, force); err != nil {
			return err
		}
		s, err := stage(f)
		if err != nil {
			return fmt.Errorf("%s: it cannot be written: %w", f.Path, cause(err))
		}
		staged = append(staged, s)
	}
	folders := map[string]bool{}
	for i, s := range staged {
		if err := s.place(force, len(files) > 1); err != nil {
			return fmt.Errorf("%s: it cannot be written: %w", files[i].Path, cause(err))
		}
		folders[filepath.Dir(s.path)] = true
	}
	for folder := range folders {
		if dir, err := os.Open(folder); err == nil { // the names, too, on the disk
			dir.Sync()
			dir.Close()
		}
	}
	return nil
}

// stagedFile is a file that is on the disk under another name, or has taken its place.
type stagedFile struct {
	path string // where it belongs
	temp string // where it is until then; empty when it is in its place
	old  string // where the file is that it replaced; empty when there is none
}

// stage writes a file under another name in the same folder.
func stage(f File) (*stagedFile, error) {
	s := &stagedFile{path: f.Path}
	if target, err := filepath.EvalSymlinks(f.Path); err == nil {
		s.path = target // the file that a link leads to is replaced, not the link
	}
	sweep(s.path)
	mode := fs.FileMode(0o644)
	if old, err := os.Stat(s.path); err == nil {
		mode = old.Mode().Perm()
	}
	var err error
	s.temp, err = part(s.path, mode, bytes.NewReader(f.Data))
	return s, err
}

// place gives the file its name; if wanted, a file that it replaces is kept under
// another.
func (s *stagedFile) place(force, keep bool) error {
	if info, err := os.Lstat(s.path); err == nil && force && keep {
		if s.old, err = beside(s.path, info); err != nil {
			return err
		}
	}
	if err := place(s.temp, s.path, force); err != nil {
		return err
	}
	s.temp = ""
	return nil
}

// beside keeps a file under another name too, and returns that. The file stays where it
// is, so that nothing is missing if the program is killed now.
func beside(path string, info fs.FileInfo) (string, error) {
	name := partOf(path, time.Now()) + strconv.FormatUint(rand.Uint64(), 36)
	if link(path, name) == nil {
		return name, nil
	}
	// Some disks know no links.
	data, err := os.Open(path)
	if err != nil {
		return "", err
	}
	defer data.Close()
	return part(path, info.Mode().Perm(), data)
}

// settle takes away what is left over, or, where the writing as a whole has failed,
// brings back what was there.
func (s *stagedFile) settle(failed bool) {
	switch {
	case s.temp != "": // it has not taken its place, and what was there is there
		os.Remove(s.temp)
	case failed && s.old != "":
		os.Rename(s.old, s.path)
		return
	case failed:
		os.Remove(s.path)
	}
	if s.old != "" {
		os.Remove(s.old)
	}
}
