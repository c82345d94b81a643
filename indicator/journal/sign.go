package journal

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"
)

// maxSignature bounds what is read of who writes, in bytes.
const maxSignature = 200

// Sign leaves word of who writes, for a second program to say: one line of text, such as a process and a time, in
// the file NAME.writer beside the journal. The text is the caller's, for a journal has no clock. Only the lock
// counts: a program that was killed leaves its word behind, and nobody asks for it any more; the next to sign writes
// over it. That it cannot be left does the journal no harm.
func (j *Journal) Sign(who string) error {
	j.mu.Lock()
	defer j.mu.Unlock()
	if j.closed {
		return fs.ErrClosed
	}
	name := j.abs + ".writer"
	// What stands there, a link to somebody else's file too, makes room: nothing is written through it.
	if info, err := os.Lstat(name); err == nil && !info.IsDir() {
		if err := os.Remove(name); err != nil {
			return err
		}
	}
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	j.signed = name
	_, err = f.WriteString(who + "\n")
	return both(err, f.Close())
}

// unsign takes the word away, while the lock is still held.
func (j *Journal) unsign() error {
	if j.signed == "" {
		return nil
	}
	err := os.Remove(j.signed)
	j.signed = ""
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return err
}

// signature is what the writer of a journal has left; empty where nothing can be read.
func signature(path string) string {
	f, err := OpenOwn(path + ".writer")
	if err != nil {
		return ""
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, maxSignature))
	if err != nil {
		return ""
	}
	line, _, _ := bytes.Cut(text, []byte("\n"))
	return string(line)
}
