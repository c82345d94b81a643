package main

import (
	"bytes"
	"errors"
	"os"
	"strings"
	"testing"
)

// noRoom takes nothing: a full disk.
type noRoom struct{}

func (noRoom) Write([]byte) (int, error) { return 0, errors.New("no space left on device") }

// Help that could not be written is no success: exit 1, as of everything else.
func TestHelpIntoAFullDisk(t *testing.T) {
	for _, args := range []string{"help", "help gauge", "help fit", "--help", "dial --help", "--version"} {
		var complaint bytes.Buffer
		w := world{in: strings.NewReader(""), out: noRoom{}, err: &complaint, getenv: func(string) string { return "" }}
		if code := run(strings.Fields(args), w); code != exitNo || !strings.Contains(complaint.String(), "no space left") {
			t.Errorf("%s: exit %d, %q, want %d and why", args, code, complaint.String(), exitNo)
		}
	}
}

// The current folder has to be named: an empty name is a variable that is not set.
func TestManWantsAFolder(t *testing.T) {
	t.Chdir(t.TempDir())
	var complaint bytes.Buffer
	w := world{in: strings.NewReader(""), out: noRoom{}, err: &complaint, getenv: func(string) string { return "" }}
	if code := run([]string{"man", ""}, w); code != exitUse || !strings.Contains(complaint.String(), "empty name") {
		t.Errorf("exit %d, %q, want %d", code, complaint.String(), exitUse)
	}
	if there, err := os.ReadDir("."); err != nil || len(there) > 0 {
		t.Errorf("%d files are written, %v", len(there), err)
	}
}
