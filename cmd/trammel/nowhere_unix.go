//go:build unix

package main

import (
	"os"

	"golang.org/x/sys/unix"
)

// leadsNowhere reports whether a way out is the null device, opened for reading and writing. That is what Go's runtime puts in the
// place of one that was closed when the program began (>&-, runtime/fds_unix.go), before any of ours runs. It cannot be told from
// what others hand over on purpose to have nothing said: Python's subprocess.DEVNULL and daemon(3) open it in the same way; a shell's
// >/dev/null opens it for writing alone.
func leadsNowhere(f *os.File) bool {
	how, err := unix.FcntlInt(f.Fd(), unix.F_GETFL, 0)
	if err != nil || how&unix.O_ACCMODE != unix.O_RDWR {
		return false
	}
	null, err := os.Stat(os.DevNull)
	if err != nil {
		return false
	}
	info, err := f.Stat()
	return err == nil && os.SameFile(info, null)
}
