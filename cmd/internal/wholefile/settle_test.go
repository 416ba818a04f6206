package wholefile

import (
	"os"
	"path/filepath"
	"testing"
)

// TestTakenBack: a file that has taken the place of another is taken back when a later
// one cannot be written.
func TestTakenBack(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "lap.yaml")
	if err := os.WriteFile(path, []byte("old"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, failed := range []bool{true, false} {
		s, err := stage(File{path, []byte("new")})
		if err != nil {
			t.Fatal(err)
		}
		if err := s.place(true, true); err != nil {
			t.Fatal(err)
		}
		s.settle(failed)
		want := map[bool]string{true: "old", false: "new"}[failed]
		if data, err := os.ReadFile(path); err != nil || string(data) != want {
			t.Errorf("failed: %v; there is %q, %v", failed, data, err)
		}
		if left, err := os.ReadDir(folder); err != nil || len(left) != 1 {
			t.Errorf("failed: %v; left behind: %v, %v", failed, left, err)
		}
	}
}
