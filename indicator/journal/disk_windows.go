package journal

import (
	"errors"
	"os"

	"golang.org/x/sys/windows"
)

// How a file is opened besides: a named pipe is not waited for there, and a link was looked for before.
const notWaited, notFollowed = 0, 0

// lockOffset is where the one locked byte lies. A lock hinders everybody's reading of the
// bytes it covers, so it lies far beyond any data.
const lockOffset = 1 << 62

// lock takes the writer's lock on f or returns errLocked at once. The system takes it back
// when the program dies.
func lock(f *os.File) error { return lockByte(f, windows.LOCKFILE_EXCLUSIVE_LOCK) }

// share takes a lock that hinders writers and no other that shares, or returns errLocked at once.
func share(f *os.File) error { return lockByte(f, 0) }

func lockByte(f *os.File, how uint32) error {
	err := onHandle(f, func(h windows.Handle, at *windows.Overlapped) error {
		return windows.LockFileEx(h, how|windows.LOCKFILE_FAIL_IMMEDIATELY, 0, 1, 0, at)
	})
	if errors.Is(err, windows.ERROR_LOCK_VIOLATION) {
		return errLocked
	}
	return err
}

// unlock gives the lock back; the system does it too when the file is closed, but at a time of
// its own choosing.
func unlock(f *os.File) error {
	return onHandle(f, func(h windows.Handle, at *windows.Overlapped) error {
		return windows.UnlockFileEx(h, 0, 1, 0, at)
	})
}

func onHandle(f *os.File, do func(windows.Handle, *windows.Overlapped) error) error {
	raw, err := f.SyscallConn()
	if err != nil {
		return err
	}
	at := &windows.Overlapped{Offset: uint32(lockOffset & 0xffffffff), OffsetHigh: uint32(lockOffset >> 32)}
	var done error
	err = raw.Control(func(fd uintptr) { done = do(windows.Handle(fd), at) })
	return both(err, done)
}

// syncDir does nothing: a folder cannot be opened for syncing here, and the file system
// journals names itself.
func syncDir(string) error { return nil }
