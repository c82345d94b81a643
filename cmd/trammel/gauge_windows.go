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

// deviceNames say how serial lines are called here.
const deviceNames = " (COM1, COM2, …: the device manager lists them below its ports)"

// notAllowed says what to do about a device that one may not use: here that is most often another program's.
func notAllowed(string) string {
	return "another program may have it: end that one; else pull the plug, and put it in again"
}

// pipeSource says that there are no named pipes that are files here.
func pipeSource(world, string, *gauge.Settings) gaugeSource {
	return gaugeSource{open: func() (io.ReadCloser, error) {
		return nil, withHint(errors.New("fifo: there are none on this system"),
			"name a serial line, serial:DEVICE, or a program, exec:COMMAND")
	}}
}
