package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/setup"
)

// readJob reads a job file, whose target may still be chosen, and returns its text too, for the digest.
func readJob(path string) (*job.Draft, []byte, error) {
	text, err := readPlain(path, mostKept)
	if err != nil {
		return nil, nil, err
	}
	draft, err := job.ReadJob(path, text)
	return draft, text, err
}

// readMachine reads a machine file, and returns its text too.
func readMachine(path string) (m setup.Machine, text []byte, err error) {
	if text, err = readPlain(path, mostKept); err != nil {
		return m, nil, err
	}
	m, err = job.ParseMachine(path, text)
	return m, text, err
}

// writeOut writes to the file that is named, else to standard output. The file is written whole or not
// at all: it is made in memory first.
func writeOut(w world, path string, what func(io.Writer) error) error {
	if path == "" {
		return what(w.out)
	}
	var b bytes.Buffer
	if err := what(&b); err != nil {
		return err
	}
	return putOut(path, b.Bytes())
}

// putOut writes a file that a person has named: one that is there is replaced whole, with its rights, where its links lead; into what is
// no file, a pipe or a device, it is written.
func putOut(path string, text []byte) error {
	info, err := os.Stat(path)
	rights := fs.FileMode(0o644)
	switch {
	case err == nil && !info.Mode().IsRegular():
		return os.WriteFile(path, text, 0)
	case err == nil:
		rights = info.Mode().Perm()
		if path, err = filepath.EvalSymlinks(path); err != nil {
			return err
		}
		// A file that may not be written is not replaced either, though its folder would let it.
		f, err := os.OpenFile(path, os.O_WRONLY, 0)
		if err != nil {
			return err
		}
		if err := f.Close(); err != nil {
			return err
		}
	case !errors.Is(err, fs.ErrNotExist):
		return err
	default:
		if _, err := os.Stat(filepath.Dir(path)); err != nil { // no folder is made for it: its name may be wrong
			return &fs.PathError{Op: "open", Path: path, Err: errors.Unwrap(err)}
		}
	}
	temp, err := besideFile(path, text, 0o755, rights)
	if err == nil {
		err = renameOver(temp, path)
	}
	if place := (*fs.PathError)(nil); errors.As(err, &place) { // which names a file that nobody knows
		return &fs.PathError{Op: "write", Path: path, Err: place.Err}
	}
	return err
}

// mostKept bounds a small file, bytes.
const mostKept = 1 << 20

// readKept reads a small file of the data folder: nothing but a regular one, and of a sane size. What is wrong does not name it.
func readKept(path string) ([]byte, error) {
	text, err := readPlain(path, mostKept)
	if no := (*noFileError)(nil); errors.As(err, &no) {
		err = errors.New(no.why)
	}
	return text, err
}

// noFileError is of a name that no file to be read has.
type noFileError struct{ path, why string }

func (e *noFileError) Error() string { return e.path + ": " + e.why }

func (e *noFileError) Hint() string { return "see whether the name is right: " + e.path }

// isPlain refuses what is no regular file of at most so many bytes: a pipe can be waited for without end, and a device has none.
func isPlain(path string, most int64) error {
	info, err := os.Stat(path)
	switch place := (*fs.PathError)(nil); {
	case errors.As(err, &place):
		return &fs.PathError{Op: "open", Path: path, Err: place.Err}
	case err != nil:
		return err
	case !info.Mode().IsRegular():
		return &noFileError{path, "no regular file, need one"}
	case info.Size() > most:
		return &noFileError{path, fmt.Sprintf("%d bytes, need at most %d", info.Size(), most)}
	}
	return nil
}

// readPlain reads a file that is plain.
func readPlain(path string, most int64) ([]byte, error) {
	if err := isPlain(path, most); err != nil {
		return nil, err
	}
	return os.ReadFile(path)
}

// replaceFile writes a file of the data folder: a new one beside the old one, synced, then put in its place, so that
// a power cut leaves one of the two.
func replaceFile(path string, text []byte) error {
	temp, err := besideFile(path, text, 0o700, 0o600)
	if err != nil {
		return err
	}
	return renameOver(temp, path)
}

// renameOver puts a file in the place of another; of one that cannot be nothing is left.
func renameOver(temp, path string) error {
	defer os.Remove(temp) // nothing is left of it once it has been renamed
	return os.Rename(temp, path)
}

// halfWritten is what a file is called that is not whole yet.
const halfWritten = ".new-*"

// besideFile writes a file beside the place that it is meant for, synced, in a folder that is made where it is not there. Of one
// that could not be written whole nothing is left.
func besideFile(path string, text []byte, folder, file fs.FileMode) (temp string, err error) {
	if err := os.MkdirAll(filepath.Dir(path), folder); err != nil {
		return "", err
	}
	f, err := os.CreateTemp(filepath.Dir(path), halfWritten)
	if err != nil {
		return "", err
	}
	_, err = f.Write(text)
	if err = errors.Join(err, f.Chmod(file), f.Sync(), f.Close()); err != nil {
		return "", errors.Join(err, os.Remove(f.Name()))
	}
	return f.Name(), nil
}

// errThere is that a file of the name has come meanwhile.
var errThere = errors.New("is there already, need a name of its own")

// writeNew writes a file that is not there yet, whole or not at all: beside its place, synced, then put into it. One that has
// come there meanwhile stays, and the error is errThere.
func writeNew(path string, text []byte) error {
	temp, err := besideFile(path, text, 0o755, 0o644)
	if err != nil {
		return err
	}
	defer os.Remove(temp) // it has the other name too, or nothing is left of it
	err = os.Link(temp, path)
	if err == nil {
		return nil
	}
	if !errors.Is(err, fs.ErrExist) { // a file system without links: the name is taken first, then the whole file put there
		err = takeName(temp, path)
	}
	if errors.Is(err, fs.ErrExist) {
		return withHint(fmt.Errorf("%s: %w", path, errThere), "choose another name")
	}
	return err
}

// takeName puts a file under a name that nobody has.
func takeName(temp, path string) error {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o644)
	if err != nil {
		return err
	}
	err = f.Close()
	if err == nil {
		err = os.Rename(temp, path)
	}
	if err != nil {
		os.Remove(path) // it is empty, and ours
	}
	return err
}

// canHold reports whether a folder can be written to, or made where it is not there: nobody answers twenty questions for a file that
// cannot be. It leaves nothing behind.
func canHold(folder string) error {
	for {
		info, err := os.Stat(folder)
		if errors.Is(err, fs.ErrNotExist) && filepath.Dir(folder) != folder {
			folder = filepath.Dir(folder)
			continue
		}
		if err != nil {
			return err
		}
		if !info.IsDir() {
			return withHint(fmt.Errorf("%s: a file, need a folder", folder), "move it away, or name another place by XDG_CONFIG_HOME")
		}
		f, err := os.CreateTemp(folder, halfWritten)
		if err != nil {
			return withHint(fmt.Errorf("%s: nothing can be written there: %w", folder, err), "see to its rights, or name another place by "+
				"XDG_CONFIG_HOME")
		}
		return errors.Join(f.Close(), os.Remove(f.Name()))
	}
}

// inText writes a text of several lines, nothing in it that could drive a terminal.
func inText(text string) func(io.Writer) error {
	return func(out io.Writer) error {
		_, err := io.WriteString(out, printableLines(text))
		return err
	}
}
