package wholefile

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
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
	temp, err := os.CreateTemp(filepath.Dir(s.path), partOf(s.path)+"*")
	if err != nil {
		return nil, err
	}
	s.temp = temp.Name()
	mode := fs.FileMode(0o644)
	if old, err := os.Stat(s.path); err == nil {
		mode = old.Mode().Perm()
	}
	_, err = temp.Write(f.Data)
	err = errors.Join(err, temp.Chmod(mode), temp.Sync(), temp.Close())
	if err != nil {
		os.Remove(s.temp)
		return nil, err
	}
	return s, nil
}

// partOf is how the other names of a file begin.
func partOf(path string) string { return "." + filepath.Base(path) + ".part-" }

// stale is how old what is left of a program that was killed must be to be taken away: a
// program that is still writing has written in the meantime.
const stale = time.Hour

// sweep takes away what programs that were killed have left of a file.
func sweep(path string) {
	entries, err := os.ReadDir(filepath.Dir(path))
	if err != nil {
		return
	}
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), partOf(path)) {
			continue
		}
		if info, err := e.Info(); err == nil && info.Mode().IsRegular() && time.Since(info.ModTime()) > stale {
			os.Remove(filepath.Join(filepath.Dir(path), e.Name()))
		}
	}
}

// place gives the file its name; if wanted, a file that it replaces is kept under
// another.
func (s *stagedFile) place(force, keep bool) error {
	if _, err := os.Lstat(s.path); err == nil && force && keep {
		old := s.temp + ".old"
		// A link leaves it where it is until it is replaced. Some disks know none.
		if os.Link(s.path, old) != nil {
			if err := os.Rename(s.path, old); err != nil {
				return err
			}
		}
		s.old = old
	}
	if err := place(s.temp, s.path, force); err != nil {
		return err
	}
	s.temp = ""
	return nil
}

// settle takes away what is left over, or, where the writing as a whole has failed,
// brings back what was there.
func (s *stagedFile) settle(failed bool) {
	if s.temp != "" {
		os.Remove(s.temp)
	} else if failed {
		os.Remove(s.path)
	}
	switch {
	case s.old == "":
	case failed:
		os.Rename(s.old, s.path)
	default:
		os.Remove(s.old)
	}
}
