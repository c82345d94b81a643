package journal

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"sync"
	"testing"
)

// Len returns how many lines the file holds, those appended since it was opened included.
func (j *Journal) Len() int {
	j.mu.Lock()
	defer j.mu.Unlock()
	return j.count
}

func TestCreateAppendOpen(t *testing.T) {
	path := tempPath(t)
	payloads := sixPayloads()
	j := mustCreate(t, path)
	if len(j.Lines()) != 0 || j.Len() != 0 {
		t.Fatalf("new journal has %d lines, want none", j.Len())
	}
	mustAppend(t, j, payloads[:4]...)
	mustClose(t, j)

	j, rec := mustOpen(t, path)
	if rec != (Recovery{}) {
		t.Errorf("recovery %+v, want none", rec)
	}
	wantLines(t, "opened", j.Lines(), payloads[:4])
	mustAppend(t, j, payloads[4:]...)
	if j.Len() != 6 || len(j.Lines()) != 4 {
		t.Errorf("%d lines, %d of them read, want 6 and 4", j.Len(), len(j.Lines()))
	}
	mustClose(t, j)

	got, err := Read(path)
	if err != nil || got.Err() != nil || len(got.Torn) != 0 {
		t.Fatal(err, got.Err(), got.Torn)
	}
	wantLines(t, "read", got.Lines, payloads)
	if _, whole := sixLines(); !bytes.Equal(content(t, path), whole) {
		t.Error("file is not the six lines one after another")
	}
	wantOnly(t, path, "plate.journal")
}

func TestCreateLeavesExistingFileAlone(t *testing.T) {
	path := tempPath(t)
	put(t, path, []byte("setting sheet"))
	if _, err := Create(path); !errors.Is(err, fs.ErrExist) {
		t.Errorf("create over a file: %v, want exist", err)
	}
	if got := content(t, path); string(got) != "setting sheet" {
		t.Errorf("file is %q, want it unchanged", got)
	}
}

func TestCreatedFileIsPrivate(t *testing.T) {
	path := tempPath(t)
	mustClose(t, mustCreate(t, path))
	info, err := os.Stat(path)
	if err != nil {
		t.Fatal(err)
	}
	want := fs.FileMode(0o600)
	if runtime.GOOS == "windows" {
		want = 0o666 // the mode there tells only whether a file may be written
	}
	if got := info.Mode().Perm(); got != want {
		t.Errorf("mode %v, want %v", got, want)
	}
}

func TestRelativePathOutlivesTheFolder(t *testing.T) {
	t.Chdir(t.TempDir())
	j := mustCreate(t, "plate.journal")
	abs, err := filepath.Abs("plate.journal")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	mustAppend(t, j, []byte(`{"a":1}`))
	mustClose(t, j)
	if got := string(content(t, abs)); got != `{"a":1,"c":"149cdbb2"}`+"\n" {
		t.Errorf("file %q, want the line", got)
	}
}

func TestClosedJournal(t *testing.T) {
	path := tempPath(t)
	j := mustCreate(t, path)
	mustClose(t, j)
	mustClose(t, j)
	if err := j.Append([]byte(`{"a":1}`)); !errors.Is(err, fs.ErrClosed) {
		t.Errorf("append to a closed journal: %v, want closed", err)
	}
	if got := content(t, path); len(got) != 0 {
		t.Errorf("%q was written, want nothing", got)
	}
}

// TestGivenLinesAreTheReadersOwn: two readers that append to what they were given do not meet,
// and the payload handed to Append may be used again.
func TestGivenLinesAreTheReadersOwn(t *testing.T) {
	path := tempPath(t)
	j := mustCreate(t, path)
	room := []byte(`{"n":1}`)
	for _, digit := range []byte("123") {
		room[5] = digit
		mustAppend(t, j, room)
	}
	mustClose(t, j)
	j, _ = mustOpen(t, path)
	one := append(j.Lines(), []byte("one"))
	two := append(j.Lines(), []byte("two"))
	if string(one[3]) != "one" || string(two[3]) != "two" {
		t.Errorf("appended %q and %q, want one and two", one[3], two[3])
	}
	_ = append(j.Lines()[0], "########"...)
	wantLines(t, "lines", j.Lines(), [][]byte{[]byte(`{"n":1}`), []byte(`{"n":2}`), []byte(`{"n":3}`)})
	mustClose(t, j)
}

// TestManyWriters: lines of several goroutines do not mix.
func TestManyWriters(t *testing.T) {
	path := tempPath(t)
	j := mustCreate(t, path)
	const writers, each = 4, 10
	var wg sync.WaitGroup
	for w := range writers {
		wg.Go(func() {
			for i := range each {
				if err := j.Append(fmt.Appendf(nil, `{"writer":%d,"line":%d}`, w, i)); err != nil {
					t.Error(err)
				}
				j.Len()
			}
		})
	}
	wg.Wait()
	mustClose(t, j)
	got, err := Read(path)
	if err != nil || got.Err() != nil || len(got.Lines) != writers*each {
		t.Fatalf("%d lines, %v, %v, want %d", len(got.Lines), err, got.Err(), writers*each)
	}
	next := [writers]int{}
	for _, line := range got.Lines {
		var w, i int
		if _, err := fmt.Sscanf(string(line), `{"writer":%d,"line":%d}`, &w, &i); err != nil || next[w] != i {
			t.Fatalf("line %s, want line %d of its writer (%v)", line, next[w], err)
		}
		next[w]++
	}
}
