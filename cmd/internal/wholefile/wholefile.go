// Package wholefile writes a file whole or not at all: to a file of another name
// in the same folder, which takes its place only when everything is on the disk.
//
// What lives here: that, and telling beforehand whether a file can be written.
// What does not: what is in the file.
//
// A program that is killed leaves each file as it was or as it is to be, never a part
// of it; of several files that are written together some may then be new and others
// old, and none is missing even for a moment. What it had written so far, or kept of a
// file, under another name (".lap.yaml.part-…") is taken away when a file of that name
// is written an hour later or more.
//
//	if err := wholefile.Ready("lap.svg", false); err != nil { … }
//	err := wholefile.Write("lap.svg", false, data)
package wholefile

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
)

// ErrExists tells that there is a file of that name already.
var ErrExists = errors.New("there is a file of that name already; choose another name, or add --force to write over it")

// writing is held while a file is being written, so that [Settle] can wait.
var writing sync.Mutex

// Settle waits until no file is half written, and lets none be begun after. It
// is called before the program stops in the middle of things.
func Settle() { writing.Lock() }

// Ready tells, before any work is done, why a file could not be written; nil
// when nothing stands in the way. With force a file of the same name is written
// over.
func Ready(path string, force bool) error {
	info, err := os.Stat(path)
	switch {
	case err == nil && info.IsDir():
		return fmt.Errorf("%s: this is a folder, not a file", path)
	case err == nil && !info.Mode().IsRegular():
		return fmt.Errorf("%s: this is not an ordinary file", path)
	case err == nil && !force:
		return fmt.Errorf("%s: %w", path, ErrExists)
	case err == nil || errors.Is(err, fs.ErrNotExist):
	default:
		return fmt.Errorf("%s: %w", path, cause(err))
	}
	folder := filepath.Dir(path)
	info, err = os.Stat(folder)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("%s: there is no folder %s", path, folder)
	case err != nil:
		return fmt.Errorf("%s: %w", path, cause(err))
	case !info.IsDir():
		return fmt.Errorf("%s: %s is not a folder", path, folder)
	}
	return nil
}

// Write writes the file. Unless force is set it refuses to write over another
// one, even one that has appeared in the meantime. When it fails nothing is
// left behind.
func Write(path string, force bool, data []byte) error {
	return WriteAll(force, File{path, data})
}

// place gives the file its name.
func place(temp, path string, force bool) error {
	if force {
		return os.Rename(temp, path)
	}
	// A link is refused where there is a file already; a rename is not.
	err := link(temp, path)
	switch {
	case err == nil:
		os.Remove(temp) // it is only a second name; what is left of it is taken away later
		return nil
	case errors.Is(err, fs.ErrExist):
		return ErrExists
	}
	// Some disks know no links.
	if _, err := os.Lstat(path); err == nil {
		return ErrExists
	}
	return os.Rename(temp, path)
}

// link gives a file a second name. It is a variable for the tests of disks that know none.
var link = os.Link
