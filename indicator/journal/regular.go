package journal

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
)

// NotRegularError is of a name that something other than a regular file has: it would be waited for without an end, or has none.
type NotRegularError struct {
	Path string
	Mode fs.FileMode // what is there
}

// kinds are what a name can stand for that is no regular file, the first that fits.
var kinds = []struct {
	mode  fs.FileMode
	words string
}{
	{fs.ModeSymlink, "a link"},
	{fs.ModeDir, "a folder"},
	{fs.ModeNamedPipe, "a named pipe"},
	{fs.ModeSocket, "a socket"},
	{fs.ModeDevice, "a device"},
}

func (e *NotRegularError) Error() string { return e.Path + ": " + e.Why() }

// Why is what is wrong, for those who name the file themselves.
func (e *NotRegularError) Why() string {
	for _, k := range kinds {
		if e.Mode&k.mode != 0 {
			return k.words + ", need a regular file"
		}
	}
	return "need a regular file"
}

// Hint says what to do.
func (e *NotRegularError) Hint() string {
	if e.Mode.IsDir() {
		return "name a file in it: " + e.Path
	}
	return "see whether the name is right: " + e.Path
}

// OpenRegular opens a regular file for reading, where its links lead. Anything else is refused before it is opened, with a
// *[NotRegularError]; what comes in the file's place in between is not waited for, and refused too.
func OpenRegular(path string) (*os.File, error) { return openRegular(path, os.O_RDONLY, os.Stat) }

// OpenOwn is [OpenRegular] of a file that the program made: a link is no such file.
func OpenOwn(path string) (*os.File, error) {
	return openRegular(path, os.O_RDONLY|notFollowed, os.Lstat)
}

func openRegular(path string, how int, look func(string) (fs.FileInfo, error)) (*os.File, error) {
	info, err := look(path)
	if place := (*fs.PathError)(nil); errors.As(err, &place) {
		return nil, &fs.PathError{Op: "open", Path: path, Err: place.Err} // who reads wants it opened, not looked at
	}
	if err == nil && !info.Mode().IsRegular() {
		err = &NotRegularError{path, info.Mode()}
	}
	if err != nil {
		return nil, err
	}
	f, err := os.OpenFile(path, how|notWaited, 0)
	if err != nil {
		return nil, err
	}
	if info, err = f.Stat(); err == nil && !info.Mode().IsRegular() {
		err = &NotRegularError{path, info.Mode()}
	}
	if err != nil {
		return nil, both(err, f.Close())
	}
	return f, nil
}

// openPlain opens a journal for reading.
func openPlain(path string) (*os.File, error) {
	f, err := OpenRegular(path)
	if err != nil {
		return nil, fmt.Errorf("cannot read the journal: %w", err)
	}
	return f, nil
}
