//go:build unix

package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// A file that a person names is replaced whole, with its rights, where its links lead; one that cannot be written keeps what it holds,
// and is named; into a pipe it is written as it is.
func TestPutOut(t *testing.T) {
	home := t.TempDir()
	name, link := filepath.Join(home, "sheet.html"), filepath.Join(home, "link.html")
	if err := errors.Join(os.WriteFile(name, []byte("old"), 0o600), os.Symlink("sheet.html", link)); err != nil {
		t.Fatal(err)
	}
	old, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer old.Close()
	if err := putOut(link, []byte("new")); err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(name)
	info, same := stat(t, name), stat(t, link)
	if err != nil || string(text) != "new" || info.Mode() != 0o600 || same.Mode()&fs.ModeSymlink == 0 {
		t.Errorf("%v: it holds %q with the rights %v, the link is %v", err, text, info.Mode(), same.Mode())
	}
	was := make([]byte, 3)
	if _, err := old.ReadAt(was, 0); err != nil || string(was) != "old" {
		t.Errorf("whoever reads the old one reads %q, %v: it was written over", was, err)
	}
	var place *fs.PathError
	if err := putOut(filepath.Join(home, "no", "sheet.html"), nil); !errors.As(err, &place) || !errors.Is(err, fs.ErrNotExist) ||
		place.Path != filepath.Join(home, "no", "sheet.html") {
		t.Errorf("in a folder that is not there: %v", err)
	}
	long := filepath.Join(home, strings.Repeat("a", 252)+".html")
	if err := putOut(long, nil); !errors.As(err, &place) || place.Path != long || !errors.Is(err, syscall.ENAMETOOLONG) {
		t.Errorf("a long name: %v", err)
	}
	left, err := os.ReadDir(home)
	if err != nil || len(left) != 2 {
		t.Errorf("%v: it leaves %v", err, left)
	}
	pipe := filepath.Join(home, "pipe")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Fatal(err)
	}
	reader, err := os.OpenFile(pipe, os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer reader.Close()
	if err := putOut(pipe, []byte("rows")); err != nil {
		t.Fatal(err)
	}
	if n, err := reader.Read(was[:3]); err != nil || string(was[:n]) != "row" {
		t.Errorf("through a pipe comes %q, %v", was[:n], err)
	}
}

func stat(t *testing.T, name string) fs.FileInfo {
	t.Helper()
	info, err := os.Lstat(name)
	if err != nil {
		t.Fatal(err)
	}
	return info
}

// What to do about a file depends on what is wrong with it.
func TestPlaceHints(t *testing.T) {
	for kind, want := range map[error]string{
		syscall.ENOENT: "see whether the name is right: ", syscall.EACCES: "see to its rights", syscall.EPERM: "see to its rights",
		syscall.ENOSPC: "the disk is full", syscall.ENAMETOOLONG: "the name is too long", syscall.EISDIR: "it is a folder",
		syscall.EROFS: "nothing can be written there",
		syscall.EIO:   "the disk or the device fails", syscall.EDQUOT: "your share of the disk",
		syscall.EFBIG: "no file may be that large", syscall.EXDEV: "see whether the name is right, and whether it may be used",
	} {
		err := withWhy(&fs.PathError{Op: "open", Path: "sheet.html", Err: kind})
		if got := hint(err); !strings.HasPrefix(got, want) || !strings.HasSuffix(got, "sheet.html") {
			t.Errorf("%v: to do is %q, want %q", kind, got, want)
		}
	}
}

// withWhy is an error in another.
func withWhy(err error) error { return errors.Join(err) }

// Among the journals of the data folder a pipe is left out, said, and not waited for.
func TestReportPassesOverAPipe(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	if err := copyBench(home); err != nil {
		t.Fatal(err)
	}
	folder := filepath.Join(home, "data", "trammel")
	if err := os.MkdirAll(folder, 0o700); err != nil {
		t.Fatal(err)
	}
	if err := syscall.Mkfifo(filepath.Join(folder, "pipe.jsonl"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{{"report", "--machine", benchFiles[1]}, {"sessions"}} {
		cmd := program(t, home, args...)
		out, err := cmd.CombinedOutput()
		if err != nil || !strings.Contains(string(out), "pipe") {
			t.Errorf("%q: %v\n%s", args, err, out)
		}
	}
}
