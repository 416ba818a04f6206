//go:build !unix

package page

import "os/exec"

// alone has a command run by itself; here there are no groups of programs.
func alone(*exec.Cmd) {}
