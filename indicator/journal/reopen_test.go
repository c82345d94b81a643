package journal

import (
	"errors"
	"os"
	"strings"
	"syscall"
	"testing"
)

// TestReopen fails an append in each way a disk can, mends the disk, and goes on: what is
// acknowledged is on record, what is not is not, and the line is written and synced anew.
func TestReopen(t *testing.T) {
	p := sixPayloads()
	for _, c := range []struct {
		name string
		disk failing
	}{
		{"full at once", failing{room: len(encode(p[0])) + len(encode(p[1]))}},
		{"full in the line", failing{room: len(encode(p[0])) + len(encode(p[1])) + 20}},
		{"short write", failing{room: len(encode(p[0])) + len(encode(p[1])) + 20, short: true}},
		{"sync fails once, the line is there", failing{room: 1 << 20, syncFails: 3}},
		{"sync fails, and the cutting back", failing{room: 1 << 20, syncFails: 3, noTruncate: true}},
		{"full, and the cutting back fails", failing{room: len(encode(p[0])) + len(encode(p[1])) + 20, noTruncate: true}},
	} {
		path := tempPath(t)
		j := failOn(t, path, &c.disk)
		mustAppend(t, j, p[:2]...)
		if err := j.Append(p[2]); err == nil {
			t.Fatalf("%s: line acknowledged", c.name)
		}
		// The fault is still there: the cutting back cannot be synced.
		j.wrap = func(f *os.File) file { return &failing{File: f, syncFails: 1} }
		if err := j.Reopen(); !errors.Is(err, errSync) {
			t.Errorf("%s: opened again on a disk that fails: %v", c.name, err)
		}
		if err := j.Append(p[2]); err == nil {
			t.Fatalf("%s: line acknowledged before the journal was opened again", c.name)
		}
		var again *failing
		j.wrap = func(f *os.File) file { again = &failing{File: f, room: 1 << 20}; return again }
		if err := j.Reopen(); err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		got, err := Read(path)
		if err != nil || got.Err() != nil || len(got.Torn) != 0 {
			t.Fatalf("%s: %v, %v, %d torn bytes", c.name, err, got.Err(), len(got.Torn))
		}
		wantLines(t, c.name+": opened again", got.Lines, p[:2])
		mended := again.syncs
		mustAppend(t, j, p[2])
		if again.calls != 1 || again.syncs != mended+1 {
			t.Errorf("%s: %d writes and %d syncs for the line, want it written and synced anew", c.name, again.calls, again.syncs-mended)
		}
		mustAppend(t, j, p[3:]...)
		if j.Len() != len(p) {
			t.Errorf("%s: %d lines, want %d", c.name, j.Len(), len(p))
		}
		mustClose(t, j)
		reopened, _ := mustOpen(t, path)
		wantLines(t, c.name+": at the end", reopened.Lines(), p)
		mustClose(t, reopened)
		wantOnly(t, path, "plate.journal")
	}
}

// TestReopenRefuses: what was acknowledged must still be there, and nobody else's may be cut off.
func TestReopenRefuses(t *testing.T) {
	p := sixPayloads()
	first, second, third := string(encode(p[0])), string(encode(p[1])), string(encode(p[2]))
	for _, c := range []struct{ name, holds, says string }{
		{"lines lost", first, "need the"},
		{"lines changed", first + strings.Replace(second, "-0.326", "-0.325", 1), "not those that were written"},
		{"somebody else's line", first + second + string(encode(p[3])), "another program has changed it"},
		{"more behind the lost line", first + second + third + third, "another program has changed it"},
	} {
		path := tempPath(t)
		j := failOn(t, path, &failing{room: len(first) + len(second)})
		mustAppend(t, j, p[:2]...)
		if err := j.Append(p[2]); !errors.Is(err, syscall.ENOSPC) {
			t.Fatal(err)
		}
		put(t, path, []byte(c.holds))
		if err := j.Reopen(); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want %q", c.name, err, c.says)
		}
		if got := string(content(t, path)); got != c.holds {
			t.Errorf("%s: the file was changed to %q", c.name, got)
		}
		if err := j.Append(p[2]); err == nil {
			t.Errorf("%s: goes on", c.name)
		}
		mustClose(t, j)
	}
}

// TestReopenCardPulled: the place is gone, comes back, and the journal goes on in it; a tail that
// is no part of the lost line is kept aside.
func TestReopenCardPulled(t *testing.T) {
	p := sixPayloads()
	path := tempPath(t)
	j := failOn(t, path, &failing{room: len(encode(p[0]))})
	mustAppend(t, j, p[0])
	if err := os.Rename(path, path+".away"); err != nil {
		t.Fatal(err)
	}
	for range 2 {
		if err := j.Append(p[1]); err == nil {
			t.Fatal("line acknowledged without a card")
		}
		if err := j.Reopen(); !errors.Is(err, os.ErrNotExist) {
			t.Fatalf("opened again without a card: %v", err)
		}
	}
	put(t, path+".away", append(encode(p[0]), 0, 0, 0))
	if err := os.Rename(path+".away", path); err != nil {
		t.Fatal(err)
	}
	if err := j.Reopen(); err != nil {
		t.Fatal(err)
	}
	mustAppend(t, j, p[1])
	mustClose(t, j)
	got, err := Read(path)
	if err != nil || got.Err() != nil {
		t.Fatal(err, got.Err())
	}
	wantLines(t, "card is back", got.Lines, p[:2])
	if got := content(t, path+".torn"); string(got) != "\x00\x00\x00" {
		t.Errorf("set aside %q, want three zeroes", got)
	}
}

// TestReopenKeepsOneWriter: whoever took the lock in between has it.
func TestReopenKeepsOneWriter(t *testing.T) {
	p := sixPayloads()
	path := tempPath(t)
	j := failOn(t, path, &failing{room: len(encode(p[0]))})
	mustAppend(t, j, p[0])
	if err := j.Append(p[1]); err == nil {
		t.Fatal("line acknowledged on a full disk")
	}
	if err := os.Rename(path, path+".away"); err != nil {
		t.Fatal(err)
	}
	_ = j.Reopen() // lets go of the lock
	if err := os.Rename(path+".away", path); err != nil {
		t.Fatal(err)
	}
	other, _ := mustOpen(t, path)
	wantLocked(t, path, j.Reopen())
	mustClose(t, other)
	if err := j.Reopen(); err != nil {
		t.Fatal(err)
	}
	mustAppend(t, j, p[1])
	mustClose(t, j)
}

// TestSign: the second program says who has the journal, and a word left by a dead one says nothing.
func TestSign(t *testing.T) {
	path := tempPath(t)
	j := mustCreate(t, path)
	if err := j.Sign("process 4711 since 09:12"); err != nil {
		t.Fatal(err)
	}
	_, _, err := Open(path)
	wantLocked(t, path, err)
	if !strings.Contains(err.Error(), "in use by another program: process 4711 since 09:12") || strings.Contains(err.Error(), "\n") {
		t.Errorf("%q, want it to say who", err)
	}
	mustClose(t, j)
	wantOnly(t, path, "plate.journal")
	put(t, path+".writer", []byte("process 1, killed long ago\n"))
	j, _ = mustOpen(t, path)
	mustClose(t, j)
	put(t, path+".writer", []byte(strings.Repeat("x", 10*maxSignature)))
	j, _ = mustOpen(t, path)
	_, _, err = Open(path)
	wantLocked(t, path, err)
	if len(err.Error()) > len(path)+maxSignature+100 {
		t.Errorf("a word of %d bytes is said whole", 10*maxSignature)
	}
	mustClose(t, j)
}
