// Package outside finds what tests need of a machine: programs that nobody here wrote, by
// which they read back what this program writes, and small disks.
//
// What lives here: whether such a thing is there. What does not: what it is asked, which
// stands in each test. Only tests import it.
package outside

import (
	"os"
	"os/exec"
	"testing"
)

// All is the environment variable that asks for every such program: where it is set, a
// test fails if one is not installed.
const All = "LAPWRIGHT_ALL"

// Program is the path of a program. A machine without it leaves out what it would check,
// and the test says so; where [All] is set it has to be there.
func Program(t testing.TB, name string) (path string, ok bool) {
	t.Helper()
	path, err := exec.LookPath(name)
	if err == nil {
		return path, true
	}
	if os.Getenv(All) != "" {
		t.Fatalf("%s is not installed", name)
	}
	t.Logf("LEFT OUT: %s is not installed, so this file is not read back by it", name)
	return "", false
}
