package journal

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/iotest"
)

// TestDamageIsRefused spoils each line of six in turn: the number is told, the file is left
// alone, and what stands before can be read.
func TestDamageIsRefused(t *testing.T) {
	lines, whole := sixLines()
	start := 0
	for i, line := range lines {
		spoilt := bytes.Clone(whole)
		spoilt[start+len(line)/3] ^= 0x04
		start += len(line)
		for _, tail := range []string{"", `{"n":7`} { // damage comes before a tear
			path := tempPath(t)
			put(t, path, append(bytes.Clone(spoilt), tail...))
			j, rec, err := Open(path)
			var damage *DamageError
			if !errors.As(err, &damage) || j != nil || rec != (Recovery{}) {
				t.Fatalf("line %d spoilt: %v, %+v, %v, want a *DamageError alone", i+1, j, rec, err)
			}
			if damage.Line != i+1 || damage.Path != path {
				t.Errorf("damage at %s:%d, want %s:%d", damage.Path, damage.Line, path, i+1)
			}
			if want := fmt.Sprintf("plate.journal:%d: damaged: ", i+1); !strings.Contains(err.Error(), want) {
				t.Errorf("error %q, want %q in it", err, want)
			}
			if got := content(t, path); !bytes.Equal(got, append(bytes.Clone(spoilt), tail...)) {
				t.Errorf("line %d spoilt: the file was changed", i+1)
			}
			wantOnly(t, path, "plate.journal")
			got, err := Read(path)
			if err != nil || got.Damage == nil || got.Damage.Line != i+1 || !errors.As(got.Err(), &damage) {
				t.Fatalf("line %d spoilt: read %v, %v, want damage", i+1, got.Damage, err)
			}
			wantLines(t, "before the damage", got.Lines, sixPayloads()[:i])
		}
	}
}

func TestDamageFreesTheLock(t *testing.T) {
	path := tempPath(t)
	put(t, path, []byte("{\"a\":1}\n"))
	if _, _, err := Open(path); err == nil {
		t.Fatal("opened a line without a check, want an error")
	}
	put(t, path, encode([]byte(`{"a":1}`))) // as from a backup
	j, _ := mustOpen(t, path)
	mustClose(t, j)
}

func TestHints(t *testing.T) {
	if got := (&DamageError{Line: 1}).Hint(); !strings.Contains(got, "not a journal") {
		t.Errorf("hint at line 1 = %q, want a word about the wrong file", got)
	}
	if got := (&DamageError{Line: 4}).Hint(); !strings.Contains(got, "lines 1 to 3 are good") {
		t.Errorf("hint at line 4 = %q, want the good lines told", got)
	}
	if got := (&LockedError{}).Hint(); !strings.Contains(got, "journal of its own") {
		t.Errorf("hint of a lock = %q, want the way out told", got)
	}
}

func TestLineTooLong(t *testing.T) {
	good := encode([]byte(`{"a":1}`))
	long := bytes.Repeat([]byte("x"), maxLine+1)
	for _, c := range []struct {
		name string
		tail []byte
	}{{"with line feed", []byte("\n")}, {"without", nil}} {
		path := tempPath(t)
		put(t, path, bytes.Join([][]byte{good, long, c.tail}, nil))
		_, _, err := Open(path)
		var damage *DamageError
		if !errors.As(err, &damage) || damage.Line != 2 || !strings.Contains(damage.Why, "at most 16777216") {
			t.Errorf("%s: %v, want damage in line 2 with the limit told", c.name, err)
		}
		wantOnly(t, path, "plate.journal")
	}
}

// zeroes never ends, as a device does.
type zeroes struct{ given int }

func (z *zeroes) Read(p []byte) (int, error) {
	clear(p)
	z.given += len(p)
	return len(p), nil
}

func TestEndlessInputEnds(t *testing.T) {
	z := &zeroes{}
	got, err := ReadFrom(z, "endless")
	if err != nil || got.Damage == nil || got.Damage.Line != 1 {
		t.Fatalf("endless input: %v, %v, want damage in line 1", got.Damage, err)
	}
	if limit := maxLine + 128<<10; z.given > limit {
		t.Errorf("%d bytes read, want at most %d", z.given, limit)
	}
}

// TestReadsInPieces: the answer does not depend on how the bytes arrive.
func TestReadsInPieces(t *testing.T) {
	_, whole := sixLines()
	whole = append(whole, `{"n":7`...)
	for name, r := range map[string]io.Reader{
		"byte by byte":   iotest.OneByteReader(bytes.NewReader(whole)),
		"half":           iotest.HalfReader(bytes.NewReader(whole)),
		"data with EOF":  iotest.DataErrReader(bytes.NewReader(whole)),
		"all that comes": bytes.NewReader(whole),
	} {
		got, err := ReadFrom(r, name)
		if err != nil || got.Err() != nil || string(got.Torn) != `{"n":7` {
			t.Errorf("%s: %v, %v, torn %q", name, err, got.Err(), got.Torn)
		}
		wantLines(t, name, got.Lines, sixPayloads())
	}
}

// TestReadFailure: a disk that cannot be read is no damage, and nothing may be cut for it.
func TestReadFailure(t *testing.T) {
	lines, whole := sixLines()
	gone := errors.New("input/output error")
	upTo := len(lines[0]) + 10
	got, err := ReadFrom(io.MultiReader(bytes.NewReader(whole[:upTo]), iotest.ErrReader(gone)), "plate.journal")
	if !errors.Is(err, gone) || !strings.Contains(err.Error(), "plate.journal: cannot read line 2") {
		t.Errorf("error %v, want the disk's own with the line", err)
	}
	if got.Damage != nil || got.Torn != nil {
		t.Errorf("damage %v, torn %q, want neither", got.Damage, got.Torn)
	}
	wantLines(t, "before the failure", got.Lines, sixPayloads()[:1])
}

func TestReadChangesNothing(t *testing.T) {
	path := tempPath(t)
	_, whole := sixLines()
	data := append(whole, `{"n":7`...)
	put(t, path, data)
	if _, err := Read(path); err != nil {
		t.Fatal(err)
	}
	if got := content(t, path); !bytes.Equal(got, data) {
		t.Error("reading changed the file")
	}
	wantOnly(t, path, "plate.journal")
}

func TestMissingAndWrongFiles(t *testing.T) {
	path := tempPath(t)
	if _, _, err := Open(path); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("open of no file: %v, want not-exist", err)
	}
	if _, err := Read(path); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("read of no file: %v, want not-exist", err)
	}
	if _, err := Create(filepath.Join(path, "deeper")); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("create in no folder: %v, want not-exist", err)
	}
	if _, _, err := Open(filepath.Dir(path)); err == nil {
		t.Error("opened a folder, want an error")
	}
	wantOnly(t, path)
}
