//go:build unix

package main

import (
	"os/exec"
	"syscall"
)

// apart has a program run in a group of its own, so that Ctrl-C does not end it too.
func apart(cmd *exec.Cmd) { cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true} }
