// Package golden holds what people read to what it was: tests compare a text with the one
// that is kept in a file, and go test -update keeps the new one.
//
// What lives here: that comparison. What does not: what the text is. Only tests import
// it.
package golden

import (
	"flag"
	"os"
	"path/filepath"
	"testing"
)

// Update tells that new texts are kept instead of being compared.
var Update = flag.Bool("update", false, "write the golden files anew")

// Text compares a text with the one that is kept in a file, or keeps it.
func Text(t testing.TB, path, got string) {
	t.Helper()
	if *Update {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if string(want) != got {
		t.Errorf("%s is not what it was (go test -update keeps the new one):\n%s", path, got)
	}
}
