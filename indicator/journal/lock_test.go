package journal

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strings"
	"testing"
)

// writerPath, set in the environment, makes this test binary the other program: it appends one
// line to that journal, says so, and holds the journal until it is killed.
const writerPath = "JOURNAL_TEST_WRITER"

func TestMain(m *testing.M) {
	if path := os.Getenv(writerPath); path != "" {
		j, err := Create(path)
		if err == nil {
			err = j.Append([]byte(`{"n":1,"from":"the other program"}`))
		}
		fmt.Println("holds", err)
		_, _ = io.Copy(io.Discard, os.Stdin) // until the parent goes away
		os.Exit(0)
	}
	os.Exit(m.Run())
}

func wantLocked(t *testing.T, path string, err error) {
	t.Helper()
	var locked *LockedError
	if !errors.As(err, &locked) || locked.Path != path {
		t.Fatalf("second writer: %v, want a *LockedError for %s", err, path)
	}
	if !strings.Contains(err.Error(), "in use by another program") {
		t.Errorf("error %q, want it to say who is in the way", err)
	}
}

func TestSecondWriterRefused(t *testing.T) {
	path := tempPath(t)
	j := mustCreate(t, path)
	mustAppend(t, j, []byte(`{"a":1}`))
	before := content(t, path)
	second, _, err := Open(path)
	wantLocked(t, path, err)
	if second != nil {
		t.Error("a journal came with the refusal")
	}
	if string(content(t, path)) != string(before) {
		t.Error("the refused writer changed the file")
	}
	mustAppend(t, j, []byte(`{"a":2}`)) // the first one is not disturbed
	if got, err := Read(path); err != nil || len(got.Lines) != 2 {
		t.Errorf("reading beside a writer: %d lines, %v, want 2", len(got.Lines), err)
	}
	mustClose(t, j)

	j, _ = mustOpen(t, path) // closing gives the lock back, to Open as to Create
	_, _, err = Open(path)
	wantLocked(t, path, err)
	mustClose(t, j)
}

// TestTornTailOfALivingWriter: a second program must not take the line that the first is
// writing for a tear.
func TestTornTailOfALivingWriter(t *testing.T) {
	path := tempPath(t)
	j := mustCreate(t, path)
	put(t, path, []byte(`{"n":1,"k":"rea`))
	_, _, err := Open(path)
	wantLocked(t, path, err)
	if got := string(content(t, path)); got != `{"n":1,"k":"rea` {
		t.Errorf("file %q, want it unchanged", got)
	}
	wantOnly(t, path, "plate.journal")
	mustClose(t, j)
}

// TestOtherProgramKilled: the lock holds between programs and dies with its holder, and what
// the dead one had acknowledged is there.
func TestOtherProgramKilled(t *testing.T) {
	path := tempPath(t)
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	other := exec.Command(self)
	other.Env = append(os.Environ(), writerPath+"="+path)
	in, err := other.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	out, err := other.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := other.Start(); err != nil {
		t.Fatal(err)
	}
	said, err := bufio.NewReader(out).ReadString('\n')
	if err != nil || said != "holds <nil>\n" {
		t.Fatalf("other program said %q, %v", said, err)
	}
	_, _, err = Open(path)
	wantLocked(t, path, err)
	if err := other.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	_ = other.Wait() // reports the kill

	j, rec := mustOpen(t, path)
	wantLines(t, "left by the other program", j.Lines(), [][]byte{[]byte(`{"n":1,"from":"the other program"}`)})
	if rec != (Recovery{}) {
		t.Errorf("recovery %+v, want none", rec)
	}
	mustClose(t, j)
}
