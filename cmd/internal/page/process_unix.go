//go:build unix

package page

import (
	"errors"
	"os"
	"os/exec"
	"syscall"
)

// alone has a command run in a group of its own: Ctrl-C in a terminal is for the server,
// and what the command has started is killed with it.
func alone(cmd *exec.Cmd) {
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	cmd.Cancel = func() error {
		err := syscall.Kill(-cmd.Process.Pid, syscall.SIGKILL)
		if errors.Is(err, syscall.ESRCH) {
			return os.ErrProcessDone
		}
		return err
	}
}
