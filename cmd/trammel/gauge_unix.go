//go:build unix

package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"os/signal"
	"os/user"
	"strconv"
	"syscall"
	"time"

	"example.org/trammel/indicator/gauge"
)

// ownGroup gives a program a process group of its own: a key that interrupts the terminal is not meant for it, and all that
// it starts can be ended with it.
func ownGroup(cmd *exec.Cmd) { cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true} }

// endGroup asks a program's group to end, or ends it by force. One that has gone is no matter.
func endGroup(cmd *exec.Cmd, force bool) {
	s := syscall.SIGTERM
	if force {
		s = syscall.SIGKILL
	}
	_ = syscall.Kill(-cmd.Process.Pid, s)
}

// dieBy ends the program by a signal, as if nobody had waited for it.
func dieBy(s os.Signal) {
	signal.Reset(s)
	if n, ok := s.(syscall.Signal); ok {
		_ = syscall.Kill(os.Getpid(), n)
	}
}

// deviceNames say how serial lines are called here, where their names do not say it themselves.
const deviceNames = ""

// notAllowed says what to do about a device that one may not use: most often a group owns it.
func notAllowed(device string) string {
	info, err := os.Stat(device)
	if err != nil {
		return "see who may use it"
	}
	owner, ok := info.Sys().(*syscall.Stat_t)
	if !ok || info.Mode()&0o060 == 0 {
		return "nobody but its owner may use it: have that changed"
	}
	name := strconv.FormatUint(uint64(owner.Gid), 10)
	if g, err := user.LookupGroupId(name); err == nil {
		name = g.Name
	}
	return fmt.Sprintf("the group %s may use it: have yourself put into that group, then log in anew", printable(name))
}

// pipeSource is a named pipe.
func pipeSource(_ world, path string, _ *gauge.Settings) gaugeSource {
	return gaugeSource{
		keeps:   true,
		open:    func() (io.ReadCloser, error) { return openPipe(path) },
		because: func(err error) error { return fmt.Errorf("named pipe %s: %w", path, err) },
	}
}

func openPipe(path string) (*pipe, error) {
	info, err := os.Stat(path)
	if err == nil && info.Mode()&fs.ModeNamedPipe == 0 {
		err = fmt.Errorf("%s: no named pipe", path)
	}
	if err != nil {
		return nil, withHint(err, "mkfifo makes one; whoever reads the indicator then writes to it")
	}
	// Not blocking, for else it waits for somebody who writes.
	f, err := os.OpenFile(path, os.O_RDONLY|syscall.O_NONBLOCK, 0)
	if err != nil {
		return nil, err
	}
	p := &pipe{File: f, info: info}
	if err := p.empty(); err != nil {
		_ = f.Close()
		return nil, err
	}
	return p, nil
}

// mostWaits bounds what waits in a pipe, bytes: one that fills it all the time must not keep the program from beginning.
const mostWaits = 1 << 20

// empty throws away what waits in it: it was sent before anything was asked.
func (p *pipe) empty() error {
	line, err := p.SyscallConn()
	if err != nil {
		return err
	}
	return line.Read(func(fd uintptr) bool {
		b := make([]byte, feedBytes)
		for all := 0; all < mostWaits; {
			n, err := syscall.Read(int(fd), b)
			if errors.Is(err, syscall.EINTR) {
				continue
			}
			if n <= 0 { // what is wrong with it Read says
				break
			}
			all += n
			p.cut = !endsLine(b[:n])
		}
		return true // whether there was any or not
	})
}

// pipe is a named pipe, to which somebody writes, or nobody does: whoever sends a reading may open it for that alone.
type pipe struct {
	*os.File
	info fs.FileInfo
	half bool // what came last was no line's end
	cut  bool // what was thrown away was none, and the rest of the line is nothing
}

// pipeLook is the time between two looks whether somebody writes.
const pipeLook = 20 * time.Millisecond

// spoilt ends a line so that it is none: who wrote its beginning has gone, and whoever writes next begins one of his own.
const spoilt = "\xff\n"

// Read waits until something comes, whoever writes it. It fails where the pipe is not there any more.
func (p *pipe) Read(b []byte) (int, error) {
	if p.cut {
		p.cut, p.half, b[0] = false, true, broken
		return 1, nil
	}
	for {
		n, err := p.File.Read(b)
		switch {
		case n > 0:
			p.half = !endsLine(b[:n])
			return n, nil
		case errors.Is(err, io.EOF) && p.half:
			p.half = false
			return copy(b, spoilt), nil
		case !errors.Is(err, io.EOF) && !errors.Is(err, syscall.EAGAIN):
			return 0, err
		}
		if now, err := os.Stat(p.Name()); err != nil || !os.SameFile(now, p.info) {
			return 0, errors.New("it is not there any more")
		}
		time.Sleep(pipeLook)
	}
}
