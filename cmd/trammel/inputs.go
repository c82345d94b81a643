package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"example.org/trammel/indicator/journal"
)

// mostKept bounds a small file, bytes.
const mostKept = 1 << 20

// openInput opens what a person names to be read once, from its beginning to its end, or standard input for "-". A pipe may be meant,
// and a device: who reads bounds what comes. What is opened is remembered, so that nothing is written over it.
func openInput(w world, name string) (io.ReadCloser, string, error) {
	if name == "-" {
		return io.NopCloser(w.in), "standard input", nil
	}
	if info, err := os.Stat(name); err == nil && info.Mode()&(fs.ModeDir|fs.ModeSocket) != 0 {
		return nil, name, &journal.NotRegularError{Path: name, Mode: info.Mode()}
	}
	file, err := os.Open(name)
	if err != nil {
		return nil, name, err
	}
	w.inputs.add(file)
	return file, name, nil
}

// inputs are the files that were opened to be read.
type inputs struct{ all []fs.FileInfo }

// add remembers a file.
func (in *inputs) add(file *os.File) {
	if info, err := file.Stat(); err == nil && in != nil {
		in.all = append(in.all, info)
	}
}

// have reports whether it is one of them.
func (in *inputs) have(file fs.FileInfo) bool {
	if in == nil {
		return false
	}
	for _, one := range in.all {
		if os.SameFile(one, file) {
			return true
		}
	}
	return false
}

// oversizeError is of a file with more in it than any such file has.
type oversizeError struct {
	path      string
	bytes     int64
	most      int64
	unbounded bool // it has more than that, and nobody knows how much
}

func (e *oversizeError) Error() string { return e.path + ": " + e.Why() }

// Why is what is wrong, for those who name the file themselves.
func (e *oversizeError) Why() string {
	if e.unbounded {
		return fmt.Sprintf("more than %d bytes, need at most that many", e.most)
	}
	return fmt.Sprintf("%d bytes, need at most %d", e.bytes, e.most)
}

func (e *oversizeError) Hint() string { return "see whether the name is right: " + e.path }

// isPlain refuses what is no regular file of at most so many bytes: a pipe can be waited for without end, and a device has none.
func isPlain(path string, most int64) error {
	file, err := journal.OpenRegular(path)
	if err != nil {
		return err
	}
	return errors.Join(fits(file, path, most), file.Close())
}

// fits refuses a file of more than so many bytes.
func fits(file *os.File, path string, most int64) error {
	info, err := file.Stat()
	if err == nil && info.Size() > most {
		err = &oversizeError{path: path, bytes: info.Size(), most: most}
	}
	return err
}

// readPlain reads a file that is plain.
func readPlain(path string, most int64) ([]byte, error) {
	return readBy(journal.OpenRegular, path, most)
}

// readBy reads a file that is opened in one way or another. What it says of its size need not be so: some systems' own files say 0.
func readBy(open func(string) (*os.File, error), path string, most int64) (text []byte, err error) {
	file, err := open(path)
	if err != nil {
		return nil, err
	}
	if err = fits(file, path, most); err == nil {
		text, err = io.ReadAll(io.LimitReader(file, most+1))
	}
	if err == nil && int64(len(text)) > most {
		err = &oversizeError{path: path, most: most, unbounded: true}
	}
	if err = errors.Join(err, file.Close()); err != nil {
		return nil, err
	}
	return text, nil
}

// readKept reads a small file of the data folder: nothing but a regular one, and of a sane size. What is wrong does not name it.
func readKept(path string) ([]byte, error) { return unnamed(readPlain(path, mostKept)) }

// readOwn reads a small file that the program wrote: never what a link leads to.
func readOwn(path string) ([]byte, error) { return unnamed(readBy(journal.OpenOwn, path, mostKept)) }

// unnamed leaves the file's name out of what is wrong with it.
func unnamed(text []byte, err error) ([]byte, error) {
	var no interface{ Why() string }
	if errors.As(err, &no) {
		err = errors.New(no.Why())
	}
	return text, err
}
