package main

import (
	"errors"
	"io"
	"os"
	"os/exec"
	"syscall"

	"example.org/trammel/indicator/gauge"
)

// ownGroup keeps a key that interrupts the console from a program that it is not meant for.
func ownGroup(cmd *exec.Cmd) {
	cmd.SysProcAttr = &syscall.SysProcAttr{CreationFlags: syscall.CREATE_NEW_PROCESS_GROUP}
}

// endGroup ends a program: there is no asking it. One that has gone is no matter.
func endGroup(cmd *exec.Cmd, _ bool) { _ = cmd.Process.Kill() }

// dieBy ends the program as an interrupt would.
func dieBy(os.Signal) { os.Exit(exitNo) }

// pipeSource says that there are no named pipes that are files here.
func pipeSource(world, string, *gauge.Settings) gaugeSource {
	return gaugeSource{open: func() (io.ReadCloser, error) {
		return nil, withHint(errors.New("fifo: there are none on this system"),
			"name a serial line, serial:DEVICE, or a program, exec:COMMAND")
	}}
}
