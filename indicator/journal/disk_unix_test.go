//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package journal

import (
	"os"
	"strings"
	"testing"

	"golang.org/x/sys/unix"
)

// TestCloseFreesTheLockOfACopy: a child process that was being started while the journal closed
// still holds the open file; the next session must not wait for it.
func TestCloseFreesTheLockOfACopy(t *testing.T) {
	path := tempPath(t)
	j := mustCreate(t, path)
	copied, err := unix.Dup(int(j.f.(*os.File).Fd()))
	if err != nil {
		t.Fatal(err)
	}
	defer unix.Close(copied)
	mustClose(t, j)
	j, _ = mustOpen(t, path)
	mustClose(t, j)
}

// TestPipeIsNoJournal: a pipe would let us wait for its first line for ever.
func TestPipeIsNoJournal(t *testing.T) {
	path := tempPath(t)
	if err := unix.Mkfifo(path, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, _, err := Open(path); err == nil || !strings.Contains(err.Error(), "must be a file") {
		t.Errorf("open of a pipe: %v, want it refused", err)
	}
}
