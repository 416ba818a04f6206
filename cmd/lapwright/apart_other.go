//go:build !unix

package main

import "os/exec"

// apart has a program run by itself; here there are no groups of programs.
func apart(*exec.Cmd) {}
