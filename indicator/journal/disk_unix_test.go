//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package journal

import (
	"os"
	"strings"
	"testing"
	"time"

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
	if _, _, err := Open(path); err == nil || !strings.Contains(err.Error(), "a named pipe, need a regular file") {
		t.Errorf("open of a pipe: %v, want it refused", err)
	}
}

// TestNothingIsWaitedFor: whoever lists a folder's journals, or looks on, comes upon a pipe there, and goes on at once.
func TestNothingIsWaitedFor(t *testing.T) {
	path := tempPath(t)
	if err := unix.Mkfifo(path, 0o600); err != nil {
		t.Fatal(err)
	}
	looks := map[string]func() error{
		"read":   func() error { _, err := Read(path); return err },
		"writer": func() error { _, _, err := Writer(path); return err },
		"follow": func() error { _, _, err := Follow(path).More(); return err },
	}
	for name, look := range looks {
		done := make(chan error, 1)
		go func() { done <- look() }()
		select {
		case err := <-done:
			if err == nil || !strings.Contains(err.Error(), "a named pipe, need a regular file") {
				t.Errorf("%s of a pipe: %v, want it refused", name, err)
			}
		case <-time.After(10 * time.Second):
			t.Fatalf("%s of a pipe waits for it", name)
		}
	}
}

// TestSignatureIsNotFollowed: the word of who writes is a file of its own: nothing is written through a link that stands in its place,
// read through one, or waited for.
func TestSignatureIsNotFollowed(t *testing.T) {
	path := tempPath(t)
	other, name := path+".other", path+".writer"
	put(t, other, []byte("somebody else's\n"))
	if err := os.Symlink(other, name); err != nil {
		t.Fatal(err)
	}
	if got := signature(path); got != "" {
		t.Errorf("through a link it reads %q", got)
	}
	j := mustCreate(t, path)
	if err := j.Sign("process 7"); err != nil {
		t.Fatal(err)
	}
	if got := content(t, other); string(got) != "somebody else's\n" {
		t.Errorf("the other file holds %q now", got)
	}
	if got := signature(path); got != "process 7" {
		t.Errorf("it has signed with %q", got)
	}
	mustClose(t, j)
	if err := unix.Mkfifo(name, 0o600); err != nil {
		t.Fatal(err)
	}
	done := make(chan string, 1)
	go func() { done <- signature(path) }()
	select {
	case got := <-done:
		if got != "" {
			t.Errorf("of a pipe it reads %q", got)
		}
	case <-time.After(10 * time.Second):
		t.Fatal("a pipe in the signature's place is waited for")
	}
}
