package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/journal"
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

// writeOut writes to the file that is named, else, and for "-", to standard output. The file is written whole or not
// at all: it is made in memory first.
func writeOut(w world, path string, what func(io.Writer) error) error {
	if path == "" || path == "-" {
		return what(w.out)
	}
	if err := spares(w, path); err != nil {
		return err
	}
	var b bytes.Buffer
	out := printing{to: &b}
	if err := errors.Join(what(&out), out.end()); err != nil {
		return err
	}
	return putOut(path, b.Bytes())
}

// writeText is writeOut of a text.
func writeText(w world, path, text string) error {
	return writeOut(w, path, func(out io.Writer) error {
		_, err := io.WriteString(out, text)
		return err
	})
}

// ours are the endings of files that a page or a table is never written over: journals, machines, jobs and drawings.
var ours = []string{".jsonl", ".toml", ".dxf"}

// journalBegins is how every journal begins.
const journalBegins = `{"v":`

// spares refuses to write over what a session, a person or a drawing program has written: a journal under any name, what was just read,
// and what its name says is no page.
func spares(w world, path string) error {
	info, err := os.Stat(path)
	if err != nil || !info.Mode().IsRegular() {
		return nil // what is wrong with it is said where it is written
	}
	what := ""
	switch {
	case beginsWith(path, journalBegins):
		what = "a journal is there"
	case w.inputs.have(info):
		what = "it is read for this"
	case slices.Contains(ours, strings.ToLower(filepath.Ext(path))):
		what = "a file of that kind is there"
	default:
		return nil
	}
	return withHint(fmt.Errorf("%s: %s, need another name to write to", path, what), "name a file that ends in .html, .txt or .csv")
}

// beginsWith reports whether a file does.
func beginsWith(path, text string) bool {
	file, err := journal.OpenRegular(path)
	if err != nil {
		return false
	}
	defer file.Close()
	begins := make([]byte, len(text))
	_, err = io.ReadFull(file, begins)
	return err == nil && string(begins) == text
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
	return replaceWith(path, text, 0o755, rights)
}

// replaceFile writes a file of the data folder.
func replaceFile(path string, text []byte) error { return replaceWith(path, text, 0o700, 0o600) }

// replaceWith puts a file in the place of another: a new one beside the old one, synced, then renamed, so that a full disk, a kill or a
// power cut leaves one of the two whole. The folder is made where it is not there; of one that cannot be nothing is left.
func replaceWith(path string, text []byte, folder, file fs.FileMode) error {
	temp, err := besideFile(path, text, folder, file)
	if err == nil {
		defer os.Remove(temp) // nothing is left of it once it has been renamed
		err = os.Rename(temp, path)
	}
	var place *fs.PathError
	var link *os.LinkError
	switch { // they name a file that nobody knows
	case errors.As(err, &place):
		return &fs.PathError{Op: "write", Path: path, Err: place.Err}
	case errors.As(err, &link):
		return &fs.PathError{Op: "write", Path: path, Err: link.Err}
	}
	return err
}

// replaceSame is replaceWith with the rights of the file that is there.
func replaceSame(path string, text []byte) error {
	rights := fs.FileMode(0o644)
	if info, err := os.Stat(path); err == nil {
		rights = info.Mode().Perm()
	}
	return replaceWith(path, text, 0o755, rights)
}

// halfWritten is what a file is called that is not whole yet.
const halfWritten = ".new-*"

// toDisk brings a file's bytes to the disk; tests put their own in its place.
var toDisk = (*os.File).Sync

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
	if err = errors.Join(err, f.Chmod(file), toDisk(f), f.Close()); err != nil {
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
