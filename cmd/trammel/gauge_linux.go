package main

import (
	"os/exec"
	"syscall"
)

// endsWithUs has a program end with us even where we are ended by force; what it has started does not.
func endsWithUs(cmd *exec.Cmd) { cmd.SysProcAttr.Pdeathsig = syscall.SIGKILL }
