//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package journal

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

// How a file is opened besides: a pipe that has come in its place is not waited for, a link not followed.
const (
	notWaited   = unix.O_NONBLOCK
	notFollowed = unix.O_NOFOLLOW
)

// lock takes the writer's lock on f or returns errLocked at once. It belongs to the open file,
// not to the process, and the system takes it back when the program dies.
func lock(f *os.File) error {
	err := flock(f, unix.LOCK_EX|unix.LOCK_NB)
	if errors.Is(err, unix.EWOULDBLOCK) {
		return errLocked
	}
	return err
}

// share takes a lock that hinders writers and no other that shares, or returns errLocked at once.
func share(f *os.File) error {
	err := flock(f, unix.LOCK_SH|unix.LOCK_NB)
	if errors.Is(err, unix.EWOULDBLOCK) {
		return errLocked
	}
	return err
}

// unlock gives the lock back. Closing the file would do, were it not for a child process in
// the moment between its fork and its exec, which holds the same open file.
func unlock(f *os.File) error { return flock(f, unix.LOCK_UN) }

func flock(f *os.File, how int) error {
	raw, err := f.SyscallConn()
	if err != nil {
		return err
	}
	var locked error
	err = raw.Control(func(fd uintptr) {
		for {
			if locked = unix.Flock(int(fd), how); locked != unix.EINTR {
				return
			}
		}
	})
	return both(err, locked)
}

// syncDir makes a new name in dir survive a power cut. Network and user-space file systems
// that cannot sync a folder say so with EINVAL or ENOTSUP, which no failing disk does.
func syncDir(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	err = d.Sync()
	if errors.Is(err, unix.EINVAL) || errors.Is(err, unix.ENOTSUP) {
		err = nil
	}
	return both(err, d.Close())
}
