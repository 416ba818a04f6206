//go:build unix

package outside

import (
	"os"
	"os/exec"
	"testing"
)

// Disk is a small disk of its own, for the length of a test.
type Disk struct {
	Folder string
	mount  string
}

// SmallDisk makes a disk of a size such as "64k". Where none can be made the test is left
// out, and says so.
func SmallDisk(t testing.TB, size string) *Disk {
	t.Helper()
	mount, err := exec.LookPath("mount")
	if err != nil || os.Getuid() != 0 {
		t.Skip("LEFT OUT: a small disk can be made only by root, with mount")
	}
	d := &Disk{t.TempDir(), mount}
	if out, err := exec.Command(mount, "-t", "tmpfs", "-o", "size="+size, "tmpfs", d.Folder).CombinedOutput(); err != nil {
		t.Skipf("LEFT OUT: a small disk cannot be made here: %v: %s", err, out)
	}
	t.Cleanup(func() { exec.Command("umount", d.Folder).Run() })
	return d
}

// ReadOnly lets the disk only be read from now on.
func (d *Disk) ReadOnly(t testing.TB) {
	t.Helper()
	if out, err := exec.Command(d.mount, "-o", "remount,ro", d.Folder).CombinedOutput(); err != nil {
		t.Skipf("LEFT OUT: it cannot be made a disk that can only be read: %v: %s", err, out)
	}
}
