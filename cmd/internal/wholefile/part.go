package wholefile

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

// partOf is how the other names of a file begin that are given now: they tell the time,
// since a second name of an old file is as old as the file.
func partOf(path string, now time.Time) string {
	return filepath.Join(filepath.Dir(path), partPrefix(path)+strconv.FormatInt(now.Unix(), 36)+"-")
}

// partPrefix is how the other names of a file begin at all times.
func partPrefix(path string) string { return "." + filepath.Base(path) + ".part-" }

// part writes a file under another name of path, through to the disk, and returns that
// name. When it fails nothing is left behind.
func part(path string, mode fs.FileMode, from io.Reader) (string, error) {
	temp, err := os.CreateTemp(filepath.Dir(path), filepath.Base(partOf(path, time.Now()))+"*")
	if err != nil {
		return "", err
	}
	_, err = io.Copy(temp, from)
	if err = errors.Join(err, temp.Chmod(mode), temp.Sync(), temp.Close()); err != nil {
		os.Remove(temp.Name())
		return "", err
	}
	return temp.Name(), nil
}

// stale is how old what is left of a program that was killed must be to be taken away:
// one that is still writing needs far less.
const stale = time.Hour

// sweep takes away what programs that were killed have left of a file. What only looks
// like that, and what was begun not long ago, or by a clock that is ahead, stays.
func sweep(path string) {
	entries, err := os.ReadDir(filepath.Dir(path))
	if err != nil {
		return
	}
	for _, e := range entries {
		if begun, ok := partBegun(path, e.Name()); ok && e.Type().IsRegular() && time.Since(begun) > stale {
			os.Remove(filepath.Join(filepath.Dir(path), e.Name()))
		}
	}
}

// partBegun tells when another name of a file was given, and false where a name is none.
func partBegun(path, name string) (time.Time, bool) {
	rest, ok := strings.CutPrefix(name, partPrefix(path))
	when, number, dash := strings.Cut(rest, "-")
	seconds, err := strconv.ParseInt(when, 36, 64)
	if _, err2 := strconv.ParseUint(number, 36, 64); !ok || !dash || err != nil || err2 != nil || seconds < 0 {
		return time.Time{}, false
	}
	return time.Unix(seconds, 0), true
}
