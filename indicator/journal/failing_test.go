package journal

import (
	"bytes"
	"errors"
	"os"
	"runtime"
	"strconv"
	"strings"
	"syscall"
	"testing"
)

// failing is a real file on a disk that fails: it takes room more bytes and then is full,
// and its sync and truncate fail from the given call on (0: never).
type failing struct {
	*os.File
	room         int
	syncFails    int
	noTruncate   bool
	short        bool // a full disk gives a short count and no error
	syncs, calls int
}

var errSync = errors.New("the card was pulled")

func (f *failing) WriteAt(p []byte, off int64) (int, error) {
	f.calls++
	n := min(len(p), f.room)
	f.room -= n
	if wrote, err := f.File.WriteAt(p[:n], off); err != nil {
		return wrote, err
	}
	if n < len(p) && !f.short {
		return n, &os.PathError{Op: "write", Path: f.Name(), Err: syscall.ENOSPC}
	}
	return n, nil
}

func (f *failing) Sync() error {
	f.syncs++
	if f.syncFails > 0 && f.syncs >= f.syncFails {
		return errSync
	}
	return f.File.Sync()
}

func (f *failing) Truncate(size int64) error {
	if f.noTruncate {
		return syscall.EIO
	}
	return f.File.Truncate(size)
}

// failOn creates a journal whose file is replaced by f, which works on the real one.
func failOn(t *testing.T, path string, f *failing) *Journal {
	t.Helper()
	j := mustCreate(t, path)
	real, ok := j.f.(*os.File)
	if !ok {
		t.Fatalf("journal writes to %T, want *os.File", j.f)
	}
	f.File = real
	j.f = f
	return j
}

// TestDiskFullAtEveryByte fills the disk at each byte of three lines. The line that did not fit
// is not acknowledged, nothing is written after it, and the file opened anew holds exactly the
// acknowledged lines (with at most a tear when even the cutting back failed).
func TestDiskFullAtEveryByte(t *testing.T) {
	payloads := [][]byte{[]byte(`{"n":1,"value":-0.326}`), []byte(`{"n":2}`), []byte(`{"n":3,"k":"accepted"}`)}
	total := 0
	for _, p := range payloads {
		total += len(encode(p))
	}
	for room := range total {
		for _, f := range []*failing{{room: room}, {room: room, noTruncate: true}, {room: room, short: true}} {
			path := tempPath(t)
			j := failOn(t, path, f)
			good := 0
			for j.Append(payloads[good]) == nil {
				good++
			}
			err := j.Append(payloads[good])
			calls := f.calls
			again := j.Append(payloads[0])
			if !f.short && (!errors.Is(err, syscall.ENOSPC) || !errors.Is(again, syscall.ENOSPC)) {
				t.Fatalf("room %d: errors %v and %v, want the first cause in both", room, err, again)
			}
			if err == nil || again == nil || f.calls != calls {
				t.Fatalf("room %d: failed journal took another line", room)
			}
			if got := j.Len(); got != good {
				t.Errorf("room %d: %d lines counted, want %d", room, got, good)
			}
			mustClose(t, j)
			reopened, rec := mustOpen(t, path)
			wantLines(t, "reopened", reopened.Lines(), payloads[:good])
			if !f.noTruncate && rec.Torn != 0 {
				t.Errorf("room %d: %d torn bytes left, want the line cut back", room, rec.Torn)
			}
			mustAppend(t, reopened, payloads[good:]...)
			mustClose(t, reopened)
			got, err := Read(path)
			if err != nil || got.Err() != nil {
				t.Fatal(err, got.Err())
			}
			wantLines(t, "after recovery", got.Lines, payloads)
		}
	}
}

// TestSyncFailure: bytes that the disk did not confirm do not count, even if they are all there.
func TestSyncFailure(t *testing.T) {
	payloads := sixPayloads()
	for at := 1; at <= 3; at++ {
		path := tempPath(t)
		f := &failing{room: 1 << 20, syncFails: at}
		j := failOn(t, path, f)
		mustAppend(t, j, payloads[:at-1]...)
		err := j.Append(payloads[at-1])
		if !errors.Is(err, errSync) || !strings.Contains(err.Error(), "not recorded: line "+strconv.Itoa(at)+" failed") {
			t.Fatalf("append with failing sync: %v, want line %d refused with the cause", err, at)
		}
		if strings.Contains(err.Error(), "\n") {
			t.Errorf("error %q takes several lines, a status line has one", err)
		}
		f.syncFails = 0 // the card is back: still nothing is taken
		calls := f.calls
		if err := j.Append(payloads[at]); !errors.Is(err, errSync) || f.calls != calls {
			t.Fatalf("append after a failure: %v, %d writes, want refused without a write", err, f.calls-calls)
		}
		mustClose(t, j)
		got, err := Read(path)
		if err != nil || got.Err() != nil || len(got.Torn) != 0 {
			t.Fatal(err, got.Err(), got.Torn)
		}
		wantLines(t, "after the failure", got.Lines, payloads[:at-1])
	}
}

// TestSyncsEveryLine: one sync a line, after its bytes.
func TestSyncsEveryLine(t *testing.T) {
	f := &failing{room: 1 << 20}
	j := failOn(t, tempPath(t), f)
	for i, p := range sixPayloads() {
		mustAppend(t, j, p)
		if f.syncs != i+1 || f.calls != i+1 {
			t.Fatalf("%d writes and %d syncs after %d lines, want as many", f.calls, f.syncs, i+1)
		}
	}
	mustClose(t, j)
}

// TestFileChangedUnderneath: the lock binds only those who ask for it. What others did to the
// file is found before a line is acknowledged, and is not written over.
func TestFileChangedUnderneath(t *testing.T) {
	first, second := sixPayloads()[0], sixPayloads()[1]
	for _, c := range []struct {
		name string
		do   func(path string) error
	}{
		{"a byte was added", func(path string) error { return os.WriteFile(path, append(encode(first), '#'), 0o600) }},
		{"emptied", func(path string) error { return os.WriteFile(path, nil, 0o600) }},
		{"removed", os.Remove},
		{"replaced by a copy", func(path string) error {
			return errors.Join(os.WriteFile(path+".new", encode(first), 0o600), os.Rename(path+".new", path))
		}},
	} {
		path := tempPath(t)
		j := mustCreate(t, path)
		mustAppend(t, j, first)
		if err := c.do(path); err != nil {
			if runtime.GOOS != "windows" {
				t.Fatal(err)
			}
			mustAppend(t, j, second) // the system keeps others from a name that is in use
			mustClose(t, j)
			continue
		}
		before, errBefore := os.ReadFile(path)
		for range 2 {
			if err := j.Append(second); err == nil {
				t.Fatalf("%s: line acknowledged, want it refused", c.name)
			}
		}
		after, errAfter := os.ReadFile(path)
		if !bytes.Equal(before, after) || (errBefore == nil) != (errAfter == nil) {
			t.Errorf("%s: file was %q, is %q, want it left alone", c.name, before, after)
		}
		mustClose(t, j)
	}
}

// TestOpenOnFailingDisk: what Open shows must be on disk, so its sync counts, with a torn tail
// or without; and a tail that cannot be cut off leaves no journal to write to.
func TestOpenOnFailingDisk(t *testing.T) {
	lines, whole := sixLines()
	for _, c := range []struct {
		name string
		data []byte
		disk failing
		want error
	}{
		{"whole, no sync", whole, failing{syncFails: 1}, errSync},
		{"torn, no sync", whole[:len(lines[0])+9], failing{syncFails: 1}, errSync},
		{"torn, no truncate", whole[:len(lines[0])+9], failing{noTruncate: true}, syscall.EIO},
	} {
		path := tempPath(t)
		put(t, path, c.data)
		f, err := os.OpenFile(path, os.O_RDWR, 0)
		if err != nil {
			t.Fatal(err)
		}
		c.disk.File = f
		j := &Journal{path: path, abs: path, f: &c.disk}
		if rec, err := j.load(f); !errors.Is(err, c.want) || rec != (Recovery{}) {
			t.Errorf("%s: %+v, %v, want the disk's error alone", c.name, rec, err)
		}
		if err := f.Close(); err != nil {
			t.Fatal(err)
		}
	}
}
