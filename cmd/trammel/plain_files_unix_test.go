//go:build unix

package main

import (
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// A pipe, which nobody may ever write to, and a device without an end are no machine, no job and no drawing: they are refused at once.
func TestNoPlainFile(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	if err := copyBench(home); err != nil {
		t.Fatal(err)
	}
	pipe := filepath.Join(home, "pipe.toml")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{
		{"dial", "--lines", "--machine", pipe, "--job", benchFiles[0]}, {"machine", "show", pipe},
		{"dial", "--lines", "--machine", benchFiles[1], "--job", pipe},
		{"dial", "--lines", "--machine", benchFiles[1], "--drawing", pipe, "--arc", "1", "--cutter", "6"},
		{"dial", "--lines", "--machine", benchFiles[1], "--job", benchFiles[0], "--drawing", pipe, "--arc", "1", "--cutter", "6"},
		{"dial", "--lines", "--machine", "/dev/zero", "--job", benchFiles[0]},
		{"dial", "--lines", "--machine", benchFiles[1], "--job", "/dev/zero"},
		{"dial", "--lines", "--machine", benchFiles[1], "--drawing", "/dev/zero", "--arc", "1", "--cutter", "6"},
	} {
		cmd := program(t, home, args...)
		late := time.AfterFunc(20*time.Second, func() { _ = cmd.Process.Kill() })
		out, err := cmd.CombinedOutput()
		late.Stop()
		if exit, is := err.(*exec.ExitError); !is || exit.ExitCode() != exitNo || !strings.Contains(string(out), ", need a regular file") {
			t.Errorf("%q: %v\n%s\nwant it refused", args, err, out)
		}
	}
}
