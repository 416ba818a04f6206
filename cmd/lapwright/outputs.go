package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"lapwright/cmd/internal/wholefile"
)

// outputs are the files that a command is to write.
type outputs struct {
	what  string   // what they belong to: "sheet"
	force bool     // others may be written over
	reads []string // the files that the command reads, which are never written over
	paths []string // those without a name are not asked for
}

// ready tells, before any work is done, why one of them could not be written.
func (o outputs) ready() error {
	seen := map[string]bool{}
	for _, path := range o.paths {
		switch {
		case path == "":
			continue
		case path == "-":
			return errors.New("a file needs a name; \"-\" is none")
		case seen[samePath(path)]:
			return fmt.Errorf("two files of the %s have the same name, %s", o.what, path)
		}
		seen[samePath(path)] = true
		if err := unread(path, o.what, o.reads); err != nil {
			return err
		}
		if err := wholefile.Ready(path, o.force); err != nil {
			return err
		}
	}
	return nil
}

// spare tells whether the files of a lap or a routine would be written over what the
// command reads.
func (o outputFlags) spare(what string, reads ...string) error {
	for _, path := range []string{o.Out, o.SVG, o.Export} {
		if err := unread(path, what, reads); err != nil {
			return err
		}
	}
	return nil
}

// unread refuses a file that is to be written and is read for something.
func unread(path, what string, reads []string) error {
	for _, read := range reads {
		if isSame(read, path) {
			return fmt.Errorf("%s: this file is read for the %s, so it is not written over; choose another name", path, what)
		}
	}
	return nil
}

// samePath is a path spelt in one way only.
func samePath(path string) string {
	if folder, err := filepath.EvalSymlinks(filepath.Dir(path)); err == nil {
		path = filepath.Join(folder, filepath.Base(path))
	}
	if abs, err := filepath.Abs(path); err == nil {
		path = abs
	}
	return path
}

// isSame tells whether two paths lead to the same file.
func isSame(a, b string) bool {
	if a == "" || b == "" {
		return false
	}
	one, err := os.Stat(a)
	if err != nil {
		return false
	}
	two, err := os.Stat(b)
	return err == nil && os.SameFile(one, two)
}
