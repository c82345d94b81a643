//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package main

import (
	"errors"
	"io"
	"os"
	"os/signal"
	"sync"
	"sync/atomic"
	"syscall"
	"time"

	"golang.org/x/sys/unix"

	"example.org/trammel/tui"
)

// stopping are the signals that ask a program to stop until it is brought back.
var stopping = []os.Signal{syscall.SIGTSTP}

// attach takes the terminal in hand, where it is one.
func (t *console) attach() {
	t.shell.Stop = t.stop
	in, isIn := t.in.(*os.File)
	out, isOut := t.out.(*os.File)
	if !isIn || !isOut {
		return
	}
	gone := new(atomic.Bool)
	if k := newKeyboard(in, gone); k != nil {
		t.in = k
	}
	t.out = &window{out, gone}
}

// stopWait is how long a program that has stopped itself may still be running, and settleWait how long a signal may take
// that came while it stood.
const (
	stopWait   = 250 * time.Millisecond
	settleWait = 50 * time.Millisecond
)

// stop stops the program with all that was started with it, where somebody could bring it back. The system knows who
// could: it does not stop a group of processes whose parents are all in it or in other sessions (POSIX, orphaned process
// group). So the program asks it, and goes on where it finds itself running; only where its own parent is in another
// session that is known before, and the screen need not go.
func (t *console) stop(release func() error) bool {
	session, err := unix.Getsid(0)
	if err != nil {
		return false
	}
	if parents, err := unix.Getsid(os.Getppid()); err != nil || parents != session {
		return false
	}
	back := make(chan os.Signal, 1)
	signal.Notify(back, syscall.SIGCONT)
	defer signal.Stop(back)
	if release() != nil {
		return false
	}
	// Not SIGTSTP, which is waited for, and once it has been it never stops a Go program again (package os/signal); this one stops
	// alike.
	if syscall.Kill(0, syscall.SIGTTIN) != nil {
		return false
	}
	stopped := false
	select {
	case <-back:
		stopped = true
	case <-time.After(stopWait):
	}
	select { // told to end while it stood, it must not touch the terminal, which is the shell's
	case <-t.ctx.Done():
		if w, ok := t.out.(*window); ok {
			w.gone.Store(true)
		}
	case <-time.After(settleWait):
	}
	return stopped
}

// window is standard output until it is another's.
type window struct {
	*os.File
	gone *atomic.Bool
}

// Unwrap returns standard output itself.
func (w *window) Unwrap() io.Writer { return w.File }

func (w *window) Write(p []byte) (int, error) {
	if w.gone.Load() {
		return len(p), nil
	}
	return w.File.Write(p)
}

// keyboard is standard input, which can be waited for and left: else a reader that nobody listens to any more would take
// the next key from the shell, or from the next screen.
type keyboard struct {
	*os.File
	gone   *atomic.Bool
	left   atomic.Bool
	wake   [2]*os.File // a pipe that ends a wait
	reader sync.Mutex  // held by who reads
}

func newKeyboard(in *os.File, gone *atomic.Bool) *keyboard {
	k := &keyboard{File: in, gone: gone}
	var err error
	if k.wake[0], k.wake[1], err = os.Pipe(); err != nil || int(in.Fd()) >= unix.FD_SETSIZE || int(k.wake[0].Fd()) >= unix.FD_SETSIZE {
		return nil
	}
	return k
}

// Fd is none once the terminal is another's, so that its settings are left alone.
func (k *keyboard) Fd() uintptr {
	if k.gone.Load() {
		return ^uintptr(0)
	}
	return k.File.Fd()
}

func (k *keyboard) Read(p []byte) (int, error) {
	k.reader.Lock()
	defer k.reader.Unlock()
	if ready, err := k.wait(nil); err != nil || !ready {
		return 0, errors.Join(err, tui.ErrLeft)
	}
	n, err := k.File.Read(p)
	if n == 0 && err == nil {
		err = io.EOF
	}
	return n, err
}

// More reports whether something can be read within so long a time.
func (k *keyboard) More(within time.Duration) bool {
	k.reader.Lock()
	defer k.reader.Unlock()
	ready, err := k.wait(&within)
	return ready && err == nil
}

// wait waits until something can be read, and says false where the time is over or the keyboard is left.
func (k *keyboard) wait(within *time.Duration) (bool, error) {
	in, wake := int(k.File.Fd()), int(k.wake[0].Fd())
	for !k.left.Load() {
		var fds unix.FdSet
		fds.Set(in)
		fds.Set(wake)
		var limit *unix.Timeval
		if within != nil {
			tv := unix.NsecToTimeval(within.Nanoseconds())
			limit = &tv
		}
		// Not poll, which some systems cannot do on a terminal (macOS; common practice, no source).
		n, err := unix.Select(max(in, wake)+1, &fds, nil, nil, limit)
		switch {
		case errors.Is(err, unix.EINTR):
			continue
		case err != nil:
			return false, err
		case n == 0:
			return false, nil
		case fds.IsSet(in):
			return true, nil
		}
	}
	return false, nil
}

// Leave ends a read that waits, and returns when it has ended.
func (k *keyboard) Leave() {
	k.left.Store(true)
	_, _ = k.wake[1].Write([]byte{0})
	k.reader.Lock()
	defer k.reader.Unlock()
	_, _ = k.wake[0].Read([]byte{0})
}

// Return takes the keyboard again.
func (k *keyboard) Return() { k.left.Store(false) }
