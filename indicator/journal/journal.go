// Package journal keeps an append-only file of checked lines. A line is one JSON object that
// ends in a check of its own bytes:
//
//	{"v":1,"n":17,"t":"…","k":"reading","d":{…},"c":"b2fdfdd6"}
//
// The caller hands over the object without the check (the payload) and gets the same bytes
// back; what the object says is not this package's business. The check is the CRC-32C over
// the exact bytes that stand before `,"c":"`, as eight lower-case hexadecimal digits, and is
// compared as bytes: a JSON decoder takes "C" for "c" and A for a, so a flipped bit would pass.
//
// What may be relied on:
//
//   - When [Journal.Append] has returned nil, the line is on disk and every later [Open] gives
//     it back. When it has returned an error, the line does not count.
//   - A power cut in the middle of an append leaves a last line without a line feed, the torn
//     tail. Open sets it aside in a file of its own, cuts it off, and says so in [Recovery].
//   - A line that ends in a line feed and fails its check is damage wherever it stands. Open
//     refuses it with a *[DamageError] and changes nothing; [Read] shows what stands before.
//   - One program writes at a time; the second gets a *[LockedError]. Readers take no lock.
package journal

import (
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"sync"
)

// file is what a Journal needs of an open file; tests put one in place that fails.
type file interface {
	io.WriterAt
	Stat() (fs.FileInfo, error)
	Sync() error
	Truncate(size int64) error
	Close() error
}

// Journal is a journal opened for writing. Its methods may be called from several goroutines.
type Journal struct {
	path  string // as the caller named it, for messages
	abs   string // the same place whatever the working directory becomes
	lines [][]byte

	mu      sync.Mutex
	f       file // nil while it cannot be had: see Reopen
	unlock  func() error
	wrap    func(*os.File) file // tests: what stands between the journal and its file
	signed  string              // the file that says who writes; empty when nobody asked for it
	sum     uint32              // CRC-32C of the first end bytes
	failed  []byte              // the line that could not be written
	end     int64               // bytes that are known to be on disk, all of them whole lines
	count   int                 // whole lines in the file
	stopped error               // why nothing is written any more
	closed  bool
}

// toDisk brings a file's bytes, and a folder's new name, to the disk; tests put their own in its place.
var toDisk = struct {
	file func(*os.File) error
	dir  func(string) error
}{(*os.File).Sync, syncDir}

// Create makes a new, empty journal that only its owner may read and write, and takes the
// writer's lock on it. A file that exists is left alone and the error matches [fs.ErrExist].
func Create(path string) (*Journal, error) {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return nil, fmt.Errorf("cannot begin a journal: %w", err)
	}
	j, err := hold(f, path)
	var locked *LockedError
	if errors.As(err, &locked) {
		return nil, err // another program opened it in between: the file is that program's now
	}
	if err == nil {
		if err = both(toDisk.file(f), toDisk.dir(filepath.Dir(path))); err == nil {
			return j, nil
		}
		err = both(fmt.Errorf("cannot begin a journal: %w", err), j.Close())
	}
	return nil, both(err, os.Remove(path))
}

// Open opens an existing journal for writing: it takes the writer's lock, reads and checks
// every line in one pass, and sets a torn tail aside as [Recovery] tells. A file that is
// empty, or holds nothing but a torn first line, is an empty journal.
//
// The error is a *[LockedError] when another program writes, a *[DamageError] when a whole
// line fails its check, and matches [fs.ErrNotExist] when there is no file; the file is
// unchanged in each case.
func Open(path string) (*Journal, Recovery, error) {
	f, err := openRegular(path, os.O_RDWR, os.Stat)
	if err != nil {
		return nil, Recovery{}, fmt.Errorf("cannot open the journal: %w", err)
	}
	j, err := hold(f, path)
	if err != nil {
		return nil, Recovery{}, err
	}
	rec, err := j.load(f)
	if err != nil {
		return nil, Recovery{}, both(err, j.Close())
	}
	return j, rec, nil
}

// hold takes the writer's lock and closes f when it cannot be had.
func hold(f *os.File, path string) (*Journal, error) {
	abs, err := filepath.Abs(path)
	if err != nil {
		return nil, both(err, f.Close())
	}
	if err := lock(f); err != nil {
		if errors.Is(err, errLocked) {
			err = &LockedError{Path: path, By: signature(path)}
		} else {
			err = fmt.Errorf("%s: cannot lock the journal: %w", path, err)
		}
		return nil, both(err, f.Close())
	}
	return &Journal{path: path, abs: abs, f: f, unlock: func() error { return unlock(f) }}, nil
}

// load reads the lines and mends a torn tail.
func (j *Journal) load(f *os.File) (Recovery, error) {
	got, end, err := scan(f, j.path, 0)
	if err != nil {
		return Recovery{}, err
	}
	if err := got.Err(); err != nil {
		return Recovery{}, err
	}
	j.lines, j.count, j.end, j.sum = got.Lines, len(got.Lines), end, got.sum
	if len(got.Torn) > 0 {
		return j.mend(got.Torn)
	}
	// A last line that its writer did not live to sync is shown now, so it must stay.
	return Recovery{}, j.f.Sync()
}

// Lines returns the payloads that were in the file when it was opened, oldest first. They
// are shared, not copied: read them only.
func (j *Journal) Lines() [][]byte { return slices.Clip(j.lines) }

// Append writes one payload as a checked line and returns when it is on disk.
//
// A payload is a JSON object with at least one field, without a line feed; anything else is
// refused with an error that names the payload as what is wrong, and nothing is written. When the disk
// fails, the line does not count: the file is cut back to the last good line, and every later
// Append is refused with the first failure as its cause until [Journal.Reopen] or [Open].
// Should even the cutting back fail, the next Open finds what was written of the line: torn,
// or in the worst case whole.
func (j *Journal) Append(payload []byte) error {
	if err := checkPayload(payload); err != nil {
		return err
	}
	j.mu.Lock()
	defer j.mu.Unlock()
	if j.stopped != nil {
		return fmt.Errorf("%s: not recorded, writing has stopped: %w", j.path, j.stopped)
	}
	if err := j.untouched(); err != nil {
		return j.stop(err)
	}
	line := encode(payload)
	if err := j.write(line); err != nil {
		j.failed = line
		return j.stop(both(err, j.cutBack()))
	}
	j.sum = crc32.Update(j.sum, castagnoli(), line)
	j.end += int64(len(line))
	j.count++
	return nil
}

// write puts line behind the last good one and waits until the disk has it.
func (j *Journal) write(line []byte) error {
	n, err := j.f.WriteAt(line, j.end)
	if err == nil && n < len(line) {
		err = io.ErrShortWrite
	}
	if err != nil {
		return err
	}
	return j.f.Sync()
}

// cutBack takes off what a failed append may have left, so that a line which was not
// acknowledged is not found later.
func (j *Journal) cutBack() error {
	if err := both(j.f.Truncate(j.end), j.f.Sync()); err != nil {
		return fmt.Errorf("the unfinished line may still be there: %w", err)
	}
	return nil
}

// stop makes the failure stick: after a failed sync nobody knows what the disk holds, and
// only reading it again tells.
func (j *Journal) stop(cause error) error {
	j.stopped = fmt.Errorf("line %d failed: %w", j.count+1, cause)
	return fmt.Errorf("%s: not recorded: %w", j.path, j.stopped)
}

// untouched reports an error when the file is no longer the one that was left behind by the
// last append. The lock binds only programs that ask for it: an editor or a file-sync tool
// that replaces the file would have us write, and acknowledge, lines into a file without a name.
func (j *Journal) untouched() error {
	mine, err := j.f.Stat()
	if err != nil {
		return err
	}
	if mine.Size() != j.end {
		return fmt.Errorf("file holds %d bytes, need the %d that were written: another program has changed it", mine.Size(), j.end)
	}
	named, err := os.Stat(j.abs)
	if err != nil {
		return err
	}
	if !os.SameFile(mine, named) {
		return errors.New("another program has put a different file in its place")
	}
	return nil
}

// Close gives up the lock and closes the file. Closing again does nothing.
func (j *Journal) Close() error {
	j.mu.Lock()
	defer j.mu.Unlock()
	if j.closed {
		return nil
	}
	j.closed, j.stopped = true, fs.ErrClosed
	return both(j.unsign(), j.letGo())
}
