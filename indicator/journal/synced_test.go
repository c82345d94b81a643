package journal

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"testing"
)

// watched runs something and returns what it has brought to the disk: names of files, and of folders with a slash.
func watched(t *testing.T, do func()) (names []string) {
	t.Helper()
	was := toDisk
	defer func() { toDisk = was }()
	toDisk.file = func(f *os.File) error {
		names = append(names, filepath.Base(f.Name()))
		return was.file(f)
	}
	toDisk.dir = func(dir string) error {
		names = append(names, filepath.Base(dir)+"/")
		return was.dir(dir)
	}
	do()
	return names
}

// A new name outlives a power cut only if its folder is brought to the disk, behind the file itself: of a new journal, and of a
// torn line that is set aside.
func TestNewNamesAreBroughtToTheDisk(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "shop")
	if err := os.Mkdir(dir, 0o700); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, "a.jsonl")
	var j *Journal
	if got := watched(t, func() { j = mustCreate(t, path) }); !slices.Equal(got, []string{"a.jsonl", "shop/"}) {
		t.Errorf("a new journal brings %q to the disk, need the file, then its folder", got)
	}
	if err := j.Close(); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(`{"v":1,"n":1,"t":`), 0o600); err != nil {
		t.Fatal(err)
	}
	got := watched(t, func() {
		j, _, err := Open(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := j.Close(); err != nil {
			t.Fatal(err)
		}
	})
	if !slices.Equal(got, []string{"a.jsonl.torn", "shop/"}) {
		t.Errorf("a torn line that is set aside brings %q to the disk, need its file, then its folder", got)
	}
}

// A journal whose name cannot be brought to the disk is not begun, and nothing is left of it.
func TestFolderThatDoesNotSync(t *testing.T) {
	was := toDisk
	defer func() { toDisk = was }()
	toDisk.dir = func(string) error { return errSync }
	path := filepath.Join(t.TempDir(), "a.jsonl")
	if j, err := Create(path); !errors.Is(err, errSync) {
		t.Errorf("%v, %v: need the error of the disk", j, err)
	}
	if _, err := os.Lstat(path); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("the file is left: %v", err)
	}
}
