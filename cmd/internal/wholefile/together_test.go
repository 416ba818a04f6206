package wholefile_test

import (
	"errors"
	"path/filepath"
	"testing"

	"lapwright/cmd/internal/wholefile"
)

// TestWriteAll: all files are written, or none is and what was there is there still.
func TestWriteAll(t *testing.T) {
	folder := t.TempDir()
	file := func(name, text string) wholefile.File {
		return wholefile.File{Path: filepath.Join(folder, name), Data: []byte(text)}
	}
	if err := wholefile.WriteAll(false, file("lap-1.yaml", "one"), file("lap-2.yaml", "two")); err != nil {
		t.Fatal(err)
	}
	if got := names(t, folder); got != "lap-1.yaml lap-2.yaml" {
		t.Errorf("there is %s", got)
	}

	// One of them is there already.
	err := wholefile.WriteAll(false, file("lap-0.yaml", "none"), file("lap-1.yaml", "other"))
	if !errors.Is(err, wholefile.ErrExists) {
		t.Errorf("over another file: %v", err)
	}
	if got := names(t, folder); got != "lap-1.yaml lap-2.yaml" || content(t, filepath.Join(folder, "lap-1.yaml")) != "one" {
		t.Errorf("left behind: %s", got)
	}

	// With force they are written over.
	if err := wholefile.WriteAll(true, file("lap-1.yaml", "ONE"), file("lap-3.yaml", "three")); err != nil {
		t.Fatal(err)
	}
	if got := names(t, folder); got != "lap-1.yaml lap-2.yaml lap-3.yaml" || content(t, filepath.Join(folder, "lap-1.yaml")) != "ONE" {
		t.Errorf("there is %s", got)
	}

	// The last cannot take its place: the same name is given twice, and without
	// force a second file does not take it.
	err = wholefile.WriteAll(false, file("lap-4.yaml", "four"), file("lap-5.yaml", "five"), file("lap-5.yaml", "again"))
	if err == nil {
		t.Error("two files of one name are written")
	}
	if got := names(t, folder); got != "lap-1.yaml lap-2.yaml lap-3.yaml" {
		t.Errorf("left behind: %s", got)
	}

	// The folder of the last is not there, and the first would have been replaced.
	if err := wholefile.WriteAll(true, file("lap-1.yaml", "uno"), file(filepath.Join("nowhere", "lap-2.yaml"), "due")); err == nil {
		t.Error("a file is written to a folder that is not there")
	}
	if got := names(t, folder); got != "lap-1.yaml lap-2.yaml lap-3.yaml" || content(t, filepath.Join(folder, "lap-1.yaml")) != "ONE" {
		t.Errorf("there is %s, and in the first %q", got, content(t, filepath.Join(folder, "lap-1.yaml")))
	}
}
