package main

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"
)

// A program that sends nothing ends with ours even where that is ended by force: it would not notice that nobody reads it.
func TestGaugeOfASilentProgramThatIsLeft(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	pipe := filepath.Join(home, "pipe")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Fatal(err)
	}
	x := gaugedTalk(t, home, "stable = 5\n", "exec:"+sendsAt(t, home)+" @"+pipe)
	w, err := os.OpenFile(pipe, os.O_WRONLY, 0) // once the sender reads it
	if err != nil {
		t.Fatal(err)
	}
	defer w.Close()
	if err := x.cmd.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	_ = x.cmd.Wait()
	for begun := time.Now(); time.Since(begun) < patience; time.Sleep(5 * time.Millisecond) {
		if !reads(t, pipe) {
			return
		}
	}
	t.Error("the program is still there")
}

// reads reports whether somebody reads a pipe.
func reads(t *testing.T, pipe string) bool {
	t.Helper()
	f, err := os.OpenFile(pipe, os.O_WRONLY|syscall.O_NONBLOCK, 0)
	if err != nil {
		return false
	}
	f.Close()
	return true
}
