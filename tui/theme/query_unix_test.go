//go:build unix

package theme_test

import (
	"io"
	"os"
	"os/exec"
	"strings"
	"testing"

	"github.com/creack/pty"
)

// On a terminal that never answers, a program that links bubbletea must start at once and write
// no query. Without the init function it writes "ESC ]11;?" and waits for five seconds.
func TestTerminalIsNotAsked(t *testing.T) {
	cmd := exec.Command(os.Args[0])
	cmd.Env = []string{quitAtOnce + "=1", "TERM=xterm-256color", "PATH=" + os.Getenv("PATH")}
	tty, err := pty.Start(cmd)
	if err != nil {
		t.Fatalf("no pseudo-terminal: %v", err)
	}
	defer tty.Close()
	out, _ := io.ReadAll(tty) // ends in an error when the child closes its side
	if err := cmd.Wait(); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(string(out), "\x1b") {
		t.Errorf("the terminal was asked: %q", out)
	}
}
